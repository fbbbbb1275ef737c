#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# story.sh OUT TITLE RESULT.html 'HEADING=PAGE.html'... - one page of several that --report wrote: the result as it
# stands, then how it came to that, a chapter a page. Links lead to places in it alone. Pages are taken for what the
# program writes: the content is what stands between the lines <main> and </main>.
[ $# -ge 4 ] || { echo 'usage: story.sh OUT TITLE RESULT.html HEADING=PAGE.html...' >&2; exit 2; }
out=$1 title=$2 result=$3
shift 3

# Sliders stay on their own page, with the script that moves them.
content() {
    sed '1,/^<main>$/d; /^<\/main>$/,$d' "$1" |
        sed '/^<p class="tools">/d; /^<section class="sliders"/,/^<\/section>$/d'
}

# Headings go down by one and what has a name gets the chapter's before it, since the next has the same names.
chapter() {
    echo "<section class=\"chapter\" id=\"chapter-$1\">"
    echo "<h2>$1. $2</h2>"
    content "$3" | sed "s|<h2>|<h3>|g; s|</h2>|</h3>|g; s|<h1>|<p class=\"act\">|; s|</h1>|</p>|
        s/ id=\"/ id=\"$1-/g; s/ id='/ id='$1-/g; s/href='#/href='#$1-/g; s/href=\"#/href=\"#$1-/g; s/url(#/url(#$1-/g"
    echo '</section>'
}

for page in "$result" "$@"; do
    page=${page#*=}
    grep -q '^<main>$' "$page" || { echo "story: $page is no page of a report" >&2; exit 3; }
done
{
    sed '/^<main>$/q' "$result" | sed "s| script-src '[^']*';||; s|^<title>.*|<title>$title</title>|
        s|^</style>|.chapter { break-before: page; border-top: 2px solid #000; margin-top: 3em; }\\
.chapter h2 { font-size: 1.3em; }\\
h3 { font-size: 1.05em; margin: 1.4em 0 .3em; break-after: avoid; }\\
.act { font-weight: 600; }\\
&|"
    sed -n '/^<p class="tools">/p' "$result" | sed 's|<span>|<a href="#story">How it came to that</a>&|'
    content "$result"
    echo '<nav id="story" aria-label="How it came to that">'
    echo '<h2>How it came to that</h2>'
    echo '<ol>'
    n=0
    for page in "$@"; do
        n=$((n + 1))
        echo "<li><a href=\"#chapter-$n\">${page%%=*}</a></li>"
    done
    echo '</ol>'
    echo '</nav>'
    n=0
    for page in "$@"; do
        n=$((n + 1))
        chapter $n "${page%%=*}" "${page#*=}"
    done
    sed -n '/^<\/main>$/,$p' "$result" | sed '/^<script/,/<\/script>$/d'
} >"$out.part" && mv "$out.part" "$out"
