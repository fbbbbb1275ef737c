/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/locale.h"

ww__locale ww__locale_plain(void) {
    ww__locale locale = {(locale_t)0, (locale_t)0};
    locale.plain = newlocale(LC_ALL_MASK, "C", (locale_t)0); /* built in: glibc allocates nothing */
    if (locale.plain)
        locale.before = uselocale(locale.plain);
    return locale;
}

void ww__locale_restore(ww__locale locale) {
    if (!locale.plain)
        return;
    uselocale(locale.before);
    freelocale(locale.plain);
}
