/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/options.h"
#include "base/escape.h"
#include "base/locale.h"
#include "cli/commands.h"
#include "cli/suggest.h"
#include "cli/verbs.h"
#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

enum { NAMES_MOST = 64, NAME_SIZE = 48, SHOWN_SIZE = 200 };

static bool is_option(const char *argument) {
    return argument[0] == '-' && argument[1] != '\0';
}

/* "--name=VALUE" or "--name": the name alone, cut where it is longer than any option's. */
static const char *name_of(const char *argument, char name[NAME_SIZE]) {
    const size_t length = argument[1] == '-' ? strcspn(argument, "=") : strlen(argument);
    snprintf(name, NAME_SIZE, "%.*s", (int)(length < NAME_SIZE ? length : NAME_SIZE - 1), argument);
    return name;
}

static const char *value_in(const char *argument) {
    const char *mark = argument[1] == '-' ? strchr(argument, '=') : NULL;
    return mark ? mark + 1 : NULL;
}

/* --- what is wrong, in words ---------------------------------------------------------------- */

static const ww_command *owner(const char *name) {
    for (size_t i = 0; i < ww__commands_count; i++)
        if (ww__commands_option(&ww__commands[i], name))
            return &ww__commands[i];
    return NULL;
}

static ww_status unknown_option(const ww_command *command, const char *argument, ww_error *err) {
    char name[NAME_SIZE], shown[SHOWN_SIZE];
    const char *names[NAMES_MOST], *near;
    const ww_command *other = owner(name_of(argument, name));
    size_t n = 0;
    ww__escape_message(name, shown, sizeof shown);
    if (other)
        return ww_error_set(
            err, WW_EUSAGE,
            "%s is an option of %s, not of %s; leave it out, or see `wedgework help "
            "%s`",
            name, other->name, command->name, command->name);
    if (argument[1] != '-' && strncmp(argument, "-o", 2) == 0 && ww__commands_option(command, "-o"))
        return ww_error_set(err, WW_EUSAGE,
                            "'%s' is no option; a space parts -o from its file: -o %s", shown,
                            argument[2] == '=' ? "FILE" : shown + 2);
    for (const ww_option *option; n < NAMES_MOST && (option = ww__commands_option_at(command, n));)
        names[n++] = option->name;
    near = ww__suggest(name, names, n);
    if (near)
        return ww_error_set(err, WW_EUSAGE, "%s has no option '%s'; did you mean %s?",
                            command->name, shown, near);
    return ww_error_set(err, WW_EUSAGE,
                        "%s has no option '%s'; `wedgework help %s` lists them, and -- goes before "
                        "a file with such a name",
                        command->name, shown, command->name);
}

static ww_status unknown_command(const char *word, ww_error *err) {
    char shown[SHOWN_SIZE];
    const char *names[NAMES_MOST], *near;
    size_t n = 0;
    while (n < ww__commands_count && n < NAMES_MOST) {
        names[n] = ww__commands[n].name;
        n++;
    }
    near = ww__suggest(word, names, n);
    ww__escape_message(word, shown, sizeof shown);
    if (near)
        return ww_error_set(err, WW_EUSAGE, "there is no command '%s'; did you mean %s?", shown,
                            near);
    return ww_error_set(err, WW_EUSAGE, "there is no command '%s'; `wedgework help` lists them",
                        shown);
}

char *ww__option_limits(const ww_option *option, char text[], size_t size) {
    const ww_limits l = option->limits;
    const char *what = option->kind == WW_OPTION_WHOLE ? "a whole number" : "a number";
    const ww__locale locale = ww__locale_plain();
    char low[32], high[32];
    snprintf(low, sizeof low, "%.10g", l.low);
    snprintf(high, sizeof high, "%.10g", l.high);
    ww__locale_restore(locale);
    if (l.low == 0.0 && l.high == 0.0) /* no limits */
        snprintf(text, size, "%s", what);
    else
        snprintf(text, size, "%s from %s to %s%s", what, low, l.high_open ? "under " : "", high);
    return text;
}

/* --- values --------------------------------------------------------------------------------- */

static bool within(ww_limits l, double x) {
    if (l.low == 0.0 && l.high == 0.0)
        return true;
    return x >= l.low && (l.high_open ? x < l.high : x <= l.high);
}

