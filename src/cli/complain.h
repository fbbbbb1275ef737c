/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_COMPLAIN_H
#define WEDGEWORK_CLI_COMPLAIN_H

#include <wedgework/error.h>

/* One line on standard error: "wedgework: FILE:LINE: what is wrong; what to do". */
void ww__complain(const ww_error *err);

/* The exit status that goes with it. */
int ww__complain_status(const ww_error *err);

#endif
