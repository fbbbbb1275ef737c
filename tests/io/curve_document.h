/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_CURVE_DOCUMENT_H
#define WEDGEWORK_TESTS_CURVE_DOCUMENT_H

#include "support/support.h"
#include <stdlib.h>
#include <string.h>

/*
 * A curve file written by hand after the description of the format: an invented film, one channel
 * fitted and one with two readings only. Numbers are nobody's measurement.
 */
static const char curve_document[] =
    "{\n"
    "  \"wedgework\": 1, \"kind\": \"curve\", \"name\": \"Lantern Hill, roll 3\",\n"
    "  \"material\": \"film\", \"process\": \"negative\", \"density\": \"transmission\",\n"
    "  \"status\": \"visual\", \"exposure_unit\": \"lux second\", \"exposure_time\": 0.02,\n"
    "  \"development_time\": 8.5, \"contrast\": null, \"emulsion\": \"black-and-white\",\n"
    "  \"read\": \"dry\", \"relative_to\": \"absolute\", \"log_h0\": 0.731, \"lot\": \"7B\",\n"
    "  \"channels\": {\n"
    "    \"visual\": {\n"
    "      \"model\": \"toe-line\",\n"
    "      \"parameters\": {\"base_fog\": 0.25, \"gamma\": 0.7, \"toe_position\": -2,\n"
    "                     \"toe_softness\": 0.35714285714285715},\n"
    "      \"covariance\": [[4e-6, 1e-7, 0, 0], [1e-7, 9e-6, 0, 0],\n"
    "                     [0, 0, 1e-5, 2e-6], [0, 0, 2e-6, 3e-5]],\n"
    "      \"domain\": [-3.1, -0.4],\n"
    "      \"points\": [[-3.1, 0.262, 0.004], [-2.2, 0.361, null], [-1.3, 0.75, null],\n"
    "                 [-0.4, 1.373, null], [-0.1, null, null]],\n"
    "      \"steps\": [\"1\", \"2\", \"2\", \"4\", \"5\"], \"repeats\": [3, 1, 1, 1, 1],\n"
    "      \"states\": [\"value\", \"value\", \"value\", \"value\", \"over\"],\n"
    "      \"cut\": [false, false, false, true, false],\n"
    "      \"residual_sd\": 0.0071, \"residual_rms\": 0.0064, \"falling\": false,\n"
    "      \"suspect\": [{\"step\": \"2\", \"residual\": -0.09, \"cause\": \"decimal point\",\n"
    "                   \"point\": 2}],\n"
    "      \"base_fog\": {\"value\": 0.25, \"low\": 0.246, \"high\": 0.254, \"how\": \"fitted\"},\n"
    "      \"dmax\": null,\n"
    "      \"gamma\": {\"value\": 0.7, \"low\": 0.68, \"high\": 0.72, \"how\": \"fitted\"},\n"
    "      \"average_gradient\": {\"value\": 0.52, \"low\": 0.51, \"high\": 0.53,\n"
    "                           \"how\": \"fitted\", \"between\": [-2.2534, -0.7534]},\n"
    "      \"contrast_index\": {\"value\": 0.5385, \"low\": 0.53, \"high\": 0.55,\n"
    "                         \"how\": \"extrapolated\"},\n"
    "      \"density_range\": null, \"exposure_range\": null,\n"
    "      \"speed_point\": {\"value\": -2.2534, \"low\": -2.27, \"high\": -2.24,\n"
    "                      \"how\": \"fitted\"},\n"
    "      \"iso_range\": null, \"paper_speed\": null,\n"
    "      \"construction\": {\"straight_run\": [-1.4, -0.4], \"straight_run_density\": 0.68,\n"
    "                       \"contrast_index_centre\": -2.4524,\n"
    "                       \"contrast_index_arcs\": [-2.2764, -0.5154]}\n"
    "    },\n"
    "    \"red\": {\n"
    "      \"model\": null, \"parameters\": null, \"covariance\": null, \"domain\": null,\n"
    "      \"points\": [[-2.2, 0.3, null], [-1.3, 0.6, null]], \"residual_sd\": null,\n"
    "      \"suspect\": [],\n"
    "      \"base_fog\": {\"value\": 0.21, \"low\": 0.2, \"high\": 0.22, \"how\": \"measured\"},\n"
    "      \"dmax\": null, \"gamma\": null, \"average_gradient\": null, \"contrast_index\": null,\n"
    "      \"density_range\": null, \"exposure_range\": null, \"speed_point\": null,\n"
    "      \"iso_range\": null, \"paper_speed\": null\n"
    "    }\n"
    "  },\n"
    "  \"speed\": {\"standard\": \"exposure index\", \"exact\": 143.394, \"low\": 140, \"high\": "
    "147,\n"
    "            \"how\": \"fitted\", \"arithmetic\": 160, \"degrees\": 23,\n"
    "            \"condition\": {\"density_difference\": 0.645592, \"met\": false},\n"
    "            \"delta_x\": 171.9},\n"
    "  \"crossover\": null,\n"
    "  \"notes\": [\"D-max is not reached: expose further steps.\", \"Invented.\"]\n"
    "}\n";

/* The document with the first `what` replaced; release it with free. */
static inline char *curve_document_with(const char *what, const char *instead) {
    const char *at = strstr(curve_document, what);
    const size_t before = at ? (size_t)(at - curve_document) : 0;
    char *text = malloc(sizeof curve_document + strlen(instead));
    test_true(what, at != NULL);
    assert_non_null(text);
    memcpy(text, curve_document, before);
    strcpy(text + before, instead);
    strcat(text, at + strlen(what));
    return text;
}

#endif
