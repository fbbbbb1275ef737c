/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/help.h"
#include <string.h>

/*
 * The script finds the command on the line, then offers the command's options, the words of an
 * option that has words, or files. bash parts `--name=VALUE` into three words.
 */
static const char beginning[] =
    "# Completion of wedgework for bash, made by `wedgework help --completion`.\n"
    "_wedgework() {\n"
    "    local current=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}\n"
    "    local command= options= words= i\n"
    "    COMPREPLY=()\n"
    "    if [[ $current == = ]]; then\n"
    "        current=\n"
    "    elif [[ $before == = ]]; then\n"
    "        before=${COMP_WORDS[COMP_CWORD-2]}\n"
    "    fi\n"
    "    for ((i = 1; i < COMP_CWORD; i++)); do\n"
    "        case ${COMP_WORDS[i]} in\n";

static const char ending[] = "    if [[ $current == -* ]]; then\n"
                             "        words=$options\n"
                             "    elif [[ -z $command ]]; then\n"
                             "        words=$commands\n"
                             "    else\n"
                             "        compopt -o filenames 2>/dev/null\n"
                             "        mapfile -t COMPREPLY < <(compgen -f -- \"$current\")\n"
                             "        return\n"
                             "    fi\n"
                             "    mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$current\")\n"
                             "}\n"
                             "complete -F _wedgework wedgework\n";

static void names(ww__text *text) {
    for (size_t i = 0; i < ww__commands_count; i++)
        ww__text_add_format(text, "%s%s", i ? " " : "", ww__commands[i].name);
}

static void options(ww__text *text, const ww_command *command) {
    const ww_option *option;
    for (size_t i = 0; (option = ww__commands_option_at(command, i)) != NULL; i++)
        ww__text_add_format(text, "%s%s", i ? " " : "", option->name);
}

/* Options before the command that take a value: the value is not the command. */
static void step_over(ww__text *text) {
    const char *mark = "        ";
    for (const ww_option *option = ww__common_options; option->name; option++) {
        if (option->kind == WW_OPTION_SWITCH)
            continue;
        ww__text_add_format(text, "%s%s", mark, option->name);
        mark = "|";
    }
    ww__text_add(text, ") [[ ${COMP_WORDS[i+1]} == = ]] && ((i++)); ((i++)) ;;\n"
                       "        -*) ;;\n"
                       "        *) command=${COMP_WORDS[i]}; break ;;\n"
                       "        esac\n"
                       "    done\n");
}

static void command_options(ww__text *text) {
    ww__text_add(text, "    case $command in\n");
    for (size_t i = 0; i < ww__commands_count; i++) {
        ww__text_add_format(text, "    %s) options='", ww__commands[i].name);
        options(text, &ww__commands[i]);
        ww__text_add(text, "' ;;\n");
    }
    ww__text_add(text, "    *) options='--help --version' ;;\n    esac\n");
}

/* Right after a command of several things, those. */
static void verbs(ww__text *text, const ww_command *command) {
    if (!command->verbs)
        return;
    ww__text_add_format(text, "    \"%s %s\") words='", command->name, command->name);
    for (const ww_verb *verb = command->verbs; verb->name; verb++)
        ww__text_add_format(text, "%s%s", verb == command->verbs ? "" : " ", verb->name);
    ww__text_add(text, "'\n"
                       "        [[ $current == -* ]] && words=$options\n"
                       "        mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$current\")\n"
                       "        return ;;\n");
}

/* Options whose value is one of several words, and those whose value only the user knows. */
static void values(ww__text *text, const ww_command *command) {
    const ww_option *option;
    verbs(text, command);
    for (size_t i = 0; (option = ww__commands_option_at(command, i)) != NULL; i++) {
        const char *word;
        if (option->kind == WW_OPTION_WORD) {
            ww__text_add_format(text, "    \"%s %s\") words='", command->name, option->name);
            for (size_t k = 0; (word = option->word(k)) != NULL; k++)
                ww__text_add_format(text, "%s%s", k ? " " : "", word);
            ww__text_add(text, "'\n"
                               "        mapfile -t COMPREPLY < <(compgen -W \"$words\" -- "
                               "\"$current\")\n"
                               "        return ;;\n");
        } else if (option->kind == WW_OPTION_NUMBER || option->kind == WW_OPTION_WHOLE ||
                   option->kind == WW_OPTION_TEXT) {
            ww__text_add_format(text, "    \"%s %s\") return ;;\n", command->name, option->name);
        }
    }
}

void ww__help_completion(ww__text *text) {
    ww__text_add(text, beginning);
    step_over(text);
    ww__text_add(text, "    local commands='");
    names(text);
    ww__text_add(text, "'\n");
    command_options(text);
    ww__text_add(text, "    case \"$command $before\" in\n");
    for (size_t i = 0; i < ww__commands_count; i++)
        values(text, &ww__commands[i]);
    /* The operand of help is a command. */
    ww__text_add(text, "    \"help \"*) [[ $current == -* ]] || options=$commands; words=$options\n"
                       "        mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$current\")\n"
                       "        return ;;\n"
                       "    esac\n");
    ww__text_add(text, ending);
}
