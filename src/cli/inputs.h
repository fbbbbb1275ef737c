/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_INPUTS_H
#define WEDGEWORK_CLI_INPUTS_H

#include <wedgework/curve.h>
#include <wedgework/readings.h>

/*
 * The library's readers, which here also recognise the other kind of file: who gives a curve for
 * readings, or readings for a curve, is told so. Status as the readers'.
 */
ww_status ww__inputs_readings(const char *path, ww_readings *readings, ww_error *err);
ww_status ww__inputs_curve(const char *path, ww_curve *curve, ww_error *err);

#endif
