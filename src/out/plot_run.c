/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

extern char **environ;

enum {
    OUTPUT_MAX = 64 << 20, /* [bytes]; a plot has some hundred thousand */
    NOT_FOUND = 127,       /* exit status where posix_spawn learns too late that it cannot start */
    INPUT = 0,
    OUTPUT = 1,
    MESSAGES = 2
};

struct child {
    pid_t pid;
    int fd[3]; /* our ends of its standard streams; -1: closed */
    const char *input;
    size_t left;
};

static void close_end(int *fd) {
    if (*fd >= 0)
        close(*fd);
    *fd = -1;
}

/* Both ends close on exec, and stay clear of the numbers that the child's own streams will have. */
static bool make_pair(int end[2]) {
    if (socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, end) != 0)
        return false;
    for (int i = 0; i < 2; i++)
        if (end[i] <= MESSAGES) {
            const int low = end[i];
            end[i] = fcntl(low, F_DUPFD_CLOEXEC, MESSAGES + 1);
            close(low);
            if (end[i] < 0) {
                const int why = errno;
                close_end(&end[1 - i]);
                errno = why;
                return false;
            }
        }
    return true;
}

/* A user's gnuplot settings and language would change what is drawn. */
static bool is_kept(const char *setting) {
    static const char *const dropped[] = {"LC_", "LANG", "GNUTERM", "GNUPLOT_"};
    for (size_t i = 0; i < sizeof dropped / sizeof dropped[0]; i++)
        if (strncmp(setting, dropped[i], strlen(dropped[i])) == 0)
            return false;
    return true;
}

static char **make_environment(void) {
    static char plain[] = "LC_ALL=C";
    size_t n = 0, kept = 0;
    char **settings;
    while (environ && environ[n])
        n++;
    settings = malloc((n + 2) * sizeof *settings);
    if (!settings)
        return NULL;
    for (size_t i = 0; i < n; i++)
        if (is_kept(environ[i]))
            settings[kept++] = environ[i];
    settings[kept++] = plain;
    settings[kept] = NULL;
    return settings;
}

/* The child starts with no signal blocked or ignored, whatever this thread has set. */
static int spawn(const char *program, const int end[3], char **settings, pid_t *pid) {
    char name[] = "gnuplot", defaults[] = "-d", standard_input[] = "-";
    char *argv[] = {name, defaults, standard_input, NULL};
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    sigset_t none, all;
    int failure = posix_spawn_file_actions_init(&actions);
    if (failure)
        return failure;
    failure = posix_spawnattr_init(&attributes);
    if (failure) {
        posix_spawn_file_actions_destroy(&actions);
        return failure;
    }
    sigemptyset(&none);
    sigfillset(&all);
    sigdelset(&all, SIGKILL);
    sigdelset(&all, SIGSTOP);
    posix_spawnattr_setsigmask(&attributes, &none);
    posix_spawnattr_setsigdefault(&attributes, &all);
    posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF);
    for (int i = 0; i < 3 && !failure; i++)
        failure = posix_spawn_file_actions_adddup2(&actions, end[i], i);
    if (!failure)
        failure = posix_spawnp(pid, program, &actions, &attributes, argv, settings);
    posix_spawnattr_destroy(&attributes);
    posix_spawn_file_actions_destroy(&actions);
    return failure;
}

static ww_status refuse_missing(const char *program, ww_error *err) {
    return ww_error_set(err, WW_ETOOL,
                        "no plot: '%s' is not installed or not on PATH; install gnuplot, or leave "
                        "the plot out",
                        program);
}

static ww_status start(const char *program, struct child *child, ww_error *err) {
    int theirs[3] = {-1, -1, -1}, failure = 0;
    char **settings = make_environment();
    if (!settings)
        return ww_error_set(err, WW_EMEMORY, "no memory to start %s", program);
    for (int i = 0; i < 3 && !failure; i++) {
        int end[2];
        if (make_pair(end)) {
            child->fd[i] = end[0];
            theirs[i] = end[1];
        } else {
            failure = errno;
        }
    }
    if (!failure)
        failure = spawn(program, theirs, settings, &child->pid);
    free(settings);
    for (int i = 0; i < 3; i++)
        close_end(&theirs[i]);
    if (!failure)
        return WW_OK;
    for (int i = 0; i < 3; i++)
        close_end(&child->fd[i]);
    if (failure == ENOENT || failure == EACCES || failure == ENOTDIR)
        return refuse_missing(program, err);
    return ww_error_set_system(err, failure == ENOMEM ? WW_EMEMORY : WW_ESYSTEM, failure, NULL,
                               "%s could not be started", program);
}

