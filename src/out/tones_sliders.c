/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/tones_sliders.h"
#include "base/escape.h"
#include <assert.h>
#include <math.h>
#include <string.h>
#include <wedgework/print.h>

static const double log_stop = 0.30102999566398119521; /* log10 2 */

/* Keys by which the script knows them. */
static const char *const fate_key[] = {
    [WW_TONES_KEPT] = "kept",
    [WW_TONES_CAMERA_FLARE] = "camera",
    [WW_TONES_FILM_TOE] = "filmToe",
    [WW_TONES_FILM_SHOULDER] = "filmShoulder",
    [WW_TONES_ENLARGER_FLARE] = "enlarger",
    [WW_TONES_PAPER_TOE] = "paperToe",
    [WW_TONES_PAPER_SHOULDER] = "paperShoulder",
    [WW_TONES_VIEWING_FLARE] = "viewing",
    [WW_TONES_CONTRAST] = "contrast",
    [WW_TONES_BEYOND_FILM] = "beyondFilm",
    [WW_TONES_BEYOND_PAPER] = "beyondPaper",
};

typedef struct slider {
    const char *name, *label;
    double low, high, step;
} slider;

/* --- curves as data --------------------------------------------------------------------------- */

static void add_key(ww__text *json, const char *key, double value) {
    ww__text_add_format(json, "\"%s\":", key);
    ww__text_add_exact(json, value);
}

static void add_curve(const ww_channel_curve *curve, const char *key, ww__text *json) {
    const double wide = curve->domain_high - curve->domain_low;
    const int n = (int)fmax(1.0, ceil(wide / WW__TONES_SLIDERS_STEP));
    ww__text slopes = WW__TEXT_INIT;
    ww__text_add_format(json, "\"%s\":{", key);
    add_key(json, "low", curve->domain_low);
    ww__text_add(json, ",");
    add_key(json, "step", wide / n);
    ww__text_add(json, ",\"density\":[");
    for (int i = 0; i <= n; i++) {
        double slope;
        const double log_h = i < n ? curve->domain_low + wide * i / n : curve->domain_high;
        const double density = ww_model_density(&curve->shape, log_h, &slope);
        ww__text_add(json, i ? "," : "");
        ww__text_add_number(json, density, 7);
        ww__text_add(&slopes, i ? "," : "");
        ww__text_add_number(&slopes, slope, 6);
    }
    ww__text_add(json, "],\"slope\":[");
    ww__text_add(json, ww__text_string(&slopes));
    ww__text_add(json, "]}");
    json->failed |= slopes.failed;
    ww__text_release(&slopes);
}

static void add_chain(const ww_tones *tones, const ww_tones_chain *c, ww__text *json) {
    ww__text_add(json, "{");
    add_key(json, "white", c->chain.white_log_h - tones->film_stops * log_stop);
    ww__text_add(json, ",");
    add_key(json, "zero", c->paper_white);
    ww__text_add(json, ",\"best\":[");
    ww__text_add_exact(json, c->film_best);
    ww__text_add(json, ",");
    ww__text_add_exact(json, c->paper_best);
    ww__text_add(json, "],\"middle\":[");
    ww__text_add_exact(json, c->film_middle);
    ww__text_add(json, ",");
    ww__text_add_exact(json, c->paper_middle);
    ww__text_add(json, "],\n");
    add_curve(c->chain.film, "film", json);
    ww__text_add(json, ",\n");
    add_curve(c->chain.paper, "paper", json);
    ww__text_add(json, "}");
}

static void add_settings(const ww_tones *tones, ww__text *json) {
    const struct {
        const char *key;
        double value;
    } of[] = {{"stop", log_stop},
              {"range", tones->subject_range},
              {"detail", tones->detail},
              {"callier", tones->callier},
              {"main", (double)ww_tones_main(tones)}},
      place[] = {{"stops", tones->place_stops},
                 {"density", tones->place_density},
                 {"least", WW_PRINT_AIM_LEAST},
                 {"most", WW_PRINT_AIM_MOST}},
      asked[] = {{"expose", tones->film_stops},
                 {"print", 0.0},
                 {"flare", tones->flare},
                 {"enlarger", tones->enlarger_flare},
                 {"viewing", tones->viewing_flare}};
    for (size_t i = 0; i < sizeof of / sizeof *of; i++) {
        add_key(json, of[i].key, of[i].value);
        ww__text_add(json, ",");
    }
    for (size_t i = 0; i < sizeof place / sizeof *place; i++) {
        ww__text_add(json, i ? "," : "\"place\":{");
        add_key(json, place[i].key, place[i].value);
    }
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++) {
        ww__text_add(json, i ? "," : "},\n\"asked\":{");
        add_key(json, asked[i].key, asked[i].value);
    }
    ww__text_add(json, "},\n");
}

static void add_curves(const ww_tones *tones, ww__text *json) {
    const ww_tones_chain *first = &tones->chain[0];
    ww__text_add(json, "{");
    add_settings(tones, json);
    ww__text_add(json, "\"scenes\":[");
    for (size_t i = 0; i < first->n; i++) {
        ww__text_add(json, i ? "," : "");
        ww__text_add_exact(json, first->row[i].point.scene);
    }
    ww__text_add(json, "],\n\"fates\":{");
    for (size_t i = 0; i < sizeof fate_key / sizeof *fate_key; i++)
        ww__text_add_format(json, "%s\"%s\":\"%s\"", i ? "," : "", fate_key[i],
                            ww_tones_fate_name((ww_tones_fate)i));
    ww__text_add(json, "},\n\"chains\":[");
    for (size_t i = 0; i < tones->n; i++) {
        ww__text_add(json, i ? ",\n" : "\n");
        add_chain(tones, &tones->chain[i], json);
    }
    ww__text_add(json, "]}\n");
}

