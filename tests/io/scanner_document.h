/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_IO_SCANNER_DOCUMENT_H
#define WEDGEWORK_TESTS_IO_SCANNER_DOCUMENT_H

#include <stdlib.h>
#include <string.h>
#include <wedgework/scanner_file.h>

/* A scanner file with everything in it, written by hand; all invented. */
static const char scanner_document[] =
    "{ \"wedgework\": 1, \"kind\": \"scanner\", \"name\": \"heron pond, wedge 2.tif\",\n"
    "  \"profile\": \"Linear, of a heron\",\n"
    "  \"bits\": 12, \"white\": 4095,\n"
    "  \"encoding\": { \"gamma\": 2.0354, \"low\": 1.993, \"high\": 2.0778, \"how\": \"fitted\",\n"
    "    \"curve\": \"sRGB\" },\n"
    "  \"wedge\": \"nominal\", \"wedge_sd\": 0.0125, \"density\": \"reflection\", \"dark_scan\": "
    "true,\n"
    "  \"misfit\": true,\n"
    "  \"channels\": {\n"
    "    \"red\": { \"curve\": [[101.25, 2.731], [900.5, 1.1], [3900, 0.05]],\n"
    "      \"doubt\": [0.11, 0.04, 0.01], \"k\": 0.9173,\n"
    "      \"noise\": { \"read\": 0.0003, \"shot\": 0.0017, \"fixed\": 0.0041 },\n"
    "      \"dark\": { \"value\": 0.0007, \"low\": 0.0006, \"high\": 0.0008, "
    "\"how\": \"measured\" },\n"
    "      \"flare\": { \"value\": 0.002, \"low\": 0.0015, \"high\": 0.0025, "
    "\"how\": \"fitted\" },\n"
    "      \"dmax\": { \"value\": 2.731, \"low\": 2.62, \"high\": 2.84, \"how\": \"measured\" },\n"
    "      \"clipped\": [\"1a\"], \"compressed\": [\"3\"], \"suspect\": [\"2\"],\n"
    "      \"steps\": [\n"
    "        { \"step\": \"1a\", \"density\": 0.01, \"code\": 4095, \"sd\": 0, "
    "\"fitted\": 0.01 },\n"
    "        { \"step\": \"2\", \"density\": 1.1, \"code\": 880, \"sd\": 3.25, "
    "\"fitted\": 1.13 },\n"
    "        { \"step\": \"3\", \"density\": 2.731, \"code\": 101.25, \"sd\": 1.5, "
    "\"fitted\": 2.729 } ],\n"
    "      \"residual_sd\": 0.004, \"worst_residual\": -0.009 },\n"
    "    \"blue\": { \"curve\": [[20, 3], [4000, 0.05]], \"doubt\": [0.2, 0.01], \"k\": 0.5,\n"
    "      \"noise\": { \"read\": 0, \"shot\": 0, \"fixed\": 0 },\n"
    "      \"residual_sd\": 0, \"worst_residual\": 0 } },\n"
    "  \"notes\": [\"Dark was measured.\", \"The wedge is nominal.\"] }\n";

/* The document with `from`, which must be there, replaced; free() it. */
static inline char *scanner_document_with(const char *from, const char *to) {
    const char *at = strstr(scanner_document, from);
    char *text = malloc(sizeof scanner_document + strlen(to));
    if (!at || !text)
        abort();
    memcpy(text, scanner_document, (size_t)(at - scanner_document));
    strcpy(text + (at - scanner_document), to);
    strcat(text, at + strlen(from));
    return text;
}

#endif
