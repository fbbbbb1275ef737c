/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef TESTS_FAULT_NAMELESS_H
#define TESTS_FAULT_NAMELESS_H

#include <stdbool.h>

/* Stands in for open in these programs. While this is set no folder holds files without a name, as
 * on file systems that do not know O_TMPFILE. */
extern bool nameless_refused;

#endif