/* MSG_NOSIGNAL: a child that is gone must not end the program by SIGPIPE. */
static void feed(struct child *child) {
    const ssize_t sent =
        send(child->fd[INPUT], child->input, child->left, MSG_NOSIGNAL | MSG_DONTWAIT);
    if (sent > 0) {
        child->input += sent;
        child->left -= (size_t)sent;
    }
    if (child->left == 0 || (sent < 0 && errno != EAGAIN && errno != EINTR))
        close_end(&child->fd[INPUT]); /* its exit status will say why */
}

static void collect(int *fd, ww__text *text) {
    char bytes[16384];
    const ssize_t got = recv(*fd, bytes, sizeof bytes, MSG_DONTWAIT);
    if (got > 0)
        ww__text_add_bytes(text, bytes, (size_t)got);
    else if (got == 0 || (errno != EAGAIN && errno != EINTR))
        close_end(fd);
}

static long milliseconds_left(const struct timespec *end) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (long)(end->tv_sec - now.tv_sec) * 1000 + (end->tv_nsec - now.tv_nsec) / 1000000;
}

/* Until it has closed both of its outputs. False: time or patience with its output ran out. */
static bool converse(struct child *child, const struct timespec *end, ww__text text[3]) {
    while (child->fd[OUTPUT] >= 0 || child->fd[MESSAGES] >= 0) {
        struct pollfd wait[3];
        const long left = milliseconds_left(end);
        for (int i = 0; i < 3; i++)
            wait[i] = (struct pollfd){child->fd[i], i == INPUT ? POLLOUT : POLLIN, 0};
        if (left <= 0 || text[OUTPUT].n > OUTPUT_MAX || text[MESSAGES].n > OUTPUT_MAX)
            return false;
        if (poll(wait, 3, (int)left) < 0 && errno != EINTR)
            return false;
        if (child->fd[INPUT] >= 0 && wait[INPUT].revents)
            feed(child);
        for (int i = OUTPUT; i <= MESSAGES; i++)
            if (child->fd[i] >= 0 && wait[i].revents)
                collect(&child->fd[i], &text[i]);
    }
    return true;
}

/* Its exit status; -1 where it had to be ended. ECHILD: the program that we are part of ignores
 * SIGCHLD, and the status is lost; what was printed decides then. */
static int finish(struct child *child, const struct timespec *end, bool in_time) {
    int status = 0;
    pid_t got = 0;
    for (int i = 0; i < 3; i++)
        close_end(&child->fd[i]);
    while (in_time && (got = waitpid(child->pid, &status, WNOHANG)) == 0) {
        const struct timespec pause = {0, 2000000};
        in_time = milliseconds_left(end) > 0;
        nanosleep(&pause, NULL);
    }
    if (!in_time) {
        kill(child->pid, SIGKILL);
        while (waitpid(child->pid, &status, 0) < 0 && errno == EINTR)
            ;
        return -1;
    }
    if (got < 0)
        return 0;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

/* The last line that says anything but a warning: gnuplot echoes the place above its message. */
static const char *last_line(ww__text *messages) {
    const char *last = NULL;
    char *line = messages->bytes;
    while (line && *line) {
        char *end = line + strcspn(line, "\n");
        char *next = *end ? end + 1 : end;
        *end = '\0';
        for (char *at = line; *at; at++)
            if ((unsigned char)*at < ' ')
                *at = ' ';
        line += strspn(line, " ");
        if (*line && (!last || !strstr(line, "warning:")))
            last = line;
        line = next;
    }
    return last ? last : "it said nothing";
}

ww_status ww__plot_run(const char *program, int seconds, const ww__text *input, ww__text *output,
                       ww_error *err) {
    struct child child = {0, {-1, -1, -1}, ww__text_string(input), input->n};
    ww__text text[3] = {WW__TEXT_INIT, WW__TEXT_INIT, WW__TEXT_INIT};
    struct timespec end;
    int exit_status;
    ww_status status = start(program, &child, err);
    if (status != WW_OK)
        return status;
    clock_gettime(CLOCK_MONOTONIC, &end);
    end.tv_sec += seconds;
    exit_status = finish(&child, &end, converse(&child, &end, text));
    if (exit_status == -1)
        status = ww_error_set(err, WW_ETOOL, "no plot: %s took longer than %d s and was stopped",
                              program, seconds);
    else if (exit_status == NOT_FOUND && text[MESSAGES].n == 0)
        status = refuse_missing(program, err);
    else if (exit_status != 0 || (text[OUTPUT].n == 0 && !text[OUTPUT].failed))
        status = ww_error_set(err, WW_ETOOL, "no plot: %s failed (exit status %d): %.400s", program,
                              exit_status, last_line(&text[MESSAGES]));
    else
        status = ww__text_status(&text[OUTPUT], err);
    if (status == WW_OK) {
        *output = text[OUTPUT];
        text[OUTPUT] = (ww__text)WW__TEXT_INIT;
    }
    for (int i = 0; i < 3; i++)
        ww__text_release(&text[i]);
    return status;
}
