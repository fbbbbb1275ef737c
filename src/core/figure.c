/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure.h"
#include "index.h"
#include "trace.h"

#include <assert.h>
#include <math.h>
#include <wedgework/figure.h>

static const double RUN_SHARE = 0.95;      /* straight: slope within 5 % of the steepest */
static const double LATITUDE_SHARE = 0.2;  /* shoulder ends where the slope is a fifth of gamma */
static const double PLATEAU_SHARE = 0.1;   /* D-max is doubted above: common practice */
static const double GRADIENT_SPAN = 1.50;  /* average gradient of film [log H] */
static const double FILM_FOOT = 0.10;      /* net density of the first useful exposure, ISO 6 */
static const double REVERSAL_FOOT = 0.20;  /* ISO 2240, from memory */
static const double REVERSAL_TOP = 2.00;   /* ISO 2240, from memory */
static const double LAYER_POINT = 0.15;    /* ISO 5800, from memory */
static const double PAPER_POINT = 0.60;    /* ISO 6846 */
static const double PAPER_FOOT = 0.04;     /* ISO 6846 */
static const double PAPER_TOP_SHARE = 0.9; /* ISO 6846, of net D-max (net: from memory) */
static const double PAPER_SPEED = 1000.0;  /* ISO 6846 [lx s] */

/*
 * A slope that is steepest at the last step may have gone on rising beyond it. It counts as gamma
 * only where the straight run is this long [log H]: one stop of film; papers run their whole course
 * in three to six stops.
 */
static const double RUN_LEAST_FILM = 0.30, RUN_LEAST_PAPER = 0.10;
static const double RISE_LEAST = 0.02; /* less is no picture [D] */

static const struct names {
    const char *key;
    const char *heading;
    const char *paper_heading; /* NULL: the same */
    const char *unit;
} names[WW_FIGURE_COUNT] = {
    [WW_FIGURE_BASE_FOG] = {"base_fog", "base+fog", "D-min", "D"},
    [WW_FIGURE_DMAX] = {"dmax", "D-max", NULL, "D"},
    [WW_FIGURE_GAMMA] = {"gamma", "gamma", NULL, ""},
    [WW_FIGURE_AVERAGE_GRADIENT] = {"average_gradient", "average gradient", NULL, ""},
    [WW_FIGURE_CONTRAST_INDEX] = {"contrast_index", "contrast index", NULL, ""},
    [WW_FIGURE_DENSITY_RANGE] = {"density_range", "density range", NULL, "D"},
    [WW_FIGURE_EXPOSURE_RANGE] = {"exposure_range", "exposure range", NULL, "log H"},
    [WW_FIGURE_SPEED_POINT] = {"speed_point", "speed point", NULL, "log H"},
    [WW_FIGURE_ISO_RANGE] = {"iso_range", "ISO range R", NULL, ""},
    [WW_FIGURE_PAPER_SPEED] = {"paper_speed", "paper speed P", NULL, ""},
    [WW_FIGURE_TOE] = {"toe", "toe", NULL, "log H"},
    [WW_FIGURE_SHOULDER] = {"shoulder", "shoulder", NULL, "log H"},
};

const char *ww_figure_key(ww_figure figure) {
    assert(figure < WW_FIGURE_COUNT);
    return names[figure].key;
}

const char *ww_figure_heading(ww_figure figure, bool paper) {
    assert(figure < WW_FIGURE_COUNT);
    const struct names *const n = &names[figure];
    return paper && n->paper_heading ? n->paper_heading : n->heading;
}

const char *ww_figure_unit(ww_figure figure) {
    assert(figure < WW_FIGURE_COUNT);
    return names[figure].unit;
}

bool ww_figure_applies(ww_figure figure, const ww_figure_rules *rules) {
    assert(figure < WW_FIGURE_COUNT && rules);
    switch (figure) {
    case WW_FIGURE_ISO_RANGE:
    case WW_FIGURE_PAPER_SPEED:
        return rules->paper;
    case WW_FIGURE_CONTRAST_INDEX:
        return !rules->paper && !rules->reversal;
    default:
        return true;
    }
}

/* Why a figure cannot be had, or is in doubt. What to add goes the other way round for reversal
 * materials. */
enum need {
    NEED_THIN,
    NEED_DENSE,
    NEED_SPAN,
    NEED_STRAIGHT,
    NEED_STRAIGHT_START,
    NEED_RISE,
    NEED_GAMMA,
    NEED_TOE,
    NEED_PLATEAU,
    NEED_BLACK,
    NEED_DMAX,
    NEED_INDEX_DENSE,
    NEED_PAPER,
    NEED_NEGATIVE,
    NEED_LUX,
    NEED_COUNT
};
#define MORE "add steps with more exposure"
#define LESS "add steps with less exposure"
#define AT_THIN_END(why)                                                                           \
    { why LESS, why MORE }
