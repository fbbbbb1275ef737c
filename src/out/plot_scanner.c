/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "out/scan_words.h"
#include "out/words.h"
#include <float.h>
#include <math.h>

/* Layout [px]: densities over residuals at the left, noise over the legend at the right. */
static const double left = 84, bottom = 58, main_width = 400, main_height = 400, top = 46;
static const double residual_height = 120, gap = 72, middle = 92, noise_width = 330;
static const double noise_height = 300, right = 22;

enum { MODEL_POINTS = 161 };

/* Noise of one pixel [D] that is as large as the signal: log10 e. */
static const double signal_is_noise = 0.43429448190325183;
static const double arrow_rise = 1.6; /* of the noise, by which marks stand above each other, and
                                         which an arrow leads down */

/* What a mark says of a step; the script goes by these numbers. */
enum kind { STEP = 0, CLIPPED, COMPRESSED, SUSPECT };

struct picture {
    const ww_scanner *scanner;
    ww__text *script;
    ww_channel main;
    size_t n_channels;
    double d_from, d_to; /* densities */
    double code_from;    /* log10 of code / white; the axis ends at 0 */
    double residual_limit;
};

/* ---------------------------------------------------------------------------------- numbers */

static double value_or_0(ww_quantity quantity) {
    return ww_quantity_present(quantity) ? quantity.value : 0.0;
}

static double model_code(const ww_scanner *scanner, const ww_scanner_channel *channel,
                         double density) {
    return ww_scanner_code(scanner,
                           value_or_0(channel->dark) +
                               channel->k * (pow(10.0, -density) + value_or_0(channel->flare)));
}

/* Light of a code that makes the image: without dark and flare. */
static double signal_of(const ww_scanner *scanner, const ww_scanner_channel *channel, double code) {
    return ww_scanner_light(scanner, code) - value_or_0(channel->dark) -
           channel->k * value_or_0(channel->flare);
}

static double log_code(const ww_scanner *scanner, double code) {
    return log10(code / scanner->white);
}

static enum kind kind_of(const ww_scanner_step *step) {
    return step->clipped ? CLIPPED : step->suspect ? SUSPECT : step->compressed ? COMPRESSED : STEP;
}

/* sd of a code as density, by the slope of light at the code. False where no signal is left. */
static bool find_noise(const ww_scanner *scanner, const ww_scanner_channel *channel,
                       const ww_scanner_step *step, double *noise) {
    const double signal = signal_of(scanner, channel, step->code), part = 1e-4 * step->code;
    double slope;
    if (step->clipped || !(step->sd > 0.0) || !(step->code > 0.0) || !(signal > 0.0))
        return false;
    slope = (ww_scanner_light(scanner, step->code + part) -
             ww_scanner_light(scanner, step->code - part)) /
            (2.0 * part);
    *noise = slope * step->sd / (signal * log(10.0));
    return *noise > 0.0;
}

static bool find_limits(struct picture *picture) {
    double low = DBL_MAX, high = -DBL_MAX, code = 0.0, residual = 0.02;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &picture->scanner->channel[c];
        picture->n_channels += channel->present;
        for (size_t i = 0; channel->present && i < channel->n_steps; i++) {
            const ww_scanner_step *step = &channel->step[i];
            low = fmin(low, step->density);
            high = fmax(high, step->density);
            if (step->code > 0.0)
                code = fmin(code, log_code(picture->scanner, step->code));
            if (!step->clipped)
                residual = fmax(residual, fabs(step->density - step->fitted));
        }
    }
    if (low > high)
        return false;
    ww__plot_limits(fmin(low, 0.0), high + 0.06, &picture->d_from, &picture->d_to);
    picture->code_from = floor(2.0 * code - 0.1) / 2.0;
    picture->residual_limit = fmin(0.5, ceil(1.15 * residual / 0.02) * 0.02);
    return true;
}

/* ----------------------------------------------------------------------------------- tables */

typedef void add_rows(const struct picture *picture, int name, const ww_scanner_channel *channel);

