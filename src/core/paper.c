/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <stddef.h>
#include <wedgework/paper.h>

static const struct grade {
    double least; /* negative's density range from which on this grade fits, in hundredths */
    double iso_range;
    const char *word;
} grades[WW_PAPER_GRADES] = {
    {141.0, 155.0, "very soft"}, {115.0, 128.0, "soft"},    {95.0, 105.0, "medium"},
    {80.0, 88.0, "hard"},        {65.0, 73.0, "very hard"}, {50.0, 58.0, "extra hard"},
};
static const double GREATEST = 160.0;

ww_status ww_paper_grade_of_range(double range, int *grade, ww_error *err) {
    assert(grade);
    if (!isfinite(range) || !(range > 0.0))
        return ww_error_set(err, WW_EDOMAIN, "a negative's density range of %g must be above 0",
                            range);
    const double hundredths = floor(100.0 * range + 0.5);
    for (int g = 0; g < WW_PAPER_GRADES && hundredths <= GREATEST; g++) {
        if (hundredths >= grades[g].least) {
            *grade = g;
            return WW_OK;
        }
    }
    return ww_error_set(
        err, WW_ENODATA,
        "no nominal grade takes a density range of %.2f, they go from 0.50 to 1.60; "
        "%s",
        range,
        hundredths > GREATEST ? "burn or dodge, or develop less next time"
                              : "develop more next time");
}

double ww_paper_grade_least(int grade) {
    assert(grade >= 0 && grade < WW_PAPER_GRADES);
    return grades[grade].least / 100.0;
}

ww_status ww_paper_nominal_range(double grade, double *iso_range, ww_error *err) {
    assert(iso_range);
    if (!(grade >= 0.0 && grade <= WW_PAPER_GRADES - 1))
        return ww_error_set(err, WW_EDOMAIN, "there is no nominal grade %g; they go from 0 to 5",
                            grade);
    const int below = grade < WW_PAPER_GRADES - 1 ? (int)grade : WW_PAPER_GRADES - 2;
    const double part = grade - below;
    *iso_range = (1.0 - part) * grades[below].iso_range + part * grades[below + 1].iso_range;
    return WW_OK;
}

const char *ww_paper_grade_word(int grade) {
    return grade >= 0 && grade < WW_PAPER_GRADES ? grades[grade].word : NULL;
}

ww_status ww_paper_aim_index(double negative_range, double subject_range, double flare,
                             double *index, ww_error *err) {
    assert(index);
    if (!isfinite(negative_range) || !(negative_range > 0.0))
        return ww_error_set(err, WW_EDOMAIN, "a density range of %g must be above 0",
                            negative_range);
    if (!isfinite(subject_range) || !(flare >= 0.0) || !(flare < subject_range))
        return ww_error_set(err, WW_EDOMAIN,
                            "camera flare of %g must be between 0 and the subject's range of %g",
                            flare, subject_range);
    *index = negative_range / (subject_range - flare);
    return WW_OK;
}
