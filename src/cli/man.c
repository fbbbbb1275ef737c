/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/help.h"
#include <wedgework/start.h>

/* Words on one line of troff: a '-' that shall stay one, no escapes, no request at its start. */
static void words(ww__text *text, const char *string) {
    if (*string == '.' || *string == '\'')
        ww__text_add(text, "\\&");
    for (; *string; string++) {
        switch (*string) {
        case '-':
            ww__text_add(text, "\\-");
            break;
        case '\\':
            ww__text_add(text, "\\e");
            break;
        case '`':
            ww__text_add(text, "\\(ga");
            break;
        default:
            ww__text_add_bytes(text, string, 1);
        }
    }
}

static void line(ww__text *text, const char *string) {
    words(text, string);
    ww__text_add(text, "\n");
}

static void bold(ww__text *text, const char *string) {
    ww__text_add(text, "\\fB");
    words(text, string);
    ww__text_add(text, "\\fR");
}

static void italic(ww__text *text, const char *string) {
    ww__text_add(text, "\\fI");
    words(text, string);
    ww__text_add(text, "\\fR");
}

static void section(ww__text *text, const char *title) {
    ww__text_add_format(text, ".SH %s\n", title);
}

static void option(ww__text *text, const ww_option *o) {
    ww__text brief = WW__TEXT_INIT;
    ww__text_add(text, ".TP\n");
    bold(text, o->name);
    if (o->value) {
        ww__text_add(text, " ");
        italic(text, o->value);
    }
    ww__text_add(text, "\n");
    ww__help_brief(&brief, o);
    text->failed |= brief.failed;
    line(text, ww__text_string(&brief));
    ww__text_release(&brief);
}

static void options(ww__text *text, const ww_option *o) {
    for (; o->name; o++)
        option(text, o);
}

static void verbs(ww__text *text, const ww_command *c) {
    for (const ww_verb *verb = c->verbs; verb && verb->name; verb++) {
        ww__text brief = WW__TEXT_INIT;
        ww__text_add(text, ".TP\n");
        bold(text, verb->name);
        ww__text_add(text, " ");
        italic(text, verb->args);
        ww__text_add(text, "\n");
        ww__help_verb(&brief, verb);
        text->failed |= brief.failed;
        line(text, ww__text_string(&brief));
        ww__text_release(&brief);
    }
}

static void usage(ww__text *text, const ww_command *c, const char *args) {
    bold(text, "wedgework");
    ww__text_add(text, " ");
    bold(text, c->name);
    ww__text_add(text, " ");
    italic(text, args);
    ww__text_add(text, " [\\fIOPTION\\fR...]\n");
}

static void command(ww__text *text, const ww_command *c) {
    ww__text_add(text, ".SS ");
    line(text, c->name);
    usage(text, c, c->args);
    for (const char *const *other = c->other_args; other && *other; other++) {
        ww__text_add(text, ".br\n");
        usage(text, c, *other);
    }
    ww__text_add(text, ".PP\n");
    line(text, c->brief);
    ww__text_add(text, ".PP\n");
    line(text, c->about);
    verbs(text, c);
    options(text, c->options);
    ww__text_add(text, ".PP\nExample:\n.PP\n.RS 4\n.nf\n");
    line(text, c->example);
    ww__text_add(text, ".fi\n.RE\n");
}

static void files(ww__text *text) {
    section(text, "FILES");
    line(text,
         "Readings are tables of text (.csv): lines that begin with # are comments, and those "
         "of the form `# key: value` say what was read and how; then a line of column names, "
         "then one row a reading. CGATS.17 text is read too, with densities or with spectra, of "
         "which those of the file's density status are made. Curve files and print plans are "
         "JSON; numbers in them have a point, whatever the locale, and are not rounded.");
    ww__text_add(text, ".PP\n");
    line(text, "An output file is either the old one or the whole new one, whatever happens.");
}

static void environment(ww__text *text) {
    section(text, "ENVIRONMENT");
    ww__text_add(text, ".TP\n.B NO_COLOR\n");
    line(text, "no colour and no bold type, on a terminal too, when this is set and not empty");
    ww__text_add(text, ".TP\n.B PATH\n");
    line(text, "where gnuplot is found");
}

static void cautions(ww__text *text) {
    section(text, "CAUTIONS");
    line(text, "What is recommended is where to start, with the error to expect: make a test print "
               "before the print that counts. On chemicals, lamps and mains in wet rooms the data "
               "sheets of their makers and the rules of the room come first; nothing here replaces "
               "them.");
}

void ww__help_man(ww__text *text) {
    ww__text_add(text, ".\\\" Made by `wedgework help --man`; do not edit.\n");
    ww__text_add_format(text, ".TH WEDGEWORK 1 \"\" \"wedgework %s\" \"User commands\"\n",
                        ww_version());
    section(text, "NAME");
    line(text, "wedgework - from densities read on film and paper to the print");
    section(text, "SYNOPSIS");
    ww__text_add(text, ".B wedgework\n\\fICOMMAND\\fR [\\fIOPTION\\fR...] [\\fIFILE\\fR...]\n.br\n"
                       ".B wedgework help\n[\\fICOMMAND\\fR]\n.br\n"
                       ".B wedgework \\-\\-version\n");
    section(text, "DESCRIPTION");
    line(text, "Readings of a densitometer become characteristic curves with honest intervals, and "
               "the readings of a negative become a paper, a time and a warning about its clouds.");
    ww__text_add(text, ".PP\n");
    line(text, "Options may stand anywhere; --name VALUE and --name=VALUE mean the same; -- ends "
               "the options; - as a file that is read is standard input. Nothing is abbreviated.");
    section(text, "COMMANDS");
    for (size_t i = 0; i < ww__commands_count; i++)
        command(text, &ww__commands[i]);
    section(text, "OPTIONS OF EVERY COMMAND");
    options(text, ww__common_options);
    section(text, "EXIT STATUS");
    for (const ww_exit *e = ww__exits; e->meaning; e++) {
        ww__text_add_format(text, ".TP\n.B %d\n", e->status);
        line(text, e->meaning);
    }
    files(text);
    environment(text);
    cautions(text);
}
