/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_trial.h"
#include "support/support.h"
#include <math.h>
#include <string.h>
#include <wedgework/start.h>

/* Source of what is foretold: the paper's closed form, log H = log t - D. */

#define LOG_STOP 0.301029995663981195

static void explain(const char *row, const print_case *plan, const print_case *print,
                    ww_print_miss *miss) {
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_print_result_explain(&plan->request, &print->negative, miss, &err), WW_OK,
                &err);
}

static const ww_miss_tone *find(const ww_print_miss *miss, const char *tone, ww_part part) {
    for (size_t i = 0; i < miss->n_tones; i++)
        if (strcmp(miss->tone[i].tone, tone) == 0 && miss->tone[i].part == part)
            return &miss->tone[i];
    fail_msg("no %s, %s", tone, ww_part_name(part));
    return NULL;
}

static double net(double time_s, double density, double stops) {
    return print_case_net(1.05, 0.3, log10(time_s) - density + stops * LOG_STOP);
}

/* A face on its aim, a sky at both ends that a hand burns, a wall that the plan dodges. */
static void start(print_case *plan, print_case *print) {
    static const ww_print_move move[] = {{"sky", 0.5}, {"sky", 0.5}};
    print_case_start(plan);
    print_case_tone(plan, "wall", WW_PART_WHOLE, 0.60);
    print_case_tone(plan, "face", WW_PART_WHOLE, 0.90);
    print_case_tone(plan, "sky", WW_PART_THIN, 1.15);
    print_case_tone(plan, "sky", WW_PART_DENSE, 1.27);
    print_case_paper(plan, "gloss", 1.05, 0.3);
    print_case_place(plan, "face", 0.60);
    print_case_place(plan, "wall", 1.00);
    plan->request.move = move;
    plan->request.n_moves = 2;
    print_case_start(print);
    print->negative.meta.material = WW_MATERIAL_PRINT;
    print->negative.meta.exposure_time_s = (ww_optional){true, 20.0};
    print_case_tone(print, "base", WW_PART_WHOLE, 0.05);
}

/* With the print's own time, the plan's dodge and the hand's burns: two of half a stop are 0.87. */
static void test_foretold(void **state) {
    print_case plan, print;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    ww_print_plan made = WW_PRINT_PLAN_INIT;
    const double burned = log2(2.0 * sqrt(2.0) - 1.0);
    double dodged, planned, seconds;
    (void)state;
    start(&plan, &print);
    print_case_make("plan", &plan, &made);
    planned = made.paper[0].time_s.value;
    dodged = (print_case_log_h(1.05, 0.3, 1.00) - (log10(planned) - 0.60)) / LOG_STOP;
    print_case_tone(&print, "wall", WW_PART_WHOLE, 0.05 + net(20.0, 0.60, dodged));
    print_case_tone(&print, "face", WW_PART_WHOLE, 0.05 + net(20.0, 0.90, 0.0));
    print_case_tone(&print, "sky", WW_PART_WHOLE, 0.05 + net(20.0, 1.21, burned));
    print_case_tone(&print, "sky", WW_PART_THIN, 0.05 + net(20.0, 1.15, burned));
    print_case_tone(&print, "sky", WW_PART_DENSE, 0.25);
    explain("foretold", &plan, &print, &miss);
    test_close("face", find(&miss, "face", WW_PART_WHOLE)->foretold, net(20.0, 0.90, 0.0), 1e-9);
    test_close("wall", find(&miss, "wall", WW_PART_WHOLE)->foretold, net(20.0, 0.60, dodged), 1e-9);
    test_close("sky", find(&miss, "sky", WW_PART_WHOLE)->foretold, net(20.0, 1.21, burned), 1e-9);
    test_close("thin", find(&miss, "sky", WW_PART_THIN)->foretold, net(20.0, 1.15, burned), 1e-9);
    test_close("dense", find(&miss, "sky", WW_PART_DENSE)->foretold, net(20.0, 1.27, burned), 1e-9);
    test_close("came", find(&miss, "sky", WW_PART_DENSE)->came, 0.20, 1e-12);
    /* Errors: 0.01 on the print and its white, 0.01 times the slope on the negative; a second of
     * the hand where there was work. */
    {
        const double d = net(20.0, 0.90, 0.0), slope = 6.089045 / 1.05 * d * (1.0 - d / 2.0);
        const double e = net(20.0, 0.60, dodged), steep = 6.089045 / 1.05 * e * (1.0 - e / 2.0);
        seconds = 20.0 * pow(2.0, dodged);
        test_close("error", find(&miss, "face", WW_PART_WHOLE)->error,
                   sqrt(2.0 + slope * slope) * 0.01, 1e-6);
        test_close("error of the hand", find(&miss, "wall", WW_PART_WHOLE)->error,
                   hypot(sqrt(2.0 + steep * steep) * 0.01, steep * log10(exp(1.0)) / seconds),
                   1e-6);
    }
    ww_print_miss_release(&miss);
    ww_print_plan_release(&made);
}