/* Channel, log code, density. */
static void add_model(const struct picture *picture, int name, const ww_scanner_channel *channel) {
    for (int i = 0; i < MODEL_POINTS; i++) {
        const double density =
            picture->d_from + (picture->d_to - picture->d_from) * i / (MODEL_POINTS - 1);
        const double code = model_code(picture->scanner, channel, density);
        if (code > 0.0 && code <= picture->scanner->white)
            ww__plot_row(picture->script, 3,
                         (double[]){name, log_code(picture->scanner, code), density});
    }
    ww__text_add(picture->script, "\n");
}

/* Channel, log code, density, kind. */
static void add_steps(const struct picture *picture, int name, const ww_scanner_channel *channel) {
    for (size_t i = 0; i < channel->n_steps; i++)
        if (channel->step[i].code > 0.0)
            ww__plot_row(picture->script, 4,
                         (double[]){name, log_code(picture->scanner, channel->step[i].code),
                                    channel->step[i].density, kind_of(&channel->step[i])});
}

/* Channel, density, what the model leaves, kind. */
static void add_residuals(const struct picture *picture, int name,
                          const ww_scanner_channel *channel) {
    const double edge = 0.95 * picture->residual_limit;
    for (size_t i = 0; i < channel->n_steps; i++) {
        const ww_scanner_step *step = &channel->step[i];
        if (!step->clipped)
            ww__plot_row(picture->script, 4,
                         (double[]){name, step->density,
                                    fmax(-edge, fmin(edge, step->density - step->fitted)),
                                    kind_of(step)});
    }
}

/* Density, doubt to either side, of the main channel, in rising density. */
static void add_doubt(const struct picture *picture, int name, const ww_scanner_channel *channel) {
    if (name == (int)picture->main)
        for (size_t i = channel->n_points; i-- > 0;)
            ww__plot_row(picture->script, 3,
                         (double[]){channel->point[i].density, -channel->point[i].doubt,
                                    channel->point[i].doubt});
}

/* Channel, density, what was added to the model. */
static void add_correction(const struct picture *picture, int name,
                           const ww_scanner_channel *channel) {
    for (size_t i = 0; i < channel->n_points; i++) {
        const ww_scanner_point *point = &channel->point[i];
        const double signal = signal_of(picture->scanner, channel, point->code);
        if (signal > 0.0 && channel->k > 0.0)
            ww__plot_row(
                picture->script, 3,
                (double[]){name, point->density, point->density + log10(signal / channel->k)});
    }
    ww__text_add(picture->script, "\n");
}

/* Channel, density, noise by the model. */
static void add_noise(const struct picture *picture, int name, const ww_scanner_channel *channel) {
    for (int i = 0; i < MODEL_POINTS; i++) {
        const double density =
            picture->d_from + (picture->d_to - picture->d_from) * i / (MODEL_POINTS - 1);
        const double noise = ww_scanner_noise_at(channel, density);
        if (noise > 0.0 && isfinite(noise))
            ww__plot_row(picture->script, 3, (double[]){name, density, noise});
    }
    ww__text_add(picture->script, "\n");
}

/* Channel, density, noise of the step's own pixels. */
static void add_step_noise(const struct picture *picture, int name,
                           const ww_scanner_channel *channel) {
    for (size_t i = 0; i < channel->n_steps; i++) {
        double noise;
        if (find_noise(picture->scanner, channel, &channel->step[i], &noise))
            ww__plot_row(picture->script, 3, (double[]){name, channel->step[i].density, noise});
    }
}

/* Channel, D-max, and the noise at which its arrow begins. */
static void add_dmax(const struct picture *picture, int name, const ww_scanner_channel *channel) {
    const double above = name == WW_VISUAL ? 1.0 : 1.0 + name;
    if (ww_quantity_present(channel->dmax))
        ww__plot_row(
            picture->script, 3,
            (double[]){name, channel->dmax.value, signal_is_noise * pow(arrow_rise, above)});
}

static void add_table(const struct picture *picture, const char *name, add_rows *add) {
    size_t start;
    bool any = false;
    ww__text_add_format(picture->script, "$%s << END_OF_TABLE\n", name);
    start = picture->script->n;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (picture->scanner->channel[c].present)
            add(picture, c, &picture->scanner->channel[c]);
    for (size_t i = start; i < picture->script->n && !any; i++)
        any = picture->script->bytes[i] != '\n';
    ww__text_add_format(picture->script, "END_OF_TABLE\nn_%s = %d\n", name, any);
}

