/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"
#include <wedgework/lesson.h>

static const char *fault_word(size_t i) {
    return i == WW_LESSON_FAULTS ? "any" : ww_lesson_fault_name(i);
}

static const char *kind_word(size_t i) {
    static const char *const kinds[] = {"film", "paper"};
    return i < sizeof kinds / sizeof kinds[0] ? kinds[i] : NULL;
}

const char *const ww__lesson_args[] = {"--class R1.csv R2.csv...", NULL};

const ww_option ww__lesson_options[] = {
    {.name = "--seed",
     .value = "N",
     .brief = "which strip: any whole number from 1 on; needed",
     .kind = WW_OPTION_WHOLE,
     .limits = {1, 4294967295.0, false}},
    {.name = "--student",
     .value = "K",
     .brief = "whose readings of it (otherwise 1): the same strip, with errors of their own",
     .kind = WW_OPTION_WHOLE,
     .limits = {1, 4294967295.0, false}},
    {.name = "--material",
     .value = "WORD",
     .brief = "what was exposed (otherwise by seed)",
     .kind = WW_OPTION_WORD,
     .word = kind_word},
    {.name = "--fault",
     .value = "NAME",
     .brief = "what is spoilt on purpose (otherwise none); any: one of them, by seed",
     .kind = WW_OPTION_WORD,
     .word = fault_word},
    {.name = "--class",
     .brief = "lay the files of a class over each other: spread, who departs, what was copied",
     .kind = WW_OPTION_SWITCH},
    {.name = "--answers",
     .value = "ANSWERS.json|.txt",
     .brief = "write the answers with their working, in words where the name ends in .txt",
     .kind = WW_OPTION_OUTPUT},
    {.name = "-o",
     .value = "READINGS.csv",
     .brief = "write the readings that are handed out; - is standard output",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};
