/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_SCANNER_FILE_H
#define WEDGEWORK_IO_SCANNER_FILE_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/scanner.h>

enum { WW__SCANNER_FILE_VERSION = 1, WW__SCANNER_FILE_LISTS = 3 };

/* A list of step labels in the document, and the member of a step that it stands for. */
typedef struct ww__scanner_file_list {
    const char *key;
    size_t offset; /* in ww_scanner_step, of a bool */
} ww__scanner_file_list;

extern const ww__scanner_file_list ww__scanner_file_lists[WW__SCANNER_FILE_LISTS];

bool *ww__scanner_file_flag(ww_scanner_step *step, const ww__scanner_file_list *list);

#endif
