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

/* `memory` is a plug-in for memory, with what it works on; NULL: the library's own. */
static cmsContext own_context(cmsPluginMemHandler *memory, void *of) {
    cmsPluginMutex locks = {{cmsPluginMagicNumber, LCMS_VERSION, cmsPluginMutexSig, NULL},
                            lock_new,
                            lock_free,
                            lock_take,
                            lock_free};
    if (memory)
        locks.base.Next = &memory->base;
    return cmsCreateContext(&locks, of);
}

static opened open_profile(const void *profile, size_t n) {
    opened o = {n <= UINT32_MAX ? own_context(NULL, NULL) : NULL, NULL};
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

/*
 * lcms 2.14 does not bear that memory runs out while it makes a device link (it follows pointers
 * that it did not get). So all that it takes is got beforehand, and given out from the beginning;
 * nothing is taken back before the end. What it asks for outside a context is the system's.
 */
typedef struct arena {
    unsigned char *bytes; /* ARENA_BYTES */
    size_t used;
} arena;

enum { ARENA_BYTES = 256 * 1024, ARENA_STEP = 16 }; /* three curves of 256 take 16 KiB */

static void *arena_take(cmsContext context, uint32_t size) {
    arena *a = cmsGetContextUserData(context);
    if (!a)
        return malloc(size);
    const size_t room = ARENA_STEP + (size + (size_t)ARENA_STEP - 1) / ARENA_STEP * ARENA_STEP;
    if (room > ARENA_BYTES - a->used)
        return NULL;
    unsigned char *block = a->bytes + a->used;
    a->used += room;
    memcpy(block, &size, sizeof size); /* for arena_grow */
    return block + ARENA_STEP;
}

static bool arena_has(const arena *a, const unsigned char *block) {
    return a && (uintptr_t)block >= (uintptr_t)a->bytes &&
           (uintptr_t)block < (uintptr_t)a->bytes + ARENA_BYTES;
}

static void arena_leave(cmsContext context, void *block) {
    if (!arena_has(cmsGetContextUserData(context), block))
        free(block);
}

static void *arena_grow(cmsContext context, void *block, uint32_t size) {
    if (block && !arena_has(cmsGetContextUserData(context), block))
        return realloc(block, size);
    void *grown = arena_take(context, size);
    uint32_t had = 0;
    if (block)
        memcpy(&had, (unsigned char *)block - ARENA_STEP, sizeof had);
    if (grown && block)
        memcpy(grown, block, had < size ? had : size);
    return grown;
}

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
    cmsPluginMemHandler memory = {
        .base = {cmsPluginMagicNumber, LCMS_VERSION, cmsPluginMemHandlerSig, NULL},
        .MallocPtr = arena_take,
        .FreePtr = arena_leave,
        .ReallocPtr = arena_grow};
    arena all_of_it = {malloc(ARENA_BYTES), 0};
    cmsContext context = all_of_it.bytes ? own_context(&memory, &all_of_it) : NULL;
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
    free(all_of_it.bytes);
    if (!made)
        return ww_error_set(err, WW_EMEMORY, "no memory for a device link");
    *profile = made;
    *bytes = size;
    return WW_OK;
}
