/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <lcms2.h>
#include <math.h>
#include <wedgework/colour.h>

/* CIE 15: beyond this distance from the light of a glowing body nothing has a temperature. */
#define FARTHEST_UV 0.05

ww_lab ww_colour_lab(const double xyz[3], const double white[3]) {
    const cmsCIEXYZ seen = {xyz[0], xyz[1], xyz[2]}, beside = {white[0], white[1], white[2]};
    cmsCIELab made;
    cmsXYZ2Lab(&beside, &made, &seen);
    return (ww_lab){made.L, made.a, made.b};
}

void ww_colour_light(ww_lab lab, double light[3]) {
    static const double of_xyz[3][3] = {{3.1338561, -1.6168667, -0.4906146},
                                        {-0.9787684, 1.9161415, 0.0334540},
                                        {0.0719453, -0.2289914, 1.4052427}};
    const cmsCIELab from = {lab.l, lab.a, lab.b};
    cmsCIEXYZ xyz;
    cmsLab2XYZ(NULL, &xyz, &from);
    for (int i = 0; i < 3; i++)
        light[i] = of_xyz[i][0] * xyz.X + of_xyz[i][1] * xyz.Y + of_xyz[i][2] * xyz.Z;
}

double ww_colour_de2000(ww_lab one, ww_lab other) {
    const cmsCIELab a = {one.l, one.a, one.b}, b = {other.l, other.a, other.b};
    return cmsCIE2000DeltaE(&a, &b, 1.0, 1.0, 1.0);
}

static ww_status check_chromaticity(double x, double y, ww_error *err) {
    if (isfinite(x) && isfinite(y) && y > 0.0 && x >= 0.0 && x + y <= 1.0)
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN,
                        "x %g, y %g is no chromaticity: y is above 0, x not below it, and both "
                        "together no more than 1; correct the reading",
                        x, y);
}

ww_status ww_colour_of_screen(double luminance, double white, double x, double y, ww_lab *lab,
                              ww_error *err) {
    assert(lab);
    const ww_status status = check_chromaticity(x, y, err);
    if (status != WW_OK)
        return status;
    if (!(luminance >= 0.0) || !isfinite(luminance) || !(white > 0.0) || !isfinite(white))
        return ww_error_set(err, WW_EDOMAIN,
                            "luminance %g beside a white of %g cd/m2 is none: it is not below 0, "
                            "and white is above; correct the reading",
                            luminance, white);
    const double share = luminance / white;
    const cmsCIEXYZ *const d50 = cmsD50_XYZ();
    *lab = ww_colour_lab((double[]){x * share / y, share, (1.0 - x - y) * share / y},
                         (double[]){d50->X, d50->Y, d50->Z});
    return WW_OK;
}

/* CIE 1960, in which colours of one temperature lie across the line of daylight. */
static void to_uv(const cmsCIExyY *from, double uv[2]) {
    const double under = -2.0 * from->x + 12.0 * from->y + 3.0;
    uv[0] = 4.0 * from->x / under;
    uv[1] = 6.0 * from->y / under;
}

ww_status ww_colour_temperature(double x, double y, double *kelvin, ww_error *err) {
    const cmsCIExyY white = {x, y, 1.0};
    cmsCIExyY glowing;
    cmsFloat64Number found;
    double here[2], there[2];
    assert(kelvin);
    if (check_chromaticity(x, y, NULL) == WW_OK && cmsTempFromWhitePoint(&found, &white) &&
        cmsWhitePointFromTemp(&glowing, found)) {
        to_uv(&white, here);
        to_uv(&glowing, there);
        if (hypot(here[0] - there[0], here[1] - there[1]) <= FARTHEST_UV) {
            *kelvin = found;
            return WW_OK;
        }
    }
    return ww_error_set(err, WW_ENODATA,
                        "x %g, y %g has no colour temperature: it lies too far from daylight of "
                        "4000 to 25000 K",
                        x, y);
}