#define AT_DENSE_END(why)                                                                          \
    { why MORE, why LESS }
#define EITHER_WAY(why)                                                                            \
    { why, why }
static const char *const needs[NEED_COUNT][2] = {
    [NEED_THIN] = AT_THIN_END("the thinnest step is denser than its first point; "),
    [NEED_DENSE] = AT_DENSE_END("the densest step is thinner than its last point; "),
    [NEED_SPAN] = AT_DENSE_END("the steps end less than 1.50 log H after net 0.10; "),
    [NEED_STRAIGHT] = AT_DENSE_END("the slope still rises at the densest step; "),
    [NEED_STRAIGHT_START] = AT_THIN_END("the slope already falls at the thinnest step; "),
    [NEED_RISE] = EITHER_WAY("density changes by less than 0.02 over all steps; expose a longer "
                             "scale of steps"),
    [NEED_GAMMA] = EITHER_WAY("it is judged against gamma, which these steps do not give; add "
                              "steps at the end that gamma lacks"),
    [NEED_TOE] = AT_THIN_END("the straight line meets base+fog before the thinnest step; "),
    [NEED_PLATEAU] = AT_DENSE_END("the slope at the densest step is above a fifth of gamma; "),
    [NEED_BLACK] = AT_DENSE_END("it is that of the densest step, where the slope is still above "
                                "a tenth of gamma: the material may go darker; "),
    [NEED_DMAX] = AT_DENSE_END("it needs D-max, which the steps do not reach; "),
    [NEED_INDEX_DENSE] = AT_DENSE_END("the steps end before the arc of 2.2 meets the curve; "),
    [NEED_PAPER] = EITHER_WAY("it is a measure of papers"),
    [NEED_NEGATIVE] = EITHER_WAY("it is a measure of negatives; see the average gradient"),
    [NEED_LUX] = EITHER_WAY("it needs exposures in lux seconds"),
};

/* What one call works on. */
typedef struct job {
    ww__trace trace;
    const ww_figure_rules *rules;
    double base;
    ww_figure_set *set;
    bool has_gamma;
    ww__spot run_from, run_to;
    ww__reach foot_reach; /* first useful exposure */
    ww__spot foot;
} job;

static void give(job *j, ww_figure figure, double value, ww_how how) {
    j->set->value[figure] = value;
    j->set->how[figure] = how;
    j->set->reason[figure] = NULL;
}

static void doubt(job *j, ww_figure figure, enum need need) {
    j->set->reason[figure] = needs[need][j->trace.shape->falling];
}

static void miss(job *j, ww_figure figure, enum need need) {
    give(j, figure, 0.0, WW_ABSENT);
    doubt(j, figure, need);
}

static enum need need_of(ww__reach reach) {
    return reach == WW__REACH_BEFORE ? NEED_THIN : NEED_DENSE;
}

static double log_h(const job *j, double u) {
    return ww__trace_log_h(&j->trace, u);
}

static ww__spot last(const job *j) {
    return j->trace.spot[j->trace.n - 1];
}

static double chord(ww__spot from, ww__spot to) {
    return (to.density - from.density) / (to.u - from.u);
}

static void find_gamma(job *j) {
    const ww__spot start = j->trace.spot[0], end = last(j);
    const ww__spot steepest = ww__trace_steepest(&j->trace);
    const double level = RUN_SHARE * steepest.slope;
    if (!(end.density - start.density >= RISE_LEAST)) {
        miss(j, WW_FIGURE_GAMMA, NEED_RISE);
        return;
    }
    if (j->rules->bends) {
        miss(j, WW_FIGURE_GAMMA, NEED_STRAIGHT_START);
        return;
    }
    ww__trace_slope_falls(&j->trace, steepest, false, level, &j->run_from);
    ww__trace_slope_falls(&j->trace, steepest, true, level, &j->run_to);
    const double least = j->rules->paper ? RUN_LEAST_PAPER : RUN_LEAST_FILM;
    const bool is_short = j->run_to.u - j->run_from.u < least;
    if (is_short && (steepest.u >= end.u || steepest.u <= start.u)) {
        miss(j, WW_FIGURE_GAMMA, steepest.u >= end.u ? NEED_STRAIGHT : NEED_STRAIGHT_START);
        return;
    }
    j->has_gamma = true;
    j->set->run_from = log_h(j, j->run_from.u);
    j->set->run_to = log_h(j, j->run_to.u);
    j->set->run_density_from = j->run_from.density;
    give(j, WW_FIGURE_GAMMA, chord(j->run_from, j->run_to), WW_FITTED);
}

