/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/verbs.h"
#include "base/escape.h"
#include "cli/commands.h"
#include "cli/suggest.h"
#include <stdio.h>
#include <string.h>

enum { NAMES_MOST = 16, SHOWN_SIZE = 200 };

bool ww__verbs_has(const ww_verb *verb, const char *option) {
    for (const char *const *name = verb->options; name && *name; name++)
        if (strcmp(*name, option) == 0)
            return true;
    return false;
}

static bool is_own(const ww_command *command, const char *option) {
    for (const ww_option *own = command->options; own->name; own++)
        if (strcmp(own->name, option) == 0)
            return true;
    return false;
}

static const char *list(const ww_command *command, char text[SHOWN_SIZE]) {
    size_t used = 0;
    text[0] = '\0';
    for (const ww_verb *verb = command->verbs; verb->name && used < SHOWN_SIZE; verb++)
        used += (size_t)snprintf(text + used, SHOWN_SIZE - used, "%s%s",
                                 verb == command->verbs ? "" : ", ", verb->name);
    return text;
}

static ww_status unknown(const ww_command *command, const char *word, ww_error *err) {
    char shown[SHOWN_SIZE], verbs[SHOWN_SIZE];
    const char *names[NAMES_MOST], *near;
    size_t n = 0;
    for (const ww_verb *verb = command->verbs; verb->name && n < NAMES_MOST; verb++)
        names[n++] = verb->name;
    near = ww__suggest(word, names, n);
    ww__escape_message(word, shown, sizeof shown);
    if (near)
        return ww_error_set(err, WW_EUSAGE, "%s knows no '%s'; did you mean %s %s?", command->name,
                            shown, command->name, near);
    return ww_error_set(err, WW_EUSAGE, "%s knows no '%s'; write %s and one of %s", command->name,
                        shown, command->name, list(command, verbs));
}

static ww_status check_options(const ww_arguments *arguments, ww_error *err) {
    const ww_command *command = arguments->command;
    for (size_t i = 0; i < arguments->n_given; i++) {
        const char *name = arguments->given[i].option->name;
        if (!is_own(command, name) || ww__verbs_has(arguments->verb, name))
            continue;
        for (const ww_verb *verb = command->verbs; verb->name; verb++)
            if (ww__verbs_has(verb, name))
                return ww_error_set(err, WW_EUSAGE, "%s is an option of %s %s, not of %s %s", name,
                                    command->name, verb->name, command->name,
                                    arguments->verb->name);
    }
    return WW_OK;
}

static ww_status check_files(const ww_arguments *arguments, ww_error *err) {
    const ww_command *command = arguments->command;
    const ww_verb *verb = arguments->verb;
    char shown[SHOWN_SIZE];
    if (arguments->n_files < verb->files)
        return ww_error_set(err, WW_EUSAGE,
                            "%s %s needs a file; write wedgework %s %s %s, or - for standard input",
                            command->name, verb->name, command->name, verb->name, verb->args);
    if (arguments->n_files > verb->files)
        return ww_error_set(err, WW_EUSAGE, "'%s' is one too many for %s %s; %s",
                            ww__escape_message(arguments->file[verb->files], shown, sizeof shown),
                            command->name, verb->name,
                            verb->files == 0 ? "it reads no file" : "give one file at a time");
    return WW_OK;
}

ww_status ww__verbs_take(ww_arguments *arguments, ww_error *err) {
    const ww_command *command = arguments->command;
    char verbs[SHOWN_SIZE];
    ww_status status;
    if (arguments->n_files == 0)
        return ww_error_set(err, WW_EUSAGE,
                            "%s needs to be told what to do; write %s and one of %s", command->name,
                            command->name, list(command, verbs));
    for (const ww_verb *verb = command->verbs; verb->name && !arguments->verb; verb++)
        if (strcmp(verb->name, arguments->file[0]) == 0)
            arguments->verb = verb;
    if (!arguments->verb)
        return unknown(command, arguments->file[0], err);
    arguments->n_files--;
    for (size_t i = 0; i < arguments->n_files; i++)
        arguments->file[i] = arguments->file[i + 1];
    status = check_files(arguments, err);
    return status == WW_OK ? check_options(arguments, err) : status;
}
