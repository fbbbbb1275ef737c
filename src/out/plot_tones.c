/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/plot_script.h"
#include <float.h>
#include <math.h>
#include <wedgework/viewing.h>

/* Four panels that share their inner edges, a log unit as long on every axis. Beneath the scene
 * (right) lies its film (down), beside that the exposure of the print (left), above that the
 * paper's density (up, light at the top), and above the scene what comes of it. Dark tones lie at
 * the middle, and white outward, so that a tone's way round is a rectangle. Layout [px]: */
static const double left = 78, right = 66, top = 34, bottom = 90, line_high = 20, wide = 700,
                    longest = 200;

enum { POINTS = 240 };

static const double log_stop = 0.30102999566398119521; /* log10 2 */
static const double air = 0.06;                        /* [log10] beside what is drawn */

/* Everything that is drawn as one line: a chain, or the film that a wanted print takes. */
typedef struct limits {
    double scene[2], x[2], negative[2], print[2];
    bool any;
} limits;

static void widen(double limit[2], double value) {
    limit[0] = fmin(limit[0], value);
    limit[1] = fmax(limit[1], value);
}

static void start_line(ww__text *table) {
    ww__text_add(table, "\n"); /* a line ends where nothing is known */
}

typedef struct tables {
    ww__text film, print, whole_film, whole_paper, trace, stop;
    limits l;
} tables;

static void release(tables *t) {
    ww__text_release(&t->film);
    ww__text_release(&t->print);
    ww__text_release(&t->whole_film);
    ww__text_release(&t->whole_paper);
    ww__text_release(&t->trace);
    ww__text_release(&t->stop);
}

/* Print exposures count from the one that the placed tone gets: papers have unlike zeros. */
static double zero_of(const ww_tones *tones, const ww_tones_chain *c) {
    ww_tone_point placed;
    ww_tone_chain_follow(&c->chain, -tones->place_stops * log_stop, &placed);
    return placed.paper_log_h.set ? placed.paper_log_h.value : 0.0;
}

static void add_film(tables *t, double line, double scene, double negative) {
    ww__plot_row(&t->film, 3, (double[]){line, scene, negative});
    widen(t->l.scene, scene);
    widen(t->l.negative, negative);
}

static void add_print(tables *t, double line, double scene, double x, double negative,
                      double viewed) {
    ww__plot_row(&t->print, 5, (double[]){line, scene, x, negative, viewed});
    widen(t->l.x, x);
    widen(t->l.print, viewed);
    t->l.any = true;
}

/* ---------------------------------------------------------------------------------- a chain */

static void add_chain(const ww_tones *tones, const ww_tones_chain *c, double line, tables *t) {
    const double zero = zero_of(tones, c);
    start_line(&t->film);
    start_line(&t->print);
    for (int i = 0; i <= POINTS; i++) {
        ww_tone_point p;
        ww_tone_chain_follow(&c->chain, -tones->subject_range * i / POINTS, &p);
        if (p.negative.set)
            add_film(t, line, p.scene, p.negative.value);
        else
            start_line(&t->film);
        if (p.viewed.set)
            add_print(t, line, p.scene, p.paper_log_h.value - zero, p.negative.value,
                      p.viewed.value);
        else
            start_line(&t->print);
    }
}

/* The curves themselves, over all that was measured: the film without flare of the camera, the
 * paper as it looks. */
static void add_whole(const ww_tones *tones, const ww_tones_chain *c, double line, tables *t) {
    const ww_channel_curve *film = c->chain.film, *paper = c->chain.paper;
    const double zero = zero_of(tones, c);
    start_line(&t->whole_film);
    start_line(&t->whole_paper);
    for (int i = 0; i <= POINTS; i++) {
        const double part = (double)i / POINTS;
        const double f = film->domain_low + part * (film->domain_high - film->domain_low);
        const double p = paper->domain_low + part * (paper->domain_high - paper->domain_low);
        ww__plot_row(
            &t->whole_film, 3,
            (double[]){line, f - c->chain.white_log_h, ww_model_density(&film->shape, f, NULL)});
        ww__plot_row(&t->whole_paper, 3,
                     (double[]){line, p - zero,
                                ww_viewing_veil(ww_model_density(&paper->shape, p, NULL),
                                                c->chain.viewing_flare)});
    }
}

/* The way of one tone round the four: panel, from, to. */
static void add_way(double scene, double x, double negative, double viewed, tables *t) {
    const double *s = t->l.scene, *e = t->l.x, *d = t->l.negative, *v = t->l.print;
    const double way[][5] = {{1, scene, v[1], scene, viewed},
                             {2, scene, d[0], scene, negative},
                             {2, scene, negative, s[0], negative},
                             {3, e[1], negative, x, negative},
                             {3, x, negative, x, d[0]},
                             {4, x, v[1], x, viewed},
                             {4, x, viewed, e[1], viewed},
                             {1, s[0], viewed, scene, viewed}};
    for (size_t i = 0; i < sizeof way / sizeof way[0]; i++)
        ww__plot_row(&t->trace, 5, way[i]);
    ww__plot_row(&t->stop, 4, (double[]){scene, x, negative, viewed});
}

