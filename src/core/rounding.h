/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_ROUNDING_H
#define WW_CORE_ROUNDING_H

/*
 * What rounding to whole codes does to readings of one tone, each with a normal noise of its own,
 * of one standard deviation s. All in codes.
 *
 *   mean of very many  = tone + sum over k of (-1)^k / (pi k) sin(2 pi k tone) exp(-2 pi^2 k^2 s^2)
 *   bias^2             = sum over k of exp(-4 pi^2 k^2 s^2) / (2 pi^2 k^2)
 *   scatter            = s^2 + 1/12 - bias^2
 *   error^2, mean of n = scatter / n + bias^2
 *
 * The bias is the same in every reading of a tone, and no mean takes it off: 1/12 where there is no
 * noise, and next to nothing from half a code on. Squares are means over tones that lie anywhere
 * between two codes; 0 to 1 code may then be a picture's.
 *
 * Source    definition: the Fourier series of rounding, of which noise takes its characteristic
 *           function (the statistical theory of quantization: Widrow, Kollar and Liu, IEEE Trans.
 *           Instrum. Meas. 45 (1996) 353-361). That an error of n readings is of this kind, with
 *           1/12 as a limit: Skartlien and Oyehaug, the same 54 (2005), its abstract
 */

/* ww__rounding_bias_2 - bias^2 at a noise of 0 or more. Accuracy 1e-11 */
double ww__rounding_bias_2(double noise);

/* ww__rounding_noise - the noise that gives a scatter of 0 or more, about the mean of each tone. A
 *                      patch that was measured has it from its pixels. Accuracy 1e-9 */
double ww__rounding_noise(double scatter);

#endif
