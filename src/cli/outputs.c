/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/outputs.h"
#include "base/escape.h"
#include "base/output_refused.h"
#include "cli/commands.h"
#include "cli/hold.h"
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>
#include <wedgework/output.h>

enum { SHOWN_SIZE = 200, WIDTH = 80, WIDTH_LEAST = 40, WIDTH_MOST = 120 };

/* --- who gets in whose way ------------------------------------------------------------------ */

static bool is_dash(const char *path) {
    return strcmp(path, "-") == 0;
}

static bool look(const char *path, int dash_is, struct stat *found) {
    return (is_dash(path) ? fstat(dash_is, found) : stat(path, found)) == 0;
}

/* Devices and pipes hold nothing that could be overwritten. */
static bool same_existing(const struct stat *a, const struct stat *b) {
    return S_ISREG(a->st_mode) && a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* Folder and name of a file that need not be there. */
static const char *split(const char *path, char folder[PATH_MAX]) {
    const char *slash = strrchr(path, '/');
    if (!slash)
        snprintf(folder, PATH_MAX, ".");
    else
        snprintf(folder, PATH_MAX, "%.*s", (int)(slash - path + 1), path);
    return slash ? slash + 1 : path;
}

static bool same_new(const char *a, const char *b) {
    char folder_a[PATH_MAX], folder_b[PATH_MAX];
    struct stat in_a, in_b;
    if (strlen(a) >= PATH_MAX || strlen(b) >= PATH_MAX ||
        strcmp(split(a, folder_a), split(b, folder_b)) != 0)
        return false;
    return stat(folder_a, &in_a) == 0 && stat(folder_b, &in_b) == 0 && in_a.st_dev == in_b.st_dev &&
           in_a.st_ino == in_b.st_ino;
}

/* dash_a, dash_b: the descriptors that "-" stands for. */
static bool same(const char *a, int dash_a, const char *b, int dash_b) {
    struct stat found_a, found_b;
    const bool there_a = look(a, dash_a, &found_a), there_b = look(b, dash_b, &found_b);
    if (there_a && there_b)
        return same_existing(&found_a, &found_b);
    return !there_a && !there_b && same_new(a, b);
}

bool ww__outputs_same(const char *a, const char *b) {
    struct stat found_a, found_b;
    return stat(a, &found_a) == 0 && stat(b, &found_b) == 0 && same_existing(&found_a, &found_b);
}

/*
 * "-", and any other name of the file, pipe or terminal that standard output is: there, two writers
 * would spoil each other's work. Nothing is spoilt in the null device.
 */
bool ww__outputs_to_stdout(const char *path) {
    struct stat found, out, null;
    if (is_dash(path))
        return true;
    if (stat(path, &found) != 0 || fstat(STDOUT_FILENO, &out) != 0)
        return false;
    if (stat("/dev/null", &null) == 0 && S_ISCHR(out.st_mode) && out.st_rdev == null.st_rdev)
        return false;
    return found.st_dev == out.st_dev && found.st_ino == out.st_ino;
}

static bool goes_to_stdout(const ww_given *given) {
    if (given->option->kind == WW_OPTION_SWITCH)
        return strcmp(given->option->name, "--json") == 0;
    return given->option->kind == WW_OPTION_OUTPUT && ww__outputs_to_stdout(given->text);
}

static ww_status check_pair(const char *option, const char *output, const char *input,
                            ww_error *err) {
    char shown[SHOWN_SIZE];
    if (!same(output, STDOUT_FILENO, input, STDIN_FILENO))
        return WW_OK;
    return ww_error_set(err, WW_EUSAGE, "%s would overwrite the input '%s'; give it another name",
                        option, ww__escape_message(input, shown, sizeof shown));
}

static ww_status check_input(const ww_arguments *arguments, const char *input, bool *stdin_taken,
                             ww_error *err) {
    if (is_dash(input) && *stdin_taken)
        return ww_error_set(err, WW_EUSAGE,
                            "standard input can be read only once; name a file in place of one -");
    *stdin_taken |= is_dash(input);
    for (size_t i = 0; i < arguments->n_given; i++) {
        const ww_given *given = &arguments->given[i];
        if (given->option->kind == WW_OPTION_OUTPUT &&
            check_pair(given->option->name, given->text, input, err) != WW_OK)
            return WW_EUSAGE;
    }
    return WW_OK;
}

static ww_status check_inputs(const ww_arguments *arguments, ww_error *err) {
    bool stdin_taken = false;
    for (size_t i = 0; i < arguments->n_files; i++)
        if (check_input(arguments, arguments->file[i], &stdin_taken, err) != WW_OK)
            return WW_EUSAGE;
    for (size_t i = 0; i < arguments->n_given; i++)
        if (arguments->given[i].option->kind == WW_OPTION_INPUT &&
            check_input(arguments, arguments->given[i].text, &stdin_taken, err) != WW_OK)
            return WW_EUSAGE;
    return WW_OK;
}

ww_status ww__outputs_check_file(const ww_arguments *arguments, const char *option,
                                 const char *path, ww_error *err) {
    struct stat found;
    ww_status status = WW_OK;
    if (stat(path, &found) != 0) /* then no input that can be read is there either */
        return WW_OK;
    for (size_t i = 0; i < arguments->n_files && status == WW_OK; i++)
        status = check_pair(option, path, arguments->file[i], err);
    for (size_t i = 0; i < arguments->n_given && status == WW_OK; i++)
        if (arguments->given[i].option->kind == WW_OPTION_INPUT)
            status = check_pair(option, path, arguments->given[i].text, err);
    return status;
}

ww_status ww__outputs_check(const ww_arguments *arguments, ww_error *err) {
    const ww_given *given = arguments->given;
    for (size_t i = 0; i < arguments->n_given; i++) {
        if (goes_to_stdout(&given[i]) && given[i].option->kind == WW_OPTION_OUTPUT &&
            !given[i].option->to_stdout)
            return ww_error_set(err, WW_EUSAGE,
                                "%s and standard output would be one file; give %s its own",
                                given[i].option->name, given[i].option->name);
        for (size_t k = 0; k < i; k++) {
            if (goes_to_stdout(&given[i]) && goes_to_stdout(&given[k]))
                return ww_error_set(
                    err, WW_EUSAGE,
                    "%s and %s would both go to standard output; give a file to one",
                    given[k].option->name, given[i].option->name);
            if (given[i].option->kind == WW_OPTION_OUTPUT &&
                given[k].option->kind == WW_OPTION_OUTPUT &&
                same(given[i].text, STDOUT_FILENO, given[k].text, STDOUT_FILENO))
                return ww_error_set(err, WW_EUSAGE,
                                    "%s and %s would both write one file; give each its own",
                                    given[k].option->name, given[i].option->name);
        }
    }
    return check_inputs(arguments, err);
}

/* --- delivery ------------------------------------------------------------------------------- */

ww_status ww__outputs_print(const char text[], size_t n, ww_error *err) {
    errno = 0;
    if (fwrite(text, 1, n, stdout) != n || fflush(stdout) != 0)
        return ww__output_refused("standard output", errno, n, err);
    return WW_OK;
}

static bool set(const char *variable) {
    const char *value = getenv(variable);
    return value && *value;
}

static ww_text_style style_for(const ww_result *result) {
    ww_text_style style = WW_TEXT_STYLE_INIT;
    const char *terminal = getenv("TERM");
    struct winsize window;
    if (result->timer_step_s > 0.0)
        style.timer_step_s = result->timer_step_s;
    style.width = WIDTH;
    if (!isatty(STDOUT_FILENO))
        return style;
    style.colour = !set("NO_COLOR") && terminal && strcmp(terminal, "dumb") != 0;
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &window) == 0 && window.ws_col >= WIDTH_LEAST)
        style.width = window.ws_col < WIDTH_MOST ? window.ws_col : WIDTH_MOST;
    return style;
}