static size_t count_kind(const struct picture *picture, enum kind kind) {
    size_t n = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        for (size_t i = 0;
             picture->scanner->channel[c].present && i < picture->scanner->channel[c].n_steps; i++)
            n += kind_of(&picture->scanner->channel[c].step[i]) == kind;
    return n;
}

/* ----------------------------------------------------------------------------------- words */

/* "green: sees to 2.87 D" */
static void add_legend(const struct picture *picture) {
    ww__text_add(picture->script, "array legend_text[4] = ['', '', '', '']\n");
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &picture->scanner->channel[c];
        ww__text text = WW__TEXT_INIT;
        if (!channel->present)
            continue;
        ww__text_add(&text, ww_channel_name((ww_channel)c));
        if (ww_quantity_present(channel->dmax)) {
            ww__text_add(&text, ": sees to ");
            if (channel->dmax.how == WW_MEASURED)
                ww__text_add_number(&text, channel->dmax.value, 2);
            else
                ww__words_interval(&text, channel->dmax, 2);
            ww__text_add(&text, channel->dmax.how == WW_MEASURED ? " D, the wedge's end" : " D");
        }
        ww__plot_set_item(picture->script, "legend_text", (size_t)c + 1, ww__text_string(&text));
        picture->script->failed |= text.failed;
        ww__text_release(&text);
    }
}

static void add_words(const struct picture *picture) {
    ww__text title = WW__TEXT_INIT;
    ww__text_add(&title, "Scanner, from ");
    ww__words_file(&title, picture->scanner->name, "a scan");
    ww__plot_set_text(picture->script, "title_text", ww__text_string(&title));
    picture->script->failed |= title.failed;
    ww__text_release(&title);
    ww__plot_set_number(picture->script, "d_from", picture->d_from);
    ww__plot_set_number(picture->script, "d_to", picture->d_to);
    ww__plot_set_number(picture->script, "code_from", picture->code_from);
    ww__plot_set_number(picture->script, "residual_limit", picture->residual_limit);
    ww__plot_set_number(picture->script, "signal_is_noise", signal_is_noise);
    ww__plot_set_number(picture->script, "arrow_rise", arrow_rise);
    ww__plot_set_number(picture->script, "noise_to", signal_is_noise * pow(arrow_rise, 4.0));
    ww__text_add_format(picture->script, "n_clipped = %zu\nn_compressed = %zu\nn_suspect = %zu\n",
                        count_kind(picture, CLIPPED), count_kind(picture, COMPRESSED),
                        count_kind(picture, SUSPECT));
}

static void add_layout(const struct picture *picture, ww__plot_size *size) {
    const double main_right = left + main_width, main_bottom = bottom + residual_height + gap;
    const double main_top = main_bottom + main_height, noise_left = main_right + middle;
    *size = (ww__plot_size){noise_left + noise_width + right, main_top + top};
    ww__plot_set_panel(picture->script, "main",
                       (ww__plot_panel){left, main_right, main_bottom, main_top}, *size);
    ww__plot_set_panel(picture->script, "residual",
                       (ww__plot_panel){left, main_right, bottom, bottom + residual_height}, *size);
    ww__plot_set_panel(
        picture->script, "noise",
        (ww__plot_panel){noise_left, noise_left + noise_width, main_top - noise_height, main_top},
        *size);
}

ww_status ww__plot_scanner_data(const ww_scanner *scanner, ww__text *script, ww__plot_size *size,
                                ww_error *err) {
    struct picture picture = {
        .scanner = scanner, .script = script, .main = ww__scan_scanner_channel(scanner)};
    if (picture.main == WW_CHANNEL_COUNT || !find_limits(&picture))
        return ww_error_set(err, WW_ENODATA, "no plot: no channel of the scanner has a step");
    add_layout(&picture, size);
    add_words(&picture);
    add_legend(&picture);
    add_table(&picture, "model", add_model);
    add_table(&picture, "steps", add_steps);
    add_table(&picture, "residuals", add_residuals);
    add_table(&picture, "doubt", add_doubt);
    add_table(&picture, "correction", add_correction);
    add_table(&picture, "noise", add_noise);
    add_table(&picture, "step_noise", add_step_noise);
    add_table(&picture, "dmax", add_dmax);
    return ww__text_status(script, err);
}
