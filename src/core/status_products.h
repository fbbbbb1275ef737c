/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_STATUS_PRODUCTS_H
#define WW_CORE_STATUS_PRODUCTS_H

#include <stddef.h>
#include <wedgework/readings.h>

/* Wavelengths of the tables: 340 to 770 nm. Beyond, products are below 0.005 % of their peak. */
#define WW__PRODUCT_FIRST 340.0
#define WW__PRODUCT_STEP 10.0
enum { WW__PRODUCT_ROWS = 44 };

/* Half the last digit of the tables [% of the peak]. */
#define WW__PRODUCT_ROUNDING 0.005

/*
 * ww__status_product - spectral product of a density: the influx spectrum times the response that a
 *                      densitometer of that status should have, in percent of its peak.
 *
 * Source    ISO 5-3, by a public table; see status_products.c
 * Given     status    A, M, T or E; with the channel visual also visual or unknown: all share it
 *           row       0 to WW__PRODUCT_ROWS - 1; wavelength 340 + 10 row [nm]
 * Returned  the product, of 0 where it is below 0.005 %; -1 where there is no such product
 */
double ww__status_product(ww_density_status status, ww_channel channel, size_t row);

#endif
