/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"
#include "cli/outputs.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/lesson.h>
#include <wedgework/lesson_class.h>
#include <wedgework/lesson_file.h>
#include <wedgework/lesson_text.h>
#include <wedgework/output.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>

static ww_status document(const void *lesson, char **text, size_t *n, ww_error *err) {
    return ww_lesson_file_text(lesson, text, n, err);
}

static ww_status table(const void *lesson, char **text, size_t *n, ww_error *err) {
    return ww_lesson_file_table(lesson, text, n, err);
}

static ww_status text(const void *lesson, const ww_text_style *style, char **made, ww_error *err) {
    return ww_lesson_text(lesson, style, made, err);
}

static ww_status plot(const void *lesson, const char *path, ww_error *err) {
    return ww_plot_lesson(lesson, path, err);
}

static ww_status page(const void *lesson, const char *path, ww_error *no_plot, ww_error *err) {
    return ww_page_lesson(lesson, path, no_plot, err);
}

static unsigned long whole_or(const ww_arguments *arguments, const char *name,
                              unsigned long otherwise) {
    const ww_optional given = ww__arguments_number(arguments, name);
    return given.set ? (unsigned long)given.value : otherwise;
}

static ww_status request_from(const ww_arguments *arguments, ww_lesson_request *request,
                              ww_error *err) {
    const char *fault = ww__arguments_text(arguments, "--fault");
    const char *material = ww__arguments_text(arguments, "--material");
    if (!ww__arguments_has(arguments, "--seed"))
        return ww_error_set(err, WW_EUSAGE,
                            "lesson needs a seed; give --seed N, any whole number from 1 on");
    request->seed = whole_or(arguments, "--seed", 1);
    request->student = whole_or(arguments, "--student", 1);
    if (material)
        request->kind = strcmp(material, "paper") == 0 ? WW_LESSON_PAPER : WW_LESSON_FILM;
    request->any_fault = fault && strcmp(fault, "any") == 0;
    for (size_t i = 0; fault && i < WW_LESSON_FAULTS; i++)
        if (strcmp(fault, ww_lesson_fault_name(i)) == 0)
            request->fault = (ww_lesson_fault)i;
    return WW_OK;
}

static ww_status write_answers(const ww_lesson *lesson, const char *path, ww_error *err) {
    static const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *made = NULL;
    size_t n = 0;
    ww_status status = ww__forms_ends_in(path, ".txt")
                           ? ww_lesson_answers(lesson, &style, &made, err)
                           : ww_lesson_file_answers(lesson, &made, &n, err);
    if (status == WW_OK)
        status = ww_output_write(path, made, n > 0 ? n : strlen(made), err);
    free(made);
    return status;
}

static ww_status make(const ww_arguments *arguments, ww_error *err) {
    ww_lesson_request request = WW_LESSON_REQUEST_INIT;
    ww_lesson lesson;
    const char *answers = ww__arguments_text(arguments, "--answers");
    const ww_result result = {.of = &lesson,
                              .document = document,
                              .file = table,
                              .text = text,
                              .plot = plot,
                              .page = page};
    ww_status status = ww__outputs_check(arguments, err);
    if (status == WW_OK)
        status = request_from(arguments, &request, err);
    if (status == WW_OK)
        status = ww_lesson_make(&request, &lesson, err);
    if (status == WW_OK && answers)
        status = write_answers(&lesson, answers, err);
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    return status;
}

/* --- a class ---------------------------------------------------------------------------------- */

static ww_status class_document(const void *made, char **text, size_t *n, ww_error *err) {
    return ww_lesson_class_file_text(made, text, n, err);
}

static ww_status class_text(const void *made, const ww_text_style *style, char **text,
                            ww_error *err) {
    return ww_lesson_class_text(made, style, text, err);
}

static ww_status class_plot(const void *made, const char *path, ww_error *err) {
    return ww_plot_lesson_class(made, path, err);
}

static ww_status class_page(const void *made, const char *path, ww_error *no_plot, ww_error *err) {
    return ww_page_lesson_class(made, path, no_plot, err);
}

static ww_status check_class(const ww_arguments *arguments, ww_error *err) {
    static const char *const of_lessons[] = {"--seed", "--student", "--material", "--fault",
                                             "--answers"};
    for (size_t i = 0; i < sizeof of_lessons / sizeof *of_lessons; i++)
        if (ww__arguments_has(arguments, of_lessons[i]))
            return ww_error_set(err, WW_EUSAGE, "%s says nothing to a class; leave it out",
                                of_lessons[i]);
    if (arguments->n_files < 2)
        return ww_error_set(err, WW_EUSAGE,
                            "a class needs two files or more; write wedgework lesson --class "
                            "R1.csv R2.csv...");
    return ww__outputs_check(arguments, err);
}

static ww_status overlay(const ww_arguments *arguments, ww_error *err) {
    static const ww_readings empty = WW_READINGS_INIT;
    ww_lesson_class made = WW_LESSON_CLASS_INIT;
    const ww_result result = {.of = &made,
                              .document = class_document,
                              .text = class_text,
                              .plot = class_plot,
                              .page = class_page};
    const size_t n = arguments->n_files;
    ww_status status = check_class(arguments, err);
    if (status != WW_OK)
        return status;
    ww_readings *readings = calloc(n, sizeof *readings);
    if (!readings)
        return ww_error_set(err, WW_EMEMORY, "no memory for a class of %zu", n);
    for (size_t i = 0; i < n; i++)
        readings[i] = empty;
    for (size_t i = 0; i < n && status == WW_OK; i++)
        status = ww_readings_file_read(arguments->file[i], &readings[i], err);
    if (status == WW_OK)
        status = ww_lesson_class_make(readings, n, &made, err);
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    ww_lesson_class_release(&made);
    for (size_t i = 0; i < n; i++)
        ww_readings_release(&readings[i]);
    free(readings);
    return status;
}

ww_status ww__cmd_lesson(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    outcome->holds = true;
    if (ww__arguments_has(arguments, "--class"))
        return overlay(arguments, err);
    if (arguments->n_files > 0)
        return ww_error_set(err, WW_EUSAGE,
                            "a lesson reads no file; --class lays the files of a class over each "
                            "other");
    return make(arguments, err);
}
