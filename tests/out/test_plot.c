/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include "support/scan_case.h"
#include <sys/stat.h>
#include <unistd.h>
#include <wedgework/plot.h>

/* Sources: SVG 1.1 (root element svg), PNG specification (signature, IEND), ISO 32000 (%PDF,
 * %%EOF). */
static void expect_picture(const char *path) {
    size_t n = 0;
    char *bytes = test_file_read(path, &n);
    const char *ending = path + strlen(path) - 3;
    if (!bytes)
        fail_msg("%s was not written", path);
    test_true("not empty", n > 1000);
    if (strcmp(ending, "svg") == 0) {
        test_holds(path, bytes, "<svg ");
        test_true("whole", strstr(bytes + n - 32, "</svg>") != NULL);
        test_lacks("no scripts", bytes, "<script");
    } else if (strcmp(ending, "png") == 0) {
        test_true("signature", memcmp(bytes, "\x89PNG\r\n\x1a\n", 8) == 0);
        test_true("whole", memcmp(bytes + n - 8, "IEND", 4) == 0);
    } else {
        test_true("signature", memcmp(bytes, "%PDF", 4) == 0);
        test_true("whole", strstr(bytes + n - 8, "%%EOF") != NULL);
    }
    free(bytes);
}

static void draw_all(const char *folder, const ww_curve *curve) {
    static const char *const names[] = {"a.svg", "b.png", "c.pdf"};
    for (size_t i = 0; i < 3; i++) {
        char *path = test_path(folder, names[i]);
        ww_error err = WW_ERROR_INIT;
        const ww_status status = ww_plot_curve(curve, path, &err);
        if (status != WW_OK)
            fail_msg("%s: %s", names[i], err.msg);
        expect_picture(path);
        free(path);
    }
    assert_int_equal(test_folder_count(folder), 3);
}

static void draws_curves(void **state) {
    char *folder;
    ww_curve curves[5] = {make_film(), make_colour(), make_paper(), WW_CURVE_INIT, WW_CURVE_INIT};
    (void)state;
    if (!have_gnuplot())
        skip();
    folder = test_folder_new();
    /* One with everything, and one reading without a curve. */
    add_suspect(&curves[0].channel[WW_VISUAL], 6, 0.14, WW_CAUSE_SLIP);
    curves[0].channel[WW_VISUAL].point[20].state = WW_CELL_OVER;
    curves[0].channel[WW_VISUAL].point[19].cut = true;
    curves[3].channel[WW_RED].present = true;
    add_point(&curves[3].channel[WW_RED], "1", -1.7, 0.42);
    curves[4].channel[WW_RED].present = true;
    add_point(&curves[4].channel[WW_RED], "1", -1.7, 0.42);
    curves[4].channel[WW_RED].point[0].state = WW_CELL_OVER;
    for (size_t i = 0; i < 5; i++) {
        draw_all(folder, &curves[i]);
        ww_curve_release(&curves[i]);
    }
    test_folder_remove(folder);
}

static void draws_prints(void **state) {
    struct made_plan made;
    ww_curve paper = make_paper(), other = make_paper();
    const ww_curve *papers[] = {&other, &paper};
    char *folder, *path;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    if (!have_gnuplot())
        skip();
    folder = test_folder_new();
    path = test_path(folder, "print.svg");
    make_plan(&made);
    free(other.meta.contrast);
    other.meta.contrast = copy("3");
    test_status("print", ww_plot_print(&made.plan, papers, 2, path, &err), WW_OK, &err);
    expect_picture(path);
    made.paper[0].n_tones = 0;
    test_status("no tones", ww_plot_print(&made.plan, papers, 2, path, &err), WW_OK, &err);
    papers[1] = &other;
    test_status("curve missing", ww_plot_print(&made.plan, papers, 2, path, &err), WW_ENODATA,
                &err);
    test_status("no curves", ww_plot_print(&made.plan, NULL, 0, path, &err), WW_ENODATA, &err);
    made.paper[0].nominal = true;
    test_status("nominal without", ww_plot_print(&made.plan, papers, 2, path, &err), WW_ENODATA,
                &err);
    made.paper[0].own_curve = &paper;
    test_status("nominal", ww_plot_print(&made.plan, NULL, 0, path, &err), WW_OK, &err);
    expect_picture(path);
    made.paper[0].nominal = false, made.paper[0].interpolated = true;
    test_status("between two", ww_plot_print(&made.plan, papers, 2, path, &err), WW_OK, &err);
    test_status("ending", ww_plot_print(&made.plan, papers, 2, "print.bmp", &err), WW_EUSAGE, &err);
    free(path);
    test_folder_remove(folder);
    ww_curve_release(&paper);
    ww_curve_release(&other);
}

