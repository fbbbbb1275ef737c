/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_number.h"
#include "base/escape.h"
#include "io/lines.h"
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/number.h>

ww_status ww__number_refuse(const char *file, const ww__field *field, const char *what,
                            const char *text, size_t line, const char *why, ww_error *err) {
    char shown[64], name[64];
    ww__escape_message(text, shown, sizeof shown);
    ww__escape_message(field->name, name, sizeof name);
    return ww_error_set_at(err, WW_EINPUT, file, line, "%s '%s' in column '%s' %s", what, shown,
                           name, why);
}

/* One cell on its way to a number. */
typedef struct token {
    const ww__field *field;
    const char *text;
    size_t line;
    ww__range range;
} token;

static ww_status refuse(const ww__number_rules *rules, const token *at, const char *why,
                        ww_error *err) {
    return ww__number_refuse(rules->file, at->field, at->range.what, at->text, at->line, why, err);
}

/* What a person most likely meant by a token that is no number. */
static const char *why_no_number(const char *text) {
    static const char *const beyond[] = {"hi", "high", "max", "ol", "overrange", "---", "--", ">"};
    for (size_t i = 0; i < sizeof beyond / sizeof *beyond; i++)
        if (ww__words_equal(text, beyond[i]) || text[0] == '>')
            return "is not a number; write over where it lies beyond the instrument, - where it is "
                   "missing";
    if (strstr(text, "\xcc\x84") || strstr(text, "\xcc\x85") || strstr(text, "bar"))
        return "is a bar logarithm; write it out, bar 1.05 as -0.95";
    if (ww__words_equal(text, "over"))
        return "is no use here; only densities and colours may lie beyond the instrument";
    if (ww__words_equal(text, "nan") || ww__words_equal(text, "n/a") || ww__words_equal(text, "na"))
        return "is not a number; write - for a missing reading";
    if (strspn(text, "0123456789.,+-oO") == strlen(text) && strpbrk(text, "oO"))
        return "is not a number: it has the letter O in it; type the digit 0";
    if (strspn(text, "0123456789.,+-lI") == strlen(text) && strpbrk(text, "lI"))
        return "is not a number: it has a letter in it; type the digit 1";
    if (strspn(text, "0123456789.,+-") == strlen(text))
        return "is not a number; correct its decimal point";
    return "is not a number; write it with digits and one decimal point, - where it is missing";
}

/* "1,234": may be a thousand to one reader and a little over one to the other. */
static bool looks_like_thousands(const char *text) {
    size_t sign = strspn(text, "+-");
    size_t whole = strspn(text + sign, "0123456789");
    const char *mark = text + sign + whole;
    return whole >= 1 && whole <= 3 && text[sign] != '0' && *mark == ',' &&
           strspn(mark + 1, "0123456789") == 3 && mark[4] == '\0';
}

static ww_status check_comma(ww__number_rules *rules, const token *at, ww_error *err) {
    if (!rules->decimal_comma)
        return refuse(rules, at,
                      "has a comma, which separates columns or thousands here; write a decimal "
                      "point, or separate the columns by semicolons or tabs",
                      err);
    if (rules->point_line > 0)
        return refuse(rules, at,
                      "has a decimal comma where earlier lines have points; use one kind", err);
    if (rules->comma_line == 0)
        rules->comma_line = at->line;
    if (!looks_like_thousands(at->text)) {
        rules->comma_proven = true;
    } else if (at->range.open && rules->thousands_line == 0) {
        rules->thousands_line = at->line;
        ww__escape_message(at->text, rules->thousands, sizeof rules->thousands);
    }
    return WW_OK;
}

/* Sees to it that one mark means one thing in the whole file. */
static ww_status check_mark(ww__number_rules *rules, const token *at, char *mark, ww_error *err) {
    const char *comma = strchr(at->text, ',');
    const char *point = strchr(at->text, '.');
    const char *digit = at->text + strspn(at->text, "+-");
    if (comma && point)
        return refuse(rules, at,
                      "has both a comma and a point; write it without a mark for thousands", err);
    if (comma) {
        *mark = ',';
        return check_comma(rules, at, err);
    }
    if (point && rules->comma_line > 0)
        return refuse(rules, at,
                      "has a decimal point where earlier lines have commas; use one kind", err);
    if (point && rules->point_line == 0)
        rules->point_line = at->line;
    if (!point && rules->comma_separated && digit[0] == '0' && digit[1] >= '0' && digit[1] <= '9')
        return refuse(
            rules, at,
            "begins with 0 like the second half of a decimal comma; write decimal points, "
            "or separate the columns by semicolons or tabs",
            err);
    *mark = '.';
    return WW_OK;
}

/* Out of range, most often a slip of the decimal point, or a code value not divided. */
static ww_status refuse_range(const ww__number_rules *rules, const token *at, bool high,
                              ww_error *err) {
    double limit = high ? at->range.high : at->range.low;
    bool code = high && strcmp(at->range.what, "code value") == 0;
    char shown[32], why[160];
    ww_number_format(limit, floor(limit) < limit, shown, sizeof shown);
    snprintf(why, sizeof why, "is %s %s; %s",
             high              ? "above"
             : at->range.above ? "not above"
                               : "below",
             shown,
             code ? "divide codes by the highest that there is (255 at 8 bits)"
                  : "check the decimal point and the column");
    return refuse(rules, at, why, err);
}

ww_status ww__number_read(ww__number_rules *rules, const ww__field *field, const char *text,
                          size_t line, double *value, ww_error *err) {
    token at = {field, text, line, ww__columns_range(field)};
    char mark = '.';
    double parsed = 0.0;
    ww_status status;
    if (strpbrk(text, "0123456789") == NULL)
        return refuse(rules, &at, why_no_number(text), err);
    status = check_mark(rules, &at, &mark, err);
    if (status != WW_OK)
        return status;
    if (ww_number_parse(text, mark, &parsed, NULL) != WW_OK)
        return refuse(rules, &at, why_no_number(text), err);
    if (parsed > at.range.high || parsed < at.range.low ||
        (at.range.above && parsed <= at.range.low))
        return refuse_range(rules, &at, parsed > at.range.high, err);
    *value = parsed;
    return WW_OK;
}

ww_status ww__number_count(ww__number_rules *rules, const ww__field *field, const char *text,
                           size_t line, size_t *n, ww_error *err) {
    token at = {field, text, line, ww__columns_range(field)};
    double value;
    ww_status status = ww__number_read(rules, field, text, line, &value, err);
    if (status != WW_OK)
        return status;
    if (floor(value) < value)
        return refuse(rules, &at, "is not a whole number; count the readings", err);
    *n = (size_t)value;
    return WW_OK;
}

ww_status ww__number_finish(const ww__number_rules *rules, ww_error *err) {
    if (rules->thousands_line == 0 || rules->comma_proven)
        return WW_OK;
    return ww_error_set_at(
        err, WW_EINPUT, rules->file, rules->thousands_line,
        "'%s' may be a thousand or a decimal comma, and nothing else in the file "
        "tells which; write it with a decimal point",
        rules->thousands);
}
