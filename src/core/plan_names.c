/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <wedgework/print.h>
#include <wedgework/strip.h>

/* Words of what plans decide: files and pages show the same, and neither room knows the plan's. */

const char *ww_verdict_name(ww_verdict verdict) {
    switch (verdict) {
    case WW_VERDICT_PRINTS:
        return "prints";
    case WW_VERDICT_BURN:
        return "burn";
    case WW_VERDICT_BLOCKED:
        return "blocked";
    case WW_VERDICT_LOST:
        break;
    }
    return "lost";
}

const char *ww_strip_kind_name(ww_strip_kind kind) {
    switch (kind) {
    case WW_STRIP_PLAN:
        return "plan";
    case WW_STRIP_READ:
        return "read";
    case WW_STRIP_PROOF:
        return "proof";
    case WW_STRIP_SAFELIGHT:
        break;
    }
    return "safelight";
}
