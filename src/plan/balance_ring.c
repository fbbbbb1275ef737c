/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { COLOURS = WW_BALANCE_COLOURS, ACTS = WW_RESPONSE_ACTS };

static const double cc = 0.01;          /* [log H] of 1 CC */
static const double tie_chance = 0.001; /* that the print lies off the ring, by the errors alone */
static const double exchanged_lead = 30.0; /* of chi^2: a chance of 1 in a million */
static const double told_share = 0.5;      /* of what was not known beforehand */
static const double told_scatter = 0.005;  /* [D] half of what is usual */
static const double same_density = 0.0005; /* the print itself, written into the ring-around */

/* Rows of the ring-around, then the print's, a row a grey. */
typedef struct collection {
    ww_response_row *row;
    ww_response_row *loose;   /* the same, scattering as prints do where that was not told */
    double (*per_d)[COLOURS]; /* error [log H] by one of 1 D */
    const ww_row **from;      /* NULL for the print's */
    const char *grey[WW_RESPONSE_GREYS_MOST]; /* the print's first; names of the ring's others */
    size_t n, n_ring, n_greys;
    bool tied[WW__BALANCE_TONES_MOST]; /* rows of the ring belong to this grey of the print */
} collection;

/* --- reading ---------------------------------------------------------------------------------- */

static ww_status take_setting(const ww__balance_work *work, const ww_row *row, double act[ACTS],
                              ww_error *err) {
    const char *file = work->ring.file;
    const double scale = work->request->head_scale;
    ww_error why = WW_ERROR_INIT;
    ww_pack pack;
    if (!row->pack[0] || !row->exposure.set || work->ring.exposure != WW_EXPOSURE_TIME)
        return ww_error_set_at(err, WW_EINPUT, file, row->line,
                               "this print has no %s; a ring-around has the columns pack, time, "
                               "red, green, blue",
                               row->pack[0] ? "time" : "pack");
    if (ww_pack_parse(row->pack, &pack, &why) != WW_OK)
        return ww_error_set_at(err, WW_EINPUT, file, row->line, "%s", why.msg);
    if (!(row->exposure.value >= WW_BALANCE_TIME_LEAST &&
          row->exposure.value <= WW_BALANCE_TIME_MOST))
        return ww_error_set_at(err, WW_EINPUT, file, row->line,
                               "a time outside 0.1 to 3600 s is none of a print; give its seconds");
    pack = ww__balance_cc(&pack, scale);
    act[0] = log10(row->exposure.value / work->request->from.time_s);
    for (size_t f = 0; f < WW_FILTER_COUNT; f++)
        act[f + 1] = cc * (pack.cc[f] - work->from_cc.cc[f]);
    return WW_OK;
}

/* The grey that a row belongs to: the print's of that name, or its only one where one of the two
 * has no name; else one of the ring's own. False where there are too many. */
static bool find_grey(const ww_balance *plan, const char *name, collection *all, size_t *grey) {
    const bool shared = plan->kind == WW_BALANCE_PRINT;
    if (shared && plan->n_tones == 1 && (!*name || !*plan->tone[0].tone)) {
        *grey = 0;
        return true;
    }
    for (*grey = shared ? 0 : plan->n_tones; *grey < all->n_greys; (*grey)++)
        if (strcmp(all->grey[*grey], name) == 0)
            return true;
    if (all->n_greys == WW_RESPONSE_GREYS_MOST)
        return false;
    all->grey[all->n_greys++] = name;
    return true;
}

/* A row with readings' errors gets those of a print made once more besides. */
static void add(const ww__balance_work *work, const ww_row *from, const ww_response_row *row,
                const double per_d[COLOURS], collection *all) {
    const ww_optional told = work->request->repeatability;
    const double sd = told.set ? told.value : 0.0;
    const double loose = told.set ? told.value : WW_BALANCE_REPEATABILITY_USUAL;
    all->from[all->n] = from;
    all->row[all->n] = all->loose[all->n] = *row;
    for (size_t c = 0; c < COLOURS; c++) {
        all->per_d[all->n][c] = per_d[c];
        all->row[all->n].error[c] = hypot(row->error[c], sd * per_d[c]);
        all->loose[all->n].error[c] = hypot(row->error[c], loose * per_d[c]);
    }
    all->n++;
}

