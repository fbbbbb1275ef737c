/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/help.h"

/* A '|' would end the cell. */
static void cell(ww__text *text, const char *words) {
    ww__text_add(text, " ");
    for (; *words; words++) {
        if (*words == '|')
            ww__text_add(text, "\\");
        ww__text_add_bytes(text, words, 1);
    }
    ww__text_add(text, " |");
}

void ww__help_readme(ww__text *text) {
    ww__text_add(text, "| command | question that it answers | reads | writes |\n"
                       "|---------|--------------------------|-------|--------|\n");
    for (size_t i = 0; i < ww__commands_count; i++) {
        const ww_command *command = &ww__commands[i];
        if (!command->reads)
            continue;
        ww__text_add_format(text, "| `%s` |", command->name);
        cell(text, command->brief);
        cell(text, command->reads);
        cell(text, command->writes);
        ww__text_add(text, "\n");
    }
}
