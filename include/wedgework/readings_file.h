/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_READINGS_FILE_H
#define WEDGEWORK_READINGS_FILE_H

#include <wedgework/readings.h>

/*
 * ww_readings_file_read - readings from CSV (own table) or CGATS.17 / ISO 28178 text, told apart by
 *                         the first line.
 *
 * Both    UTF-8, with or without its mark; lines end in LF, CRLF or CR. `-` or an empty cell is
 *         missing, `over` beyond the instrument. One decimal mark in the whole table. Only labels
 *         and known metadata need be good UTF-8: other comments may hold what they like. At most
 *         64 MiB, 100000 rows, 4096 columns, 1 MiB a line, 255 bytes a label.
 * CSV     `#` begins a comment line, anywhere; `# key: value` with a key of ours is metadata for
 *         the whole table, wherever it stands; the same key with two values is refused, an unknown
 *         key is a comment, noted where it looks like a slip. Comments that a spreadsheet has
 *         quoted or padded with separators count too. The separator is the tab where the header has
 *         one, else the semicolon, else the comma; decimal commas go with the first two. A cell
 *         stays on one line. `n` belongs to all that was read in its row; `sd` to the densities, or
 *         to the colours where there is no density; `n_red`, `sd_red` ... to one column and before
 *         those. Y, x and y are told apart by case, no other name is. `width` is that of a wedge's
 *         step along the wedge, > 0, in any unit; of all steps or none. `soft` and `hard` are
 *         seconds through two filters, one after the other: 0 to 100000, both 0 in no row but the
 *         base.
 * CGATS   SAMPLE_ID is the step, SAMPLE_NAME the tone, CMYK_C M Y K are cyan, magenta, yellow,
 *         gray; our own column names count where KEYWORD declares them. Of several tables the first
 *         with densities or spectra is read, else the first with CIELAB or chromaticities, else
 *         with colourants; the others and all fields not used are noted. Spectra (pairs of
 *         SPECTRAL_NM and SPECTRAL_DEC or _PCT, or fields such as SPECTRAL_NM380, SPEC_380, nm380,
 *         R_380) become densities of the file's status by ww_spectrum_density; without a status, of
 *         that which the material or emulsion is read by (black-and-white visual, prints and slides
 *         A, colour negatives M), else visual ones alone. Notes say which. They are read only where
 *         no D_RED, D_GREEN, D_BLUE or D_VIS is given. Counts are checked where they are given.
 *         Decimal commas are read in rows that tabs separate. Comments `# key: value` are read as
 *         in CSV, but what does not fit there is noted, not refused: it may be another's.
 *
 * Given     path      "-" reads standard input
 * Returned  readings  rows as they stand in the file; to release
 * Status    WW_OK; WW_EINPUT missing, a folder, malformed or ambiguous: file, line, value and
 * remedy are in err; WW_ESYSTEM cannot be opened or read for another reason; WW_EMEMORY
 */
ww_status ww_readings_file_read(const char *path, ww_readings *readings, ww_error *err);

/* ww_readings_file_parse - the same from memory; `name` is what messages call it. */
ww_status ww_readings_file_parse(const char *name, const char bytes[], size_t n,
                                 ww_readings *readings, ww_error *err);

/*
 * ww_readings_file_write - the table as our own CSV: reading it back gives the same table, numbers
 *                          to the bit (file name, line numbers and notes apart).
 *                          Notes are written as comments, for whoever opens it.
 *
 * Status    WW_OK; WW_EDOMAIN what no file could give back: no rows or no column, numbers that are
 *           not finite, labels with control characters or over 255 bytes, base rows with an
 *           exposure or others without, 0 s through both filters, widths of some steps
 *           only; WW_ESYSTEM; WW_EMEMORY. The file is either the old one or the whole new one.
 */
ww_status ww_readings_file_write(const ww_readings *readings, const char *path, ww_error *err);

/*
 * ww_readings_file_text - the same as text; *text is allocated: free() it. On failure *text and *n
 *                         are untouched.
 */
ww_status ww_readings_file_text(const ww_readings *readings, char **text, size_t *n, ww_error *err);

/*
 * ww_readings_file_write_cgats - the same as CGATS.17 text. Columns that the standard does not know
 *                                are declared by KEYWORD, metadata that it has no keyword for goes
 *                                into comments; reading it back gives the same table. Same status.
 */
ww_status ww_readings_file_write_cgats(const ww_readings *readings, const char *path,
                                       ww_error *err);

#endif