/* Why a row cannot be looked up on the paper; empty where it can. */
static bool look_up(const ww__balance_work *work, const ww_row *from, ww_response_row *row,
                    double per_d[COLOURS], ww_error *why) {
    const size_t tone = ww__balance_find(work->plan, from->tone);
    ww__balance_at at;
    double dye_sd[COLOURS] = {0.0};
    for (size_t c = 0; c < COLOURS; c++)
        if (from->cell[c].state != WW_CELL_VALUE) {
            (void)ww_error_set(why, WW_ENODATA, "no %s density", ww_channel_name((ww_channel)c));
            return false;
        }
    if (ww__balance_place(work->request->paper, from, &at, why) != WW_OK)
        return false;
    if (work->plan->kind == WW_BALANCE_PRINT) /* as of the print: against its grey's aim */
        ww_layers_dye_sd(work->request->paper, at.log_h,
                         work->spot[tone < work->plan->n_tones ? tone : 0].aim_log_h, dye_sd);
    for (size_t c = 0; c < COLOURS; c++) {
        row->log_h[c] = at.log_h[c];
        row->error[c] = hypot(at.error[c], dye_sd[c]);
        per_d[c] = at.per_d[c];
    }
    return true;
}

static bool is_the_print(const ww_balance *plan, const ww_response_row *row, const ww_row *from) {
    if (row->grey >= plan->n_tones)
        return false;
    for (size_t a = 0; a < ACTS; a++)
        if (fabs(row->act[a]) > 1e-9)
            return false;
    for (size_t c = 0; c < COLOURS; c++)
        if (fabs(from->cell[c].value - plan->tone[row->grey].print[c]) > same_density)
            return false;
    return true;
}

static ww_status add_row(ww__balance_work *work, const ww_row *from, collection *all,
                         ww_error *err) {
    ww_response_row row = {.grey = 0};
    double per_d[COLOURS];
    ww_error why = WW_ERROR_INIT;
    ww_status status = take_setting(work, from, row.act, err);
    if (status != WW_OK)
        return status;
    if (all->n == WW_RESPONSE_ROWS_MOST - WW__BALANCE_TONES_MOST)
        return ww_error_set_at(err, WW_EINPUT, work->ring.file, from->line,
                               "the ring-around has over %zu prints; give the latest", all->n);
    if (!look_up(work, from, &row, per_d, &why))
        return ww__print_say(&work->plan->notes, err,
                             "The ring-around's print in line %zu was not used: %s.", from->line,
                             why.msg);
    if (!find_grey(work->plan, from->tone, all, &row.grey))
        return ww_error_set_at(err, WW_EINPUT, work->ring.file, from->line,
                               "the ring-around and the print have over %d greys; give those of "
                               "the print",
                               (int)WW_RESPONSE_GREYS_MOST);
    if (work->plan->kind == WW_BALANCE_PRINT && is_the_print(work->plan, &row, from))
        return WW_OK;
    if (row.grey < work->plan->n_tones)
        all->tied[row.grey] = true;
    add(work, from, &row, per_d, all);
    return WW_OK;
}

static void add_print(const ww__balance_work *work, collection *all) {
    for (size_t i = 0; i < work->plan->n_tones; i++) {
        ww_response_row row = {.grey = i};
        memcpy(row.log_h, work->spot[i].log_h, sizeof row.log_h);
        for (size_t c = 0; c < COLOURS; c++)
            row.error[c] = hypot(work->spot[i].error[c], work->spot[i].dye_sd[c]);
        add(work, NULL, &row, work->spot[i].per_d, all);
    }
}

/* --- what goes together ----------------------------------------------------------------------- */

static void rename_grey(collection *all, size_t from, size_t to) {
    for (size_t i = 0; i < all->n_ring; i++)
        if (all->row[i].grey == from)
            all->row[i].grey = all->loose[i].grey = to;
}

/* Gives the ring's rows of the print's greys greys of their own, or takes these back; false where
 * there are too many. */
static bool part(collection *all, size_t n_greys, bool back) {
    size_t own = n_greys;
    for (size_t i = 0; i < WW__BALANCE_TONES_MOST; i++)
        own += all->tied[i];
    if (own > WW_RESPONSE_GREYS_MOST)
        return false;
    own = n_greys;
    for (size_t i = 0; i < WW__BALANCE_TONES_MOST; i++)
        if (all->tied[i]) {
            rename_grey(all, back ? own : i, back ? i : own);
            all->grey[own++] = "";
        }
    all->n_greys = back ? n_greys : own;
    return true;
}

