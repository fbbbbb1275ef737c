/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_COMMANDS_H
#define WEDGEWORK_CLI_COMMANDS_H

#include "cli/options.h"

/* What a run that went well, or not, has to say beside its status. */
typedef struct ww_outcome {
    bool holds; /* everything asked for can be held; the result has been given all the same */
    bool told;  /* what went wrong has been said already, as it happened */
} ww_outcome;

/* One of the things that a command does where it does several: `strip plan`, `strip read`. */
typedef struct ww_verb {
    const char *name;
    const char *args;           /* its operands as help shows them, "" for none */
    const char *brief;          /* what it does, without full stop */
    size_t files;               /* operands: so many */
    const char *const *options; /* those of the command's own that it takes, NULL at the end */
} ww_verb;

/*
 * The one table of commands. Parsing, --help, the man page, completion and the README's list of
 * commands are made from it: a new command is one row here and its cmd_NAME.c.
 */
typedef struct ww_command {
    const char *name;
    const char *group;             /* heading under which help lists it */
    const char *brief;             /* the question that it answers, or what it does */
    const char *args;              /* operands as help shows them */
    const char *const *other_args; /* of the other things that its options make it do, NULL at the
                                      end; NULL: none */
    const ww_option *options;      /* its own, ended by a row without name */

    /*
     * Runs it. On failure nothing has been printed, but where the command takes several files and
     * one was bad, and with WW_ETOOL: then only the plot is missing.
     */
    ww_status (*run)(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);

    const char *reads;  /* for the README's table; NULL keeps the command out of it */
    const char *writes; /* the same */
    const char *about;  /* one paragraph for its help */
    const char *example;
    const ww_verb *verbs; /* its first operand is one of them, ended by a row without name; NULL: it
                             does one thing, and its operands are files: */
    size_t files_least;
    size_t files_most;
    const char *surplus; /* what to do with a file too many */
    bool alone;          /* takes none of the common options but --help */
} ww_command;

extern const ww_command ww__commands[];
extern const size_t ww__commands_count;

/* Options that every command takes, ended by a row without name. */
extern const ww_option ww__common_options[];

/* Tables that stand with their command. */
extern const ww_option ww__match_options[];
extern const ww_option ww__measure_options[];
extern const ww_option ww__print_options[];
extern const ww_option ww__scan_options[];
extern const ww_option ww__scanner_options[];
extern const ww_option ww__develop_options[];
extern const ww_option ww__strip_options[];
extern const ww_verb ww__strip_verbs[];
extern const ww_option ww__control_options[];
extern const ww_verb ww__control_verbs[];
extern const ww_option ww__balance_options[];
extern const ww_option ww__compare_options[];
extern const char *const ww__compare_args[];
extern const ww_option ww__tones_options[];
extern const char *const ww__tones_args[];
extern const ww_option ww__lesson_options[];
extern const char *const ww__lesson_args[];

/* What the exit statuses mean, ended by a row without meaning. */
typedef struct ww_exit {
    int status;
    const char *meaning;
} ww_exit;
extern const ww_exit ww__exits[];

/* The command of that name, NULL where there is none. */
const ww_command *ww__commands_find(const char *name);

/* The option of that name that the command takes, own or common; NULL where there is none. */
const ww_option *ww__commands_option(const ww_command *command, const char *name);

/* The i-th option that the command takes, own ones first; NULL after the last. */
const ww_option *ww__commands_option_at(const ww_command *command, size_t i);

/* What the commands do: cmd_NAME.c. */
ww_status ww__cmd_scanner(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_measure(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_fit(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_develop(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_print(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_balance(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_strip(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_scan(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_match(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_compare(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_control(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_tones(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_lesson(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
ww_status ww__cmd_help(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);

#endif