static void add_ways(const ww_tones *tones, const ww_tones_chain *c, tables *t) {
    const double zero = zero_of(tones, c);
    for (size_t i = 0; i < c->n; i++) {
        const ww_tone_point *p = &c->row[i].point;
        if (p->viewed.set)
            add_way(p->scene, p->paper_log_h.value - zero, p->negative.value, p->viewed.value, t);
    }
}

/* ---------------------------------------------------------------------------- a wanted print */

/* Exposures count from that of its lightest tone. */
static double wanted_zero(const ww_tones_wanted *w) {
    for (size_t i = 0; i < w->n; i++)
        if (w->row[i].paper_log_h.set)
            return w->row[i].paper_log_h.value;
    return 0.0;
}

static void add_wanted(const ww_tones_wanted *w, double line, tables *t) {
    const double zero = wanted_zero(w);
    for (size_t i = 0; i < w->n; i++) {
        const ww_tones_wanted_row *row = &w->row[i];
        if (!ww_quantity_present(row->negative)) {
            start_line(&t->film);
            start_line(&t->print);
            continue;
        }
        add_film(t, line, row->scene, row->negative.value);
        add_print(t, line, row->scene, row->paper_log_h.value - zero, row->negative.value,
                  row->viewed);
    }
}

static void add_wanted_ways(const ww_tones_wanted *w, tables *t) {
    const double zero = wanted_zero(w);
    double last = log_stop;
    for (size_t i = 0; i < w->n; i++) {
        const ww_tones_wanted_row *row = &w->row[i];
        if (!ww_quantity_present(row->negative) || row->scene > last - 0.9 * log_stop)
            continue;
        last = row->scene;
        add_way(row->scene, row->paper_log_h.value - zero, row->negative.value, row->viewed, t);
    }
}

/* --------------------------------------------------------------------------------- the plot */

/* To whole tenths of a log unit, with a little air. */
static void round_out(double limit[2]) {
    limit[0] = 0.1 * floor(10.0 * (limit[0] - air));
    limit[1] = 0.1 * ceil(10.0 * (limit[1] + air));
}

static void fill(const ww_tones *tones, tables *t) {
    const double first = tones->wanted.given ? 1.0 : 0.0;
    t->l.scene[0] = -tones->subject_range;
    t->l.scene[1] = 0.0;
    if (tones->wanted.given)
        add_wanted(&tones->wanted, 0.0, t);
    for (size_t i = 0; i < tones->n; i++) {
        add_chain(tones, &tones->chain[i], first + (double)i, t);
        add_whole(tones, &tones->chain[i], first + (double)i, t);
    }
    if (!t->l.any)
        return;
    round_out(t->l.scene);
    round_out(t->l.x);
    round_out(t->l.negative);
    round_out(t->l.print);
    if (tones->wanted.given)
        add_wanted_ways(&tones->wanted, t);
    else
        add_ways(tones, &tones->chain[ww_tones_main(tones)], t);
}

static void add_table(ww__text *script, const char *name, const ww__text *table) {
    ww__text_add_format(script, "$%s << END_OF_TABLE\n%s", name, ww__text_string(table));
    ww__text_add(script, "END_OF_TABLE\n");
    script->failed |= table->failed;
}

/* L* beside the densities that look so. */
static void add_lightness(ww__text *script) {
    static const double at[] = {90, 80, 70, 60, 50, 40, 30, 20, 10, 5};
    ww__text_add(script, "$lightness << END_OF_TABLE\n");
    for (size_t i = 0; i < sizeof at / sizeof at[0]; i++) {
        double density = 0.0;
        (void)ww_viewing_density(at[i], &density, NULL);
        ww__plot_row(script, 2, (double[]){at[i], density});
    }
    ww__text_add(script, "END_OF_TABLE\n");
}

static void add_limits(ww__text *script, const char *name, const double limit[2]) {
    ww__text_add(script, name);
    ww__plot_set_number(script, "_from", limit[0]);
    ww__text_add(script, name);
    ww__plot_set_number(script, "_to", limit[1]);
}

