/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PICTURE_FILE_H
#define WEDGEWORK_PICTURE_FILE_H

#include <wedgework/picture.h>

/*
 * ww_picture_file_open - a page of a TIFF file as a picture.
 *
 *   Grey or red, green, blue; strips, tiles or separate planes; every compression that the libtiff
 *   of this machine knows (the old JPEG form of grey only: its colours are YCbCr); BigTIFF; both
 *   byte orders; turned as a viewer shows it.
 *
 *   In the file                           In blocks
 *   unsigned integers of 2 to 8 bits      WW_SAMPLE_8, the file's own codes
 *   unsigned integers of 9 to 16 bits     WW_SAMPLE_16, the file's own codes
 *   unsigned integers of 17 to 32 bits    WW_SAMPLE_FLOAT, the codes, to 24 bits
 *   signed integers of 2 to 32 bits       WW_SAMPLE_FLOAT, the codes, white is 2^(bits - 1) - 1
 *   floating point of 16, 32, 64 bits     WW_SAMPLE_FLOAT, white is 1
 *
 *   What is not a number in the file is not one in the block either.
 *
 *   Where the file says that its least code is white, codes are turned round (white - code), so
 *   that more light always is the greater code; a note says so. Alpha and other samples beyond
 *   grey or RGB are left out, with a note. What has no codes of light is refused with the export
 *   that would do: palettes, CMYK, Lab, YCbCr, 1 bit, complex numbers, raw mosaics.
 *
 *   Visiting takes less than 64 MiB for any number of threads, or four strips or tiles where that
 *   is more: uncompressed data and long compressed strips pass row by row. A strip that a visit
 *   left in its middle is gone on with by the next: who asks for a picture from top to bottom, band
 *   by band, has each decompressed once. Where the file's tag turns compressed strips so that rows
 *   come out of order, and a picture of 8 MiB or more would be decompressed half in vain, all of it
 *   is decompressed once into a file without a name, in $TMPDIR, /var/tmp or where the C library
 *   has its own: as long as the picture uncompressed, and gone when the picture is released. Where
 *   there is no room for it on a disk, strips are decompressed as often as need be. A tile, a row,
 *   or a strip of a codec that can only give it whole, of more than 1 GiB is refused here, before
 *   anything is allocated; so is a file that claims more than it can hold: more than its own length
 *   uncompressed, more than 32768 times its length compressed. Threads are started where there are
 *   64 MiB to read (8 MiB to decompress). Several threads may visit one picture at a time. The file
 *   stays open; what another program changes in it meanwhile may be seen or be an error. A file
 *   with long compressed strips is
 *   mapped: one that is cut, or that its disk refuses, just as it is read gives SIGBUS, which is
 *   the program's to catch.
 *
 * Source    TIFF 6.0, its technical notes 1 to 3, and BigTIFF
 * Given     path     of a regular file (not "-")
 *           page     from 1; previews and sub-pictures hung below a page are not counted
 * Returned  picture  to release; progress may be set before it is visited
 * Status    WW_OK; WW_EINPUT missing, no TIFF, damaged, refused as above; WW_EDOMAIN no such page;
 *           WW_ESYSTEM cannot be read; WW_EMEMORY. A visit returns the same codes. Messages name
 *           the file.
 */
ww_status ww_picture_file_open(const char *path, size_t page, ww_picture *picture, ww_error *err);

#endif
