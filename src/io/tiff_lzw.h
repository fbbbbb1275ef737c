/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_TIFF_LZW_H
#define WEDGEWORK_IO_TIFF_LZW_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * LZW as most scans have it, several times as fast as libtiff gives it. Whatever is unusual is left
 * to libtiff, and so is telling what is wrong: these functions then only say no.
 */

/*
 * What the codes stand for. A string is the string before it and one byte more, and those lie side
 * by side in what was decompressed: so it is known by its place there. Strings of up to 7 bytes, of
 * which noise is made, are kept in a word as well.
 */
enum { WW__TIFF_LZW_CODES = 4096 };
typedef struct ww__tiff_lzw {
    uint64_t word[WW__TIFF_LZW_CODES]; /* bytes from the lowest up; the highest is their number, 8
                                          where they are more than 7 */
    struct {
        uint32_t at, n;
    } place[WW__TIFF_LZW_CODES];
} ww__tiff_lzw;

/* Room behind the output that may be written over. */
enum { WW__TIFF_LZW_SLACK = 8 };

/*
 * ww__tiff_lzw_decode - exactly n_out bytes, as TIFF 6.0, section 13, defines them.
 *
 * Given     out    with WW__TIFF_LZW_SLACK bytes more behind it
 *           n_out  < UINT32_MAX
 * Returned  false: damaged, too short, or of an unusual form; what `out` holds then is of no use
 */
bool ww__tiff_lzw_decode(ww__tiff_lzw *lzw, const unsigned char *in, size_t n_in,
                         unsigned char *out, size_t n_out);

/*
 * ww__tiff_lzw_add_up - from differences (predictor 2 of TIFF 6.0, section 14) to samples of 8 or
 * 16 bits in this machine's order: each is added to the one `side_by_side` before it.
 */
void ww__tiff_lzw_add_up(unsigned char *row, size_t n_samples, size_t side_by_side, unsigned bits);

#endif
