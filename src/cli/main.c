/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/complain.h"
#include "cli/cut_short.h"
#include "cli/help.h"
#include "cli/hold.h"
#include "cli/outputs.h"
#include <errno.h>
#include <fcntl.h>
#include <malloc.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>
#include <wedgework/start.h>

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

/* Memory that was given back is kept for what is asked for next: by default each large piece comes
 * from the system and goes back to it, and a small scan then spends a third of its time on fresh
 * pages. What is held at once stays as it was. */
static void keep_memory(void) {
    mallopt(M_MMAP_THRESHOLD, 32 << 20);
    mallopt(M_TRIM_THRESHOLD, 32 << 20);
}

static ww_status run(int argc, char *argv[], ww_outcome *outcome, ww_error *err) {
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
        status = arguments.command->run(&arguments, outcome, err);
    ww__arguments_release(&arguments);
    return status;
}

/* No locale is set: numbers and messages are the same everywhere, and texts are UTF-8. */
int main(int argc, char *argv[]) {
    ww_error err = WW_ERROR_INIT;
    ww_outcome outcome = {true, false};
    hold_standard_streams();
    ignore_signals();
    keep_memory();
    ww__hold_start();
    ww__cut_short_start();
    if (ww_start() != WW_OK)
        ww_error_set(&err, WW_EINTERNAL, "the library did not start; please report this");
    else
        err.code = run(argc, argv, &outcome, &err);
    if (err.code != WW_OK) {
        if (!outcome.told)
            ww__complain(&err);
        return ww__complain_status(&err);
    }
    return outcome.holds ? 0 : 1; /* told to users by ww__exits */
}