static void add_name(const ww_tones *tones, const ww_tones_chain *c, ww__text *name) {
    char shown[120];
    bool films = false, papers = false;
    for (size_t i = 0; i < tones->n; i++) {
        films |= tones->chain[i].film_at != c->film_at;
        papers |= tones->chain[i].paper_at != c->paper_at;
    }
    if (films || !papers)
        ww__text_add(name, ww__escape_message(c->film, shown, sizeof shown));
    if (papers || !films)
        ww__text_add_format(name, "%s%s", name->n > 0 ? " on " : "",
                            ww__escape_message(c->paper, shown, sizeof shown));
    if (c->film_channel == c->paper_channel && c->paper_channel != WW_VISUAL)
        ww__text_add_format(name, ", %s", ww_channel_name(c->paper_channel));
}

static size_t add_names(const ww_tones *tones, ww__text *script) {
    const size_t extra = tones->wanted.given ? 1 : 0;
    ww__text_add_format(script, "n_lines = %zu\narray line_name[%zu]\n", tones->n + extra,
                        tones->n + extra);
    if (extra)
        ww__plot_set_item(script, "line_name", 1, "the film that the wanted print takes");
    for (size_t i = 0; i < tones->n; i++) {
        ww__text name = WW__TEXT_INIT;
        add_name(tones, &tones->chain[i], &name);
        ww__plot_set_item(script, "line_name", 1 + extra + i, ww__text_string(&name));
        script->failed |= name.failed;
        ww__text_release(&name);
    }
    return tones->n + extra;
}

static void add_panels(const limits *l, size_t lines, ww__text *script, ww__plot_size *size) {
    const double s = l->scene[1] - l->scene[0], x = l->x[1] - l->x[0];
    const double d = l->negative[1] - l->negative[0], v = l->print[1] - l->print[0];
    const double unit = fmin(wide / (s + x), longest);
    const double low = bottom + line_high * (double)lines, middle = low + unit * d;
    const double end = middle + unit * v, centre = left + unit * x, far = centre + unit * s;
    *size = (ww__plot_size){far + right, end + top};
    ww__plot_set_panel(script, "result", (ww__plot_panel){centre, far, middle, end}, *size);
    ww__plot_set_panel(script, "film", (ww__plot_panel){centre, far, low, middle}, *size);
    ww__plot_set_panel(script, "enlarger", (ww__plot_panel){left, centre, low, middle}, *size);
    ww__plot_set_panel(script, "paper", (ww__plot_panel){left, centre, middle, end}, *size);
}

/* Density of white in a straight print, which the placed tone and its like would lie on. */
static double straight_of(const ww_tones *tones) {
    if (tones->wanted.given)
        return tones->wanted.row[0].viewed + tones->wanted.row[0].scene;
    const ww_tones_chain *c = &tones->chain[ww_tones_main(tones)];
    return ww_viewing_veil(c->paper_white + tones->place_density, tones->viewing_flare) -
           tones->place_stops * log_stop;
}

/* One film on one paper, in red, green and blue: lines of their own colours. */
static bool in_colour(const ww_tones *tones) {
    return !tones->wanted.given && tones->n == 3 && tones->chain[0].paper_channel == WW_RED &&
           tones->chain[2].paper_channel == WW_BLUE;
}

ww_status ww__plot_tones_data(const ww_tones *tones, ww__text *script, ww__plot_size *size,
                              ww_error *err) {
    tables t = {
        .l = {{0.0, 0.0}, {DBL_MAX, -DBL_MAX}, {DBL_MAX, -DBL_MAX}, {DBL_MAX, -DBL_MAX}, false}};
    fill(tones, &t);
    if (!t.l.any) {
        release(&t);
        return ww_error_set(err, WW_ENODATA,
                            "no plot: no tone of the scene reaches the print within what was "
                            "measured; expose otherwise (--expose, --place)");
    }
    add_panels(&t.l, add_names(tones, script), script, size);
    add_limits(script, "scene", t.l.scene);
    add_limits(script, "x", t.l.x);
    add_limits(script, "negative", t.l.negative);
    add_limits(script, "print", t.l.print);
    ww__plot_set_number(script, "flare", tones->flare > 0.0);
    ww__text_add_format(script, "main = %zu\n", tones->wanted.given ? 0 : ww_tones_main(tones));
    ww__text_add_format(script, "colours = %d\n", in_colour(tones));
    ww__plot_set_number(script, "straight", straight_of(tones));
    ww__plot_set_text(script, "x_text",
                      tones->wanted.given ? "from that of its lightest tone"
                                          : "from that of the placed tone");
    ww__plot_set_text(script, "print_text",
                      tones->viewing_flare > 0.0 ? "print density as it looks (D)"
                                                 : "print density (D)");
    add_table(script, "film", &t.film);
    add_table(script, "print", &t.print);
    add_table(script, "whole_film", &t.whole_film);
    add_table(script, "whole_paper", &t.whole_paper);
    add_table(script, "trace", &t.trace);
    add_table(script, "stop", &t.stop);
    add_lightness(script);
    release(&t);
    return ww__text_status(script, err);
}
