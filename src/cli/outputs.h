/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_OUTPUTS_H
#define WEDGEWORK_CLI_OUTPUTS_H

#include "cli/options.h"
#include <wedgework/text_style.h>

/*
 * Where results go: --json, -o, --plot, --report and standard output. A command first asks whether
 * what was asked for can be done at all, then computes, then delivers.
 */

/* A result and what can be made of it; the functions get `of`. */
typedef struct ww_result {
    const void *of;
    double timer_step_s; /* for text */
    ww_status (*document)(const void *of, char **text, size_t *n, ww_error *err);
    ww_status (*text)(const void *of, const ww_text_style *style, char **text, ww_error *err);
    ww_status (*plot)(const void *of, const char *path, ww_error *err);
    ww_status (*page)(const void *of, const char *path, ww_error *no_plot, ww_error *err);
    /* What -o writes; NULL: the document. */
    ww_status (*file)(const void *of, char **text, size_t *n, ww_error *err);
    /* Gives its name to what was written as it was made, in place of what -o would write; NULL:
     * nothing was. */
    ww_status (*finish)(const void *of, ww_error *err);
    const char *path; /* where -o goes in place of what it says; NULL: it says where */
} ww_result;

/*
 * ww__outputs_check - the inputs and outputs named on the command line do not get in each other's
 *                     way.
 *
 * Status    WW_OK; WW_EUSAGE two inputs from standard input, two results to standard output, two
 *           outputs into one file, an output over an input (also by another name or a link)
 */
ww_status ww__outputs_check(const ww_arguments *arguments, ww_error *err);

/* ww__outputs_same - whether two names are one file that is there. */
bool ww__outputs_same(const char *a, const char *b);

/* ww__outputs_to_stdout - whether a name leads to standard output, as "-" does. */
bool ww__outputs_to_stdout(const char *path);

/*
 * ww__outputs_check_file - whether a file made of the name in an option would overwrite an input.
 *
 * Status    WW_OK; WW_EUSAGE
 */
ww_status ww__outputs_check_file(const ww_arguments *arguments, const char *option,
                                 const char *path, ww_error *err);

/*
 * ww__outputs_deliver - make everything that was asked for, then write the files, then print.
 *
 *   Standard output gets the document with --json, what else goes to the file with `-o -`, else
 *   nothing with --quiet, else the text.
 *
 * Status    WW_OK; WW_ESYSTEM, WW_EMEMORY: nothing printed, every file old or new as a whole;
 *           WW_ETOOL, WW_ENODATA the plot could not be drawn: all the rest has been given
 */
ww_status ww__outputs_deliver(const ww_arguments *arguments, const ww_result *result,
                              ww_error *err);

/* ww__outputs_print - n bytes to standard output, flushed. Status WW_OK; WW_ESYSTEM */
ww_status ww__outputs_print(const char text[], size_t n, ww_error *err);

#endif
