/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * browse PROFILE PAGE.html [eval EXPRESSION | key NAME | pages]... - opens a page in a real,
 * headless Chromium and prints a line for each thing asked: what an expression gives, as text; or
 * how many pages it prints on, and each one's size in whole mm. A key ("ArrowRight") is pressed
 * where the focus is, without a line. Then a line for each thing that the browser complained of,
 * "console: ...". It talks to the browser through two pipes, as its own tools do
 * (--remote-debugging-pipe: JSON with a NUL at the end of each message). PROFILE is a folder for
 * the browser to write to. Exit status 0; 77 there is no Chromium; 1 it did not do as asked.
 */
#include <fcntl.h>
#include <jansson.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { TIMEOUT_S = 120, TO_BROWSER = 3, FROM_BROWSER = 4, COMPLAINTS_MOST = 50 };

static FILE *to, *from;
static char *session; /* of the page, once there is one */
static char *complaint[COMPLAINTS_MOST];
static size_t n_complaints;
static bool loaded;

static void give_up(const char *what) {
    fprintf(stderr, "browse: %s\n", what);
    exit(1);
}

static const char *text_at(const json_t *object, const char *key) {
    const char *text = json_string_value(json_object_get(object, key));
    return text ? text : "";
}

static void keep_complaint(const char *text) {
    if (n_complaints < COMPLAINTS_MOST)
        complaint[n_complaints++] = strdup(text);
}

static void see_event(const json_t *message) {
    const char *method = text_at(message, "method");
    const json_t *params = json_object_get(message, "params");
    if (strcmp(method, "Page.loadEventFired") == 0)
        loaded = true;
    else if (strcmp(method, "Log.entryAdded") == 0)
        keep_complaint(text_at(json_object_get(params, "entry"), "text"));
    else if (strcmp(method, "Runtime.exceptionThrown") == 0)
        keep_complaint(text_at(json_object_get(params, "exceptionDetails"), "text"));
    else if (strcmp(method, "Runtime.consoleAPICalled") == 0)
        keep_complaint(text_at(params, "type"));
}

static json_t *receive(void) {
    char *line = NULL;
    size_t room = 0;
    json_t *message;
    if (getdelim(&line, &room, '\0', from) <= 0)
        give_up("the browser has gone");
    message = json_loads(line, 0, NULL);
    free(line);
    if (!message)
        give_up("the browser sent what is no JSON");
    return message;
}

/* The result of a method; params are released. */
static json_t *call(const char *method, json_t *params) {
    static int last;
    const int id = ++last;
    json_t *request = json_pack("{s:i, s:s, s:o}", "id", id, "method", method, "params", params);
    char *line;
    if (session)
        json_object_set_new(request, "sessionId", json_string(session));
    line = json_dumps(request, JSON_COMPACT);
    json_decref(request);
    fwrite(line, 1, strlen(line) + 1, to);
    fflush(to);
    free(line);
    for (;;) {
        json_t *message = receive(), *result;
        if (json_integer_value(json_object_get(message, "id")) != id) {
            see_event(message);
            json_decref(message);
            continue;
        }
        result = json_incref(json_object_get(message, "result"));
        if (!result)
            give_up(text_at(json_object_get(message, "error"), "message"));
        json_decref(message);
        return result;
    }
}

static void start(const char *profile) {
    int down[2], up[2];
    char folder[4096];
    snprintf(folder, sizeof folder, "--user-data-dir=%s", profile);
    if (pipe(down) != 0 || pipe(up) != 0)
        give_up("no pipes");
    if (fork() == 0) {
        const int quiet = open("/dev/null", O_WRONLY);
        const int in = fcntl(down[0], F_DUPFD, 10), out = fcntl(up[1], F_DUPFD, 10);
        dup2(in, TO_BROWSER);
        dup2(out, FROM_BROWSER);
        dup2(quiet, STDERR_FILENO);
        dup2(quiet, STDOUT_FILENO);
        execlp("chromium", "chromium", "--headless", "--disable-gpu", "--no-sandbox",
               "--no-first-run", "--remote-debugging-pipe", "--window-size=1000,1400", folder,
               (char *)NULL);
        _exit(77);
    }
    close(down[0]);
    close(up[1]);
    to = fdopen(down[1], "w");
    from = fdopen(up[0], "r");
}

