/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TEXTURE_TEXT_H
#define WEDGEWORK_TEXTURE_TEXT_H

#include <wedgework/text_style.h>
#include <wedgework/texture_scan.h>

/*
 * ww_texture_text - grain, texture and sharpness of scans beside those of the first, as text.
 *
 * Given     scan, n   1 or more, each with the same places
 * Returned  *text     to be freed by the caller
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_texture_text(const ww_texture_scan scan[], size_t n, const ww_text_style *style,
                          char **text, ww_error *err);

#endif
