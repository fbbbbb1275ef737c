/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_INPUTS_H
#define WEDGEWORK_CLI_INPUTS_H

#include <wedgework/curve.h>
#include <wedgework/picture.h>
#include <wedgework/readings.h>

/*
 * ww__inputs_curve - ww_curve_file_read, which here also recognises readings given for a curve and
 *                    says what to do with them. Same status.
 */
ww_status ww__inputs_curve(const char *path, ww_curve *curve, ww_error *err);

/*
 * ww__inputs_either - readings or a curve file, whichever it is; *is_curve says so, and the other
 *                     one is left as it was. Status as of the readers.
 */
ww_status ww__inputs_either(const char *path, ww_readings *readings, ww_curve *curve,
                            bool *is_curve, ww_error *err);

/*
 * ww__inputs_picture - ww_picture_file_open, of page 1 where none is asked for; where the file has
 *                      others, the picture's notes say so. Same status.
 */
ww_status ww__inputs_picture(const char *path, ww_optional page, ww_picture *picture,
                             ww_error *err);

#endif
