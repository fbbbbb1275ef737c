/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/page.h"
#include "base/escape.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/output.h>

/* The policy forbids whatever a name from a file might smuggle in: scripts, pictures, hosts. The
 * page's own script is let run by its hash. */
static const char head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; ";
static const char policy_end[] =
    "style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n"
    "<meta name=\"viewport\" content=\"width=device-width\">\n<title>";
static const char style[] =
    "</title>\n<style>\n"
    "@page { size: A4; margin: 13mm 15mm; }\n@page a5 { size: A5; margin: 10mm; }\n"
    "body { font: 15px/1.4 sans-serif; color: #000; background: #fff; margin: 0; }\n"
    "main { background: #fff; min-height: 100vh; box-sizing: border-box;"
    " padding: 1em max(1em, calc(50vw - 34em)) 2em; }\n"
    "h1 { font-size: 1.5em; line-height: 1.25; margin: 0 0 .3em; }\n"
    "h2 { font-size: 1.05em; margin: 1.4em 0 .3em; break-after: avoid; }\n"
    "section, figure { overflow-x: auto; }\n"
    ".inputs { display: flex; flex-wrap: wrap; column-gap: 1.9em; }\n"
    /* As wide as its table with the gap after the last column, or it could be scrolled by that. */
    ".inputs section { max-width: 100%; box-sizing: border-box; padding-right: 1.1em; }\n"
    /* Lines with gaps, so that two headings side by side read as two. */
    "table { border-spacing: 1.1em 0; margin: 0 -1.1em; font-variant-numeric: tabular-nums; }\n"
    "th, td { padding: .15em 0; text-align: left; vertical-align: bottom; }\n"
    "th { border-bottom: 1px solid #000; font-weight: 600; }\n"
    "tbody th { border-bottom: 1px solid #ccc; font-weight: 400; }\n"
    "td { border-bottom: 1px solid #ccc; }\n"
    ".r { text-align: right; white-space: nowrap; }\n.unit { font-weight: 400; }\n"
    ".warning { border-left: 4px solid #000; }\np.warning { padding-left: .8em; }\n"
    "ul { margin: .2em 0; padding-left: 1.6em; }\n"
    "figure { margin: 1.5em 0; }\nfigure svg { max-width: 100%; min-width: 40em; height: auto; }\n"
    "dl { margin: .2em 0; }\ndt { font-weight: 600; margin-top: .6em; break-after: avoid; }\n"
    "dd { margin: 0 0 0 1.6em; max-width: 50em; overflow-wrap: anywhere; }\n"
    ".source { color: #444; }\n"
    "tr, dd, figure, .card table, .card p, .sketch { break-inside: avoid; }\n"
    "thead, tbody tr:first-child:not(:last-child) { break-after: avoid; }\n"
    ".card { page: a5; break-before: page; border: 2px solid #000;"
    " max-width: 34em; padding: .6em 1em; margin: 1.5em 0; font-size: 1.15em; }\n"
    ".card h2 { margin: 0; }\n.card .big { font-size: 2.4em; line-height: 1.1; margin: .2em 0; }\n"
    ".card table { margin: .5em -1.1em; }\n.card td.r { font-size: 1.25em; }\n"
    ".card .blank { display: inline-block; width: 9em;"
    " border-bottom: 1px solid #000; }\n"
    ".card .sketch { border: 1px solid #000; height: 9em; margin-top: .6em; padding: .2em .4em; "
    "}\n";
/* On paper the sketch is a line with all below it, so that it takes what a card leaves: a sheet of
 * its own only where that is too little to draw in. */