/* Calibrated or not, in colour or grey, with everything and with next to nothing. */
static void draws_scans(void **state) {
    struct scan_case scan;
    struct scanner_case scanner;
    ww_whole whole;
    char *folder, *path;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    if (!have_gnuplot())
        skip();
    folder = test_folder_new();
    path = test_path(folder, "scan.pdf");
    for (int colour = 0; colour < 2; colour++) {
        scan_case_scanner(&scanner, colour == 1);
        test_status("scanner", ww_plot_scanner(&scanner.scanner, path, &err), WW_OK, &err);
        expect_picture(path);
        scan_case_strip(&scan, colour == 1);
        test_status("strip", ww_plot_measured(&scan.measured, path, &err), WW_OK, &err);
        expect_picture(path);
        whole = scan_case_whole(colour == 1);
        test_status("whole", ww_plot_whole(&whole, path, &err), WW_OK, &err);
        expect_picture(path);
    }
    scanner.scanner.channel[WW_RED].present = scanner.scanner.channel[WW_BLUE].present = false;
    scanner.scanner.channel[WW_GREEN].n_steps = 1;
    scanner.scanner.channel[WW_GREEN].n_points = 0;
    scanner.scanner.channel[WW_GREEN].dmax.how = WW_ABSENT;
    scanner.scanner.channel[WW_GREEN].noise = (ww_scanner_noise){0.0, 0.0, 0.0};
    test_status("bare scanner", ww_plot_scanner(&scanner.scanner, path, &err), WW_OK, &err);
    scan_case_spots(&scan);
    scan.measured.n = scan.measured.n_spots = 1;
    test_status("one spot", ww_plot_measured(&scan.measured, path, &err), WW_OK, &err);
    test_status("ending", ww_plot_whole(&whole, "a.gif", &err), WW_EUSAGE, &err);
    assert_int_equal(test_folder_count(folder), 1);
    free(path);
    test_folder_remove(folder);
}

static void draws_the_same_each_time(void **state) {
    ww_curve curve = make_colour();
    char *first = NULL, *second = NULL;
    (void)state;
    if (!have_gnuplot())
        skip();
    test_status("first", ww_plot_curve_svg(&curve, &first, NULL), WW_OK, NULL);
    test_status("second", ww_plot_curve_svg(&curve, &second, NULL), WW_OK, NULL);
    test_text("the same", second, first);
    free(first);
    free(second);
    ww_curve_release(&curve);
}

/* Names must come out as text and as nothing else: no program runs, no file appears, no markup. */
static void hostile_names_are_only_text(void **state) {
    static const char *const names[] = {HOSTILE,
                                        "'; system('touch pwned') #",
                                        "`touch pwned`",
                                        "@{}^_ {/Bold x}",
                                        "a\n!touch pwned\n",
                                        "\\\\'",
                                        "'",
                                        "''",
                                        "a''''b",
                                        "'.system('touch pwned').'",
                                        "''.system('touch pwned').''",
                                        "%s%n%d",
                                        "]]></text><script>x</script>",
                                        "\xff\xfe",
                                        "$HOME $(id)"};
    char *folder, *old;
    char here[4096];
    (void)state;
    if (!have_gnuplot())
        skip();
    folder = test_folder_new();
    assert_non_null(getcwd(here, sizeof here));
    assert_int_equal(chdir(folder), 0);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        ww_curve curve = make_film();
        char *svg = NULL;
        ww_error err = WW_ERROR_INIT;
        ww_status status;
        free(curve.meta.name);
        free(curve.channel[WW_VISUAL].point[6].step);
        curve.meta.name = copy(names[i]);
        curve.channel[WW_VISUAL].point[6].step = copy(names[i]);
        add_suspect(&curve.channel[WW_VISUAL], 6, -0.14, WW_CAUSE_SLIP);
        status = ww_plot_curve_svg(&curve, &svg, &err);
        if (status != WW_OK)
            fail_msg("%s: %s", names[i], err.msg);
        test_lacks(names[i], svg, "<script");
        free(svg);
        ww_curve_release(&curve);
    }
    assert_int_equal(test_folder_count("."), 0);
    assert_int_equal(chdir(here), 0);
    old = folder;
    test_folder_remove(old);
}

static void what_cannot_be_written_is_left_alone(void **state) {
    ww_curve curve = make_film();
    char *folder, *path;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    if (!have_gnuplot())
        skip();
    folder = test_folder_new();
    path = test_path(folder, "no/such/folder.svg");
    test_status("no folder", ww_plot_curve(&curve, path, &err), WW_ESYSTEM, &err);
    free(path);
    path = test_path(folder, "a.svg");
    assert_int_equal(mkdir(path, 0700), 0);
    test_status("a folder", ww_plot_curve(&curve, path, &err), WW_ESYSTEM, &err);
    assert_int_equal(test_folder_count(folder), 1);
    test_status("ending", ww_plot_curve(&curve, "a.txt", &err), WW_EUSAGE, &err);
    free(path);
    test_folder_remove(folder);
    ww_curve_release(&curve);
}

/* With nothing on PATH the plot is refused, and an old one stays whole. */
static int draw_without_gnuplot(void *context) {
    ww_curve curve = make_film();
    ww_error err = WW_ERROR_INIT;
    ww_status status;
    setenv("PATH", "/nowhere", 1);
    status = ww_plot_curve(&curve, context, &err);
    ww_curve_release(&curve);
    return status == WW_ETOOL && strstr(err.msg, "'gnuplot' is not installed") ? 0 : 1;
}

static void without_gnuplot(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "old.svg"), *bytes;
    size_t n = 0;
    (void)state;
    test_file_write(path, "the old plot");
    assert_int_equal(test_in_child(draw_without_gnuplot, path), 0);
    bytes = test_file_read(path, &n);
    test_text("the old one", bytes, "the old plot");
    assert_int_equal(test_folder_count(folder), 1);
    free(bytes);
    free(path);
    test_folder_remove(folder);
}

static void nothing_to_draw(void **state) {
    const ww_curve curve = WW_CURVE_INIT;
    char *svg = NULL;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("empty", ww_plot_curve_svg(&curve, &svg, &err), WW_ENODATA, &err);
    assert_null(svg);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(draws_curves),
        cmocka_unit_test(draws_prints),
        cmocka_unit_test(draws_scans),
        cmocka_unit_test(draws_the_same_each_time),
        cmocka_unit_test(hostile_names_are_only_text),
        cmocka_unit_test(what_cannot_be_written_is_left_alone),
        cmocka_unit_test(without_gnuplot),
        cmocka_unit_test(nothing_to_draw),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
