/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/complain.h"
#include "base/escape.h"
#include "base/text.h"
#include <stdio.h>
#include <string.h>

/* Told to users by ww__exits. */
enum { DONE = 0, WRONG_USE = 2, BAD_INPUT = 3, REFUSED = 4, OUR_BUG = 70 };

int ww__complain_status(const ww_error *err) {
    switch (err->code) {
    case WW_OK:
        return DONE;
    case WW_EDOMAIN: /* a number from a file, or one from an option */
        return err->file[0] ? BAD_INPUT : WRONG_USE;
    case WW_EUSAGE:
        return WRONG_USE;
    case WW_EINPUT:
    case WW_EMISMATCH:
    case WW_ENODATA:
    case WW_ECONVERGE:
        return BAD_INPUT;
    case WW_EMEMORY:
    case WW_ESYSTEM:
    case WW_ETOOL:
        return REFUSED;
    case WW_EINTERNAL:
        break;
    }
    return OUR_BUG;
}

/* File names and values come from outside: nothing in them may steer the terminal. */
void ww__complain(const ww_error *err) {
    ww__text line = WW__TEXT_INIT;
    ww__text_add(&line, "wedgework: ");
    if (err->file[0])
        ww__escape_terminal(&line, strcmp(err->file, "-") == 0 ? "standard input" : err->file);
    if (err->file[0] && err->line > 0)
        ww__text_add_format(&line, ":%zu", err->line);
    if (err->file[0])
        ww__text_add(&line, ": ");
    ww__escape_terminal(&line,
                        err->msg[0] ? err->msg : "it failed without a reason; please report this");
    ww__text_add(&line, "\n");
    fputs(line.failed ? "wedgework: no memory; close other programs\n" : ww__text_string(&line),
          stderr);
    ww__text_release(&line);
}
