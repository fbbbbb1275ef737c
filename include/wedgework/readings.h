/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_READINGS_H
#define WEDGEWORK_READINGS_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>

/* The ISO 5-3 filter that a density was read through. */
typedef enum ww_channel { WW_RED, WW_GREEN, WW_BLUE, WW_VISUAL, WW_CHANNEL_COUNT } ww_channel;

/* Every column that carries numbers, apart from the exposure. Densities come first, as ww_channel.
 */
typedef enum ww_column {
    WW_COLUMN_RED = WW_RED,
    WW_COLUMN_GREEN = WW_GREEN,
    WW_COLUMN_BLUE = WW_BLUE,
    WW_COLUMN_VISUAL = WW_VISUAL,
    WW_COLUMN_VALUE,
    WW_COLUMN_VALUE_RED,
    WW_COLUMN_VALUE_GREEN,
    WW_COLUMN_VALUE_BLUE,
    WW_COLUMN_GRAY,
    WW_COLUMN_CYAN,
    WW_COLUMN_MAGENTA,
    WW_COLUMN_YELLOW,
    WW_COLUMN_SOFT, /* seconds through the soft and the hard filter, one after the other */
    WW_COLUMN_HARD,
    WW_COLUMN_LAB_L,
    WW_COLUMN_LAB_A,
    WW_COLUMN_LAB_B,
    WW_COLUMN_LUMINANCE,
    WW_COLUMN_CHROMATICITY_X,
    WW_COLUMN_CHROMATICITY_Y,
    WW_COLUMN_CORRECTION_RED, /* of a reference strip: added to its density it makes the aim */
    WW_COLUMN_CORRECTION_GREEN,
    WW_COLUMN_CORRECTION_BLUE,
    WW_COLUMN_CORRECTION_VISUAL,
    WW_COLUMN_COUNT
} ww_column;

/* The column that gives the exposure; readings of pictures have none. */
typedef enum ww_exposure_column {
    WW_EXPOSURE_NONE,
    WW_EXPOSURE_WEDGE,
    WW_EXPOSURE_LOG_H,
    WW_EXPOSURE_STOP,
    WW_EXPOSURE_TIME
} ww_exposure_column;

/* 0 is always "not said". */
typedef enum ww_material {
    WW_MATERIAL_UNKNOWN,
    WW_MATERIAL_FILM,
    WW_MATERIAL_PAPER,
    WW_MATERIAL_PRINT,
    WW_MATERIAL_STRIP,
    WW_MATERIAL_NEGATIVE,
    WW_MATERIAL_WEDGE,
    WW_MATERIAL_SCREEN
} ww_material;
typedef enum ww_process { WW_PROCESS_UNKNOWN, WW_PROCESS_NEGATIVE, WW_PROCESS_REVERSAL } ww_process;
typedef enum ww_density_kind {
    WW_DENSITY_UNKNOWN,
    WW_DENSITY_TRANSMISSION,
    WW_DENSITY_REFLECTION
} ww_density_kind;
typedef enum ww_density_status {
    WW_STATUS_UNKNOWN,
    WW_STATUS_A,
    WW_STATUS_M,
    WW_STATUS_T,
    WW_STATUS_E,
    WW_STATUS_VISUAL,
    WW_STATUS_PRINTING,
    WW_STATUS_SCANNER
} ww_density_status;
typedef enum ww_relative {
    WW_RELATIVE_UNKNOWN, /* not said: taken as absolute */
    WW_RELATIVE_ABSOLUTE,
    WW_RELATIVE_BASE,
    WW_RELATIVE_WHITE
} ww_relative;
typedef enum ww_exposure_unit {
    WW_UNIT_UNKNOWN, /* not said: taken as relative */
    WW_UNIT_LUX_SECOND,
    WW_UNIT_SECOND,
    WW_UNIT_RELATIVE
} ww_exposure_unit;
typedef enum ww_emulsion {
    WW_EMULSION_UNKNOWN,
    WW_EMULSION_BLACK_AND_WHITE,
    WW_EMULSION_COLOUR_NEGATIVE,
    WW_EMULSION_COLOUR_REVERSAL
} ww_emulsion;
typedef enum ww_grain {
    WW_GRAIN_UNKNOWN,
    WW_GRAIN_SILVER,
    WW_GRAIN_DYE,
    WW_GRAIN_STAINED
} ww_grain;
typedef enum ww_wedge_kind { WW_WEDGE_UNKNOWN, WW_WEDGE_CERTIFIED, WW_WEDGE_NOMINAL } ww_wedge_kind;
typedef enum ww_exposed_by {
    WW_EXPOSED_UNKNOWN,
    WW_EXPOSED_CONTACT,
    WW_EXPOSED_PROJECTION
} ww_exposed_by;
typedef enum ww_read_state { WW_READ_UNKNOWN, WW_READ_WET, WW_READ_DRY } ww_read_state;
typedef enum ww_part { WW_PART_WHOLE, WW_PART_THIN, WW_PART_DENSE } ww_part;