static const char dim_style[] =
    "#dim, #a5 { position: absolute; opacity: 0; }\n"
    ".tools { margin: 0 0 1em; line-height: 2.2; }\n.tools a { color: #000; margin-left: .6em; }\n"
    ".tools label { border: 1px solid #000; padding: .3em .6em;"
    " cursor: pointer; }\n.tools span { display: none; }\n"
    "#a5:checked ~ main label[for=a5] { background: #000; color: #fff; }\n"
    "#dim:focus-visible ~ main label[for=dim], #a5:focus-visible ~ main label[for=a5] { outline: "
    "3px solid #000; outline-offset: 2px; }\n"
    "@media screen { html:has(#dim:checked) { background: #000; scrollbar-color: #400 #000; }\n"
    "#dim:checked ~ main { filter: grayscale(1) invert(1); }\n"
    "#dim:checked ~ main .tools span { display: inline; margin-left: 1em; }\n"
    "#dim:checked ~ .veil { position: fixed; inset: 0; background: #a00; mix-blend-mode: multiply;"
    " pointer-events: none; } }\n"
    "@media screen and (max-width: 45em) { td, tbody th { white-space: nowrap; } }\n"
    "@media print { main { padding: 0; } body { font-size: 9.5pt; } .tools, .veil { display: none; "
    "}"
    " section, figure { overflow: visible; } figure svg { min-width: 0; }"
    " figure { margin: .8em 0; } figure svg { max-height: 125mm; }"
    " h2 { margin-top: 1em; } .working dl { columns: 2; column-gap: 2em; }"
    " dd { margin-left: .8em; break-before: avoid; }"
    " .card { border: 0; padding: 0; margin: 0; }"
    " .card .sketch { border-width: 1px 0 0; height: 25mm; padding: 0; }"
    " #a5:checked ~ main { page: a5; font-size: 8.5pt; }"
    " #a5:checked ~ main table { font-size: 7.5pt; border-spacing: .7em 0; margin: 0 -.7em; }"
    " #a5:checked ~ main .card, #a5:checked ~ main .card table { font-size: 11pt; } }\n"
    "</style>\n</head>\n<body>\n";
/* Outlines only, so that what is black on white reads on the dim screen too. */
static const char sliders_style[] =
    ".sliders { padding: 0 8px; margin: 0 -8px; }\n.sliders p { max-width: 50em; }\n.sliders "
    "select { font: inherit; max-width: 100%; }\n"
    ".slider { display: grid; grid-template-columns: 16em minmax(8em, 22em) auto; column-gap: 1em;"
    " align-items: center; margin: .3em 0; }\n"
    "@media screen and (max-width: 45em) { .slider { grid-template-columns: 1fr auto; }"
    " .slider label { grid-column: 1 / -1; } }\n"
    ".slider input { width: 100%; accent-color: #000; margin: 0; }\n"
    ".sliders :focus-visible { outline: 3px solid #000; outline-offset: 2px; }\n"
    ".sliders svg { max-width: 46em; width: 100%; height: auto; font-size: 12px; margin-top: 1em; "
    "}\n"
    ".sliders svg path { fill: none; stroke: #000; stroke-width: 2; }\n"
    ".sliders svg .grid { stroke: #bbb; stroke-width: 1; }\n"
    ".sliders svg .asked { stroke-dasharray: 6 4; stroke-width: 1.2; }\n"
    ".sliders code { overflow-wrap: anywhere; }\n"
    "@media print { .sliders { display: none; } }\n";
/* Turning the page red, or printing it small, takes no script: a checked box restyles what follows
 * it. */
static const char tools[] =
    "<input type=\"checkbox\" id=\"dim\">\n<input type=\"checkbox\" id=\"a5\">\n<main>\n"
    "<p class=\"tools\"><label for=\"dim\">Dim red screen</label> "
    "<label for=\"a5\">Print on A5</label>";
static const char caution[] =
    "<span>A screen is no safelight, however dim: keep it away from open paper.</span></p>\n";

/* Where the drawing itself begins: what gnuplot says of itself before that is of no use to whom the
 * page is read out. */
static const char *after_preamble(const char *opened) {
    const char *desc = strstr(opened, "</desc>"), *group = strstr(opened, "<g ");
    return desc && group && desc < group ? desc + strlen("</desc>") : opened;
}

/* The drawing alone: what comes before it belongs to a file of its own. */
static void add_drawing(const ww__page *page, ww__text *html) {
    const char *drawing = strstr(page->svg, "<svg");
    const char *opened = drawing ? strchr(drawing, '>') : NULL;
    ww__text_add(html, "<figure>\n");
    if (opened) {
        ww__text_add_bytes(html, drawing, (size_t)(opened - drawing));
        ww__text_add(html, " role=\"img\">\n<title>Plot: ");
        ww__escape_html(html, page->title);
        ww__text_add(html, "</title>\n<desc>");
        ww__escape_html(html, ww__text_string(&page->result->act));
        ww__text_add(html, " The tables hold the same in numbers.</desc>");
        ww__text_add(html, after_preamble(opened + 1));
    }
    ww__text_add(html, "</figure>\n");
}

