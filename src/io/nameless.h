/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_NAMELESS_H
#define WEDGEWORK_IO_NAMELESS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * ww__nameless_open - an empty file without a name, for what is too long for memory: it is gone
 *                     when it is closed, or when the program ends in whatever way.
 *
 *   In $TMPDIR, in /var/tmp, or where the C library has its own, in the first that has room; never
 *   in a file system that is memory itself.
 *
 * Given     bytes  how long it will become: at most half of what is free there, for other programs
 *                  write there, too, and no more than the process may write
 * Returned  its descriptor for reading and writing, -1 where there is no room for it
 */
int ww__nameless_open(uint64_t bytes);

/* Writes n bytes at a place in the file. False: the system refused, the disk is full. */
bool ww__nameless_write(int fd, uint64_t at, const void *bytes, size_t n);

#endif
