/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/control_gate.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include <wedgework/balance.h>
#include <wedgework/balance_text.h>
#include <wedgework/exposure.h>
#include <wedgework/filter_plan_file.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>

/* All that one run owns. The request points into the rest. */
typedef struct job {
    ww_readings print, aim, ring;
    ww_curve paper;
    ww_filter_plan recipe;
    ww_balance_request request;
    ww_balance balance;
    ww__control_gate gate;
} job;

#define JOB_INIT                                                                                   \
    {                                                                                              \
        .print = WW_READINGS_INIT, .aim = WW_READINGS_INIT, .ring = WW_READINGS_INIT,              \
        .paper = WW_CURVE_INIT, .request = WW_BALANCE_REQUEST_INIT, .balance = WW_BALANCE_INIT     \
    }

static void release(job *j) {
    ww_balance_release(&j->balance);
    ww__control_gate_release(&j->gate);
    ww_readings_release(&j->print);
    ww_readings_release(&j->aim);
    ww_readings_release(&j->ring);
    ww_curve_release(&j->paper);
}

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_filter_plan_file_text(&((const job *)of)->balance, text, n, err);
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    return ww_balance_text(&((const job *)of)->balance, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    const job *j = of;
    return ww_plot_balance(&j->balance, j->request.paper, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_balance(&j->balance, &j->request, path, no_plot, err);
}

/* --- what was given --------------------------------------------------------------------------- */

static void take_number(const ww_arguments *arguments, const char *name, double *number) {
    const ww_optional given = ww__arguments_number(arguments, name);
    if (given.set)
        *number = given.value;
}

static void take_options(const ww_arguments *arguments, ww_balance_request *request) {
    take_number(arguments, "--filter-step", &request->filter_step);
    take_number(arguments, "--head-scale", &request->head_scale);
    take_number(arguments, "--timer-step", &request->timer_step_s);
    request->repeatability = ww__arguments_number(arguments, "--repeatability");
    request->tone = ww__arguments_text(arguments, "--tone");
    request->burn = ww__arguments_text(arguments, "--burn");
}

static ww_status read_recipe(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *path = ww__arguments_text(arguments, "--recipe");
    ww_status status;
    if (!path)
        return WW_OK;
    status = ww_filter_plan_file_read(path, &j->recipe, err);
    if (status == WW_OK) {
        j->request.from = j->recipe.exact;
        j->request.stored = true;
        j->request.head_scale = j->recipe.head_scale;
        j->request.filter_step = j->recipe.filter_step;
        j->request.timer_step_s = j->recipe.timer_step_s;
    }
    return status;
}

/* What a print's file says of its pack and time: in its own lines, or in the columns of a row, as
 * that of a ring-around does. */
static void find_setting(const ww_readings *print, const char **pack, ww_optional *time) {
    *pack = print->meta.pack;
    *time = print->meta.exposure_time_s;
    for (size_t i = 0; i < print->n; i++) {
        const ww_row *row = &print->row[i];
        if (row->is_base)
            continue;
        if (!*pack && row->pack[0])
            *pack = row->pack;
        if (!time->set && print->exposure == WW_EXPOSURE_TIME)
            *time = row->exposure;
    }
}

/* The command line comes before the print's own file; a negative's tells nothing of its print, and
 * is NULL here. */
static ww_status take_setting(const ww_arguments *arguments, const ww_readings *print, job *j,
                              ww_error *err) {
    const char *given = ww__arguments_text(arguments, "--pack"), *pack;
    const ww_optional given_time = ww__arguments_number(arguments, "--time");
    const bool stored = ww__arguments_has(arguments, "--recipe");
    ww_balance_setting *from = &j->request.from;
    ww_optional time = {false, 0.0};
    ww_error why = WW_ERROR_INIT;
    pack = NULL;
    if (print)
        find_setting(print, &pack, &time);
    if (!given && !stored && !pack)
        return ww_error_set(err, WW_EUSAGE,
                            "balance needs the filters that the print was made with; give --pack "
                            "60Y45M, or 0 for none");
    if (!given_time.set && !stored && !time.set)
        return ww_error_set(err, WW_EUSAGE,
                            "balance needs the seconds that the print was made with; give --time "
                            "11");
    if (given || !stored) {
        const ww_status status = ww_pack_parse(given ? given : pack, &from->pack, &why);
        j->request.stored = false;
        if (status != WW_OK)
            return given ? ww_error_set(err, WW_EUSAGE, "--pack: %s", why.msg)
                         : ww_error_set_at(err, status, print->file, 0, "pack: %s", why.msg);
    }
    if (given_time.set || !stored)
        from->time_s = given_time.set ? given_time.value : time.value;
    return WW_OK;
}

/* What the command line says of the print where its own file says otherwise. */
static ww_status note_overridden(const ww_arguments *arguments, job *j, ww_error *err) {
    const ww_balance_setting *from = &j->request.from;
    char used[WW_PACK_TEXT_SIZE], said[WW_PACK_TEXT_SIZE];
    const char *pack = NULL;
    ww_optional time = {false, 0.0};
    ww_pack own;
    ww_status status = WW_OK;
    find_setting(&j->print, &pack, &time);
    if (ww__arguments_has(arguments, "--pack") && pack && ww_pack_parse(pack, &own, NULL) == WW_OK)
        for (int f = 0; f < WW_FILTER_COUNT && status == WW_OK; f++)
            if (own.cc[f] < from->pack.cc[f] || own.cc[f] > from->pack.cc[f])
                status =
                    ww_notes_add(&j->balance.notes, err,
                                 "--pack %s was used, where the print's own file says %s: "
                                 "leave --pack out, or correct the file.",
                                 ww_pack_format(&from->pack, used), ww_pack_format(&own, said));
    if (status == WW_OK && ww__arguments_has(arguments, "--time") && time.set &&
        (time.value < from->time_s || time.value > from->time_s))
        status = ww_notes_add(&j->balance.notes, err,
                              "--time %g was used, where the print's own file says %g s: leave "
                              "--time out, or correct the file.",
                              from->time_s, time.value);
    return status;
}

static ww_status read_paper(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *paper = ww__arguments_text(arguments, "--paper");
    const char *ring = ww__arguments_text(arguments, "--ring");
    ww_status status = WW_OK;
    if (ring && !paper)
        return ww_error_set(err, WW_EUSAGE,
                            "--ring needs the curve of the paper that it was printed on; give it "
                            "with --paper");
    if (paper) {
        status = ww__inputs_curve(paper, &j->paper, err);
        j->request.paper = &j->paper;
    }
    if (status == WW_OK && ring) {
        status = ww_readings_file_read(ring, &j->ring, err);
        j->request.ring = &j->ring;
    }
    return status;
}

static ww_status read_pair(const char *print, const char *aim, job *j, ww_error *err) {
    ww_status status = ww_readings_file_read(print, &j->print, err);
    if (status == WW_OK)
        status = ww_readings_file_read(aim, &j->aim, err);
    j->request.print = &j->print;
    j->request.aim = &j->aim;
    return status;
}

/* --- the three that it does ------------------------------------------------------------------- */

static ww_status from_print(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *aim = ww__arguments_text(arguments, "--aim");
    ww_status status;
    if (!aim)
        return ww_error_set(
            err, WW_EUSAGE,
            "balance needs what the print shall come to; give --aim AIM.csv, the "
            "readings of a print that you approved (equal densities are no neutral)");
    if (!ww__arguments_has(arguments, "--paper"))
        return ww_error_set(err, WW_EUSAGE,
                            "balance needs the curve of this paper; give --paper P.json, as `fit` "
                            "writes it");
    status = read_pair(arguments->file[0], aim, j, err);
    if (status == WW_OK)
        status = read_paper(arguments, j, err);
    if (status == WW_OK)
        status = take_setting(arguments, &j->print, j, err);
    if (status == WW_OK)
        status = ww_balance_print(&j->request, &j->balance, err);
    return status == WW_OK ? note_overridden(arguments, j, err) : status;
}

static ww_status from_negative(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *from = ww__arguments_text(arguments, "--from");
    const char *to = ww__arguments_text(arguments, "--to");
    ww_status status;
    if (!from || !to)
        return ww_error_set(err, WW_EUSAGE,
                            "a new negative is set against the standard one; give both --from and "
                            "--to");
    if (j->request.burn)
        return ww_error_set(err, WW_EUSAGE,
                            "a burn needs the readings of a print; leave --burn out");
    status = read_pair(from, to, j, err);
    if (status == WW_OK)
        status = read_paper(arguments, j, err);
    if (status == WW_OK)
        status = take_setting(arguments, NULL, j, err);
    return status == WW_OK ? ww_balance_negative(&j->request, &j->balance, err) : status;
}

/* The other plan's change in the units of this head. */
static void take_offset(const ww_filter_plan *lot, double head_scale, ww_balance_offset *offset) {
    const double units = head_scale / lot->head_scale;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        offset->change.cc[f] = lot->change.cc[f] * units;
    offset->stops = lot->stops;
    offset->lot = lot->doubt;
    offset->lot_grey = lot->grey;
    offset->lot.filter *= units;
}

static ww_status from_recipe(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *path = ww__arguments_text(arguments, "--offset");
    const ww_optional from = ww__arguments_number(arguments, "--from-scale");
    const ww_optional to = ww__arguments_number(arguments, "--scale");
    ww_balance_offset offset = WW_BALANCE_OFFSET_INIT;
    ww_filter_plan lot = {.stops = 0.0};
    ww_status status = WW_OK;
    if (from.set != to.set)
        return ww_error_set(err, WW_EUSAGE,
                            "a size is told by two magnifications; give both --from-scale and "
                            "--scale");
    if (!path && !from.set)
        return ww_error_set(err, WW_EUSAGE,
                            "--recipe is carried to another paper lot by --offset, or to another "
                            "size by --from-scale and --scale; give one of them, or a print");
    if (path && ww__outputs_same(path, ww__arguments_text(arguments, "--recipe")))
        return ww_error_set(err, WW_EUSAGE,
                            "--offset is the plan of --recipe itself, whose change would be made a "
                            "second time; give the plan that brought the standard negative to its "
                            "own aim on the new lot");
    if (path)
        status = ww_filter_plan_file_read(path, &lot, err);
    if (status == WW_OK && path)
        take_offset(&lot, j->request.head_scale, &offset);
    offset.recipe = j->recipe.doubt;
    offset.grey = j->recipe.grey;
    if (status == WW_OK && from.set)
        status = ww_exposure_scale(from.value, to.value, &offset.factor, err);
    return status == WW_OK ? ww_balance_carry(&j->request, &offset, &j->balance, err) : status;
}

static ww_status refuse_beside(const ww_arguments *arguments, const char *const names[],
                               const char *what, ww_error *err) {
    for (size_t i = 0; names[i]; i++)
        if (ww__arguments_has(arguments, names[i]))
            return ww_error_set(err, WW_EUSAGE, "%s does not go with %s; leave it out", names[i],
                                what);
    return WW_OK;
}

static ww_status run(const ww_arguments *arguments, job *j, ww_error *err) {
    static const char *const no_print[] = {"--from",       "--to",    "--recipe", "--offset",
                                           "--from-scale", "--scale", NULL};
    static const char *const no_negative[] = {"--aim", "--offset", "--from-scale", "--scale", NULL};
    static const char *const no_recipe[] = {"--aim",  "--paper", "--pack", "--time",
                                            "--ring", "--tone",  "--burn", NULL};
    const bool negative =
        ww__arguments_has(arguments, "--from") || ww__arguments_has(arguments, "--to");
    ww_status status = WW_OK;
    if (arguments->n_files > 0) {
        status = refuse_beside(arguments, no_print, "a print", err);
        return status == WW_OK ? from_print(arguments, j, err) : status;
    }
    if (negative) {
        status = refuse_beside(arguments, no_negative, "--from and --to", err);
        return status == WW_OK ? from_negative(arguments, j, err) : status;
    }
    if (ww__arguments_has(arguments, "--recipe")) {
        status = refuse_beside(arguments, no_recipe, "--recipe alone", err);
        return status == WW_OK ? from_recipe(arguments, j, err) : status;
    }
    return ww_error_set(
        err, WW_EUSAGE,
        "balance needs the readings of a print; give PRINT.csv, or --from and --to, "
        "or --recipe");
}

ww_status ww__cmd_balance(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job j = JOB_INIT;
    ww_status status = ww__outputs_check(arguments, err);
    if (status == WW_OK)
        status = read_recipe(arguments, &j, err);
    take_options(arguments, &j.request);
    if (status == WW_OK)
        status = ww__control_gate_take(arguments, true, &j.request.repeatability, &j.gate, err);
    if (status == WW_OK)
        status = run(arguments, &j, err);
    if (status == WW_OK)
        status = ww__control_gate_tell(&j.gate, &j.balance.first, &j.balance.notes, err);
    outcome->holds = status != WW_OK || (j.balance.holds && !j.gate.out);
    if (status == WW_OK) {
        const ww_result result = {.of = &j,
                                  .timer_step_s = j.request.timer_step_s,
                                  .document = document,
                                  .text = text,
                                  .plot = plot,
                                  .page = page};
        status = ww__outputs_deliver(arguments, &result, err);
    }
    release(&j);
    return status;
}