static void add_no_plot(const ww_error *why, ww__text *html) {
    ww__text_add(html, "<p class=\"warning\">");
    ww__escape_html(html, why->msg);
    ww__text_add(html, ".</p>\n");
}

static void add_paragraph(const char *tag, const char *string, ww__text *html) {
    if (!*string)
        return;
    ww__text_add_format(html, "<%s>", tag);
    ww__escape_html(html, string);
    ww__text_add_format(html, "</%s>\n", tag);
}

/* The script's text to the byte, as its hash is of that. What it reads is data and never runs. */
static void add_script(const ww__sliders *sliders, ww__text *html) {
    ww__text_add(html, "<script type=\"application/json\" id=\"curves\">");
    ww__text_add(html, ww__text_string(&sliders->curves));
    ww__text_add(html, "</script>\n<script>");
    ww__text_add(html, sliders->script->text);
    ww__text_add(html, "</script>\n");
}

static void add_page(const ww__page *page, ww__text *html) {
    ww__text_add(html, head);
    if (page->sliders)
        ww__text_add_format(html, "script-src '%s'; ", page->sliders->script->hash);
    ww__text_add(html, policy_end);
    ww__escape_html(html, page->title);
    ww__text_add(html, style);
    if (page->sliders)
        ww__text_add(html, sliders_style);
    ww__text_add(html, dim_style);
    ww__text_add(html, tools);
    if (page->card && page->card->n > 0)
        ww__text_add(html, "<a href=\"#card\">Card for the wall</a>");
    if (page->working)
        ww__text_add(html, "<a href=\"#working\">Working</a>");
    ww__text_add(html, "<a href=\"#inputs\">What was read</a>");
    ww__text_add(html, caution);
    add_paragraph("h1", ww__text_string(&page->result->act), html);
    add_paragraph("p", ww__text_string(&page->result->why), html);
    if (page->svg)
        add_drawing(page, html);
    else
        add_no_plot(&page->no_plot, html);
    if (page->sliders)
        ww__text_add(html, ww__text_string(&page->sliders->section));
    ww__report_set_html(page->result, html);
    if (page->working) {
        ww__text_add(html, "<div class=\"working\" id=\"working\">\n");
        ww__report_set_html(page->working, html);
        ww__text_add(html, "</div>\n");
    }
    ww__text_add(html, "<div class=\"inputs\" id=\"inputs\">\n");
    ww__report_set_html(page->inputs, html);
    ww__text_add(html, "</div>\n");
    /* Last, as its sheet may be of another size. */
    if (page->card && page->card->n > 0)
        ww__text_add(html, page->card->bytes);
    ww__text_add(html, "</main>\n<div class=\"veil\"></div>\n");
    if (page->sliders)
        add_script(page->sliders, html);
    ww__text_add(html, "</body>\n</html>\n");
}

static void release(const ww__page *page) {
    ww__report_release(page->result);
    ww__report_release(page->inputs);
    ww__report_release(page->working);
    if (page->card)
        ww__text_release(page->card);
    if (page->sliders) {
        ww__text_release(&page->sliders->section);
        ww__text_release(&page->sliders->curves);
    }
    free(page->svg);
}

/* Whether all of the page's parts found memory. */
static ww_status check_parts(const ww__page *page, ww_error *err) {
    ww_status status = ww__report_status(page->result, err);
    if (status == WW_OK)
        status = ww__report_status(page->inputs, err);
    if (status == WW_OK && page->working)
        status = ww__report_status(page->working, err);
    if (status == WW_OK && page->card)
        status = ww__text_status(page->card, err);
    if (status == WW_OK && page->sliders)
        status = ww__text_status(&page->sliders->section, err);
    if (status == WW_OK && page->sliders)
        status = ww__text_status(&page->sliders->curves, err);
    return status;
}

ww_status ww__page_write(const ww__page *page, const char *path, ww_error *no_plot, ww_error *err) {
    ww__text html = WW__TEXT_INIT;
    ww_status status = check_parts(page, err);
    if (status == WW_OK) {
        add_page(page, &html);
        status = ww__text_status(&html, err);
    }
    if (status == WW_OK)
        status = ww_output_write(path, ww__text_string(&html), html.n, err);
    ww__text_release(&html);
    if (status == WW_OK && no_plot)
        *no_plot = page->no_plot;
    release(page);
    return status;
}
