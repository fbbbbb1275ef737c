/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/help.h"
#include "cli/outputs.h"
#include <stdio.h>
#include <string.h>
#include <wedgework/start.h>

enum { WIDTH = 80, INDENT = 26 };

static void spaces(ww__text *text, size_t n) {
    while (n-- > 0)
        ww__text_add(text, " ");
}

/* Words folded at WIDTH, every line indented; `at` is the column already reached. */
static void fold(ww__text *text, const char *words, size_t indent, size_t at) {
    while (*words) {
        const size_t length = strcspn(words, " ");
        if (at > indent && at + 1 + length > WIDTH) {
            ww__text_add(text, "\n");
            at = 0;
        } else if (at > indent) {
            ww__text_add(text, " ");
            at++;
        }
        if (at < indent) {
            spaces(text, indent - at);
            at = indent;
        }
        ww__text_add_bytes(text, words, length);
        at += length;
        words += length;
        words += strspn(words, " ");
    }
    ww__text_add(text, "\n");
}

/* A term on the left, what it means on the right; a long term has a line of its own. */
static void entry(ww__text *text, const char *term, const char *meaning) {
    const size_t length = strlen(term) + 2;
    ww__text_add_format(text, "  %s", term);
    if (length + 2 > INDENT)
        ww__text_add(text, "\n");
    fold(text, meaning, INDENT, length + 2 > INDENT ? 0 : length);
}

void ww__help_form(ww__text *text, const ww_option *option) {
    ww__text_add(text, option->name);
    if (option->value)
        ww__text_add_format(text, " %s", option->value);
}

void ww__help_brief(ww__text *text, const ww_option *option) {
    const char *word;
    char limits[100];
    ww__text_add(text, option->brief);
    if (option->kind == WW_OPTION_WORD)
        for (size_t i = 0; (word = option->word(i)) != NULL; i++)
            ww__text_add_format(text, "%s%s", i ? ", " : ": ", word);
    if (option->limits.low < option->limits.high)
        ww__text_add_format(text, "; %s", ww__option_limits(option, limits, sizeof limits));
    if (option->repeats)
        ww__text_add(text, "; may be repeated");
}

void ww__help_verb(ww__text *text, const ww_verb *verb) {
    ww__text_add(text, verb->brief);
    for (const char *const *name = verb->options; name && *name; name++)
        ww__text_add_format(text, "%s%s", name == verb->options ? "; takes " : ", ", *name);
}

static void list_option(ww__text *text, const ww_option *option) {
    ww__text form = WW__TEXT_INIT, brief = WW__TEXT_INIT;
    ww__help_form(&form, option);
    ww__help_brief(&brief, option);
    text->failed |= form.failed || brief.failed;
    entry(text, ww__text_string(&form), ww__text_string(&brief));
    ww__text_release(&form);
    ww__text_release(&brief);
}

static void list_options(ww__text *text, const ww_option *option) {
    for (; option->name; option++)
        list_option(text, option);
}

/* One line, or one for each thing that the command does. */
static void usage(ww__text *text, const ww_command *command) {
    ww__text_add(text, "\n");
    if (!command->verbs)
        ww__text_add_format(text, "  wedgework %s %s [OPTION...]\n", command->name, command->args);
    for (const char *const *other = command->other_args; other && *other; other++)
        ww__text_add_format(text, "  wedgework %s %s [OPTION...]\n", command->name, *other);
    for (const ww_verb *verb = command->verbs; verb && verb->name; verb++)
        ww__text_add_format(text, "  wedgework %s %s%s%s [OPTION...]\n", command->name, verb->name,
                            *verb->args ? " " : "", verb->args);
    ww__text_add(text, "\n");
}

static void list_verbs(ww__text *text, const ww_command *command) {
    if (command->verbs)
        ww__text_add(text, "\n");
    for (const ww_verb *verb = command->verbs; verb && verb->name; verb++) {
        ww__text brief = WW__TEXT_INIT;
        ww__help_verb(&brief, verb);
        text->failed |= brief.failed;
        entry(text, verb->name, ww__text_string(&brief));
        ww__text_release(&brief);
    }
}

static void help_command(ww__text *text, const ww_command *command) {
    const size_t length = sizeof "wedgework  -" - 1 + strlen(command->name);
    ww__text_add_format(text, "wedgework %s -", command->name);
    fold(text, command->brief, 4, length);
    usage(text, command);
    fold(text, command->about, 0, 0);
    list_verbs(text, command);
    ww__text_add_format(text, "\nOptions of %s\n", command->name);
    list_options(text, command->options);
    if (command->alone) {
        list_option(text, ww__commands_option(command, "--help"));
    } else {
        ww__text_add(text, "\nOptions of every command\n");
        list_options(text, ww__common_options);
    }
    ww__text_add_format(text, "\nExample\n  %s\n", command->example);
}

static void help_program(ww__text *text) {
    const char *group = "";
    ww__text_add(text, "wedgework - from densities read on film and paper to the print\n\n"
                       "  wedgework COMMAND [OPTION...] [FILE...]\n");
    for (size_t i = 0; i < ww__commands_count; i++) {
        const ww_command *command = &ww__commands[i];
        char term[80];
        if (strcmp(group, command->group) != 0)
            ww__text_add_format(text, "\n%s\n", command->group);
        group = command->group;
        snprintf(term, sizeof term, "%s %s", command->name, command->args);
        entry(text, term, command->brief);
    }
    ww__text_add(text, "\nOptions of every command\n");
    list_options(text, ww__common_options);
    entry(text, "--version", "show the version of the program");
    ww__text_add(text, "\n");
    fold(text,
         "Options may stand anywhere; --name VALUE and --name=VALUE mean the same; -- ends the "
         "options; - as a file that is read is standard input. `wedgework help COMMAND` says more.",
         0, 0);
    ww__text_add(text, "\nExit status\n");
    for (const ww_exit *e = ww__exits; e->meaning; e++) {
        char term[16];
        snprintf(term, sizeof term, "%d", e->status);
        entry(text, term, e->meaning);
    }
}

static ww_status print_and_release(ww__text *text, ww_error *err) {
    ww_status status = ww__text_status(text, err);
    if (status == WW_OK)
        status = ww__outputs_print(ww__text_string(text), text->n, err);
    ww__text_release(text);
    return status;
}

ww_status ww__help_print(const ww_command *command, ww_error *err) {
    ww__text text = WW__TEXT_INIT;
    if (command)
        help_command(&text, command);
    else
        help_program(&text);
    return print_and_release(&text, err);
}

ww_status ww__help_version(ww_error *err) {
    ww__text text = WW__TEXT_INIT;
    ww__text_add_format(&text, "wedgework %s\n", ww_version());
    return print_and_release(&text, err);
}