/*
 * Words that files use for the enumerators above ("lux second", "colour negative", ...); "unknown"
 * for what is not said, "whole" for a row that is no part, "none" for no exposure column.
 */
const char *ww_channel_name(ww_channel channel);
const char *ww_column_name(ww_column column);
const char *ww_exposure_column_name(ww_exposure_column column);
const char *ww_material_name(ww_material material);
const char *ww_process_name(ww_process process);
const char *ww_density_kind_name(ww_density_kind kind);
const char *ww_density_status_name(ww_density_status status);
const char *ww_relative_name(ww_relative relative);
const char *ww_exposure_unit_name(ww_exposure_unit unit);
const char *ww_emulsion_name(ww_emulsion emulsion);
const char *ww_grain_name(ww_grain grain);
const char *ww_wedge_kind_name(ww_wedge_kind kind);
const char *ww_exposed_by_name(ww_exposed_by by);
const char *ww_read_state_name(ww_read_state state);
const char *ww_part_name(ww_part part);

typedef enum ww_cell_state {
    WW_CELL_MISSING = 0,
    WW_CELL_VALUE,
    WW_CELL_OVER, /* denser than the instrument sees */
    WW_CELL_LESS  /* less than `value`, too light to be read; only what was measured in a scan. A
                     table has no word for it: there it is missing */
} ww_cell_state;

/* One cell: a value, nothing, or beyond the instrument (never zero). */
typedef struct ww_cell {
    ww_cell_state state;
    double value;
    ww_optional sd; /* standard deviation of repeats, where the file or pooling gives one */
    size_t n;       /* number of readings behind the value, at least 1 where there is one */
} ww_cell;

/* One row of a readings table. Texts are owned and never NULL ("" where not given). */
typedef struct ww_row {
    char *step;
    char *tone;
    char *pack;
    ww_part part;
    bool is_base;         /* `base` stands in step or tone */
    ww_optional exposure; /* in the unit of the exposure column; not set for base rows */
    ww_optional width;    /* of a wedge's step along the wedge, in any unit; of all steps or none */
    size_t line;          /* line of the file, 0 where it has none */
    ww_cell cell[WW_COLUMN_COUNT];
} ww_row;

/* Metadata: enumerators 0, optionals unset and texts NULL where the file does not say. */
typedef struct ww_meta {
    char *name;
    char *contrast;
    char *pack;
    char *lot;
    char *date;
    ww_material material;
    ww_process process;
    ww_density_kind density;
    ww_density_status status;
    ww_relative relative;
    ww_exposure_unit exposure_unit;
    ww_emulsion emulsion;
    ww_grain grain;
    ww_wedge_kind wedge;
    ww_exposed_by exposed_by;
    ww_read_state read;
    ww_optional log_h0;
    ww_optional log_h0_sd;
    ww_optional exposure_time_s;
    ww_optional development_time_min;
    ww_optional temperature_c;
    ww_optional wedge_sd;
    ww_optional aperture;
    ww_optional scale;
} ww_meta;

/* A table of readings, rows in the order in which they were given. */
typedef struct ww_readings {
    char *file; /* name that messages use, NULL where none */
    ww_meta meta;
    ww_exposure_column exposure;
    bool has[WW_COLUMN_COUNT];
    ww_row *row;
    size_t n;
    ww_notes notes; /* what the reader found worth saying: every result made of them tells it */
} ww_readings;

#define WW_READINGS_INIT                                                                           \
    { .file = NULL }

void ww_readings_release(ww_readings *readings);

/* ww_meta_copy - deep copy; ww_meta_release frees the texts. Status WW_OK; WW_EMEMORY. */
ww_status ww_meta_copy(const ww_meta *from, ww_meta *to, ww_error *err);
void ww_meta_release(ww_meta *meta);

