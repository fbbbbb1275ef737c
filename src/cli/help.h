/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_HELP_H
#define WEDGEWORK_CLI_HELP_H

#include "base/text.h"
#include "cli/commands.h"

/* Everything here is made from the table of commands. Out of memory is found by ww__text_status. */

/* Help of one command, or of the program for NULL, on standard output. Status WW_OK; WW_ESYSTEM;
 * WW_EMEMORY */
ww_status ww__help_print(const ww_command *command, ww_error *err);

/* "wedgework 0.1.0" on standard output. Same status. */
ww_status ww__help_version(ww_error *err);

/* "--place TONE=DENSITY", "--quiet" */
void ww__help_form(ww__text *text, const ww_option *option);

/* What an option is for, its words or limits behind it. */
void ww__help_brief(ww__text *text, const ww_option *option);

/* What a verb is for, its options behind it. */
void ww__help_verb(ww__text *text, const ww_verb *verb);

/* The three documents for others: man.c, completion.c, readme.c. */
void ww__help_man(ww__text *text);
void ww__help_completion(ww__text *text);
void ww__help_readme(ww__text *text);

#endif
