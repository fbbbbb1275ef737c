/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_COMPARE_SCANS_H
#define WEDGEWORK_CLI_COMPARE_SCANS_H

#include "cli/commands.h"

/* `compare` of scans, by --spot and --strip: grain, texture and sharpness. */
ww_status ww__compare_scans(const ww_arguments *arguments, ww_error *err);

#endif
