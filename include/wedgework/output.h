/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUTPUT_H
#define WEDGEWORK_OUTPUT_H

#include <stddef.h>
#include <wedgework/error.h>

/*
 * ww_output_write - write a file whole or not at all.
 *
 * The bytes go to a new file in the same folder, to the disk, and only then take the old file's
 * name; whatever happens, the name holds all of the old or all of the new. An existing file keeps
 * its permissions, and its owner where the system allows that; a new one gets what the umask
 * leaves. A symbolic link stays one: the file that it leads to is written, made if need be. Devices
 * and pipes are written directly.
 *
 * Given     path   name of the file; "-" has no special meaning here
 *           bytes  n of them; NULL is allowed when n is 0
 * Status    WW_OK; WW_EMEMORY; WW_ESYSTEM the system refused (a folder, write-protected, no such
 *           folder, disk full, a limit on file size): err->sys says why. A file that may not be
 *           written is refused even where its folder would allow to replace it.
 * Note      SIGXFSZ and SIGPIPE are the program's to ignore; then they arrive here as a status.
 */
ww_status ww_output_write(const char *path, const void *bytes, size_t n, ww_error *err);

#endif
