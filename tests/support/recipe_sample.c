/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/recipe_sample.h"
#include "support/support.h"

static char gloss[] = "Millrace gloss", two[] = "2", lot[] = "B7 \"late\"", empty[] = "";
static char name[] = "Quay, October", tone[] = "cloud";

void recipe_sample_start(recipe_sample *sample) {
    print_case *c = &sample->c;
    ww_cell *cell;
    ww_curve *paper;
    *sample = (recipe_sample){.move = {{"cloud", 0.5}, {"cloud", 1.0 / 3.0}}};
    print_case_start(c);
    c->negative.meta.name = name;
    c->negative.meta.status = WW_STATUS_VISUAL;
    print_case_tone(c, "base", WW_PART_WHOLE, 0.21);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.1 + 0.2);
    cell = print_case_tone(c, "wall, \"old\"", WW_PART_WHOLE, 0.92);
    cell->n = 4;
    cell->sd = (ww_optional){true, 0.013};
    print_case_tone(c, "cloud", WW_PART_THIN, 1.31);
    print_case_tone(c, "cloud", WW_PART_DENSE, 1.43);
    print_case_tone(c, "sun", WW_PART_WHOLE, 0.0)->state = WW_CELL_OVER;
    paper = print_case_paper(c, gloss, 1.05, 0.3);
    paper->meta.contrast = two;
    paper->meta.lot = lot;
    paper->exposure = WW_EXPOSURE_WEDGE;
    paper->meta.log_h0 = (ww_optional){true, 1.0};
    print_case_white_sd(c, paper, 0.004);
    paper->channel[WW_VISUAL].residual_sd = paper->channel[WW_VISUAL].residual_rms = 0.006;
    print_case_place(c, "cloud", 0.10);
    print_case_place(c, "wall, \"old\"", 0.70);
    c->request.test[0] = (ww_print_test){12.5, "cloud", 0.20};
    c->request.n_tests = 1;
    c->request.move = sample->move;
    c->request.n_moves = 2;
    c->request.callier = 1.1;
    c->request.enlarger_flare = 0.013;
    c->request.dry_down_percent = 8.0;
    c->request.from_scale = (ww_optional){true, 3.0};
    c->request.scale = (ww_optional){true, 1.0 / 0.3};
    c->request.from_aperture = (ww_optional){true, 8.0};
    c->request.aperture = (ww_optional){true, 11.0};
    c->request.reciprocity = (ww_optional){true, 1.05};
    c->request.repeatability = (ww_optional){true, 0.02};
    c->request.lift = (ww_optional){true, 0.07};
    c->request.timer_step_s = 0.2;
    sample->offset[0] = (ww_print_offset){.paper = gloss,
                                          .contrast = two,
                                          .lot = lot,
                                          .scale = c->request.scale,
                                          .tested = true,
                                          .log_h = 0.0731,
                                          .range = -0.05,
                                          .sd = 0.0061,
                                          .prints = 3,
                                          .tone = tone,
                                          .negative = 1.31,
                                          .density = 0.1337,
                                          .test_s = {true, 12.5},
                                          .test_density = {true, 0.20}};
    sample->offset[1] =
        (ww_print_offset){.paper = empty, .contrast = empty, .lot = empty, .sd = 0.1, .prints = 1};
    c->request.offset = sample->offset;
    c->request.n_offsets = 2;
}

char *recipe_sample_text(const ww_print_request *request) {
    const ww_print_plan plan = WW_PRINT_PLAN_INIT;
    char *text = NULL;
    size_t n = 0;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_print_recipe_text(&plan, request, &text, &n, &err), WW_OK, &err);
    return text;
}
