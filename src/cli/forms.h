/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_FORMS_H
#define WEDGEWORK_CLI_FORMS_H

#include <stdbool.h>
#include <wedgework/measure.h>

/*
 * ww__forms_region - "X,Y,W,H": whole pixels from the top left corner.
 *
 * Status    WW_OK; WW_EUSAGE another form, a size of 0. On failure *region is untouched.
 */
ww_status ww__forms_region(const char *text, ww_region *region, ww_error *err);

/*
 * ww__forms_spot - "NAME=X,Y,R": centre and radius in pixels, which need not be whole. The name is
 *                  all before the last '='.
 *
 * Returned  spot  without its name, which is the first *name_length bytes of text
 * Status    WW_OK; WW_EUSAGE another form, no name, a radius not above 0
 */
ww_status ww__forms_spot(const char *text, ww_spot *spot, size_t *name_length, ww_error *err);

/*
 * ww__forms_stops - stops as people write them: "1/3", "0.5", "2".
 *
 * Status    WW_OK; WW_EUSAGE another form, a number that is not above 0
 */
ww_status ww__forms_stops(const char *text, double *stops, ww_error *err);

/*
 * ww__forms_stop_place - "STOPS=DENSITY": a tone so many stops below white, and the density above
 *                        paper white that it prints at.
 *
 * Status    WW_OK; WW_EUSAGE another form, stops under 0, a density that is not above 0
 */
ww_status ww__forms_stop_place(const char *text, double *stops, double *density, ww_error *err);

/* Whether a file is of a kind by its ending, as ".csv", in any mix of case. */
bool ww__forms_ends_in(const char *path, const char *ending);

/* The same as checks for the table of options. */
ww_status ww__forms_region_check(const char *text, ww_error *err);
ww_status ww__forms_spot_check(const char *text, ww_error *err);
ww_status ww__forms_stops_check(const char *text, ww_error *err);
ww_status ww__forms_name_check(const char *text, ww_error *err); /* of up to 255 bytes, UTF-8 */
ww_status ww__forms_date_check(const char *text, ww_error *err);
ww_status ww__forms_stop_place_check(const char *text, ww_error *err);
ww_status ww__forms_pack_check(const char *text, ww_error *err);

#endif
