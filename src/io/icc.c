/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/icc.h"
#include <lcms2.h>
#include <lcms2_plugin.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

enum { MOST_BYTES = 200, MOST_UNITS = 256 };

/*
 * Names end before their first character beyond 16 bits: lcms 2.14 joins the two surrogates that a
 * profile holds for it, but still counts two, and the rest of the text is not initialised.
 */
static bool is_plain(wchar_t unit) {
    const uint32_t point = (uint32_t)unit;
    return point < 0xd800 || (point > 0xdfff && point < 0xffff);
}

/* UTF-8 of a character of 16 bits. */
static size_t put_point(uint32_t point, char *out) {
    size_t n = 0;
    if (point < 0x80) {
        out[n++] = (char)point;
    } else if (point < 0x800) {
        out[n++] = (char)(0xc0 | point >> 6);
        out[n++] = (char)(0x80 | (point & 0x3f));
    } else {
        out[n++] = (char)(0xe0 | point >> 12);
        out[n++] = (char)(0x80 | (point >> 6 & 0x3f));
        out[n++] = (char)(0x80 | (point & 0x3f));
    }
    return n;
}

/* Spaces at both ends go, control characters become spaces. NULL where nothing is left. */
static char *text_of(const wchar_t *wide) {
    char *text = malloc(MOST_BYTES + 1);
    size_t n = 0, kept = 0;
    if (!text)
        return NULL;
    for (; *wide && is_plain(*wide) && n + 3 <= MOST_BYTES; wide++) {
        uint32_t point = (uint32_t)*wide;
        if (point < 0x20 || (point >= 0x7f && point < 0xa0))
            point = ' ';
        if (point == ' ' && n == 0)
            continue;
        n += put_point(point, text + n);
        if (point != ' ')
            kept = n;
    }
    text[kept] = '\0';
    if (kept > 0)
        return text;
    free(text);
    return NULL;
}

/*
 * A profile is open in one thread here, so that no lock is needed; and lcms 2.14 does not look
 * whether it has got room for one.
 */
static void *lock_new(cmsContext context) {
    static char none;
    (void)context;
    return &none;
}

static void lock_free(cmsContext context, void *lock) {
    (void)context, (void)lock;
}

static cmsBool lock_take(cmsContext context, void *lock) {
    (void)context, (void)lock;
    return TRUE;
}

/* A profile in a context of our own: not another's plug-ins, nor its error handler. */
typedef struct opened {
    cmsContext context;
    cmsHPROFILE profile; /* NULL where it cannot be read */
} opened;

static cmsContext own_context(void) {
    cmsPluginMutex locks = {{cmsPluginMagicNumber, LCMS_VERSION, cmsPluginMutexSig, NULL},
                            lock_new,
                            lock_free,
                            lock_take,
                            lock_free};
    return cmsCreateContext(&locks, NULL);
}

static opened open_profile(const void *profile, size_t n) {
    opened o = {n <= UINT32_MAX ? own_context() : NULL, NULL};
    if (o.context)
        o.profile = cmsOpenProfileFromMemTHR(o.context, profile, (uint32_t)n);
    return o;
}

static void close_profile(opened *o) {
    if (o->profile)
        cmsCloseProfile(o->profile);
    if (o->context)
        cmsDeleteContext(o->context);
}

char *ww__icc_description(const void *profile, size_t n) {
    opened o = open_profile(profile, n);
    wchar_t wide[MOST_UNITS + 1] = {0};
    const bool named =
        o.profile && cmsGetProfileInfo(o.profile, cmsInfoDescription, "en", "US", wide,
                                       (uint32_t)(MOST_UNITS * sizeof wide[0])) > 0;
    close_profile(&o);
    return named ? text_of(wide) : NULL;
}

ww_optional ww__icc_gamma(const void *profile, size_t n) {
    static const double half = 0.5;
    opened o = open_profile(profile, n);
    ww_optional gamma = {false, 0.0};
    if (o.profile) {
        const bool grey = cmsGetColorSpace(o.profile) == cmsSigGrayData;
        const cmsToneCurve *curve =
            cmsReadTag(o.profile, grey ? cmsSigGrayTRCTag : cmsSigGreenTRCTag);
        const double light = curve ? (double)cmsEvalToneCurveFloat(curve, (float)half) : 0.0;
        if (light > 0.0 && light < 1.0)
            gamma = (ww_optional){true, log(light) / log(half)};
    }
    close_profile(&o);
    return gamma;
}

/* --------------------------------------------------------------------------------- device links */

enum { LINK_CHANNELS = 3, DATE_AT = 24, DATE_BYTES = 12 };

/* 1 January 2000, 0 h: year, month, day, hour, minute, second. When it was made says nothing, and
 * the same readings shall make the same file. */
static const unsigned char no_date[DATE_BYTES] = {0x07, 0xd0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0};

static bool describe(cmsContext context, cmsHPROFILE link, const char *name) {
    cmsMLU *text = cmsMLUalloc(context, 1);
    const bool done = text && cmsMLUsetASCII(text, "en", "US", name) &&
                      cmsWriteTag(link, cmsSigProfileDescriptionTag, text);
    cmsMLUfree(text);
    return done;
}

/* Bytes of a profile; NULL where there is no memory. */
static char *bytes_of(cmsHPROFILE profile, size_t *n) {
    uint32_t size = 0;
    char *bytes = cmsSaveProfileToMem(profile, NULL, &size) ? malloc(size) : NULL;
    if (bytes && !cmsSaveProfileToMem(profile, bytes, &size)) {
        free(bytes);
        return NULL;
    }
    if (bytes)
        memcpy(bytes + DATE_AT, no_date, sizeof no_date);
    *n = size;
    return bytes;
}

ww_status ww__icc_link(const uint16_t *const table[], size_t channels, size_t n, const char *name,
                       char **profile, size_t *bytes, ww_error *err) {
    cmsToneCurve *curve[LINK_CHANNELS] = {NULL, NULL, NULL};
    cmsContext context = own_context();
    cmsHPROFILE link = NULL;
    char *made = NULL;
    size_t size = 0;
    bool all = context != NULL;
    for (size_t c = 0; c < channels && all; c++)
        all = (curve[c] = cmsBuildTabulatedToneCurve16(context, (uint32_t)n, table[c])) != NULL;
    if (all)
        link = cmsCreateLinearizationDeviceLinkTHR(
            context, channels == 1 ? cmsSigGrayData : cmsSigRgbData, curve);
    if (link && describe(context, link, name))
        made = bytes_of(link, &size);
    for (size_t c = 0; c < channels; c++)
        if (curve[c])
            cmsFreeToneCurve(curve[c]);
    close_profile(&(opened){context, link});
    if (!made)
        return ww_error_set(err, WW_EMEMORY, "no memory for a device link");
    *profile = made;
    *bytes = size;
    return WW_OK;
}
