/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_ICC_H
#define WEDGEWORK_IO_ICC_H

#include <stddef.h>
#include <wedgework/quantity.h>

/*
 * What an ICC profile calls itself, in English where it can, as UTF-8 of at most 200 bytes without
 * control characters, up to its first character beyond 16 bits; the caller's to free. NULL where
 * it has no readable name (or there is no memory): a scan is not worse for that.
 */
char *ww__icc_description(const void *profile, size_t n);

/*
 * How codes become light by a profile's curves (grey, or green), as the power that makes the same
 * light of half of the greatest code; 1: codes are light. Unset where it has no such curves.
 */
ww_optional ww__icc_gamma(const void *profile, size_t n);

#endif
