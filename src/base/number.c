/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "base/locale.h"
#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

/* Room for every digit of the smallest double written out in full. */
enum { TOKEN_SIZE = 1200 };

/* isdigit and isspace ask the locale. */
static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

static bool is_space(char c) {
    return c == ' ' || (c >= '\t' && c <= '\r');
}

static const char *skip_digits(const char *at) {
    while (is_digit(*at))
        at++;
    return at;
}

/* End of the number that begins at `at`, or NULL where none does. */
static const char *number_end(const char *at, char decimal_mark) {
    const char *whole, *after;
    if (*at == '+' || *at == '-')
        at++;
    whole = at;
    at = skip_digits(at);
    after = at;
    if (*at == decimal_mark) {
        after = skip_digits(at + 1);
        if (after == at + 1 && at == whole)
            return NULL;
    } else if (at == whole) {
        return NULL;
    }
    if (*after == 'e' || *after == 'E') {
        const char *exponent = after + 1;
        if (*exponent == '+' || *exponent == '-')
            exponent++;
        if (!is_digit(*exponent))
            return NULL;
        after = skip_digits(exponent);
    }
    return after;
}

static ww_status refuse(const char *text, const char *why, ww_error *err) {
    char shown[64];
    ww__escape_message(text, shown, sizeof shown);
    return ww_error_set(err, WW_EINPUT, "'%s' %s", shown, why);
}

ww_status ww_number_parse(const char *text, char decimal_mark, double *value, ww_error *err) {
    char token[TOKEN_SIZE];
    const char *start = text, *end, *rest;
    char *mark;
    ww__locale locale;
    double parsed;
    assert(text && value && (decimal_mark == '.' || decimal_mark == ','));
    while (is_space(*start))
        start++;
    if (*start == '\0')
        return ww_error_set(err, WW_EINPUT, "a number is missing");
    end = number_end(start, decimal_mark);
    for (rest = end; rest && is_space(*rest); rest++)
        ;
    if (!rest || *rest != '\0')
        return refuse(text, "is not a number", err);
    if (end - start >= TOKEN_SIZE)
        return refuse(text, "has more digits than any number needs", err);
    memcpy(token, start, (size_t)(end - start));
    token[end - start] = '\0';
    mark = strchr(token, decimal_mark);
    if (mark)
        *mark = '.';
    locale = ww__locale_plain();
    parsed = strtod(token, NULL); /* too small becomes 0 or subnormal: still the nearest double */
    ww__locale_restore(locale);
    if (!isfinite(parsed))
        return refuse(text, "is too large for a number", err);
    *value = parsed;
    return WW_OK;
}

char *ww_number_format(double value, int decimals, char text[], size_t size) {
    ww__locale locale;
    assert(text && size > 0 && decimals >= 0 && decimals <= 17);
    locale = ww__locale_plain();
    snprintf(text, size, "%.*f", decimals, value);
    /* Only a value that shows no digit but 0 loses its sign; cut text still tells: it starts alike.
     */
    if (signbit(value) && fabs(value) < 1.0) {
        char whole[32];
        snprintf(whole, sizeof whole, "%.*f", decimals, value);
        if (whole[strspn(whole, "-0.")] == '\0')
            snprintf(text, size, "%s", whole + 1);
    }
    ww__locale_restore(locale);
    return text;
}
