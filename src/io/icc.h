/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_ICC_H
#define WEDGEWORK_IO_ICC_H

#include <stddef.h>

/*
 * What an ICC profile calls itself, in English where it can, as UTF-8 of at most 200 bytes without
 * control characters, up to its first character beyond 16 bits; the caller's to free. NULL where
 * it has no readable name (or there is no memory): a scan is not worse for that.
 */
char *ww__icc_description(const void *profile, size_t n);

#endif
