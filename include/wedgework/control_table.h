/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CONTROL_TABLE_H
#define WEDGEWORK_CONTROL_TABLE_H

#include <stddef.h>
#include <wedgework/control_log.h>

/*
 * A whole control log as one table, to be kept, looked at in a spreadsheet and read back.
 *
 *   # wedgework: control log
 *   record,number,of,process,machine,lot,date,entered,status,density,step,tone,red,green,blue,
 *       visual,text                                                              (in one line)
 *
 *   reference   a row a step: number, lot, entered, status, density, step, tone, densities; text
 *               is "reversal" of reversal material
 *   correction  a row a step that has some: number of the reference, step, corrections
 *   strip       a row a step: number, `of` its reference, process, machine, lot, date, entered,
 *               step, densities; `over` is beyond the instrument
 *   deleted     `of` a strip, entered, text why
 *   note        number, `of` a strip or nothing, process, machine, date, entered, text
 *   baseline    number of strips, `of` a reference, process, machine, entered, text why; step: the
 *               number of the first strip, or 0
 *   limits      number of the set, process, entered, step the measure, tone one of "below",
 *               "above", "action below", "action above", deviations by channel; text is "all" where
 *               the limit is for all channels: then it stands in visual
 */

/*
 * ww_control_table_text - the log as that table. *text, n bytes; allocated: free()
 *
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_control_table_text(const ww_control_log *log, char **text, size_t *n, ww_error *err);

/*
 * ww_control_table_read - a log from such a table; numbers come back to the bit.
 *
 *   Columns are found by name, in any order; those that a record does not need may be left out.
 *   References come before their strips, strips before what is `of` them; rows of one reference,
 *   strip or set of limits stand together. Comma, semicolon or tab between cells.
 *
 * Given     path   "-" reads standard input; at most 64 MiB
 * Returned  *log   (release it)
 * Status    WW_OK; WW_EINPUT missing, another header, a record or number that is none, a reference
 *           or strip that is not there: file and line are in err; WW_ESYSTEM; WW_EMEMORY
 */
ww_status ww_control_table_read(const char *path, ww_control_log *log, ww_error *err);

/* ww_control_table_parse - the same from memory; `name` is what messages call it. */
ww_status ww_control_table_parse(const char *name, const char bytes[], size_t n,
                                 ww_control_log *log, ww_error *err);

#endif
