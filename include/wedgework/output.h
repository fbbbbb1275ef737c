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

/*
 * The same for a file that is too long to be made in memory: begin, write into `fd` in any order,
 * then finish or drop. Until then nothing of it is seen. Where the file system can, the new file
 * has no name before it is finished: whatever ends the program leaves nothing behind. Where it
 * cannot, the file has a name of its own in the folder, `made`, which a program that a signal may
 * end does well to remove then (ww_output_remove_unfinished).
 */
typedef struct ww_output {
    int fd;       /* for writing and reading, at its beginning; -1: none */
    char *path;   /* as given: what messages name */
    char *target; /* the file at the end of its links */
    char *made;   /* the new file's name, NULL while it has none */
} ww_output;

#define WW_OUTPUT_INIT                                                                             \
    { .fd = -1 }

/*
 * ww_output_begin  - make the new file.
 * ww_output_finish - bring it to the disk and give it its name. Whatever comes of it, the output is
 *                    empty afterwards.
 * ww_output_drop   - without a trace. Accepts an empty one.
 *
 * Given     path   of a regular file, there or not; "-" has no special meaning here
 * Status    WW_OK; as ww_output_write; ww_output_begin: WW_EINPUT a device or a pipe
 */
ww_status ww_output_begin(const char *path, ww_output *output, ww_error *err);
ww_status ww_output_finish(ww_output *output, ww_error *err);
void ww_output_drop(ww_output *output);

/*
 * ww_output_remove_unfinished - takes away the names of all files that this process has begun, by
 *                               any of the above, and not finished. It may be called in a signal's
 *                               handler, and by several threads. The process must not write on.
 *
 * Accuracy  files are known by their descriptors below 1024, in /proc; for some microseconds, as it
 *           gets its own name, a finished file may have both or be missed
 */
void ww_output_remove_unfinished(void);

#endif
