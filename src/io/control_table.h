/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CONTROL_TABLE_H
#define WEDGEWORK_IO_CONTROL_TABLE_H

/* The words of a control log's table (wedgework/control_table.h). */
typedef enum ww__control_column_kind {
    WW__CONTROL_RECORD,
    WW__CONTROL_NUMBER,
    WW__CONTROL_OF,
    WW__CONTROL_PROCESS,
    WW__CONTROL_MACHINE,
    WW__CONTROL_LOT,
    WW__CONTROL_DATE,
    WW__CONTROL_ENTERED,
    WW__CONTROL_STATUS,
    WW__CONTROL_DENSITY,
    WW__CONTROL_STEP,
    WW__CONTROL_TONE,
    WW__CONTROL_RED, /* then green, blue, visual, as ww_channel */
    WW__CONTROL_VISUAL = WW__CONTROL_RED + 3,
    WW__CONTROL_TEXT,
    WW__CONTROL_COLUMNS
} ww__control_column_kind;
extern const char *const ww__control_column[WW__CONTROL_COLUMNS];

typedef enum ww__control_record_kind {
    WW__CONTROL_REFERENCE,
    WW__CONTROL_CORRECTION,
    WW__CONTROL_STRIP,
    WW__CONTROL_DELETED,
    WW__CONTROL_NOTE,
    WW__CONTROL_BASELINE,
    WW__CONTROL_LIMITS,
    WW__CONTROL_RECORDS
} ww__control_record_kind;
extern const char *const ww__control_record[WW__CONTROL_RECORDS];

enum { WW__CONTROL_SIDES = 4 };
extern const char *const ww__control_side[WW__CONTROL_SIDES];

#endif
