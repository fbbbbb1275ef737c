/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/find_words.h"
#include "image/find_other.h"

#include <assert.h>
#include <math.h>
#include <wedgework/number.h>

static ww_status refuse_widths(const ww__find_seen *s, const ww__width_misfit *misfit,
                               ww_error *err) {
    char given[32], seen[32];
    ww_number_format(misfit->given, 2, given, sizeof given);
    ww_number_format(misfit->seen, 2, seen, sizeof seen);
    return ww_error_set_at(err, WW_EMISMATCH, s->picture->file, 0,
                           "%zu steps lie there, but not as wide as was said: step %zu of them, "
                           "given as %s wide, is %s wide beside the others; correct the column "
                           "width, or leave it out: then steps are taken as wide as they are seen",
                           s->steps, misfit->step + 1, given, seen);
}

/* Steps at the end of the codes look like each other, and like what lies beside the strip. */
static ww_status refuse_few(const ww__find_seen *s, ww_error *err) {
    static const char check_them[] =
        "check that none is cut off (if so, take its row out of the wedge file, or ask for fewer "
        "--steps), out of order, as light as what lies beside it, or too like its neighbour to "
        "have an edge";
    const char *const remedy = s->in_strip ? "make --strip take in all of them" : "give --strip";
    const size_t missing = s->steps - s->there.n, *hidden = s->there.hidden;
    const size_t dark = hidden[1] < missing ? hidden[1] : missing;
    const size_t light = hidden[0] < missing ? hidden[0] : missing;
    const char *file = s->picture->file;
    const bool is_dark = dark > 0 && dark >= light;
    if (!is_dark && light == 0 && s->there.veiled > 0)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "found %zu steps where %zu were asked for: beyond the darkest of "
                               "them is room for %zu that do not differ, beside far more light: "
                               "its flare may hide them; mask the glass round the wedge, and scan "
                               "in 16 bit. Or else %s; %s, or read them with --spot",
                               s->there.n, s->steps,
                               s->there.veiled < missing ? s->there.veiled : missing, check_them,
                               remedy);
    if (!is_dark && light == 0)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "found %zu steps where %zu were asked for; %s; %s, or read them "
                               "with --spot",
                               s->there.n, s->steps, check_them, remedy);
    return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                           "found %zu steps where %zu were asked for: beyond the %s of them all is "
                           "at %s, where %zu may be hidden; scan %s levels and automatic exposure, "
                           "so that no step is clipped. Or else %s; %s, or read them with --spot",
                           s->there.n, s->steps, is_dark ? "darkest" : "lightest",
                           is_dark ? "code 0" : "the greatest code", is_dark ? dark : light,
                           is_dark ? "without black point," : "with less exposure, without",
                           check_them, remedy);
}

static ww_status refuse_turned(const ww__find_seen *s, ww_error *err) {
    return ww_error_set_at(err, WW_ENODATA, s->picture->file, 0,
                           "the strip seems to be turned %s by about %.0f degrees, and up to 8 are "
                           "read; lay it or the picture straight, or read the steps with --spot",
                           s->turned_deg > 0.0 ? "clockwise" : "anticlockwise",
                           fabs(s->turned_deg));
}

/* Tones in a row that made no strip. Many of them are likely to be one, among other things. */
static ww_status refuse_parts(const ww__find_seen *s, const char *remedy, ww_error *err) {
    const char *file = s->picture->file;
    if (s->part_px < WW__STEP_PX_LEAST)
        return ww_error_set_at(err, WW_ENODATA, file, 0,
                               "no stepped strip of %zu steps can be read there: %zu tones in a "
                               "row grow darker, but they are about %.1f px wide, and a step needs "
                               "%.0f; scan with more pixels to the inch",
                               s->steps, s->parts, s->part_px, WW__STEP_PX_LEAST);
    if (2 * s->parts < s->steps)
        return ww_error_set_at(err, WW_ENODATA, file, 0,
                               "no stepped strip of %zu steps is there: at most %zu tones in a row "
                               "grow darker; %s",
                               s->steps, s->parts, remedy);
    return ww_error_set_at(err, WW_ENODATA, file, 0,
                           "no stepped strip of %zu steps could be made out: %zu tones in a row "
                           "grow darker about %.0f,%.0f (x, y in px), but some of their widths, "
                           "edges or ends are not those of steps; %s, without margin and "
                           "perforation, or read them with --spot",
                           s->steps, s->parts, s->at[0], s->at[1],
                           s->in_strip ? "make --strip hold the steps alone"
                                       : "give --strip X,Y,W,H around the steps alone");
}

ww_status ww__find_refuse(const ww__find_seen *s, ww_error *err) {
    assert(s && s->picture);
    const char *const remedy =
        s->in_strip ? "a strip may be turned by up to 8 degrees; check that --strip (X,Y,W,H in px "
                      "of this picture) holds all of it, or read the steps with --spot"
                    : "a strip may be turned by up to 8 degrees; give --strip X,Y,W,H around it, "
                      "or read the steps with --spot";
    if (s->turned_deg != 0.0)
        return refuse_turned(s, err);
    if (s->there.contradicts)
        return refuse_widths(s, &s->there.misfit, err);
    if (s->there.seen > 0 && s->there.n < s->steps)
        return refuse_few(s, err);
    if (s->there.seen > 0)
        return ww_error_set_at(err, WW_EMISMATCH, s->picture->file, 0,
                               "found %zu steps where %zu were asked for; check the number, or %s",
                               s->there.n, s->steps,
                               s->in_strip ? "make --strip hold the steps alone"
                                           : "give --strip around the steps alone");
    if (s->parts > 0)
        return refuse_parts(s, remedy, err);
    return ww_error_set_at(err, WW_ENODATA, s->picture->file, 0,
                           "no stepped strip of %zu steps is there: nothing %s grows darker step "
                           "by step; %s",
                           s->steps, s->in_strip ? "within --strip" : "in the picture", remedy);
}

ww_status ww__find_refuse_two(const ww__find_seen *s, const ww__area *a, const ww__area *b,
                              ww_error *err) {
    assert(s && s->picture && a && b);
    const ww_region one = ww__other_strip(a, s->picture), other = ww__other_strip(b, s->picture);
    return ww_error_set_at(err, WW_EMISMATCH, s->picture->file, 0,
                           "more than one strip of %zu steps lies there; choose with --strip "
                           "%zu,%zu,%zu,%zu or --strip %zu,%zu,%zu,%zu",
                           s->steps, one.x, one.y, one.width, one.height, other.x, other.y,
                           other.width, other.height);
}

ww_status ww__find_refuse_small(const ww__find_seen *s, const ww_region *where, ww_error *err) {
    assert(s && s->picture && where);
    return ww_error_set_at(err, WW_ENODATA, s->picture->file, 0,
                           "%zu x %zu px are too few to find a stepped strip in; give a larger %s",
                           where->width, where->height, s->in_strip ? "--strip" : "picture");
}
