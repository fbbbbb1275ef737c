/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "core/readings.h"
#include "image/measure.h"
#include "image/patch.h"
#include "image/sharpened.h"
#include "image/texture_squares.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/texture_scan.h>

#define HALF_WIDTH 1.959963984540054 /* 95 % of a normal, in sd */

enum { MOST_PX = 4000000, LEAST_BLOCKS = 30 };
static const double edge_doubt = 0.03; /* of MTF50: more is worth a longer edge */
static const double deviations = 4.0;  /* robust, beyond which a pixel is dust */
static const double robust = 1.4826;
static const double most_clipped = 0.02; /* of pixels: a tail cut off there takes a twentieth off
                                            the spread of the others */

void ww_texture_scan_release(ww_texture_scan *scan) {
    if (!scan)
        return;
    for (size_t i = 0; i < scan->n; i++)
        free(scan->spot[i].name);
    free(scan->spot);
    free(scan->file);
    ww_notes_release(&scan->notes);
    *scan = (ww_texture_scan)WW_TEXTURE_SCAN_INIT;
}

/* --- pixels ----------------------------------------------------------------------------------- */

typedef struct plate {
    ww_region where;
    size_t channel; /* of the picture */
    double *code;   /* row by row */
} plate;

/* Each pixel has a place of its own, so that order and threads play no part. */
static ww_status take_block(const ww_block *block, size_t worker, void *context, ww_error *err) {
    const plate *p = context;
    (void)worker;
    (void)err;
    if (p->channel < block->channel || p->channel >= block->channel + block->channels)
        return WW_OK;
    for (size_t j = 0; j < block->height; j++)
        for (size_t i = 0; i < block->width; i++) {
            const size_t x = block->x + i, y = block->y + j;
            if (x < p->where.x || x >= p->where.x + p->where.width || y < p->where.y ||
                y >= p->where.y + p->where.height)
                continue;
            const ptrdiff_t at = (ptrdiff_t)i * block->next_x + (ptrdiff_t)j * block->next_y +
                                 (ptrdiff_t)(p->channel - block->channel);
            p->code[(y - p->where.y) * p->where.width + x - p->where.x] = ww_block_code(block, at);
        }
    return WW_OK;
}

static ww_status read_plate(const ww_picture *picture, const ww_region *where, plate *p,
                            ww_error *err) {
    if (where->width > MOST_PX / where->height)
        return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                               "%zu x %zu px are more than the %d that a place may have; give a "
                               "smaller one",
                               where->width, where->height, MOST_PX);
    *p = (plate){.where = *where, .channel = picture->channels > 1 ? 1 : 0};
    p->code = calloc(where->width * where->height, sizeof *p->code);
    if (!p->code)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu px", where->width * where->height);
    return ww_picture_visit(picture, where, 1, 0, take_block, p, err);
}

/* --- an even place ---------------------------------------------------------------------------- */

/* Pixels as densities; those that do not count are marked. */
typedef struct place {
    double *density;
    bool *counts;
    size_t width, height, all, n;
} place;

static void free_place(place *p) {
    free(p->density);
    free(p->counts);
}

static ww_status to_densities(const plate *from, const ww_scanner *scanner, ww_channel channel,
                              const ww_spot *spot, place *p, ww_error *err) {
    const size_t n = from->where.width * from->where.height;
    *p = (place){.width = from->where.width, .height = from->where.height};
    p->density = calloc(n, sizeof *p->density);
    p->counts = calloc(n, sizeof *p->counts);
    if (!p->density || !p->counts)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu px", n);
    for (size_t i = 0; i < n; i++) {
        const double x = (double)(from->where.x + i % p->width) - spot->x;
        const double y = (double)(from->where.y + i / p->width) - spot->y;
        ww_quantity density;
        if (x * x + y * y > spot->radius * spot->radius)
            continue;
        p->all++;
        p->counts[i] = ww_scanner_density(scanner, channel, from->code[i], &density, NULL) == WW_OK;
        if (p->counts[i]) {
            p->density[i] = density.value;
            p->n++;
        }
    }
    return WW_OK;
}