static void find_toe(job *j) {
    if (!j->has_gamma) {
        miss(j, WW_FIGURE_TOE, NEED_GAMMA);
        return;
    }
    const double u =
        j->run_from.u - (j->run_from.density - j->base) / j->set->value[WW_FIGURE_GAMMA];
    if (u >= j->trace.spot[0].u)
        give(j, WW_FIGURE_TOE, log_h(j, u), WW_FITTED);
    else
        miss(j, WW_FIGURE_TOE, NEED_TOE);
}

/* End of the useful exposures: on the shoulder, or the last step. */
static bool find_end(const job *j, ww__spot *end) {
    *end = last(j);
    return j->has_gamma &&
           ww__trace_slope_falls(&j->trace, j->run_to, true,
                                 LATITUDE_SHARE * j->set->value[WW_FIGURE_GAMMA], end);
}

static void find_ranges(job *j, ww__spot end, bool on_shoulder) {
    const ww_how how = on_shoulder ? WW_FITTED : WW_MEASURED;
    if (j->foot_reach != WW__REACH_FOUND || !(end.u > j->foot.u)) {
        const enum need need =
            j->foot_reach == WW__REACH_FOUND ? NEED_DENSE : need_of(j->foot_reach);
        miss(j, WW_FIGURE_EXPOSURE_RANGE, need);
        miss(j, WW_FIGURE_DENSITY_RANGE, need);
        return;
    }
    j->set->range_from = log_h(j, j->foot.u);
    j->set->range_to = log_h(j, end.u);
    give(j, WW_FIGURE_EXPOSURE_RANGE, end.u - j->foot.u, how);
    give(j, WW_FIGURE_DENSITY_RANGE, end.density - j->foot.density, how);
}

/* D-max, and the shoulder, which is judged against it. */
static void find_dmax(job *j) {
    if (!j->has_gamma) {
        miss(j, WW_FIGURE_DMAX, NEED_GAMMA);
        miss(j, WW_FIGURE_SHOULDER, NEED_GAMMA);
        return;
    }
    const double gamma = j->set->value[WW_FIGURE_GAMMA];
    const ww__spot end = last(j);
    if (!(end.slope <= LATITUDE_SHARE * gamma)) {
        miss(j, WW_FIGURE_DMAX, NEED_PLATEAU);
        miss(j, WW_FIGURE_SHOULDER, NEED_DMAX);
        return;
    }
    give(j, WW_FIGURE_DMAX, end.density, WW_FITTED);
    if (end.slope > PLATEAU_SHARE * gamma)
        doubt(j, WW_FIGURE_DMAX, NEED_BLACK);
    give(j, WW_FIGURE_SHOULDER,
         log_h(j, j->run_from.u + (end.density - j->run_from.density) / gamma), WW_FITTED);
}

static double speed_net(const ww_figure_rules *rules) {
    if (rules->paper)
        return PAPER_POINT;
    if (rules->reversal)
        return REVERSAL_FOOT;
    return rules->emulsion == WW_EMULSION_COLOUR_NEGATIVE ? LAYER_POINT : FILM_FOOT;
}

static void find_speed_point(job *j) {
    const double net = speed_net(j->rules);
    ww__spot spot = j->foot;
    ww__reach reach = j->foot_reach;
    if (j->base + net != j->foot.density || reach != WW__REACH_FOUND)
        reach = ww__trace_reach(&j->trace, j->base + net, &spot);
    if (reach == WW__REACH_FOUND)
        give(j, WW_FIGURE_SPEED_POINT, log_h(j, spot.u), WW_FITTED);
    else
        miss(j, WW_FIGURE_SPEED_POINT, need_of(reach));

    if (!j->rules->paper)
        miss(j, WW_FIGURE_PAPER_SPEED, NEED_PAPER);
    else if (j->rules->exposure_unit != WW_UNIT_LUX_SECOND)
        miss(j, WW_FIGURE_PAPER_SPEED, NEED_LUX);
    else if (reach != WW__REACH_FOUND)
        miss(j, WW_FIGURE_PAPER_SPEED, need_of(reach));
    else
        give(j, WW_FIGURE_PAPER_SPEED, PAPER_SPEED * pow(10.0, -log_h(j, spot.u)), WW_FITTED);
}

static void give_gradient(job *j, ww__spot from, ww__spot to) {
    j->set->gradient_from = log_h(j, from.u);
    j->set->gradient_to = log_h(j, to.u);
    give(j, WW_FIGURE_AVERAGE_GRADIENT, chord(from, to), WW_FITTED);
}

