/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "cli/commands.h"
#include "cli/help.h"
#include "cli/outputs.h"
#include "cli/suggest.h"

static const struct {
    const char *option;
    void (*make)(ww__text *text);
} documents[] = {
    {"--man", ww__help_man}, {"--completion", ww__help_completion}, {"--readme", ww__help_readme}};

enum { DOCUMENTS = sizeof documents / sizeof documents[0] };

static ww_status unknown(const char *word, ww_error *err) {
    char shown[200];
    ww__escape_message(word, shown, sizeof shown);
    return ww_error_set(err, WW_EUSAGE,
                        "there is no command '%s' to give help on; `wedgework help` lists them",
                        shown);
}

static ww_status print_document(size_t which, ww_error *err) {
    ww__text text = WW__TEXT_INIT;
    ww_status status;
    documents[which].make(&text);
    status = ww__text_status(&text, err);
    if (status == WW_OK)
        status = ww__outputs_print(ww__text_string(&text), text.n, err);
    ww__text_release(&text);
    return status;
}

ww_status ww__cmd_help(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    const ww_command *command = NULL;
    outcome->holds = true;
    if (arguments->n_given + arguments->n_files > 1)
        return ww_error_set(err, WW_EUSAGE,
                            "help gives one thing at a time; name a command or one option");
    for (size_t i = 0; i < DOCUMENTS; i++)
        if (ww__arguments_has(arguments, documents[i].option))
            return print_document(i, err);
    if (arguments->n_files > 0) {
        command = ww__commands_find(arguments->file[0]);
        if (!command)
            return unknown(arguments->file[0], err);
    }
    return ww__help_print(command, err);
}
