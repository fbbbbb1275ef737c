/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_scene.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NUMBERS_MOST = 64, LINE_MOST = 2000, SIDE_MOST = 4000 };

typedef struct line {
    char word[16];
    double number[NUMBERS_MOST];
    size_t n;
} line;

static bool parse(const char *text, line *made) {
    int used = 0;
    made->n = 0;
    if (sscanf(text, "%15s%n", made->word, &used) != 1)
        return false;
    for (text += used; made->n < NUMBERS_MOST; made->n++) {
        char *end;
        made->number[made->n] = strtod(text, &end);
        if (end == text)
            break;
        text = end;
    }
    return text[strspn(text, " \t\r\n")] == '\0';
}

static bool set_size(scan_scene *s, const double v[]) {
    if (s->density || !(v[0] >= 1 && v[0] <= SIDE_MOST && v[1] >= 1 && v[1] <= SIDE_MOST))
        return false;
    s->width = (size_t)v[0];
    s->height = (size_t)v[1];
    s->density = calloc(s->width * s->height, SCAN_FINE * SCAN_FINE * sizeof *s->density);
    return s->density != NULL;
}

/* How the scan is made: takes its line, or leaves it alone. */
static bool take_setting(scan_scene *s, const line *l) {
    const struct {
        const char *word;
        size_t n;
        double *to[4];
    } table[] = {{"factors", 3, {&s->factor[0], &s->factor[1], &s->factor[2], NULL}},
                 {"scanner", 4, {&s->k, &s->flare, &s->dark, &s->gamma}},
                 {"noise", 3, {&s->read, &s->shot, &s->fixed, NULL}},
                 {"blur", 1, {&s->blur, NULL, NULL, NULL}},
                 {"resolution", 1, {&s->px_per_mm, NULL, NULL, NULL}}};
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++)
        if (strcmp(l->word, table[i].word) == 0 && l->n == table[i].n) {
            for (size_t k = 0; k < l->n; k++)
                *table[i].to[k] = l->number[k];
            return true;
        }
    if (l->n != 1)
        return false;
    if (strcmp(l->word, "seed") == 0)
        s->d.state = (uint64_t)l->number[0];
    else if (strcmp(l->word, "channels") == 0 && (l->number[0] == 1.0 || l->number[0] == 3.0))
        s->channels = (size_t)l->number[0];
    else if (strcmp(l->word, "bits") == 0 && (l->number[0] == 8.0 || l->number[0] == 16.0))
        s->bits = (unsigned)l->number[0];
    else
        return false;
    return true;
}

static bool take_thing(scan_scene *s, const line *l) {
    const double *v = l->number;
    const char *word = l->word;
    if (strcmp(word, "glass") == 0 && l->n == 1)
        scan_draw_fill(s, v[0]);
    else if (strcmp(word, "box") == 0 && l->n == 6)
        scan_draw_strip(s, v, v + 5, 1, false);
    else if (strcmp(word, "fade") == 0 && l->n == 7)
        scan_draw_strip(s, v, v + 5, 2, true);
    else if (strcmp(word, "strip") == 0 && l->n > 5)
        scan_draw_strip(s, v, v + 5, l->n - 5, false);
    else if (strcmp(word, "uneven") == 0 && l->n > 5 && l->n % 2 == 1)
        scan_draw_uneven(s, v, v + 5, (l->n - 5) / 2);
    else if (strcmp(word, "disc") == 0 && l->n == 4)
        scan_draw_disc(s, v[0], v[1], v[2], v[3]);
    else if (strcmp(word, "dust") == 0 && l->n == 1)
        scan_draw_dust(s, (size_t)v[0]);
    else if (strcmp(word, "hairs") == 0 && l->n == 1)
        scan_draw_hairs(s, (size_t)v[0], false);
    else if (strcmp(word, "scratches") == 0 && l->n == 1)
        scan_draw_hairs(s, (size_t)v[0], true);
    else
        return false;
    return true;
}

static bool take_line(scan_scene *s, const char *text) {
    line l;
    if (text[strspn(text, " \t\r\n")] == '\0' || text[strspn(text, " \t")] == '#')
        return true;
    if (!parse(text, &l))
        return false;
    if (strcmp(l.word, "size") == 0 && l.n == 2)
        return set_size(s, l.number);
    return s->density && (take_setting(s, &l) || take_thing(s, &l));
}

bool scan_scene_read(const char *path, scan_scene *scene) {
    char text[LINE_MOST];
    scan_scene made = {
        .channels = 1, .bits = 16, .factor = {1.0, 1.0, 1.0}, .k = 0.9, .gamma = 1.0, .d = {1}};
    FILE *file = fopen(path, "r");
    size_t n = 0;
    bool good = file != NULL;
    while (good && fgets(text, sizeof text, file)) {
        n++;
        good = take_line(&made, text);
    }
    if (file)
        fclose(file);
    if (good && made.density) {
        *scene = made;
        return true;
    }
    fprintf(stderr, "make_scans: %s:%zu: this is no line of a scene\n", path, n);
    scan_scene_release(&made);
    return false;
}

void scan_scene_release(scan_scene *scene) {
    free(scene->density);
    scene->density = NULL;
}
