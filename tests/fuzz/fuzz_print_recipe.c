/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/print_recipe.h>
#include <wedgework/start.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

/* What `print --recipe` would do with it. */
static void use(const ww_print_recipe *recipe) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    ww_error err = WW_ERROR_INIT;
    if (recipe->request.n_papers > 3 || recipe->request.negative->n > 50)
        return; /* slow, and nothing new */
    if (ww_print_plan_make(&recipe->request, &plan, &err) != WW_OK && err.msg[0] == '\0')
        abort();
    ww_print_plan_release(&plan);
}

/* Any input is refused with a message, or is written, read and written again to the same bytes. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    const ww_print_plan plan = WW_PRINT_PLAN_INIT;
    ww_print_recipe recipe = WW_PRINT_RECIPE_INIT, again = WW_PRINT_RECIPE_INIT;
    ww_error err = WW_ERROR_INIT;
    char *first = NULL, *second = NULL;
    size_t n_first = 0, n_second = 0;
    (void)ww_start();
    if (ww_print_recipe_parse("fuzz", (const char *)bytes, n, &recipe, &err) != WW_OK) {
        if (err.code == WW_OK || err.msg[0] == '\0')
            abort();
        return 0;
    }
    use(&recipe);
    if (ww_print_recipe_text(&plan, &recipe.request, &first, &n_first, &err) != WW_OK ||
        ww_print_recipe_parse("fuzz", first, n_first, &again, &err) != WW_OK ||
        ww_print_recipe_text(&plan, &again.request, &second, &n_second, &err) != WW_OK ||
        n_first != n_second || memcmp(first, second, n_first) != 0)
        abort();
    free(first);
    free(second);
    ww_print_recipe_release(&again);
    ww_print_recipe_release(&recipe);
    return 0;
}