/* Takes a plane off, so that an uneven light is no texture; the mean stays in *mean. */
static void take_plane_off(place *p, double *mean) {
    double sx = 0, sy = 0, sxx = 0, sxy = 0, syy = 0, sd = 0, sxd = 0, syd = 0;
    const double n = (double)p->n, cx = (double)p->width / 2.0, cy = (double)p->height / 2.0;
    for (size_t i = 0; i < p->width * p->height; i++) {
        if (!p->counts[i])
            continue;
        const double x = (double)(i % p->width) - cx, y = (double)(i / p->width) - cy;
        sx += x, sy += y, sxx += x * x, sxy += x * y, syy += y * y;
        sd += p->density[i], sxd += x * p->density[i], syd += y * p->density[i];
    }
    const double xx = sxx - sx * sx / n, yy = syy - sy * sy / n, xy = sxy - sx * sy / n;
    const double xd = sxd - sx * sd / n, yd = syd - sy * sd / n, under = xx * yy - xy * xy;
    const double a = under > 0.0 ? (xd * yy - yd * xy) / under : 0.0;
    const double b = under > 0.0 ? (yd * xx - xd * xy) / under : 0.0;
    *mean = sd / n;
    for (size_t i = 0; i < p->width * p->height; i++)
        if (p->counts[i])
            p->density[i] -= *mean + a * ((double)(i % p->width) - cx - sx / n) +
                             b * ((double)(i / p->width) - cy - sy / n);
}

