/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/help.h"
#include "cli/outputs.h"
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>
#include <wedgework/start.h>

/* Told to users by ww__exits. */
enum { DONE = 0, NOT_HELD = 1, WRONG_USE = 2, BAD_INPUT = 3, REFUSED = 4, OUR_BUG = 70 };

static int exit_status(const ww_error *err) {
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
static void complain(const ww_error *err) {
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

/*
 * A descriptor that the caller has closed would be given to the next file opened, and what is meant
 * for the terminal would land in it. Opened the wrong way round, each use of it fails cleanly.
 */
static void hold_standard_streams(void) {
    for (int fd = STDIN_FILENO; fd <= STDERR_FILENO; fd++)
        if (fcntl(fd, F_GETFD) < 0 && errno == EBADF &&
            open("/dev/null", fd == STDIN_FILENO ? O_WRONLY : O_RDONLY) < 0)
            continue;
}

/* A reader gone and a limit on file size come back from write(), with a message. */
static void ignore_signals(void) {
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    sigemptyset(&ignore.sa_mask);
    sigaction(SIGPIPE, &ignore, NULL);
    sigaction(SIGXFSZ, &ignore, NULL);
}

static ww_status run(int argc, char *argv[], bool *holds, ww_error *err) {
    ww_arguments arguments = WW_ARGUMENTS_INIT;
    ww_status status = ww__arguments_parse(argc, argv, &arguments, err);
    if (status != WW_OK)
        return status;
    if (arguments.help)
        status = ww__help_print(arguments.command, err);
    else if (arguments.version)
        status = ww__help_version(err);
    else if (!arguments.command)
        status = ww_error_set(err, WW_EUSAGE,
                              "no command given; write wedgework COMMAND [OPTION...] "
                              "[FILE...], or see `wedgework help`");
    else
        status = arguments.command->run(&arguments, holds, err);
    ww__arguments_release(&arguments);
    return status;
}

/* No locale is set: numbers and messages are the same everywhere, and texts are UTF-8. */
int main(int argc, char *argv[]) {
    ww_error err = WW_ERROR_INIT;
    bool holds = true;
    hold_standard_streams();
    ignore_signals();
    if (ww_start() != WW_OK)
        ww_error_set(&err, WW_EINTERNAL, "the library did not start; please report this");
    else
        err.code = run(argc, argv, &holds, &err);
    if (err.code != WW_OK) {
        complain(&err);
        return exit_status(&err);
    }
    return holds ? DONE : NOT_HELD;
}