static ww_status take_number(ww_given *given, ww_error *err) {
    const ww_option *option = given->option;
    char shown[SHOWN_SIZE], limits[SHOWN_SIZE];
    ww_error why = WW_ERROR_INIT;
    if (ww_number_parse(given->text, '.', &given->number, &why) != WW_OK)
        return ww_error_set(err, WW_EUSAGE, "%s: %s; give %s", option->name, why.msg,
                            ww__option_limits(option, limits, sizeof limits));
    if (within(option->limits, given->number) &&
        (option->kind != WW_OPTION_WHOLE || trunc(given->number) == given->number))
        return WW_OK;
    const bool above = option->above && given->number > option->limits.high;
    return ww_error_set(err, WW_EUSAGE, "%s cannot be '%s'%s%s; give %s", option->name,
                        ww__escape_message(given->text, shown, sizeof shown), above ? ": " : "",
                        above ? option->above : "",
                        ww__option_limits(option, limits, sizeof limits));
}

static ww_status take_word(const ww_given *given, ww_error *err) {
    char list[SHOWN_SIZE] = "", shown[SHOWN_SIZE];
    const char *names[NAMES_MOST], *near, *word;
    size_t n = 0, used = 0;
    while (n < NAMES_MOST && (word = given->option->word(n)) != NULL) {
        if (strcmp(word, given->text) == 0)
            return WW_OK;
        if (used < sizeof list)
            used += (size_t)snprintf(list + used, sizeof list - used, "%s%s", n ? ", " : "", word);
        names[n++] = word;
    }
    ww__escape_message(given->text, shown, sizeof shown);
    near = ww__suggest(given->text, names, n);
    if (near)
        return ww_error_set(err, WW_EUSAGE, "%s knows no '%s'; did you mean %s?",
                            given->option->name, shown, near);
    return ww_error_set(err, WW_EUSAGE, "%s knows no '%s'; take one of %s", given->option->name,
                        shown, list);
}

static ww_status take_text(const ww_given *given, ww_error *err) {
    const ww_option *option = given->option;
    ww_error why = WW_ERROR_INIT;
    if (option->kind == WW_OPTION_OUTPUT && !option->to_stdout && strcmp(given->text, "-") == 0)
        return ww_error_set(err, WW_EUSAGE, "%s cannot go to standard output; name a file, %s %s",
                            option->name, option->name, option->value);
    if (option->check && option->check(given->text, &why) != WW_OK)
        return ww_error_set(err, WW_EUSAGE, "%s: %s", option->name, why.msg);
    return WW_OK;
}

static ww_status take_value(ww_given *given, ww_error *err) {
    if (given->text[0] == '\0')
        return ww_error_set(err, WW_EUSAGE, "the value of %s is empty; give %s %s",
                            given->option->name, given->option->name, given->option->value);
    switch (given->option->kind) {
    case WW_OPTION_NUMBER:
    case WW_OPTION_WHOLE:
        return take_number(given, err);
    case WW_OPTION_WORD:
        return take_word(given, err);
    case WW_OPTION_TEXT:
    case WW_OPTION_INPUT:
    case WW_OPTION_OUTPUT:
        return take_text(given, err);
    case WW_OPTION_SWITCH:
        break;
    }
    return WW_OK;
}

/* --- the command line ----------------------------------------------------------------------- */

/* A value that looks like one of the command's options is a value forgotten, not a file's name. */
static bool looks_forgotten(const ww_command *command, const char *argument) {
    char name[NAME_SIZE];
    return strncmp(argument, "--", 2) == 0 ||
           (is_option(argument) && ww__commands_option(command, name_of(argument, name)));
}

static ww_status take_option(int argc, char *const argv[], int *at, ww_arguments *arguments,
                             ww_error *err) {
    char name[NAME_SIZE];
    const ww_command *command = arguments->command;
    const char *argument = argv[*at], *value = value_in(argument);
    const ww_option *option = ww__commands_option(command, name_of(argument, name));
    ww_given given = {option, value, 0.0};
    if (!option)
        return unknown_option(command, argument, err);
    if (option->kind == WW_OPTION_SWITCH && value)
        return ww_error_set(err, WW_EUSAGE, "%s takes no value; write %s alone", name, name);
    if (!option->repeats && ww__arguments_has(arguments, option->name))
        return ww_error_set(err, WW_EUSAGE, "%s stands twice; give it once", name);
    if (option->kind != WW_OPTION_SWITCH) {
        if (!value && (*at + 1 >= argc || looks_forgotten(command, argv[*at + 1])))
            return ww_error_set(err, WW_EUSAGE, "%s needs a value; write %s %s", name, name,
                                option->value);
        if (!value)
            given.text = argv[++*at];
        if (take_value(&given, err) != WW_OK)
            return WW_EUSAGE;
    }
    arguments->given[arguments->n_given++] = given;
    return WW_OK;
}

/* The first operand is the command; values of options before it are stepped over. */
static int find_command(int argc, char *const argv[]) {
    char name[NAME_SIZE];
    for (int i = 1; i < argc; i++) {
        const ww_command *some;
        const ww_option *option;
        if (strcmp(argv[i], "--") == 0)
            return i + 1;
        if (!is_option(argv[i]))
            return i;
        some = owner(name_of(argv[i], name));
        option = some ? ww__commands_option(some, name) : NULL;
        if (option && option->kind != WW_OPTION_SWITCH && !value_in(argv[i]))
            i++;
    }
    return argc;
}

