# SPDX-License-Identifier: GPL-3.0-or-later
# excerpt.awk - of the second text, what the first one shows: a line "..." in the first stands for
# lines of the second up to the next that begins with the same word, or up to its end.
FNR == NR { shown[++most] = $0; next }
{
    if (shown[at + 1] == "..." && !skipping) { skipping = 1; at++; print "..." }
    split(shown[at + 1], next_word)
    if (skipping && (at == most || $1 != next_word[1])) next
    skipping = 0
    at++
    print
}
