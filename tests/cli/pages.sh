#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# pages.sh - pages as a real browser has them (Chromium, headless): each opens without a complaint and fetches nothing,
# names from files stay text, and each prints on the paper that it says. Sources: HTML Living Standard (headings of
# tables, order of headings), WAI-ARIA 1.2 (an image has a name), ISO 216 (A4 is 210 x 297 mm, A5 148 x 210).
. tests/support/cli.sh
if ! command -v chromium >/dev/null; then
    skip 'Chromium is not installed, so no page was opened in it'
    finish
    exit 0
fi
: "${BROWSE:?names the program that opens pages}"

# look PAGE ASK... - what the browser says, line by line, into the file seen
look() {
    page=$1
    shift
    "$BROWSE" "$WORK/profile" "$page" "$@" >seen 2>err || bad "the browser opens $page" "$(cat err)"
}
line() { sed -n "$1p" seen; }

hostile='</title><script>window.hit=1</script><img src=x onerror=window.hit=1>'
film "$hostile" >film.csv
film 'Second film' >second.csv
paper 2 2.53 >paper2.csv
paper 3 3.1 >paper3.csv
printf '%s\n' "# name: $hostile" '# material: negative' '# density: transmission' 'tone,part,visual' 'base,,0.21' \
    'shadow,,0.43' 'wall,,1.08' 'cloud,thin,1.42' 'cloud,dense,1.49' '<b>sun</b>,,1.62' >negative.csv
printf '%s\n' '# material: strip' '# density: reflection' 'step,time,visual' 'base,,0.06' '1,8,0.11' '2,11.3,0.22' \
    '3,16,0.43' '4,22.6,0.71' >strip.csv
# the pages: NAME ARGUMENT...
make_page() {
    name=$1
    shift
    run "$@" --report "$name.html"
    [ "$status" -le 1 ] || bad "page of $name" "$(cat err)"
}
make_page film fit film.csv --resamples 50 -o film.json
make_page paper fit paper2.csv --resamples 50 -o paper2.json
run fit paper3.csv --resamples 50 -o paper3.json
make_page print print negative.csv --paper paper2.json --paper paper3.json --place wall=0.25 --place cloud=0.10
make_page plan strip plan --centre 16 --step 1/3 --count 7
make_page strip strip read strip.csv --aim 0.25
make_page compare compare paper2.json paper3.json
make_page tones tones --film film.json --paper paper2.json
if [ -n "${MAKE_SCANS-}" ]; then
    scenes=$top/stepwedges/demo
    "$MAKE_SCANS" "$scenes/wedge.scene" wedge.tif "$scenes/negative.scene" negative.tif
    make_page scanner scanner wedge.tif --wedge "$scenes/wedge.csv" -o scanner.json
    make_page measure measure negative.tif --scanner scanner.json --spot wall=515,300,14
    make_page scan scan negative.csv --scanner scanner.json --keep cloud
fi

# What holds on every page, as one word after another.
facts='[
  document.querySelectorAll("h1").length == 1 && document.querySelector("h1,h2").localName == "h1" ? "headed" : "h1?",
  [...document.querySelectorAll("th")].every(th => th.scope) ? "scoped" : "th?",
  [...document.querySelectorAll("svg")].every(s => s.getAttribute("role") == "img" && s.querySelector("title,desc") &&
    !/gnuplot/i.test(s.querySelector("title").textContent + s.querySelector("desc").textContent)) ? "named" : "svg?",
  document.documentElement.lang,
  performance.getEntriesByType("resource").length == 0 ? "alone" : "fetched",
  [...document.querySelectorAll("a")].every(a => a.getAttribute("href")[0] == "#" &&
    document.getElementById(a.getAttribute("href").slice(1))) ? "linked" : "a?",
  document.querySelectorAll("#working dt").length > 0 &&
    document.querySelectorAll("#working dt").length == document.querySelectorAll("#working .source").length
    ? "worked" : "working?",
  document.documentElement.scrollWidth <= innerWidth ? "fits" : "wide"].join(" ")'
for file in *.html; do
    look "$file" eval "$facts" eval 'String(window.hit) + document.querySelectorAll("img, b").length'
    same "$file is as it should be" 'headed scoped named en alone linked worked fits' "$(line 1)"
    same "$file: names stay text" undefined0 "$(line 2)"
    same "$file: no complaint" '' "$(line '3,$')"
done
look film.html eval 'document.title'
same 'the hostile name can be read' "$hostile" "$(line 1)"

# On paper
look plan.html pages eval 'document.getElementById("a5").click()' pages
same 'the plan of a strip is one sheet of A4' 210x297 "$(line 1)"
holds 'or sheets of A5, where that box is checked' sh -c 'case $1 in *210x297*) exit 1 ;; 148x210*) ;; *) exit 1 ;; esac' x "$(line 3)"
look print.html pages
same 'the card for the wall is one sheet of A5, the rest is A4' 1 "$(line 1 | tr ' ' '\n' | grep -c 148x210)"
holds 'and it is the last' sh -c 'case $1 in 210x297*148x210) ;; *) exit 1 ;; esac' x "$(line 1)"

# The dim screen: nothing is left of green and blue
look print.html eval 'document.getElementById("dim").click(); getComputedStyle(document.querySelector(".veil")).position' \
    eval 'getComputedStyle(document.querySelector(".veil")).backgroundColor'
same 'a veil lies over the page' fixed "$(line 1)"
same 'and is red' 'rgb(170, 0, 0)' "$(line 2)"
finish
