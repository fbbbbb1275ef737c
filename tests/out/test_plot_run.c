/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "results.h"
#include <signal.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* Programs that stand in for gnuplot are shell scripts in a folder of the test's own. */
static char *make_plotter(const char *folder, const char *body) {
    char *path = test_path(folder, "plotter");
    ww__text script = WW__TEXT_INIT;
    ww__text_add_format(&script, "#!/bin/sh\n%s", body);
    test_file_write(path, ww__text_string(&script));
    assert_int_equal(chmod(path, 0700), 0);
    ww__text_release(&script);
    return path;
}

static ww_status run_with(const char *body, const ww__text *input, const ww__text *tail,
                          int seconds, ww__text *output, ww_error *err) {
    char *folder = test_folder_new(), *path = make_plotter(folder, body);
    const ww_status status = ww__plot_run(path, seconds, input, tail, output, err);
    free(path);
    test_folder_remove(folder);
    return status;
}

static ww_status run(const char *body, size_t input_bytes, int seconds, ww__text *output,
                     ww_error *err) {
    ww__text input = WW__TEXT_INIT;
    ww_status status;
    while (input.n < input_bytes)
        ww__text_add(&input, "plot 0123456789012345678901234567890123456789\n");
    status = run_with(body, &input, NULL, seconds, output, err);
    ww__text_release(&input);
    return status;
}

static void gives_back_what_is_printed(void **state) {
    ww__text output = WW__TEXT_INIT;
    (void)state;
    test_status("a megabyte through", run("exec cat", 1 << 20, 20, &output, NULL), WW_OK, NULL);
    test_true("all of it", output.n >= 1 << 20);
    ww__text_release(&output);
    test_status("no input", run("echo drawn", 0, 20, &output, NULL), WW_OK, NULL);
    test_text("printed", ww__text_string(&output), "drawn\n");
    ww__text_release(&output);
}

static void sends_the_tail_after_the_input(void **state) {
    ww__text input = WW__TEXT_INIT, tail = WW__TEXT_INIT, output = WW__TEXT_INIT;
    (void)state;
    ww__text_add(&input, "plot '-'\n");
    ww__text_add_bytes(&tail, "a\0b\n", 4);
    test_status("tail", run_with("exec cat", &input, &tail, 20, &output, NULL), WW_OK, NULL);
    assert_int_equal(output.n, 13);
    assert_memory_equal(output.bytes, "plot '-'\na\0b\n", 13);
    ww__text_release(&input);
    ww__text_release(&tail);
    ww__text_release(&output);
}

/* Source: the rule that gnuplot's settings and the user's language do not change what is drawn. */
static void starts_it_plainly(void **state) {
    ww__text output = WW__TEXT_INIT;
    (void)state;
    setenv("LC_NUMERIC", "de_DE.UTF-8", 1);
    setenv("GNUTERM", "x11", 1);
    test_status("plain", run("echo \"$*|$LC_ALL|$LC_NUMERIC|$GNUTERM|\"", 0, 20, &output, NULL),
                WW_OK, NULL);
    unsetenv("LC_NUMERIC");
    unsetenv("GNUTERM");
    test_text("arguments and settings", ww__text_string(&output), "-d -|C|||\n");
    ww__text_release(&output);
}

static void tells_what_went_wrong(void **state) {
    static const struct {
        const char *name, *body;
        size_t input_bytes;
        const char *message;
    } rows[] = {
        {"fails",
         "echo place >&2; echo '  bad \x1b[1mscript' >&2; echo '  warning: late' >&2; exit 3", 0,
         "failed (exit status 3): bad  [1mscript"},
        {"fails in silence", "exit 1", 0, "failed (exit status 1): it said nothing"},
        {"prints nothing", "exit 0", 0, "failed (exit status 0)"},
        {"does not read its input", "exec <&-; echo gone >&2; exit 2", 1 << 20, "gone"},
        {"is ended by a signal", "kill -SEGV $$", 0, "failed (exit status 139)"},
        {"takes too long", "exec sleep 20", 0, "took longer than 1 s"},
        {"says goodbye but stays", "echo drawn; exec >&- 2>&-; exec sleep 20", 0,
         "took longer than 1 s"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_error err = WW_ERROR_INIT;
        ww__text output = WW__TEXT_INIT;
        struct timespec start, end;
        clock_gettime(CLOCK_MONOTONIC, &start);
        test_status(rows[i].name, run(rows[i].body, rows[i].input_bytes, 1, &output, &err),
                    WW_ETOOL, &err);
        clock_gettime(CLOCK_MONOTONIC, &end);
        test_holds(rows[i].name, err.msg, rows[i].message);
        test_true("output untouched", output.bytes == NULL);
        test_true("in time", end.tv_sec - start.tv_sec < 10);
    }
}

static void tells_that_it_is_not_installed(void **state) {
    ww__text input = WW__TEXT_INIT, output = WW__TEXT_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("no such program",
                ww__plot_run("no-such-plotter-at-all", 5, &input, NULL, &output, &err), WW_ETOOL,
                &err);
    test_holds("what to do", err.msg, "install gnuplot");
}

/* A program that ignores SIGCHLD loses exit statuses; a plot that was drawn is still a plot. */
static int without_children(void *context) {
    ww__text output = WW__TEXT_INIT;
    ww_status status;
    (void)context;
    signal(SIGCHLD, SIG_IGN);
    status = run("echo drawn", 0, 5, &output, NULL);
    ww__text_release(&output);
    return status == WW_OK ? 0 : 1;
}

static void works_where_children_are_ignored(void **state) {
    (void)state;
    assert_int_equal(test_in_child(without_children, NULL), 0);
}

/* Ctrl-C goes to a group of programs, ours, and gnuplot makes nonsense of it. */
static int signal_its_group(void *context) {
    ww__text output = WW__TEXT_INIT;
    ww_status status;
    (void)context;
    setpgid(0, 0);
    status = run("trap '' INT; kill -INT 0; echo drawn", 0, 20, &output, NULL);
    ww__text_release(&output);
    return status == WW_OK ? 0 : 1;
}

static void is_in_a_group_of_its_own(void **state) {
    (void)state;
    assert_int_equal(test_in_child(signal_its_group, NULL), 0);
}

static int be_ended_by_it(void *plotter) {
    ww__text input = WW__TEXT_INIT, output = WW__TEXT_INIT;
    ww__plot_run(plotter, 20, &input, NULL, &output, NULL);
    return 0;
}

/* The shell leaves a file where it lives longer than we do; its sleep, which keeps the answer of a
 * child open, makes the test wait for that. */
static void ends_when_we_do(void **state) {
    char *folder = test_folder_new(), *path;
    char body[512];
    (void)state;
    snprintf(body, sizeof body, "kill -KILL $PPID; sleep 1; echo alive >'%s/alive'", folder);
    path = make_plotter(folder, body);
    assert_int_equal(test_in_child(be_ended_by_it, path), -1);
    assert_int_equal(test_folder_count(folder), 1);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gives_back_what_is_printed),
        cmocka_unit_test(sends_the_tail_after_the_input),
        cmocka_unit_test(starts_it_plainly),
        cmocka_unit_test(tells_what_went_wrong),
        cmocka_unit_test(tells_that_it_is_not_installed),
        cmocka_unit_test(works_where_children_are_ignored),
        cmocka_unit_test(is_in_a_group_of_its_own),
        cmocka_unit_test(ends_when_we_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
