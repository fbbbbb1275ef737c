/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

extern char **environ;

enum {
    OUTPUT_MAX = 64 << 20, /* [bytes]; a plot has some hundred thousand */
    INPUT = 0,
    OUTPUT = 1,
    MESSAGES = 2,
    START = 3, /* says why it could not start; closed when it has */
    STREAMS
};

struct child {
    pid_t pid;
    int fd[STREAMS];       /* our ends of its standard streams; -1: closed */
    const ww__text *input; /* what it is being sent, */
    const ww__text *tail;  /* and what is sent next; NULL: nothing */
    size_t sent;           /* of the input */
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

/* No signal is blocked or ignored, whatever this thread has set. */
static void take_signals_as_ever(void) {
    const struct sigaction as_ever = {.sa_handler = SIG_DFL};
    sigset_t none;
    for (int i = 1; i < SIGRTMIN; i++)
        sigaction(i, &as_ever, NULL);
    sigemptyset(&none);
    sigprocmask(SIG_SETMASK, &none, NULL);
}

/*
 * In the child, which takes no memory and no lock: other threads, left behind, may hold those.
 *
 * It is in a group of its own, since gnuplot does not end by Ctrl-C: it would take the rest of what
 * it is being sent, pixels, for commands. It ends when this program does, however that comes about.
 */
static void become(const char *program, char *argv[], const int end[STREAMS], char **settings,
                   pid_t parent) {
    int failure = 0;
    setpgid(0, 0);
    take_signals_as_ever();
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (getppid() != parent) /* it has ended meanwhile */
        _exit(EXIT_FAILURE);
    for (int i = INPUT; i <= MESSAGES && !failure; i++)
        if (dup2(end[i], i) < 0)
            failure = errno;
    if (!failure) {
        environ = settings;
        execvp(program, argv);
        failure = errno;
    }
    send(end[START], &failure, sizeof failure, MSG_NOSIGNAL);
    _exit(EXIT_FAILURE);
}

/* 0, or why there is no child. */
static int spawn(const char *program, const int end[STREAMS], char **settings,
                 struct child *child) {
    char name[] = "gnuplot", defaults[] = "-d", standard_input[] = "-";
    char *argv[] = {name, defaults, standard_input, NULL};
    const pid_t parent = getpid();
    child->pid = fork();
    if (child->pid == 0)
        become(program, argv, end, settings, parent);
    return child->pid < 0 ? errno : 0;
}

/* Waits until it has started; 0, or why it has not. */
static int hear_of_start(struct child *child) {
    int failure = 0;
    ssize_t got;
    do
        got = recv(child->fd[START], &failure, sizeof failure, 0);
    while (got < 0 && errno == EINTR);
    if (got <= 0)
        return 0;
    while (waitpid(child->pid, NULL, 0) < 0 && errno == EINTR)
        ;
    return failure;
}

static ww_status refuse_start(const char *program, int failure, ww_error *err) {
    if (failure == ENOENT || failure == EACCES || failure == ENOTDIR)
        return ww_error_set(err, WW_ETOOL,
                            "no plot: '%s' is not installed or not on PATH; install gnuplot, or "
                            "leave the plot out",
                            program);
    return ww_error_set_system(err, failure == ENOMEM ? WW_EMEMORY : WW_ESYSTEM, failure, NULL,
                               "%s could not be started", program);
}

static ww_status start(const char *program, struct child *child, ww_error *err) {
    int theirs[STREAMS] = {-1, -1, -1, -1}, failure = 0;
    char **settings = make_environment();
    if (!settings)
        return ww_error_set(err, WW_EMEMORY, "no memory to start %s", program);
    for (int i = 0; i < STREAMS && !failure; i++) {
        int end[2];
        if (make_pair(end)) {
            child->fd[i] = end[0];
            theirs[i] = end[1];
        } else {
            failure = errno;
        }
    }
    if (!failure)
        failure = spawn(program, theirs, settings, child);
    free(settings);
    for (int i = 0; i < STREAMS; i++)
        close_end(&theirs[i]);
    if (!failure)
        failure = hear_of_start(child);
    close_end(&child->fd[START]);
    if (!failure)
        return WW_OK;
    for (int i = 0; i < STREAMS; i++)
        close_end(&child->fd[i]);
    return refuse_start(program, failure, err);
}

/* MSG_NOSIGNAL: a child that is gone must not end the program by SIGPIPE. */
static void feed(struct child *child) {
    const ssize_t sent = send(child->fd[INPUT], ww__text_string(child->input) + child->sent,
                              child->input->n - child->sent, MSG_NOSIGNAL | MSG_DONTWAIT);
    if (sent > 0)
        child->sent += (size_t)sent;
    if (child->sent == child->input->n && child->tail) {
        child->input = child->tail;
        child->tail = NULL;
        child->sent = 0;
    } else if (child->sent == child->input->n || (sent < 0 && errno != EAGAIN && errno != EINTR)) {
        close_end(&child->fd[INPUT]); /* its exit status will say why */
    }
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
        kill(-child->pid, SIGKILL); /* its group */
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

ww_status ww__plot_run(const char *program, int seconds, const ww__text *input,
                       const ww__text *tail, ww__text *output, ww_error *err) {
    struct child child = {0, {-1, -1, -1, -1}, input, tail, 0};
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
