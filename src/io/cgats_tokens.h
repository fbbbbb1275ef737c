/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CGATS_TOKENS_H
#define WEDGEWORK_IO_CGATS_TOKENS_H

#include "io/lines.h"
#include <stddef.h>
#include <wedgework/error.h>

/* Where in a line a comment begins, quotes minded; n where there is none. */
size_t ww__cgats_comment(const char *line, size_t n);

/* Tokens between runs of white space. Status WW_OK; WW_EINPUT a quote is not closed; WW_EMEMORY. */
ww_status ww__cgats_split_blanks(ww__cells *tokens, const char *file, const char *line, size_t n,
                                 size_t number, ww_error *err);

/*
 * Cells between single tabs, in which spaces may stand and which may be empty; empty ones at the
 * end are left out. Status WW_OK; WW_EMEMORY.
 */
ww_status ww__cgats_split_tabs(ww__cells *tokens, const char *line, size_t n, ww_error *err);

#endif