static void open_page(const char *path) {
    char *whole = realpath(path, NULL), url[4200];
    json_t *result;
    if (!whole)
        give_up("there is no such page");
    snprintf(url, sizeof url, "file://%s", whole);
    free(whole);
    result = call("Target.createTarget", json_pack("{s:s}", "url", "about:blank"));
    json_t *attached =
        call("Target.attachToTarget",
             json_pack("{s:s, s:b}", "targetId", text_at(result, "targetId"), "flatten", true));
    session = strdup(text_at(attached, "sessionId"));
    json_decref(result);
    json_decref(attached);
    json_decref(call("Page.enable", json_object()));
    json_decref(call("Log.enable", json_object()));
    json_decref(call("Runtime.enable", json_object()));
    json_decref(call("Network.enable", json_object()));
    loaded = false;
    json_decref(call("Page.navigate", json_pack("{s:s}", "url", url)));
    while (!loaded) {
        json_t *message = receive();
        see_event(message);
        json_decref(message);
    }
}

static void evaluate(const char *expression) {
    json_t *result =
        call("Runtime.evaluate", json_pack("{s:s, s:b, s:b}", "expression", expression,
                                           "returnByValue", true, "awaitPromise", true));
    const json_t *value = json_object_get(json_object_get(result, "result"), "value");
    if (json_object_get(result, "exceptionDetails"))
        give_up(text_at(json_object_get(json_object_get(result, "exceptionDetails"), "exception"),
                        "description"));
    if (json_is_string(value)) {
        puts(json_string_value(value));
    } else {
        char *text = value ? json_dumps(value, JSON_ENCODE_ANY) : NULL;
        puts(text ? text : "undefined");
        free(text);
    }
    json_decref(result);
}

static void press(const char *key) {
    static const char *const type[] = {"rawKeyDown", "keyUp"};
    const struct {
        const char *name;
        int code; /* as the browser knows keys: UI Events, legacy key codes */
    } known[] = {{"ArrowLeft", 37}, {"ArrowUp", 38}, {"ArrowRight", 39}, {"ArrowDown", 40}};
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
        for (size_t k = 0; strcmp(key, known[i].name) == 0 && k < 2; k++)
            json_decref(call("Input.dispatchKeyEvent",
                             json_pack("{s:s, s:s, s:s, s:i}", "type", type[k], "key", key, "code",
                                       key, "windowsVirtualKeyCode", known[i].code)));
}

static int value_of(char c) {
    static const char letters[] =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const char *at = c ? strchr(letters, c) : NULL;
    return at ? (int)(at - letters) : -1;
}

static char *decode(const char *base64) {
    char *bytes = malloc(strlen(base64) + 1);
    size_t n = 0;
    unsigned bits = 0, have = 0;
    for (; bytes && value_of(*base64) >= 0; base64++) {
        bits = (bits << 6 | (unsigned)value_of(*base64)) & 0xffffffu;
        if ((have += 6) >= 8) {
            have -= 8;
            bytes[n] = (char)(bits >> have & 0xffu);
            n += 1;
        }
    }
    for (size_t i = 0; bytes && i < n; i++)
        if (!bytes[i])
            bytes[i] = ' '; /* streams are of no interest here, and strings end at a NUL */
    if (bytes)
        bytes[n] = '\0';
    return bytes;
}

/* Sizes stand in the PDF in points. */
static void print_pages(void) {
    json_t *result = call("Page.printToPDF", json_pack("{s:b, s:b}", "preferCSSPageSize", true,
                                                       "printBackground", false));
    char *pdf = decode(text_at(result, "data"));
    size_t n = 0;
    if (!pdf)
        give_up("no memory");
    for (const char *at = pdf; (at = strstr(at, "/MediaBox ["));) {
        double left, bottom, right, top;
        at += strlen("/MediaBox [");
        if (sscanf(at, "%lf %lf %lf %lf", &left, &bottom, &right, &top) == 4)
            printf("%s%.0fx%.0f", n++ ? " " : "", (right - left) * 25.4 / 72.0,
                   (top - bottom) * 25.4 / 72.0);
    }
    printf("\n");
    free(pdf);
    json_decref(result);
}

int main(int argc, char *argv[]) {
    if (argc < 3)
        give_up("usage: browse PROFILE PAGE.html [eval EXPRESSION | key NAME | pages]...");
    signal(SIGPIPE, SIG_IGN);
    alarm(TIMEOUT_S);
    start(argv[1]);
    open_page(argv[2]);
    for (int i = 3; i < argc; i++)
        if (strcmp(argv[i], "eval") == 0 && i + 1 < argc)
            evaluate(argv[++i]);
        else if (strcmp(argv[i], "key") == 0 && i + 1 < argc)
            press(argv[++i]);
        else if (strcmp(argv[i], "pages") == 0)
            print_pages();
        else
            give_up("what is asked of the page is 'eval EXPRESSION', 'key NAME' or 'pages'");
    free(session);
    session = NULL;
    json_decref(call("Browser.close", json_object()));
    for (size_t i = 0; i < n_complaints; i++) {
        printf("console: %s\n", complaint[i]);
        free(complaint[i]);
    }
    return 0;
}
