/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_VERBS_H
#define WEDGEWORK_CLI_VERBS_H

#include "cli/options.h"

/*
 * ww__verbs_take - the first operand as what the command shall do: it moves from the files to
 *                  arguments->verb.
 *
 * Status    WW_OK; WW_EUSAGE no verb or an unknown one, too few or too many files for it, an option
 *           that belongs to another of the command's verbs
 */
ww_status ww__verbs_take(ww_arguments *arguments, ww_error *err);

/* Whether the verb takes an option of its command's own. */
struct ww_verb;
bool ww__verbs_has(const struct ww_verb *verb, const char *option);

#endif
