/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_WEDGEWORK_H
#define WEDGEWORK_WEDGEWORK_H

/* Everything that libwedgework offers; each header is the manual of its topic. */

#include <wedgework/balance.h>
#include <wedgework/balance_text.h>
#include <wedgework/crossover.h>
#include <wedgework/curve.h>
#include <wedgework/curve_file.h>
#include <wedgework/curve_text.h>
#include <wedgework/error.h>
#include <wedgework/exposure.h>
#include <wedgework/figure.h>
#include <wedgework/filter_factors.h>
#include <wedgework/filter_plan_file.h>
#include <wedgework/fit.h>
#include <wedgework/layers.h>
#include <wedgework/measure.h>
#include <wedgework/measure_file.h>
#include <wedgework/measure_text.h>
#include <wedgework/model.h>
#include <wedgework/notes.h>
#include <wedgework/number.h>
#include <wedgework/output.h>
#include <wedgework/overlay.h>
#include <wedgework/pack.h>
#include <wedgework/page.h>
#include <wedgework/paper.h>
#include <wedgework/picture.h>
#include <wedgework/picture_file.h>
#include <wedgework/picture_write.h>
#include <wedgework/plot.h>
#include <wedgework/print.h>
#include <wedgework/print_plan_file.h>
#include <wedgework/print_recipe.h>
#include <wedgework/print_result.h>
#include <wedgework/print_text.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>
#include <wedgework/readings_file.h>
#include <wedgework/response.h>
#include <wedgework/scan.h>
#include <wedgework/scan_densities.h>
#include <wedgework/scan_densities_file.h>
#include <wedgework/scan_densities_text.h>
#include <wedgework/scan_merge.h>
#include <wedgework/scan_merge_file.h>
#include <wedgework/scan_merge_text.h>
#include <wedgework/scan_negative.h>
#include <wedgework/scan_pass.h>
#include <wedgework/scan_plan_file.h>
#include <wedgework/scan_plan_text.h>
#include <wedgework/scanner.h>
#include <wedgework/scanner_file.h>
#include <wedgework/scanner_text.h>
#include <wedgework/spectrum.h>
#include <wedgework/speed.h>
#include <wedgework/start.h>
#include <wedgework/strip.h>
#include <wedgework/strip_file.h>
#include <wedgework/strip_text.h>
#include <wedgework/text_style.h>
#include <wedgework/viewing.h>

#endif
