/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_SCANNER_TEXT_H
#define WEDGEWORK_SCANNER_TEXT_H

#include <wedgework/error.h>
#include <wedgework/scanner.h>
#include <wedgework/text_style.h>

/*
 * ww_scanner_text - what a calibration found, for people: how dense a negative the scanner sees
 *                   through, its flare, whether its codes are light; tables of a row a channel;
 *                   notes, which name the steps that were clipped, compressed or off the model.
 *
 * Returned  *text    to be freed by the caller; ends with a line end
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_scanner_text(const ww_scanner *scanner, const ww_text_style *style, char **text,
                          ww_error *err);

#endif
