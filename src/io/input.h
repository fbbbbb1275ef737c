/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_INPUT_H
#define WEDGEWORK_IO_INPUT_H

#include <stddef.h>
#include <wedgework/error.h>

/*
 * A whole file, or standard input for "-"; *bytes is the caller's to free, and ends with a NUL that
 * *n does not count. `most` bytes at most: what is longer is no file of ours.
 * Status WW_OK; WW_EINPUT missing, a folder, too long; WW_ESYSTEM cannot be read; WW_EMEMORY
 */
ww_status ww__input_read(const char *path, size_t most, char **bytes, size_t *n, ww_error *err);

/* What messages call that path. */
const char *ww__input_name(const char *path);

#endif
