/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/print_again.h"
#include "base/escape.h"
#include "base/text.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/readings_file.h>

static const double same_number = 1e-6; /* of it: sizes that were typed alike */

void ww__print_again_release(ww__print_again *again) {
    ww_print_offsets_release(again->offset, again->n_offsets);
    ww_print_miss_release(&again->miss);
    ww_print_recipe_release(&again->recipe);
    ww_notes_release(&again->notes);
}

ww_status ww__print_again_read(const ww_arguments *arguments, ww__print_again *again,
                               ww_print_request *request, ww_error *err) {
    const char *path = ww__arguments_text(arguments, "--recipe");
    ww_status status = WW_OK;
    if (!path && arguments->n_files == 0)
        return ww_error_set(err, WW_EUSAGE,
                            "print needs a file; write wedgework print NEG.csv, or - for standard "
                            "input, or give a stored plan with --recipe");
    if (!path)
        return WW_OK;
    status = ww_print_recipe_read(path, &again->recipe, err);
    if (status != WW_OK)
        return status;
    again->given = true;
    *request = again->recipe.request;
    return WW_OK;
}

/* ------------------------------------------------------------------------------- overrides */

static ww_status refuse_half(const char *has, const char *lacks, ww_error *err) {
    return ww_error_set(err, WW_EUSAGE,
                        "%s needs %s beside it: one says what was, the other what shall be; give "
                        "both",
                        has, lacks);
}

static ww_status refuse_from(const char *const option[2], const char *given, double stored,
                             ww_error *err) {
    ww__text was = WW__TEXT_INIT;
    ww_status status;
    ww__text_add_exact(&was, stored);
    status =
        ww_error_set(err, WW_EUSAGE,
                     "%s %s contradicts the recipe, whose papers or test print were exposed at "
                     "%s; give %s alone, or a new --paper or --test with both",
                     option[0], given, ww__text_string(&was), option[1]);
    ww__text_release(&was);
    return status;
}

ww_status ww__print_again_pair(const ww_arguments *arguments, const ww__print_again *again,
                               const char *const option[2], ww_optional *from, ww_optional *to,
                               ww_error *err) {
    const ww_optional new_from = ww__arguments_number(arguments, option[0]);
    const ww_optional new_to = ww__arguments_number(arguments, option[1]);
    const bool renewed = ww__arguments_count(arguments, "--paper") > 0 ||
                         ww__arguments_count(arguments, "--test") > 0;
    if (new_to.set && !new_from.set && !from->set)
        return again->given
                   ? ww_error_set(err, WW_EUSAGE,
                                  "%s needs %s beside it: the recipe does not say what its papers "
                                  "or test print were exposed at; give both",
                                  option[1], option[0])
                   : refuse_half(option[1], option[0], err);
    if (new_from.set && !new_to.set && !to->set)
        return refuse_half(option[0], option[1], err);
    if (new_from.set && from->set && !renewed &&
        fabs(new_from.value - from->value) > same_number * from->value)
        return refuse_from(option, ww__arguments_text(arguments, option[0]), from->value, err);
    *from = new_from.set ? new_from : *from;
    *to = new_to.set ? new_to : *to;
    return WW_OK;
}

static bool is_placed(const ww_print_request *request, const char *tone) {
    for (size_t i = 0; i < request->n_places; i++)
        if (strcmp(request->place[i].tone, tone) == 0)
            return true;
    return false;
}

ww_status ww__print_again_places(const ww_arguments *arguments, ww__print_again *again,
                                 const ww_print_request *request, ww_error *err) {
    const ww_print_request *stored = &again->recipe.request;
    ww__text dropped = WW__TEXT_INIT;
    ww_status status = WW_OK;
    if (!again->given || ww__arguments_count(arguments, "--place") == 0)
        return WW_OK;
    for (size_t i = 0; i < stored->n_places; i++) {
        const ww_print_place *place = &stored->place[i];
        char shown[64];
        if (is_placed(request, place->tone))
            continue;
        ww__text_add_format(&dropped, "%s'%s' at ", dropped.n > 0 ? ", " : "",
                            ww__escape_message(place->tone, shown, sizeof shown));
        ww__text_add_exact(&dropped, place->aim);
    }
    if (dropped.failed)
        status = ww_error_set(err, WW_EMEMORY, "no memory for a note");
    else if (dropped.n > 0)
        status =
            ww_notes_add(&again->notes, err,
                         "The --place given here takes the place of all the recipe's; no longer "
                         "placed: %s. Give again what shall stay.",
                         ww__text_string(&dropped));
    ww__text_release(&dropped);
    return status;
}

ww_status ww__print_again_tests(const ww_arguments *arguments, ww__print_again *again,
                                ww_print_request *request, ww_error *err) {
    if (!again->given || ww__arguments_count(arguments, "--test") > 0)
        return WW_OK;
    return ww_print_tests_carry(&again->recipe.request, arguments->n_files > 0, request,
                                &again->notes, err);
}

/* -------------------------------------------------------------------------------- result */

ww_status ww__print_again_learn(const ww_arguments *arguments, ww__print_again *again,
                                ww_print_request *request, ww_error *err) {
    const ww_print_request *made = again->given ? &again->recipe.request : request;
    const char *path = ww__arguments_text(arguments, "--result");
    ww_readings print = WW_READINGS_INIT;
    ww_status status;
    if (!path)
        return WW_OK;
    status = ww_readings_file_read(path, &print, err);
    if (status == WW_OK)
        status = ww_print_result_explain(made, &print, &again->miss, err);
    if (status == WW_OK)
        status = ww_notes_copy_of(&print.notes, "Readings of the last print", &again->notes, err);
    if (status == WW_OK)
        status = ww_print_offsets_learn(&again->miss, request->offset, request->n_offsets,
                                        &again->offset, &again->n_offsets, err);
    ww_readings_release(&print);
    if (status == WW_OK) {
        request->offset = again->offset;
        request->n_offsets = again->n_offsets;
        request->lift = again->miss.lift;
    }
    return status;
}

ww_status ww__print_again_tell(ww__print_again *again, ww_print_plan *plan, ww_error *err) {
    if (again->miss.set) {
        plan->miss = malloc(sizeof *plan->miss);
        if (!plan->miss)
            return ww_error_set(err, WW_EMEMORY, "no memory for what the last print says");
        *plan->miss = again->miss;
        again->miss = (ww_print_miss)WW_PRINT_MISS_INIT;
    }
    return ww_notes_copy(&again->notes, &plan->notes, err);
}
