/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_OPTIONS_H
#define WEDGEWORK_CLI_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/quantity.h>

/*
 * Options are described in tables (commands.c); everything that knows about options reads the
 * tables: parsing, help, man page and completion.
 */

typedef enum ww_option_kind {
    WW_OPTION_SWITCH, /* takes no value */
    WW_OPTION_NUMBER, /* within `limits` */
    WW_OPTION_WHOLE,  /* a whole number within `limits` */
    WW_OPTION_WORD,   /* one of `word` */
    WW_OPTION_TEXT,   /* read by the command itself */
    WW_OPTION_INPUT,  /* a file that is read; "-" is standard input */
    WW_OPTION_OUTPUT  /* a file that is written */
} ww_option_kind;

/* Numbers that an option takes; all zero where every number will do. */
typedef struct ww_limits {
    double low;
    double high;
    bool high_open; /* high itself is outside */
} ww_limits;

typedef struct ww_option {
    const char *name;  /* as typed: "--model", "-o" */
    const char *value; /* what help calls the value, NULL for a switch */
    const char *brief; /* one sentence without full stop */
    ww_option_kind kind;
    bool repeats; /* may be given more than once */
    ww_limits limits;
    const char *above; /* why no more than the limit will do, a clause; NULL where that is plain */
    const char *(*word)(size_t i); /* words of WW_OPTION_WORD, NULL after the last */
    bool to_stdout;                /* WW_OPTION_OUTPUT: "-" is standard output */

    /* Whether a text will do as the value, WW_EUSAGE if not; NULL where every one does. */
    ww_status (*check)(const char *text, ww_error *err);
} ww_option;

/* One option as the user gave it. Texts belong to argv. */
typedef struct ww_given {
    const ww_option *option;
    const char *text;
    double number; /* WW_OPTION_NUMBER, WW_OPTION_WHOLE */
} ww_given;

struct ww_command;
struct ww_verb;

/* A parsed command line. The command is NULL where none stands there. */
typedef struct ww_arguments {
    const struct ww_command *command;
    const struct ww_verb *verb; /* of a command that has some, else NULL */
    bool help;                  /* --help stands somewhere */
    bool version;               /* --version stands somewhere */
    ww_given *given;
    size_t n_given;
    const char **file; /* operands after the command, and after its verb */
    size_t n_files;
} ww_arguments;

#define WW_ARGUMENTS_INIT                                                                          \
    { .command = NULL }

/*
 * ww__arguments_parse - the command line, checked against the command's table.
 *
 *   Options may stand anywhere. `--name VALUE` and `--name=VALUE` mean the same, nothing is
 *   abbreviated, `--` ends the options and `-` is a file. With --help or --version before any `--`
 *   nothing else is checked but the command's name.
 *
 * Returned  arguments  (release it)
 * Status    WW_OK; WW_EUSAGE unknown command or option, missing, empty or impossible value, an
 *           option twice, too few or too many files: err says which and what to type; WW_EMEMORY
 */
ww_status ww__arguments_parse(int argc, char *const argv[], ww_arguments *arguments, ww_error *err);

void ww__arguments_release(ww_arguments *arguments);

/*
 * What was given for an option of the command, by its name; asking for one that its table does not
 * have is a programmer's error. `text` is NULL and `number` unset where it was not given.
 */
bool ww__arguments_has(const ww_arguments *arguments, const char *name);
const char *ww__arguments_text(const ww_arguments *arguments, const char *name);
ww_optional ww__arguments_number(const ww_arguments *arguments, const char *name);

/* For options that repeat: how often, and the text of the i-th. */
size_t ww__arguments_count(const ww_arguments *arguments, const char *name);
const char *ww__arguments_text_at(const ww_arguments *arguments, const char *name, size_t i);

/* The numbers that an option takes in words ("a number from 0 to under 1"); `text` holds them. */
char *ww__option_limits(const ww_option *option, char text[], size_t size);

#endif