static void find_requests(int argc, char *const argv[], ww_arguments *arguments) {
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++) {
        arguments->help |= strcmp(argv[i], "--help") == 0;
        arguments->version |= strcmp(argv[i], "--version") == 0;
    }
}

static ww_status check_files(ww_arguments *arguments, ww_error *err) {
    const ww_command *command = arguments->command;
    for (size_t i = 0; i < arguments->n_files; i++)
        if (arguments->file[i][0] == '\0')
            return ww_error_set(err, WW_EUSAGE, "a file name is empty; give %s", command->args);
    if (command->verbs)
        return ww__verbs_take(arguments, err);
    if (arguments->n_files < command->files_least)
        return ww_error_set(
            err, WW_EUSAGE, "%s needs %s; write wedgework %s %s, or - for standard input",
            command->name, command->files_least == 1 ? "a file" : "two files at least",
            command->name, command->args);
    if (arguments->n_files > command->files_most) {
        char shown[SHOWN_SIZE];
        ww__escape_message(arguments->file[command->files_most], shown, sizeof shown);
        return ww_error_set(err, WW_EUSAGE, "'%s' is one too many for %s; %s", shown, command->name,
                            command->surplus);
    }
    return WW_OK;
}

static ww_status parse(int argc, char *const argv[], int command_at, ww_arguments *arguments,
                       ww_error *err) {
    bool ended = false;
    for (int i = 1; i < argc; i++) {
        if (i == command_at)
            continue;
        if (!ended && strcmp(argv[i], "--") == 0) {
            ended = true;
        } else if (!ended && is_option(argv[i])) {
            const ww_status status = take_option(argc, argv, &i, arguments, err);
            if (status != WW_OK)
                return status;
        } else {
            arguments->file[arguments->n_files++] = argv[i];
        }
    }
    return check_files(arguments, err);
}

ww_status ww__arguments_parse(int argc, char *const argv[], ww_arguments *arguments,
                              ww_error *err) {
    ww_arguments made = WW_ARGUMENTS_INIT;
    const int command_at = find_command(argc, argv);
    ww_status status;
    find_requests(argc, argv, &made);
    if (command_at < argc) {
        made.command = ww__commands_find(argv[command_at]);
        if (!made.command)
            return unknown_command(argv[command_at], err);
    } else if (argc > 1 && !made.help && !made.version) {
        return ww_error_set(err, WW_EUSAGE,
                            "no command beside the options; write wedgework COMMAND [OPTION...] "
                            "[FILE...], or see `wedgework help`");
    }
    made.given = calloc((size_t)argc + 1, sizeof *made.given);
    made.file = calloc((size_t)argc + 1, sizeof *made.file);
    if (!made.given || !made.file)
        status = ww_error_set(err, WW_EMEMORY, "no memory for the command line");
    else if (!made.command || made.help || made.version)
        status = WW_OK;
    else
        status = parse(argc, argv, command_at, &made, err);
    if (status != WW_OK) {
        ww__arguments_release(&made);
        return status;
    }
    *arguments = made;
    return WW_OK;
}

void ww__arguments_release(ww_arguments *arguments) {
    if (!arguments)
        return;
    free(arguments->given);
    free(arguments->file);
    *arguments = (ww_arguments)WW_ARGUMENTS_INIT;
}

/* --- what was given ------------------------------------------------------------------------- */

static const ww_given *given_at(const ww_arguments *arguments, const char *name, size_t i) {
    assert(ww__commands_option(arguments->command, name));
    for (size_t k = 0; k < arguments->n_given; k++)
        if (strcmp(arguments->given[k].option->name, name) == 0 && i-- == 0)
            return &arguments->given[k];
    return NULL;
}

bool ww__arguments_has(const ww_arguments *arguments, const char *name) {
    return given_at(arguments, name, 0) != NULL;
}

const char *ww__arguments_text(const ww_arguments *arguments, const char *name) {
    return ww__arguments_text_at(arguments, name, 0);
}

ww_optional ww__arguments_number(const ww_arguments *arguments, const char *name) {
    const ww_given *given = given_at(arguments, name, 0);
    return (ww_optional){given != NULL, given ? given->number : 0.0};
}

size_t ww__arguments_count(const ww_arguments *arguments, const char *name) {
    size_t n = 0;
    while (given_at(arguments, name, n))
        n++;
    return n;
}

const char *ww__arguments_text_at(const ww_arguments *arguments, const char *name, size_t i) {
    const ww_given *given = given_at(arguments, name, i);
    return given ? given->text : NULL;
}
