/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "plan/print_parts.h"
#include "plan/scan_end.h"
#include "plan/scan_parts.h"
#include <math.h>

/* What a plan was made on, and what would undo it. */

#define FLARE_TAKES 0.9 /* of the film's contrast: what flare leaves of it is told below that */
#define STEPS_SHOW 1.1  /* of what a patch would tell, had it noise alone: common practice */

const ww_scan_channel *ww__scan_weakest(const ww_scan_plan *plan) {
    return &plan->channel[plan->weakest];
}

const ww_scan_tone *ww__scan_highlight(const ww_scan_channel *channel) {
    return &channel->tone[channel->highlight];
}

/* The first channel that is planned for. */
static ww_channel first_of(const ww_scan_plan *plan) {
    int c = 0;
    while (c < WW_CHANNEL_COUNT - 1 && !plan->channel[c].present)
        c++;
    return (ww_channel)c;
}

/* --- what it was made on ---------------------------------------------------------------------- */

static ww_status note_base(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *channel = &plan->channel[first_of(plan)];
    const ww_scan_tone *base = &channel->tone[channel->base];
    if (!channel->stands_in)
        return WW_OK;
    return ww__print_say(&plan->notes, err,
                         "No row gives the film's base: '%s' (%.2f D, %s), the thinnest tone, "
                         "stands in for it. Where the bare film is thinner, it clips.",
                         ww__print_show(base->tone).text, channel->base_density,
                         ww_channel_name(first_of(plan)));
}

/* The scanner has set itself between wedge and preview, or bare glass was read. */
static ww_status note_clear_base(ww_scan_plan *plan, ww_error *err) {
    ww_channel clearest = first_of(plan);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present &&
            plan->channel[c].base_density < plan->channel[clearest].base_density)
            clearest = (ww_channel)c;
    const ww_scan_channel *channel = &plan->channel[clearest];
    if (channel->base_density >= WW__PRINT_BASE_LEAST)
        return WW_OK;
    return ww__print_say(
        &plan->notes, err,
        plan->off ? "'%s' reads %.2f D (%s), clearer than open light: the preview got more "
                    "light than the wedge, and all densities are too thin (or the wedge's "
                    "densities leave out its base). Scan the preview anew, as the wedge was."
                  : "'%s' reads %.2f D (%s), clearer than any film. Either it is bare glass, for "
                    "which the exposure is held back: leave that out; or the preview had another "
                    "exposure than the wedge, which puts all densities off.",
        ww__print_show(channel->tone[channel->base].tone).text,
        fabs(channel->base_density) < 0.005 ? 0.0 : channel->base_density,
        ww_channel_name(clearest));
}

static ww_status note_columns(ww_scan_plan *plan, ww_error *err) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (!channel->present || channel->read == (ww_channel)c)
            continue;
        if (c == WW_VISUAL)
            return ww__print_say(&plan->notes, err,
                                 "The negative's %s densities stand in for what the grey scanner "
                                 "sees.",
                                 ww_channel_name(channel->read));
        return ww__print_say(&plan->notes, err,
                             "The negative's %s densities serve for red, green and blue, as on a "
                             "grey film; a stained or coloured one wants readings of its own.",
                             ww_channel_name(channel->read));
    }
    return WW_OK;
}

static ww_status note_status(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err) {
    const ww_density_status status = request->negative->meta.status;
    if (status == WW_STATUS_SCANNER)
        return WW_OK;
    return ww__print_say(
        &plan->notes, err,
        "The negative's densities (%s%s) stand in for this scanner's own; silver scatters light "
        "and dyes differ, so see that the base comes out at its code.",
        status == WW_STATUS_UNKNOWN ? "of no status said" : "status ",
        status == WW_STATUS_UNKNOWN ? "" : ww_density_status_name(status));
}

static ww_status note_scanner(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err) {
    const ww_scanner *scanner = request->scanner;
    ww_status status = WW_OK;
    if (scanner->misfit)
        status = ww__print_say(&plan->notes, err,
                               "The scanner's calibration is far from its wedge: all that is told "
                               "here is in doubt by more than is said. Calibrate it again.");
    if (status == WW_OK && plan->encoded && scanner->encoding == WW_ENCODING_SRGB)
        return ww__print_say(&plan->notes, err,
                             "The scanner's codes are encoded (sRGB): stops are of light, and a "
                             "code is not in proportion to it. Scan in linear codes where that "
                             "can be had.");
    if (status == WW_OK && plan->encoded)
        return ww__print_say(&plan->notes, err,
                             "The scanner's codes are encoded (gamma %.2f): stops are of light, "
                             "and one stop is a factor of %.2f in code. Scan in linear codes "
                             "where that can be had.",
                             scanner->gamma.value, exp2(1.0 / scanner->gamma.value));
    return status;
}