static ww_status leave_out_suspect(ww__balance_work *work, collection *all, ww_error *err) {
    char pack[WW_PACK_TEXT_SIZE];
    const ww_row *row;
    ww_pack dial;
    size_t suspect;
    const ww_status status = ww_response_suspect(all->loose, all->n, all->n_greys, &suspect, err);
    if (status != WW_OK || suspect >= all->n_ring)
        return status;
    row = all->from[suspect];
    all->row[suspect].left_out = all->loose[suspect].left_out = true;
    if (ww_pack_parse(row->pack, &dial, NULL) != WW_OK)
        dial = work->request->from.pack; /* it was parsed before */
    return ww__print_say(&work->plan->notes, err,
                         "The ring-around's print in line %zu (%s, %g s) does not go with the "
                         "others and was left out: a reading, its pack or its time is wrong.",
                         row->line, ww_pack_format(&dial, pack), row->exposure.value);
}

/* Where the print lies off the ring by more than errors, as of another negative, day or process,
 * the two are parted; *loose is the response then. */
static ww_status tie(ww__balance_work *work, collection *all, ww_response *loose, ww_error *err) {
    const size_t n_greys = all->n_greys;
    ww_response apart;
    size_t n = 0;
    ww_status status = ww_response_fit(all->loose, all->n, all->n_greys, loose, err);
    for (size_t i = 0; i < WW__BALANCE_TONES_MOST; i++)
        n += all->tied[i];
    if (status != WW_OK || n == 0 || !part(all, n_greys, false))
        return status;
    status = ww_response_fit(all->loose, all->n, all->n_greys, &apart, err);
    if (status != WW_OK)
        return status;
    if (ww_response_chance(loose->chi_squared - apart.chi_squared, COLOURS * n) >= tie_chance) {
        part(all, n_greys, true);
        return WW_OK;
    }
    *loose = apart;
    return ww__print_say(
        &work->plan->notes, err,
        "The print does not lie where the ring-around puts it: another negative or paper, "
        "a process that moved, or a pack, time or reading that is wrong. Only what the "
        "ring's prints have between them was used.");
}

static ww_status note_scatter(ww__balance_work *work, const ww_response *loose, ww_error *err) {
    if (ww_response_chance(loose->chi_squared, loose->freedom) < tie_chance)
        return ww__print_say(
            &work->plan->notes, err,
            "The ring-around's prints go together worse than the errors of readings allow, and "
            "which is wrong cannot be told; the doubt is widened by that. Look for a pack or time "
            "noted wrongly, or read them again; how far prints made alike come out different, "
            "--repeatability tells.");
    if (!work->request->repeatability.set && work->scatter >= told_scatter)
        return ww__print_say(
            &work->plan->notes, err,
            "The ring-around's prints scatter more than their readings err; for want of "
            "--repeatability, +-%.3f D from print to print, which so few tell, is in the doubt "
            "(prints made alike usually differ by %.2f D, one standard deviation; common "
            "practice). "
            "Give --repeatability, if you know yours.",
            WW__BALANCE_95 * work->scatter, WW_BALANCE_REPEATABILITY_USUAL);
    return WW_OK;
}

/* Where it was not told how far prints made alike scatter, the rows tell: as they do, for the
 * response; for the doubt of the next print by as much more as so few may be off. */
static ww_status find_scatter(ww__balance_work *work, collection *all, ww_error *err) {
    double sd;
    ww_status status;
    if (work->request->repeatability.set)
        return WW_OK;
    status = ww_response_scatter(all->row, (const double(*)[COLOURS])all->per_d, all->n,
                                 all->n_greys, &sd, &work->scatter, err);
    for (size_t i = 0; i < all->n && status == WW_OK; i++)
        for (size_t c = 0; c < COLOURS; c++)
            all->row[i].error[c] = hypot(all->row[i].error[c], sd * all->per_d[i][c]);
    return status;
}

/* The response, by what goes together. */
static ww_status teach(ww__balance_work *work, collection *all, ww_error *err) {
    ww_response loose;
    ww_status status = leave_out_suspect(work, all, err);
    if (status == WW_OK)
        status = tie(work, all, &loose, err);
    if (status == WW_OK)
        status = find_scatter(work, all, err);
    if (status == WW_OK)
        status = ww_response_fit(all->row, all->n, all->n_greys, &work->plan->response, err);
    return status == WW_OK ? note_scatter(work, &loose, err) : status;
}

/* chi^2 of the ring's prints by themselves with two of their columns exchanged, or as they stand
 * (one and the same twice), and the chance of that; HUGE_VAL where the paper has no such
 * densities. */
