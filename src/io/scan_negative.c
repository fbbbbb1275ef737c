/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "core/readings.h"
#include "core/scanner.h"
#include "io/input.h"
#include "io/json.h"
#include <assert.h>
#include <float.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/readings_file.h>
#include <wedgework/scan_negative.h>

enum { FILE_MOST = 64 << 20, VERSION = 1, TONES = 5, THIN_TONES = 2 };

/* Limits that catch slips and damage; as for readings. */
static const double density_low = -0.1, density_high = 6.0;

/* By rising density. A code's percentile counts from the other end, as dense places are dark. */
static const char *const tone_key[TONES] = {"p0.1", "p1", "median", "p99", "p99.9"};

typedef struct job {
    ww__json_reader reader;
    const ww_scanner *scanner;
    bool codes; /* the document's unit */
    ww_readings made;
    size_t room;
} job;

static void read_head(job *j, const ww__json_place *root) {
    static const char *const unit[] = {"density", "code"};
    const ww__json_place version = ww__json_key(root, "wedgework"),
                         kind = ww__json_key(root, "kind"), of = ww__json_key(root, "unit");
    const long given = ww__json_read_integer(&j->reader, &version, 1, LONG_MAX);
    const char *text = ww__json_read_text(&j->reader, &kind);
    char quote[200];
    if (text && strcmp(text, "histogram") != 0)
        ww__json_refuse(&j->reader, &kind,
                        "is '%s', not 'histogram'; give readings as CSV, or what `measure --whole "
                        "--json` printed",
                        ww__escape_message(text, quote, sizeof quote));
    if (j->reader.status == WW_OK && given > VERSION)
        ww__json_refuse(&j->reader, &version,
                        "is %ld, but this program knows files up to version %d; use a newer one",
                        given, VERSION);
    j->codes = ww__json_read_word(&j->reader, &of, unit, 0, 2) == 1;
}

static void check_white(job *j, const ww__json_place *root) {
    const double white = ww__json_number_of(&j->reader, root, "white", 1.0, DBL_MAX);
    if (j->reader.status != WW_OK || !j->codes || white == j->scanner->white)
        return;
    j->reader.status = ww_error_set_at(
        j->reader.err, WW_EMISMATCH, j->reader.file, 0,
        "the codes go to %.0f and those of the scanner file to %.0f; scan the preview in as many "
        "bits as the wedge",
        white, j->scanner->white);
}

/* A density as it stands in the document. */
static ww_cell read_density(job *j, const ww__json_place *values, const ww__json_place *errors,
                            size_t tone) {
    const ww__json_place value = ww__json_key(values, tone_key[tone]);
    const ww__json_place error = ww__json_key(errors, tone_key[tone]);
    const ww_optional density =
        ww__json_read_optional(&j->reader, &value, density_low, density_high);
    ww_cell cell = {.state = WW_CELL_OVER, .n = 1};
    if (density.set) {
        cell.state = WW_CELL_VALUE;
        cell.value = density.value;
        cell.sd = ww__json_read_optional(&j->reader, &error, 0.0, density_high);
    }
    return cell;
}

/* A code that the scanner has no density for leaves the cell without one. */
static ww_cell read_code(job *j, const ww__json_place *values, ww_channel channel, size_t tone) {
    const double code =
        ww__json_number_of(&j->reader, values, tone_key[TONES - 1 - tone], 0.0, DBL_MAX);
    ww_cell cell = {.state = WW_CELL_OVER, .n = 1};
    ww_error why = WW_ERROR_INIT;
    ww_quantity density;
    ww_status status;
    if (j->reader.status != WW_OK)
        return cell;
    status = ww_scanner_density(j->scanner, channel, code, &density, &why);
    if (status == WW_OK) {
        cell.state = WW_CELL_VALUE;
        cell.value = density.value;
        cell.sd = (ww_optional){true, (density.high - density.low) / (2.0 * WW__SCANNER_95)};
    } else if (status != WW_EDOMAIN) {
        j->reader.status = ww_error_set_at(j->reader.err, status, j->reader.file, 0, "%s", why.msg);
    }
    return cell;
}

static void read_tone(job *j, const ww__json_place *values, const ww__json_place *errors,
                      ww_channel channel, size_t tone) {
    ww_cell *cell = &j->made.row[tone].cell[channel];
    *cell = j->codes ? read_code(j, values, channel, tone) : read_density(j, values, errors, tone);
    if (j->reader.status == WW_OK && cell->state == WW_CELL_OVER && tone < THIN_TONES)
        j->reader.status = ww_error_set_at(
            j->reader.err, WW_ENODATA, j->reader.file, 0,
            "the thinnest pixels have no %s density: they clip, or are lighter than the wedge that "
            "calibrated the scanner; expose the preview as the wedge was, if it got more light "
            "(lock "
            "automatic exposure), or crop bare glass off with `measure --whole --strip`",
            ww_channel_name(channel));
}