static ww_status note_highlight(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *channel = ww__scan_weakest(plan);
    const ww_scan_tone *tone = ww__scan_highlight(channel);
    if (tone->over)
        return ww__print_say(&plan->notes, err,
                             "'%s' reads beyond the instrument that read it (%s), so nothing is "
                             "foretold of it. --keep a tone that was read, or read it on an "
                             "instrument that reaches further.",
                             ww__print_show(tone->tone).text, ww_channel_name(channel->read));
    if (channel->beyond)
        return ww__print_say(&plan->notes, err,
                             "'%s' (%.2f D, %s) is denser than the wedge that calibrated the "
                             "scanner: what is told of it follows the model alone.",
                             ww__print_show(tone->tone).text, tone->density,
                             ww_channel_name(plan->weakest));
    return WW_OK;
}

/* What lies between its ends, where the film or the scan hardly tells them apart. */
static ww_status note_detail(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *worst = ww__scan_weakest(plan);
    const ww_scan_tone *tone = ww__scan_highlight(worst);
    const double detail = fmax(tone->density - tone->thin.value, 0.0);
    const ww__print_name name = ww__print_show(tone->tone);
    if (tone->over || !tone->thin.set)
        return WW_OK;
    if (detail < WW__SCAN_DETAIL)
        return ww__print_say(&plan->notes, err,
                             "'%s' holds %.3f D between its ends: there is next to no detail on "
                             "the film, whatever the scan.",
                             name.text, detail);
    if (plan->holds && detail < plan->separate)
        return ww__print_say(&plan->notes, err,
                             "'%s' holds %.3f D between its ends (%s), less than the %.3f D asked "
                             "for; ask for no more than that with --separate to keep them apart.",
                             name.text, detail, ww_channel_name(plan->weakest), plan->separate);
    return WW_OK;
}

/* What the cloud's contrast becomes in the light that the scanner gets. */
static ww_status note_flare(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *worst = ww__scan_weakest(plan);
    const ww_scan_tone *tone = ww__scan_highlight(worst);
    const double detail =
        tone->thin.set ? fmax(tone->density - tone->thin.value, 0.0) : plan->separate;
    if (tone->over || !(worst->contrast < FLARE_TAKES))
        return WW_OK;
    return ww__print_say(&plan->notes, err,
                         "Flare leaves %.0f %% of the contrast in '%s' (%s): %.2g D on the film "
                         "are %.2g D in the scan's own light. Densities by the scanner file have "
                         "them back, noise as well; mask the bare light round the frame.",
                         100.0 * worst->contrast, ww__print_show(tone->tone).text,
                         ww_channel_name(plan->weakest), detail, worst->contrast * detail);
}

/* --- what it takes ---------------------------------------------------------------------------- */

/* "1 : 1.41 : 2.30 (red, green, blue)" */
static void add_light(ww__text *text, const ww_scan_plan *plan) {
    size_t n = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present)
            ww__text_add_format(text, "%s%.2f", n++ > 0 ? " : " : "", plan->channel[c].light);
    ww__text_add(text, " (");
    n = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (plan->channel[c].present)
            ww__text_add_format(text, "%s%s", n++ > 0 ? ", " : "", ww_channel_name((ww_channel)c));
    ww__text_add(text, ")");
}

static ww_status note_apart(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *worst = ww__scan_weakest(plan);
    const double under = worst->stops.value - plan->stops;
    ww__text light = WW__TEXT_INIT;
    ww_status status;
    if (!ww_scan_plan_apart(plan))
        return WW_OK;
    add_light(&light, plan);
    status = ww__text_status(&light, err);
    if (status == WW_OK && worst->snr_together.set && under >= WW__SCAN_LEAST_STOP)
        status = ww__print_say(
            &plan->notes, err,
            "Give the channels their own exposures, or colour the light %s. At one exposure for "
            "all, %+.1f stop, %s stays %.1f stop under and its signal-to-noise at '%s' is %.3g in "
            "place of %.3g.",
            ww__text_string(&light), plan->stops, ww_channel_name(plan->weakest), under,
            ww__print_show(ww__scan_highlight(worst)->tone).text, worst->snr_together.value,
            ww__scan_highlight(worst)->snr);
    else if (status == WW_OK)
        status = ww__print_say(&plan->notes, err,
                               "Give the channels their own exposures, or colour the light %s; "
                               "one exposure for all is %+.1f stop.",
                               ww__text_string(&light), plan->stops);
    ww__text_release(&light);
    return status;
}

/* Steps show where noise does not carry pixels across them: then they, not noise, limit what is
 * told. */
