/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/three.h"
#include <string.h>

static double determinant(double m[WW__THREE][WW__THREE]) {
    return m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) -
           m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
           m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
}

double ww__three_invert(double m[WW__THREE][WW__THREE], double inverse[WW__THREE][WW__THREE]) {
    const double whole = determinant(m);
    if (whole == 0.0)
        return 0.0;
    for (int k = 0; k < WW__THREE; k++)
        for (int c = 0; c < WW__THREE; c++) {
            double one[WW__THREE][WW__THREE];
            memcpy(one, m, sizeof one);
            for (int r = 0; r < WW__THREE; r++)
                one[r][k] = r == c ? 1.0 : 0.0;
            inverse[k][c] = determinant(one) / whole;
        }
    return whole;
}