static int rising(const void *a, const void *b) {
    const double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

/* Pixels far from the plane are dust. */
static ww_status leave_dust_out(place *p, ww_error *err) {
    double *off = malloc(p->n * sizeof *off);
    size_t k = 0;
    if (!off)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu px", p->n);
    for (size_t i = 0; i < p->width * p->height; i++)
        if (p->counts[i])
            off[k++] = fabs(p->density[i]);
    qsort(off, k, sizeof *off, rising);
    const double most = deviations * robust * off[k / 2];
    free(off);
    for (size_t i = 0; i < p->width * p->height && most > 0.0; i++)
        if (p->counts[i] && fabs(p->density[i]) > most) {
            p->counts[i] = false;
            p->n--;
        }
    return WW_OK;
}

static ww_quantity with_doubt(double value, double n) {
    const double half = HALF_WIDTH * value / sqrt(2.0 * (n - 1.0));
    return (ww_quantity){value, value - half, value + half, WW_MEASURED};
}

static ww_status judge(place *p, const ww_scanner_channel *scanner, double px_um, const char *file,
                       ww_texture_spot *made, ww_error *err) {
    ww__texture_squares pixels = {.n = 0}, squares = {.n = 0};
    take_plane_off(p, &made->density);
    ww_status status = leave_dust_out(p, err);
    made->n = p->n;
    made->left_out = 1.0 - (double)p->n / (double)p->all;
    const double side_um = sqrt(ww_texture_disc(WW_TEXTURE_DISC_UM));
    made->block = (size_t)fmax(round(side_um / px_um), 1.0);
    if (status == WW_OK)
        status =
            ww__texture_squares_read(p->density, p->counts, p->width, p->height, 1, &pixels, err);
    if (status == WW_OK)
        status = ww__texture_squares_read(p->density, p->counts, p->width, p->height, made->block,
                                          &squares, err);
    made->sd = pixels.sd;
    made->blocks = squares.n;
    if (status == WW_OK && made->blocks < LEAST_BLOCKS)
        status = ww_error_set_at(err, WW_EDOMAIN, file, 0,
                                 "the disc '%.40s' holds %zu squares of 48 um where %d are needed; "
                                 "give a larger radius",
                                 made->name, made->blocks, LEAST_BLOCKS);
    if (status != WW_OK)
        return status;
    const double area = pow((double)made->block * px_um, 2.0);
    made->scanner = ww_scanner_noise_at(scanner, made->density);
    made->scanner_rms = ww_texture_rms(made->scanner / (double)made->block, area);
    made->rms = with_doubt(ww_texture_rms(squares.sd, area), squares.independent);
    made->selwyn = with_doubt(ww_texture_selwyn(squares.sd, area), squares.independent);
    return WW_OK;
}

static ww_status find_disc(const ww_picture *picture, const ww_spot *spot, ww_region *where,
                           ww_error *err) {
    const double x = floor(spot->x - spot->radius), y = floor(spot->y - spot->radius);
    const double right = ceil(spot->x + spot->radius), bottom = ceil(spot->y + spot->radius);
    if (x < 0.0 || y < 0.0 || right >= (double)picture->width || bottom >= (double)picture->height)
        return ww_error_set_at(err, WW_EDOMAIN, picture->file, 0,
                               "the disc '%.40s' reaches outside of the picture of %zu x %zu px; "
                               "move it, or make it smaller",
                               spot->name, picture->width, picture->height);
    *where = (ww_region){(size_t)x, (size_t)y, (size_t)(right - x) + 1, (size_t)(bottom - y) + 1};
    return WW_OK;
}

static ww_status read_spot(const ww_picture *picture, const ww_scanner *scanner,
                           const ww_spot *spot, const ww_texture_scan *scan, ww_texture_spot *made,
                           ww_error *err) {
    plate codes = {.code = NULL};
    place p = {.density = NULL};
    ww_region where;
    ww_status status = ww__readings_text_copy(spot->name, &made->name, err);
    if (status == WW_OK)
        status = find_disc(picture, spot, &where, err);
    if (status == WW_OK)
        status = read_plate(picture, &where, &codes, err);
    if (status == WW_OK)
        status = to_densities(&codes, scanner, scan->channel, spot, &p, err);
    if (status == WW_OK && (double)(p.all - p.n) > most_clipped * (double)p.all)
        status = ww_error_set_at(err, WW_ENODATA, picture->file, 0,
                                 "of the disc '%.40s' %zu of %zu px have no density: they clip, or "
                                 "lie beyond the wedge of the scanner file, and the others spread "
                                 "too little; choose another place, or scan with another exposure",
                                 spot->name, p.all - p.n, p.all);
    if (status == WW_OK)
        status = judge(&p, &scanner->channel[scan->channel], scan->px_um, picture->file, made, err);
    free(codes.code);
    free_place(&p);
    return status;
}

/* --- an edge ---------------------------------------------------------------------------------- */

static ww_quantity times(ww_quantity quantity, double factor) {
    if (!ww_quantity_present(quantity))
        return quantity;
    return (ww_quantity){quantity.value * factor, quantity.low * factor, quantity.high * factor,
                         quantity.how};
}

/* What a side lacks beyond the greatest code passes for a sharper edge. */
static ww_status check_clipped(const plate *codes, const ww_scanner *scanner, ww_channel channel,
                               const char *file, ww_error *err) {
    const ww_optional clips = scanner->channel[channel].clips;
    const double most = clips.set ? clips.value : scanner->white;
    const size_t all = codes->where.width * codes->where.height;
    size_t n = 0;
    for (size_t i = 0; i < all; i++)
        n += codes->code[i] >= most || codes->code[i] <= 0.0;
    if ((double)n <= most_clipped * (double)all)
        return WW_OK;
    return ww_error_set_at(err, WW_ENODATA, file, 0,
                           "beside the edge %zu of %zu px clip (at code %g or at 0), and what they "
                           "lack would pass for sharpness; scan with another exposure, or choose "
                           "another edge",
                           n, all, most);
}

static ww_status read_edge(const ww_picture *picture, const ww_scanner *scanner,
                           const ww_region *where, ww_texture_scan *made, ww_error *err) {
    plate codes = {.code = NULL};
    ww_status status = read_plate(picture, where, &codes, err);
    const size_t n = where->width * where->height;
    ww_error why = WW_ERROR_INIT;
    if (status == WW_OK)
        status = check_clipped(&codes, scanner, made->channel, picture->file, err);
    for (size_t i = 0; i < n && status == WW_OK; i++)
        codes.code[i] = ww_scanner_light(scanner, codes.code[i]);
    if (status == WW_OK) {
        status = ww_edge_measure(codes.code, where->width, where->height, &made->edge, &why);
        if (status != WW_OK)
            ww_error_set_at(err, status, picture->file, 0, "%s", why.msg);
    }
    free(codes.code);
    made->has_edge = status == WW_OK;
    made->width_um = times(made->edge.width_px, made->px_um);
    made->mtf50_per_mm = times(made->edge.mtf50, 1000.0 / made->px_um);
    return status;
}

/* --- a scan ----------------------------------------------------------------------------------- */

static ww_status start(const ww_picture *picture, const ww_scanner *scanner, ww_texture_scan *made,
                       ww_error *err) {
    const ww_optional px_per_mm = ww__measure_resolution(picture);
    ww_status status = ww__measure_settings(picture, scanner, err);
    if (status == WW_OK && !px_per_mm.set)
        status = ww_error_set_at(err, WW_ENODATA, picture->file, 0,
                                 "the file does not say its resolution, without which texture has "
                                 "no size; scan it anew, or write the resolution into the file");
    if (status != WW_OK)
        return status;
    made->px_um = 1000.0 / px_per_mm.value;
    made->channel = ww__patch_channel(picture, picture->channels > 1 ? 1 : 0);
    if (!scanner->channel[made->channel].present)
        return ww_error_set_at(err, WW_EMISMATCH, picture->file, 0,
                               "the scanner file has no %s channel; calibrate with a scan of the "
                               "same kind",
                               ww_channel_name(made->channel));
    status = ww__readings_text_copy(picture->file ? picture->file : "", &made->file, err);
    return status == WW_OK ? ww__measure_profile_note(picture, scanner, &made->notes, err) : status;
}

static ww_status tell_overshoot(ww_texture_scan *made, ww_error *err) {
    char shown[200];
    return ww_notes_add(&made->notes, err,
                        "%s%s%sThe edge lies beyond both its sides by %.0f %% of what parts them: "
                        "the scan was sharpened, and so are its figures. Scan with sharpening off.",
                        made->file ? "'" : "",
                        made->file ? ww__escape_message(made->file, shown, sizeof shown) : "",
                        made->file ? "': " : "", 100.0 * made->edge.overshoot);
}

/* Noise averages out along an edge: its share falls with the root of the length. */
static ww_status tell_noisy_edge(ww_texture_scan *made, ww_error *err) {
    const ww_quantity *half = &made->mtf50_per_mm;
    const double doubt = (half->high - half->low) / 2.0 / half->value;
    char shown[200];
    if (!ww_quantity_present(*half) || doubt <= edge_doubt)
        return WW_OK;
    return ww_notes_add(&made->notes, err,
                        "%s%s%sNoise leaves half of the contrast (MTF50) in doubt by %.0f %%: an "
                        "edge some %.0f times as long, or of more contrast, would tell it to 3 %%.",
                        made->file ? "'" : "",
                        made->file ? ww__escape_message(made->file, shown, sizeof shown) : "",
                        made->file ? "': " : "", 100.0 * doubt, ceil(pow(doubt / edge_doubt, 2.0)));
}

static ww_status tell(ww_texture_scan *made, ww_error *err) {
    ww_status status = WW_OK;
    const double side_um = sqrt(ww_texture_disc(WW_TEXTURE_DISC_UM));
    if (made->n > 0 && made->px_um > side_um * 1.2)
        status = ww_notes_add(&made->notes, err,
                              "A pixel is %.0f um wide, more than the aperture of 48 um: that "
                              "figure rests on Selwyn's law alone, and finer texture is not seen.",
                              made->px_um);
    for (size_t i = 0; i < made->n && status == WW_OK; i++)
        if (made->spot[i].scanner_rms > 0.7 * made->spot[i].rms.value)
            status = ww_notes_add(&made->notes, err,
                                  "The scanner's own noise makes most of what is seen in '%.40s': "
                                  "the texture is less than its figure.",
                                  made->spot[i].name);
    if (status == WW_OK && made->has_edge && made->edge.overshoot > WW__SHARPENED)
        status = tell_overshoot(made, err);
    if (status == WW_OK && made->has_edge)
        status = tell_noisy_edge(made, err);
    return status;
}

ww_status ww_texture_scan_read(const ww_picture *picture, const ww_scanner *scanner,
                               const ww_spot spot[], size_t n, const ww_region *edge,
                               ww_texture_scan *scan, ww_error *err) {
    ww_texture_scan made = WW_TEXTURE_SCAN_INIT;
    assert(picture && scanner && (spot || n == 0) && edge && scan);
    ww_status status = start(picture, scanner, &made, err);
    made.spot = calloc(n + 1, sizeof *made.spot);
    if (status == WW_OK && !made.spot)
        status = ww_error_set(err, WW_EMEMORY, "no memory for %zu places", n);
    for (size_t i = 0; i < n && status == WW_OK; i++)
        status = read_spot(picture, scanner, &spot[i], &made, &made.spot[made.n++], err);
    if (status == WW_OK && edge->width > 0)
        status = read_edge(picture, scanner, edge, &made, err);
    if (status == WW_OK)
        status = tell(&made, err);
    if (status == WW_OK)
        *scan = made;
    else
        ww_texture_scan_release(&made);
    return status;
}