static ww_status note_codes(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *worst = ww__scan_weakest(plan);
    const bool show = worst->told > STEPS_SHOW * worst->separable / sqrt(WW_SCAN_PATCH);
    ww_status status = WW_OK;
    if (plan->held < plan->bits)
        status = ww__print_say(&plan->notes, err,
                               "The codes of the wedge's scan come in steps: they hold %u bits in "
                               "a file of %u.",
                               plan->held, plan->bits);
    if (status != WW_OK || ww__scan_highlight(worst)->over || !(worst->own_step > plan->separate))
        return status;
    return ww__print_say(&plan->notes, err,
                         "One code of %u bits is %.3f D at '%s' (%s), more than the %.2g D asked "
                         "for: %s. Scan in more bits where that can be had.",
                         plan->held, worst->own_step,
                         ww__print_show(ww__scan_highlight(worst)->tone).text,
                         ww_channel_name(plan->weakest), plan->separate,
                         show ? "clouds will break into steps"
                              : "noise alone carries clouds across the steps, and whatever smooths "
                                "it shows them");
}

/* --- what would undo it ----------------------------------------------------------------------- */

static ww_status note_gain(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *worst = ww__scan_weakest(plan);
    const ww_scan_tone *tone = ww__scan_highlight(worst);
    const bool more = plan->way == WW_SCAN_SECOND || worst->stops.value >= WW__SCAN_LEAST_STOP;
    if (!more || !worst->snr_before.set)
        return WW_OK;
    return ww__print_say(
        &plan->notes, err,
        "All this holds if more exposure is more light on the sensor. No file tells: where lamp "
        "and time are fixed and the scanner multiplies its codes, nothing is gained, and "
        "signal-to-noise at '%s' stays %.3g (%s). Scan once each way and compare the noise.",
        ww__print_show(tone->tone).text, worst->snr_before.value, ww_channel_name(plan->weakest));
}

static ww_status note_auto(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *channel = &plan->channel[first_of(plan)];
    const double room = log2(1.0 / WW_SCAN_BASE);
    const double trust = ww_scan_plan_trust(plan);
    ww_status status = ww__print_say(
        &plan->notes, err,
        "Lock exposure, levels and sharpening for wedge, preview and scan: a preview with a stop "
        "less light than the wedge reads 0.30 D too dense and opens the scan a stop too far, one "
        "with a stop more reads as much too thin and does not open it enough. In the scan '%s' "
        "must come out near code "
        "%.*f of %.0f; where it is off by more than %.1f stop, the scanner has set itself, for the "
        "scan "
        "or before, for the preview.",
        ww__print_show(channel->tone[channel->base].tone).text, plan->white > 1.0 ? 0 : 3,
        channel->base_code, channel->ends, trust);
    if (status != WW_OK || !(trust > 2.0 * room))
        return status;
    return ww__print_say(&plan->notes, err,
                         "The stops are trusted to %.1f, and %.2f lie between '%s' and clipping: "
                         "look at its codes, and close down where they clip.",
                         trust, room, ww__print_show(channel->tone[channel->base].tone).text);
}

/* The file that the plan was made with tells densities of its wedge's exposure alone. */
static ww_status note_densities(ww_scan_plan *plan, ww_error *err) {
    const double off = plan->stops * log10(2.0);
    const bool low = plan->stops > 0.0;
    if (ww_scan_plan_apart(plan))
        return ww__print_say(&plan->notes, err,
                             "`measure` and `scan --densities` of the scan planned here need a "
                             "scanner file made from a wedge at its exposure: by the file at hand "
                             "densities are off by 0.30 D for each of a channel's stops, too low "
                             "where it is opened up.");
    if (fabs(plan->stops) < WW__SCAN_LEAST_STOP)
        return WW_OK;
    return ww__print_say(&plan->notes, err,
                         "`measure` and `scan --densities` of the scan planned here need a "
                         "scanner file made from a wedge at its exposure: by the file at hand all "
                         "densities come out %.2f D too %s (0.30 D a stop); %s as much where no "
                         "such file can be had.",
                         fabs(off), low ? "low" : "high", low ? "add" : "take off");
}

ww_status ww__scan_remarks(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err) {
    ww_status (*const about[])(ww_scan_plan *, ww_error *) = {
        note_highlight, note_base,     note_clear_base, note_columns, note_detail, note_flare,
        note_apart,     ww__scan_ways, note_codes,      note_gain,    note_auto,   note_densities};
    ww_status status = WW_OK;
    for (size_t i = 0; i < sizeof about / sizeof about[0] && status == WW_OK; i++)
        status = about[i](plan, err);
    if (status == WW_OK)
        status = ww__scan_end_note(request, plan, err);
    if (status == WW_OK)
        status = note_status(request, plan, err);
    return status == WW_OK ? note_scanner(request, plan, err) : status;
}
