/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_TONES_WORDS_H
#define WEDGEWORK_OUT_TONES_WORDS_H

#include "base/text.h"
#include <wedgework/tones.h>

/* The act and the reason why: what is kept of the scene, or the film that a print takes. */
void ww__tones_act(const ww_tones *tones, ww__text *text);
void ww__tones_why(const ww_tones *tones, ww__text *text);

/* "0.35", with a stop of the scene counted down from white: "-2.5"; "white" at 0. */
void ww__tones_stops(ww__text *text, double scene);

#endif
