/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CORE_CONTROL_LOG_H
#define WEDGEWORK_CORE_CONTROL_LOG_H

#include <wedgework/control_log.h>

/*
 * ww__control_room - room for one more in a list that holds n, doubled whenever n is a power of
 *                    two; what is new is zero.
 *
 * Returned  the list where it now is, *list too; NULL where there is no memory: the list is as it
 *           was
 */
void *ww__control_room(void **list, size_t n, size_t size);

/*
 * ww__control_patch_add - one more step, empty but for its texts.
 *
 * Returned  *patch  in the list, until the next is added
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww__control_patch_add(ww_control_patches *patches, const char *step, const char *tone,
                                ww_control_patch **patch, ww_error *err);

/* Deep copy. Status WW_OK; WW_EMEMORY: nothing is left behind. */
ww_status ww__control_patches_copy(const ww_control_patches *from, ww_control_patches *to,
                                   ww_error *err);

/* The patch with that label; NULL where there is none. */
const ww_control_patch *ww__control_patch_find(const ww_control_patches *patches, const char *step);

#endif
