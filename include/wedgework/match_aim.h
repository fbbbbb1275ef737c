/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_MATCH_AIM_H
#define WEDGEWORK_MATCH_AIM_H

#include <wedgework/curve.h>

/*
 * ww_match_aim_read - what a print is to match: readings as ww_readings_file_read reads them, or a
 *                     curve file, told apart by the first byte.
 *
 * Given     path      "-" reads standard input; at most 64 MiB
 * Returned  *is_curve which of the two was filled: readings or curve  (release both)
 * Status    WW_OK; WW_EINPUT as both readers; WW_ESYSTEM; WW_EMEMORY
 */
ww_status ww_match_aim_read(const char *path, ww_readings *readings, ww_curve *curve,
                            bool *is_curve, ww_error *err);

#endif