static void find_film_gradient(job *j) {
    ww__spot top = last(j);
    ww__reach reach = j->foot_reach;
    if (reach == WW__REACH_FOUND && j->rules->reversal) {
        reach = ww__trace_reach(&j->trace, j->base + REVERSAL_TOP, &top);
    } else if (reach == WW__REACH_FOUND) {
        const double u = j->foot.u + GRADIENT_SPAN;
        if (u > top.u + 1e-9) {
            miss(j, WW_FIGURE_AVERAGE_GRADIENT, NEED_SPAN);
            return;
        }
        top = ww__trace_at(&j->trace, u);
    }
    if (reach == WW__REACH_FOUND)
        give_gradient(j, j->foot, top);
    else
        miss(j, WW_FIGURE_AVERAGE_GRADIENT, need_of(reach));
}

/* Papers: ISO range and average gradient share their two points. */
static void find_paper_range(job *j) {
    const double dmax = j->set->value[WW_FIGURE_DMAX];
    enum need need = NEED_DMAX;
    if (j->set->how[WW_FIGURE_DMAX] != WW_ABSENT) {
        ww__spot from, to;
        const ww__reach thin = ww__trace_reach(&j->trace, j->base + PAPER_FOOT, &from);
        const double top = j->base + PAPER_TOP_SHARE * (dmax - j->base);
        const ww__reach dense = ww__trace_reach(&j->trace, top, &to);
        if (thin == WW__REACH_FOUND && dense == WW__REACH_FOUND && to.u > from.u) {
            j->set->iso_from = log_h(j, from.u);
            j->set->iso_to = log_h(j, to.u);
            give(j, WW_FIGURE_ISO_RANGE, 100.0 * (to.u - from.u), WW_FITTED);
            give_gradient(j, from, to);
            return;
        }
        need = need_of(thin);
    }
    miss(j, WW_FIGURE_ISO_RANGE, need);
    miss(j, WW_FIGURE_AVERAGE_GRADIENT, need);
}

static void find_index(job *j) {
    ww__index index;
    if (j->rules->paper || j->rules->reversal) {
        miss(j, WW_FIGURE_CONTRAST_INDEX, NEED_NEGATIVE);
        return;
    }
    const double start = j->foot_reach == WW__REACH_FOUND ? j->foot.u : j->trace.spot[0].u;
    switch (ww__index_find(&j->trace, j->base, start, &index)) {
    case WW__REACH_BEFORE:
        miss(j, WW_FIGURE_CONTRAST_INDEX, NEED_THIN);
        break;
    case WW__REACH_BEYOND:
        miss(j, WW_FIGURE_CONTRAST_INDEX, NEED_INDEX_DENSE);
        break;
    case WW__REACH_FOUND:
        j->set->index_centre = log_h(j, index.centre);
        j->set->index_from = log_h(j, index.near);
        j->set->index_to = log_h(j, index.far);
        give(j, WW_FIGURE_CONTRAST_INDEX, index.slope, WW_FITTED);
        break;
    }
}

void ww__figure_compute(const ww_shape *shape, const ww__bump *bump, double low, double high,
                        double base_fog, const ww_figure_rules *rules, ww_figure_set *set) {
    *set = (ww_figure_set){0};
    job j;
    j.rules = rules;
    j.base = base_fog;
    j.set = set;
    j.has_gamma = false;
    ww__trace_start_bumped(&j.trace, shape, bump, low, high);
    const bool reversal_film = rules->reversal && !rules->paper;
    j.foot = (ww__spot){0};
    j.foot_reach =
        ww__trace_reach(&j.trace, base_fog + (reversal_film ? REVERSAL_FOOT : FILM_FOOT), &j.foot);

    ww__spot end;
    give(&j, WW_FIGURE_BASE_FOG, base_fog, WW_FITTED);
    find_gamma(&j);
    find_toe(&j);
    const bool on_shoulder = find_end(&j, &end);
    find_ranges(&j, end, on_shoulder);
    find_dmax(&j);
    find_speed_point(&j);
    if (rules->paper) {
        find_paper_range(&j);
    } else {
        find_film_gradient(&j);
        miss(&j, WW_FIGURE_ISO_RANGE, NEED_PAPER);
    }
    find_index(&j);
}

ww_status ww_figure_compute(const ww_shape *shape, double low, double high, double base_fog,
                            const ww_figure_rules *rules, ww_figure_set *set, ww_error *err) {
    assert(shape && rules && set);
    if (!isfinite(low) || !isfinite(high) || !(low < high))
        return ww_error_set(err, WW_EDOMAIN,
                            "a curve from log H %g to %g has no length; give two finite ends in "
                            "rising order",
                            low, high);
    if (!isfinite(base_fog))
        return ww_error_set(err, WW_EDOMAIN,
                            "base+fog is %g, not a density; give it or leave it out", base_fog);
    ww__figure_compute(shape, NULL, low, high, base_fog, rules, set);
    return WW_OK;
}
