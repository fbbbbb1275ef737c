/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_ICC_H
#define WEDGEWORK_IO_ICC_H

#include <stddef.h>
#include <stdint.h>
#include <wedgework/error.h>
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

/*
 * A device link that does nothing but send each channel through a curve of its own.
 *
 * Source    ICC.1:2022, profile class 'link'; version 4.3, as little CMS writes it
 * Given     table  n codes of 16 bits for each of 1 (GRAY) or 3 (RGB) channels, from black to white
 *           name   its description, plain ASCII
 * Returned  *profile  free() it; the same bytes for the same curves: the date in it is none
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__icc_link(const uint16_t *const table[], size_t channels, size_t n, const char *name,
                       char **profile, size_t *bytes, ww_error *err);

#endif