/* What was asked for, decided once. */
typedef struct plan {
    const char *file; /* -o, NULL where it is standard output or absent */
    const char *plot;
    const char *page;
    bool file_to_stdout;
    bool document_to_stdout;
    bool text_to_stdout;
} plan;

static plan plan_for(const ww_arguments *arguments, const ww_result *result) {
    plan made = {.file = result->path ? result->path : ww__arguments_text(arguments, "-o"),
                 .plot = ww__arguments_text(arguments, "--plot"),
                 .page = ww__arguments_text(arguments, "--report"),
                 .document_to_stdout = ww__arguments_has(arguments, "--json")};
    if (result->finish)
        made.file = NULL;
    if (made.file && ww__outputs_to_stdout(made.file)) {
        made.file = NULL;
        made.file_to_stdout = true;
    }
    made.text_to_stdout = !made.document_to_stdout && !made.file_to_stdout &&
                          !ww__arguments_has(arguments, "--quiet");
    return made;
}

/* A plot that cannot be drawn keeps nothing else back: its error waits in `no_plot`. */
static bool may_wait(ww_status status) {
    return status == WW_ETOOL || status == WW_ENODATA;
}

static ww_status write_files(const plan *to, const ww_result *result, const char *file, size_t n,
                             ww_error *no_plot, ww_error *err) {
    ww_error not_in_page = WW_ERROR_INIT;
    ww_status status = result->finish ? result->finish(result->of, err)
                       : to->file     ? ww_output_write(to->file, file, n, err)
                                      : WW_OK;
    if (status == WW_OK && to->page)
        status = result->page(result->of, to->page, &not_in_page, err);
    if (status == WW_OK && to->plot) {
        status = result->plot(result->of, to->plot, no_plot);
        if (may_wait(status))
            return WW_OK;
        if (status != WW_OK)
            *err = *no_plot;
    }
    /* Where the page itself says that there is nothing to draw, that is enough. */
    if (status == WW_OK && not_in_page.code == WW_ETOOL)
        *no_plot = not_in_page;
    return status;
}

ww_status ww__outputs_deliver(const ww_arguments *arguments, const ww_result *result,
                              ww_error *err) {
    const plan to = plan_for(arguments, result);
    const ww_text_style style = style_for(result);
    ww_error no_plot = WW_ERROR_INIT;
    char *document = NULL, *file = NULL, *text = NULL;
    size_t n = 0, n_file = 0;
    ww_status status = WW_OK;
    if (to.file || to.file_to_stdout)
        status = (result->file ? result->file : result->document)(result->of, &file, &n_file, err);
    if (status == WW_OK && to.document_to_stdout)
        status = result->document(result->of, &document, &n, err);
    if (status == WW_OK && to.text_to_stdout)
        status = result->text(result->of, &style, &text, err);
    if (status == WW_OK) {
        ww__hold_begin();
        status = write_files(&to, result, file, n_file, &no_plot, err);
        ww__hold_end();
    }
    if (status == WW_OK && to.file_to_stdout)
        status = ww__outputs_print(file, n_file, err);
    if (status == WW_OK && to.document_to_stdout)
        status = ww__outputs_print(document, n, err);
    if (status == WW_OK && to.text_to_stdout)
        status = ww__outputs_print(text, strlen(text), err);
    free(document);
    free(file);
    free(text);
    if (status == WW_OK && no_plot.code != WW_OK) {
        *err = no_plot;
        return no_plot.code;
    }
    return status;
}