/* Both ends of the print, where the negative has the whole, stand beside it by their mean; rows of
 * one place are averaged. */
static void test_like_beside_like(void **state) {
    print_case plan, print;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    (void)state;
    start(&plan, &print);
    print_case_tone(&print, "face", WW_PART_THIN, 0.75);
    print_case_tone(&print, "face", WW_PART_DENSE, 0.65);
    print_case_tone(&print, "wall", WW_PART_WHOLE, 1.02);
    print_case_tone(&print, "wall", WW_PART_WHOLE, 1.08);
    explain("like", &plan, &print, &miss);
    test_true("two", miss.n_tones == 2);
    test_close("mean of ends", find(&miss, "face", WW_PART_WHOLE)->came, 0.65, 1e-12);
    test_close("mean of rows", find(&miss, "wall", WW_PART_WHOLE)->came, 1.00, 1e-12);
    ww_print_miss_release(&miss);
}

/* Wet paper, its plan with 8 % less for drying: the dry print is foretold as the plan has it, the
 * wet one 8 % lighter in exposure. */
static void test_wet(void **state) {
    static const ww_read_state read[] = {WW_READ_DRY, WW_READ_WET};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        print_case plan, print;
        ww_print_miss miss = WW_PRINT_MISS_INIT;
        ww_print_plan made = WW_PRINT_PLAN_INIT;
        start(&plan, &print);
        plan.paper[0].meta.read = WW_READ_WET;
        plan.request.dry_down_percent = 8.0;
        print_case_make("plan", &plan, &made);
        print.negative.meta.read = read[i];
        print.negative.meta.exposure_time_s = made.paper[0].time_s;
        print_case_tone(&print, "face", WW_PART_WHOLE, 0.65);
        explain("wet", &plan, &print, &miss);
        test_close(ww_read_state_name(read[i]), miss.tone[0].foretold,
                   print_case_net(1.05, 0.3,
                                  print_case_log_h(1.05, 0.3, 0.60) + (i == 1 ? log10(0.92) : 0.0)),
                   1e-9);
        ww_print_miss_release(&miss);
        ww_print_plan_release(&made);
    }
}

/* Beyond what was measured on the paper a density counts only where it falls short of the end. */
static void test_beyond(void **state) {
    print_case plan, print;
    ww_print_miss miss = WW_PRINT_MISS_INIT;
    (void)state;
    start(&plan, &print);
    plan.paper[0].channel[WW_VISUAL].domain_high = 0.55; /* net 1.62 at most */
    print_case_tone(&plan, "door", WW_PART_WHOLE, 0.20);
    print.negative.meta.exposure_time_s.set = false;
    print_case_tone(&print, "face", WW_PART_WHOLE, 0.65);
    print_case_tone(&print, "door", WW_PART_WHOLE, 1.99);
    explain("beyond", &plan, &print, &miss);
    test_true("said", find(&miss, "door", WW_PART_WHOLE)->beyond);
    test_close("the end", find(&miss, "door", WW_PART_WHOLE)->foretold,
               print_case_net(1.05, 0.3, 0.55), 1e-9);
    test_true("nothing", miss.n_supported == 1 && miss.best == WW_MISS_NOTHING);
    ww_print_miss_release(&miss);
    print.row[2].cell[WW_COLUMN_VISUAL].value = 1.40;
    explain("short", &plan, &print, &miss);
    test_true("short of it", !miss.hypothesis[WW_MISS_NOTHING].supported);
    ww_print_miss_release(&miss);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_foretold),
        cmocka_unit_test(test_like_beside_like),
        cmocka_unit_test(test_wet),
        cmocka_unit_test(test_beyond),
    };
    (void)ww_start();
    return cmocka_run_group_tests_name("print_result_points", tests, NULL, NULL);
}