/* --- what is shown ---------------------------------------------------------------------------- */

static const char head[] =
    "<section class=\"sliders\" id=\"sliders\" aria-labelledby=\"sliders-head\" hidden>\n"
    "<h2 id=\"sliders-head\">Moved by hand</h2>\n"
    "<p>Other settings, on the same curves. The print's exposure counts from the one that gives "
    "the "
    "placed tone its density. Figures stand without their doubt here; the program tells it for the "
    "settings below.</p>\n";

/* The line is drawn by the script, and its numbers are the table's. */
static const char picture[] =
    "<p role=\"status\" id=\"moved-says\"></p>\n"
    "<svg viewBox=\"0 0 640 366\" role=\"img\">\n"
    "<title>Plot: density that the print looks to have, by the scene's stops</title>\n"
    "<desc>As asked for and as moved; the table below holds the moved line in numbers.</desc>\n"
    "<g id=\"moved-axes\"></g>\n"
    "<path id=\"asked-line\" class=\"asked\"/>\n<path id=\"moved-line\"/>\n"
    "<text x=\"338\" y=\"354\" text-anchor=\"middle\">scene (stops below white)</text>\n"
    "<text x=\"14\" y=\"166\" text-anchor=\"middle\" transform=\"rotate(-90 14 166)\">"
    "density that the print looks to have (D)</text>\n</svg>\n"
    "<p>Dashed: as asked for. Solid: as the sliders stand.</p>\n";

static const char table[] =
    "<table>\n<thead><tr><th scope=\"col\">scene <span class=\"unit\">stops</span></th>"
    "<th scope=\"col\" class=\"r\">film <span class=\"unit\">log H</span></th>"
    "<th scope=\"col\" class=\"r\">film <span class=\"unit\">D</span></th>"
    "<th scope=\"col\" class=\"r\">print <span class=\"unit\">D</span></th>"
    "<th scope=\"col\" class=\"r\">looks <span class=\"unit\">D</span></th>"
    "<th scope=\"col\" class=\"r\">looks <span class=\"unit\">L*</span></th>"
    "<th scope=\"col\" class=\"r\">gradient</th><th scope=\"col\">detail</th></tr></thead>\n"
    "<tbody id=\"moved-rows\"></tbody>\n</table>\n"
    "<p>Of this film and paper the program says the same, and how far to trust it, with these "
    "options in place of those given: <code id=\"moved-options\"></code></p>\n</section>\n";

static void add_choice(const ww_tones *tones, ww__text *html) {
    ww__text_add(html, "<p><label for=\"set-chain\">Film and paper</label> "
                       "<select id=\"set-chain\">\n");
    for (size_t i = 0; i < tones->n; i++) {
        const ww_tones_chain *c = &tones->chain[i];
        ww__text_add_format(html, "<option value=\"%zu\">", i);
        ww__escape_html(html, c->film);
        ww__text_add(html, " on ");
        ww__escape_html(html, c->paper);
        if (c->paper_channel != WW_VISUAL)
            ww__text_add_format(html, ", %s", ww_channel_name(c->paper_channel));
        ww__text_add(html, "</option>\n");
    }
    ww__text_add(html, "</select></p>\n");
}

static void add_slider(const slider *s, ww__text *html) {
    ww__text_add_format(html,
                        "<div class=\"slider\"><label for=\"set-%s\">%s</label>"
                        "<input type=\"range\" id=\"set-%s\" min=\"%g\" max=\"%g\" step=\"%g\">"
                        "<output id=\"of-%s\" for=\"set-%s\"></output></div>\n",
                        s->name, s->label, s->name, s->low, s->high, s->step, s->name, s->name);
}

/* Wide enough for what people meet, and for what was asked for. */
static void add_section(const ww_tones *tones, ww__text *html) {
    const double most = 0.1, stops = 4.0, asked = ceil(fabs(tones->film_stops));
    const slider all[] = {
        {"expose", "Exposure of the film", -fmax(stops, asked), fmax(stops, asked), 0.05},
        {"print", "Exposure of the print", -3.0, 3.0, 0.05},
        {"flare", "Flare of the camera", 0.0, fmax(most, tones->flare), 0.0005},
        {"enlarger", "Flare of the enlarger", 0.0, fmax(most, tones->enlarger_flare), 0.0005},
        {"viewing", "Flare of the viewing light", 0.0, fmax(most, tones->viewing_flare), 0.0005}};
    ww__text_add(html, head);
    add_choice(tones, html);
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        add_slider(&all[i], html);
    ww__text_add(html, "<p><button type=\"button\" id=\"set-back\">As asked for</button></p>\n");
    ww__text_add(html, picture);
    ww__text_add(html, table);
}

bool ww__tones_sliders(const ww_tones *tones, ww__sliders *sliders) {
    assert(tones && sliders);
    if (tones->n == 0 || tones->wanted.given)
        return false;
    for (size_t i = 0; i < ww__page_scripts_count; i++)
        if (strcmp(ww__page_scripts[i].name, "tones_sliders") == 0)
            sliders->script = &ww__page_scripts[i];
    assert(sliders->script);
    add_section(tones, &sliders->section);
    add_curves(tones, &sliders->curves);
    return true;
}