/*
 * ww_readings_pool - average replicates: rows with the same step, tone, part, pack and exposure,
 * and the same control values (value, gray, cyan ...), which say what was sent.
 *
 *   mean  = sum n_i D_i / sum n_i
 *   sd^2  = [sum v_i sd_i^2 + sum n_i (D_i - mean)^2] / [sum v_i + (rows - 1)]
 *
 * where v_i = n_i - 1 for rows that state their sd (1 where they state no number), 0 for others.
 * That is the sample standard deviation where every row is one reading, and that of all single
 * readings where every row states n and sd.
 *
 * Source    definition; one-way analysis of variance.
 * Given     readings
 * Returned  pooled    a new table (release it). A pooled row stands where the first of its rows
 *                     stood, and keeps its line. Density is averaged as density. A missing cell
 * does not count; an `over` cell makes the pooled cell `over` where no value stands beside it, and
 * is noted where one does. `base` is one label however it is written. A row with none of these keys
 * is a replicate of no other. Status    WW_OK; WW_EMEMORY
 */
ww_status ww_readings_pool(const ww_readings *readings, ww_readings *pooled, ww_error *err);

/*
 * ww_readings_through - add exposures by step label from the file that knows them: the wedge that
 *                       film or paper was exposed through, or the plan of a test strip.
 *
 * Given     readings  without exposure column
 *           wedge     readings with an exposure column (`time` of a strip, `stop`, `logh`,
 *                     `wedge`), which is taken over; else those of a wedge: its `visual` column,
 *                     else its only density column, becomes the column `wedge`
 * Returned  readings  changed in place on success only: exposures, and wedge kind and wedge sd
 *                     where the file states them; with an exposure column also material and
 *                     density, where the readings do not; and notes on the wedge's own reading
 * Status    WW_OK; WW_EMISMATCH readings have an exposure column already, a step label of the one
 *           is not in the other, labels repeat in the wedge, or the number of steps differs
 *           (repeats of a step in the readings count once, base rows don't); WW_ENODATA a step has
 *           no exposure, or the wedge has no density, or several and no visual; WW_EMEMORY
 */
ww_status ww_readings_through(ww_readings *readings, const ww_readings *wedge, ww_error *err);

/*
 * ww_readings_check_wedge - whether readings can be the densities of a wedge on the glass.
 *
 * Source    common practice: no instrument reads one step by over 0.05 D otherwise
 * Status    WW_OK; WW_EMISMATCH they say that they are of another material, or a label stands on
 *           densities further apart than repeats of one step can be (with the line of the second)
 */
ww_status ww_readings_check_wedge(const ww_readings *wedge, ww_error *err);

/*
 * ww_readings_widths - relative widths of a wedge's steps, for finding it in a scan.
 *
 *   Repeats of a step count once, base rows don't count.
 *
 * Returned  *width  n of them in the order of the rows: free() it; NULL where no row has one
 * Status    WW_OK; WW_EMISMATCH some steps have a width and others none, or repeats of a step have
 *           different ones; WW_EDOMAIN a width that is not above 0; WW_EMEMORY
 */
ww_status ww_readings_widths(const ww_readings *readings, double **width, size_t *n, ww_error *err);

/*
 * ww_readings_error - standard error of a density that was read.
 *
 *   sd / sqrt n, but no less than what rounding to 0.01 leaves
 *
 * Source    definition; one reading without sd: 0.01 D, common practice; rounding: 0.01 / sqrt 12
 * Given     cell      with a value
 * Returned  the error [D]
 */
#define WW_READING_SD 0.01    /* [D] of one reading */
#define WW_ROUNDING_SD 0.0029 /* [D] of a mean at best: readings are written to 0.01 */
double ww_readings_error(const ww_cell *cell);

/*
 * ww_readings_log_h - log exposure of a row, as interface conventions define it.
 *
 *   wedge: log h0 - wedge    stop: log h0 + stop log10 2    time: log h0 + log10 time    logh:
 * itself
 *
 * Source    definition. log h0, where not given, is log10(exposure time) for `wedge` if that is
 *           given, else 0.
 * Given     readings
 *           row      index of a row with an exposure
 * Returned  *log_h   log10 of the exposure unit
 * Status    WW_OK; WW_ENODATA the row has no exposure; WW_EDOMAIN a time that is not > 0
 */
ww_status ww_readings_log_h(const ww_readings *readings, size_t row, double *log_h, ww_error *err);

/*
 * ww_readings_black_and_white_channel - the channel by which a black-and-white negative or print is
 *                                       judged: `visual` where it is there, else green (blue for
 *                                       stained negatives), else the only one there is.
 *
 * Returned  *channel
 * Status    WW_OK; WW_ENODATA no density column
 */
ww_status ww_readings_black_and_white_channel(const ww_readings *readings, ww_channel *channel,
                                              ww_error *err);

#endif
