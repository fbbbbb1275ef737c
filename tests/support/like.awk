# SPDX-License-Identifier: GPL-3.0-or-later
# like.awk - two texts line by line: words equal, numbers within `tolerance` and the part `relative`
# of the number, or, where that is "digit", within one of the last decimal shown; blanks count once.
function number(word) { return word ~ /^[-+]?[0-9]+(\.[0-9]+)?$/ }

function digit(word) { return sub(/^[^.]*\./, "", word) ? 10 ^ -length(word) : 0 }
function allowed(word) {
    return tolerance == "digit" ? 1.001 * digit(word) : tolerance + relative * size(word)
}

function size(x) { return x < 0 ? -x : x }

# Punctuation around a number is a word of its own.
function apart(line) {
    gsub(/[(),;:|\/]/, " & ", line)
    gsub(/\. |\.$/, " . ", line)
    return line
}

FNR == NR { expected[FNR] = $0; most = FNR; next }
{
    last = FNR
    n = split(apart(expected[FNR]), a, /[ \t]+/)
    m = split(apart($0), b, /[ \t]+/)
    differs = FNR > most || n != m
    for (i = 1; i <= n && !differs; i++) {
        d = a[i] - b[i]
        if (number(a[i]) && number(b[i])) differs = size(d) > allowed(a[i])
        else differs = a[i] != b[i]
    }
    if (differs) { printf "line %d\nexpected %s\nfound    %s\n", FNR, expected[FNR], $0; wrong = 1 }
}
END {
    if (last < most) { printf "ends after line %d of %d\n", last, most; wrong = 1 }
    exit wrong
}