static void add_rows(job *j) {
    char none[] = "";
    for (size_t i = 0; i < TONES && j->reader.status == WW_OK; i++) {
        const ww_row row = {.step = none, .tone = (char *)tone_key[i], .pack = none};
        j->reader.status = ww__readings_reserve(&j->made, &j->room, j->reader.err);
        if (j->reader.status == WW_OK)
            j->reader.status = ww__readings_row_copy(&row, &j->made.row[j->made.n], j->reader.err);
        if (j->reader.status == WW_OK)
            j->made.n++;
    }
}

static void read_channels(job *j, const ww__json_place *root) {
    const ww__json_place channels = ww__json_key(root, "channels"),
                         errors = ww__json_key(root, "standard_error");
    bool any = false;
    if (!ww__json_read_object(&j->reader, &channels))
        return;
    for (int c = 0; c < WW_CHANNEL_COUNT && j->reader.status == WW_OK; c++) {
        const char *key = ww_channel_name((ww_channel)c);
        const ww__json_place values = ww__json_key(&channels, key), sd = ww__json_key(&errors, key);
        if (!ww__json_said(&values) || !ww__json_read_object(&j->reader, &values))
            continue;
        any = j->made.has[c] = true;
        for (size_t tone = 0; tone < TONES && j->reader.status == WW_OK; tone++)
            read_tone(j, &values, &sd, (ww_channel)c, tone);
    }
    if (j->reader.status == WW_OK && !any)
        ww__json_refuse(&j->reader, &channels,
                        "holds no channel; give what `measure --whole --json` printed");
}

static void read_whole(job *j, const ww__json_place *root) {
    const ww__json_place notes = ww__json_key(root, "notes");
    j->made.meta.material = WW_MATERIAL_NEGATIVE;
    j->made.meta.status = WW_STATUS_SCANNER;
    read_head(j, root);
    check_white(j, root);
    add_rows(j);
    read_channels(j, root);
    if (j->reader.status == WW_OK && ww__json_said(&notes))
        ww__json_read_notes(&j->reader, &notes, &j->made.notes);
    if (j->reader.status == WW_OK)
        j->reader.status = ww_notes_add(
            &j->made.notes, j->reader.err,
            "The tones are shares of a whole scan: 'p99.9' is the density that 99.9 %% of its "
            "pixels do not exceed, dust counted in. Bare glass and holders count, too, where the "
            "scan shows them: crop them off with `measure --whole --strip`.");
}

static ww_status parse_whole(const char *name, const char bytes[], size_t n,
                             const ww_scanner *scanner, ww_readings *negative, ww_error *err) {
    job j = {.reader = {name, err, WW_OK}, .scanner = scanner, .made = WW_READINGS_INIT};
    json_t *document = NULL;
    ww_status status = ww__json_parse(name, bytes, n, &document, err);
    if (status != WW_OK)
        return status;
    const ww__json_place root = ww__json_root(document);
    read_whole(&j, &root);
    if (j.reader.status == WW_OK)
        j.reader.status = ww__readings_text_copy(name, &j.made.file, err);
    json_decref(document);
    if (j.reader.status == WW_OK)
        *negative = j.made;
    else
        ww_readings_release(&j.made);
    return j.reader.status;
}

ww_status ww_scan_negative_parse(const char *name, const char bytes[], size_t n,
                                 const ww_scanner *scanner, ww_readings *negative, ww_error *err) {
    size_t start = 0;
    assert((bytes || n == 0) && scanner && negative);
    while (start < n && strchr(" \t\r\n", bytes[start]) && bytes[start])
        start++;
    if (start < n && bytes[start] == '{')
        return parse_whole(name, bytes, n, scanner, negative, err);
    return ww_readings_file_parse(name, bytes, n, negative, err);
}

ww_status ww_scan_negative_read(const char *path, const ww_scanner *scanner, ww_readings *negative,
                                ww_error *err) {
    char *bytes = NULL;
    size_t n = 0;
    ww_status status;
    assert(path && scanner && negative);
    status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status == WW_OK)
        status = ww_scan_negative_parse(ww__input_name(path), bytes, n, scanner, negative, err);
    free(bytes);
    return status;
}