static ww_status exchange(const ww__balance_work *work, const collection *all, size_t a, size_t b,
                          double *chi_squared, double *chance, ww_error *err) {
    ww_response_row *copy = malloc(all->n_ring * sizeof *copy);
    size_t own[WW_RESPONSE_GREYS_MOST], n_own = 0, k; /* greys, counted as they come */
    ww_response response;
    ww_status status;
    bool known = true;
    *chi_squared = HUGE_VAL;
    *chance = 0.0;
    if (!copy)
        return ww_error_set(err, WW_EMEMORY, "no memory for a ring-around");
    memcpy(copy, all->row, all->n_ring * sizeof *copy);
    for (size_t i = 0; i < all->n_ring && known; i++) {
        ww_row row = *all->from[i]; /* owns nothing here */
        double per_d[COLOURS];
        row.cell[a] = all->from[i]->cell[b];
        row.cell[b] = all->from[i]->cell[a];
        known = look_up(work, &row, &copy[i], per_d, NULL);
        for (k = 0; k < n_own && own[k] != all->row[i].grey; k++)
            ;
        if (k == n_own)
            own[n_own++] = all->row[i].grey;
        copy[i].grey = k;
    }
    status = known ? ww_response_fit(copy, all->n_ring, n_own, &response, err) : WW_OK;
    if (known && status == WW_OK) {
        *chi_squared = response.chi_squared;
        *chance = ww_response_chance(response.chi_squared, response.freedom);
    }
    free(copy);
    return status;
}

/* Where yellow is seen to take red, two columns of the ring-around stand for each other: as read
 * the prints do not go together, and exchanged they do. */
static ww_status check_columns(const ww__balance_work *work, const collection *all, ww_error *err) {
    double as_read, other, chance;
    ww_status status = exchange(work, all, WW_RED, WW_RED, &as_read, &chance, err);
    for (size_t a = 0; a < COLOURS && status == WW_OK; a++)
        for (size_t b = a + 1; b < COLOURS && status == WW_OK; b++) {
            status = exchange(work, all, a, b, &other, &chance, err);
            if (status == WW_OK && isfinite(as_read) && other < as_read - exchanged_lead &&
                chance > tie_chance)
                return ww_error_set_at(
                    err, WW_EMISMATCH, work->ring.file, 0,
                    "the filters of this ring-around act in each other's colours, as if its "
                    "columns "
                    "%s and %s were exchanged; check the names above its columns",
                    ww_channel_name((ww_channel)a), ww_channel_name((ww_channel)b));
        }
    return status;
}

static ww_status learn(ww__balance_work *work, collection *all, ww_error *err) {
    ww_balance *plan = work->plan;
    ww_status status = WW_OK;
    for (size_t i = 0; i < plan->n_tones; i++)
        all->grey[all->n_greys++] = plan->tone[i].tone;
    for (size_t i = 0; i < work->ring.n && status == WW_OK; i++)
        if (!work->ring.row[i].is_base)
            status = add_row(work, &work->ring.row[i], all, err);
    if (status != WW_OK)
        return status;
    all->n_ring = all->n;
    if (all->n_ring == 0) { /* the print alone tells nothing of filters */
        ww_response_usual(&plan->response);
        return WW_OK;
    }
    status = check_columns(work, all, err);
    if (status != WW_OK)
        return status;
    add_print(work, all);
    status = teach(work, all, err);
    for (size_t i = 0; i < all->n_ring; i++)
        plan->ring_rows += !all->row[i].left_out;
    return status;
}

ww_status ww__balance_ring(ww__balance_work *work, ww_error *err) {
    const size_t room = work->ring.n + WW__BALANCE_TONES_MOST;
    collection all = {.n = 0};
    ww_status status;
    all.row = calloc(room, sizeof *all.row);
    all.loose = calloc(room, sizeof *all.loose);
    all.per_d = calloc(room, sizeof *all.per_d);
    all.from = calloc(room, sizeof *all.from);
    if (!all.row || !all.loose || !all.per_d || !all.from)
        status = ww_error_set(err, WW_EMEMORY, "no memory for a ring-around");
    else
        status = learn(work, &all, err);
    free(all.row);
    free(all.loose);
    free(all.per_d);
    free(all.from);
    if (status != WW_OK)
        return status;
    for (size_t a = 0; a < ACTS; a++)
        work->plan->told[a] = ww_response_told(&work->plan->response, a) < told_share;
    return WW_OK;
}
