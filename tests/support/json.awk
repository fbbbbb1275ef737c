# SPDX-License-Identifier: GPL-3.0-or-later
# json.awk - a JSON document as lines "path<TAB>value", an array's members by number. Enough for what
# the program writes; escapes in strings stay as they are. A parser of its own, so that the tests do
# not trust the program's.
{ text = text $0 "\n" }

function blank() {
    while (substr(text, at, 1) ~ /[ \t\r\n]/ && at <= length(text))
        at++
}

function token(   from, c) {
    blank()
    from = at
    c = substr(text, at, 1)
    if (c == "\"") {
        for (at++; (c = substr(text, at, 1)) != "\""; at++) {
            if (c == "") wrong("a string without end")
            if (c == "\\") at++
        }
        at++
        return substr(text, from, at - from)
    }
    if (c ~ /[][{},:]/) {
        at++
        return c
    }
    while (substr(text, at, 1) ~ /[-+.0-9a-zA-Z]/)
        at++
    if (at == from) wrong("'" c "'")
    return substr(text, from, at - from)
}

function wrong(what) {
    printf "not JSON: %s at %d\n", what, at > "/dev/stderr"
    failed = 1
    exit 1
}

function bare(string) {
    return string ~ /^"/ ? substr(string, 2, length(string) - 2) : string
}

# A stack of open objects and arrays in place of recursion.
END {
    if (failed) exit 1
    at = 1
    depth = 0
    path[0] = ""
    do {
        t = token()
        if (t == "}" || t == "]") {
            depth--
        } else if (t == ",") {
            if (kind[depth] == "[") member[depth]++
        } else if (kind[depth] == "{" && depth > 0 && !named[depth]) {
            key[depth] = bare(t)
            if (token() != ":") wrong("no ':' after " t)
            named[depth] = 1
            continue
        } else {
            here = depth == 0 ? "" : path[depth] (path[depth] == "" ? "" : ".") \
                   (kind[depth] == "{" ? key[depth] : member[depth])
            named[depth] = 0
            if (t == "{" || t == "[") {
                depth++
                kind[depth] = t
                member[depth] = 0
                named[depth] = 0
                path[depth] = here
            } else {
                if (t !~ /^("|-?[0-9]|true$|false$|null$)/) wrong(t)
                printf "%s\t%s\n", here, bare(t)
            }
        }
    } while (depth > 0)
    blank()
    if (at <= length(text)) wrong("more after the end")
}
