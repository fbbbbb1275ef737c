/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/icc.h"
#include "support/support.h"
#include <lcms2.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

/* A profile with that description, written by lcms; release it with free. */
static void *profile_named(const wchar_t *name, cmsUInt32Number *n) {
    cmsHPROFILE made = cmsCreate_sRGBProfile();
    cmsMLU *text = cmsMLUalloc(NULL, 1);
    void *bytes = NULL;
    assert_true(made && text && cmsMLUsetWide(text, "en", "US", name));
    assert_true(cmsWriteTag(made, cmsSigProfileDescriptionTag, text));
    assert_true(cmsSaveProfileToMem(made, NULL, n));
    bytes = malloc(*n);
    assert_non_null(bytes);
    assert_true(cmsSaveProfileToMem(made, bytes, n));
    cmsMLUfree(text);
    cmsCloseProfile(made);
    return bytes;
}

/* Source: UTF-8 (RFC 3629) by hand. */
static const struct {
    const char *name;
    const wchar_t *wide;
    const char *want;
} rows[] = {
    {"plain", L"Backlit linear, 16 bit", "Backlit linear, 16 bit"},
    {"spaces", L"  Linear \t", "Linear"},
    {"line end", L"Linear\nlamp", "Linear lamp"},
    {"two bytes", L"D\x00fcster", "D\xc3\xbcster"},
    {"three bytes", L"\x65e5", "\xe6\x97\xa5"},
    {"surrogates", L"Backlit \xd83d\xdcf7 16", "Backlit"},
    {"surrogates alone", L"\xd83d\xdcf7", NULL},
    {"nothing", L" \n", NULL},
};

static void says_what_a_profile_calls_itself(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        cmsUInt32Number n;
        void *profile = profile_named(rows[i].wide, &n);
        char *got = ww__icc_description(profile, n);
        if (rows[i].want)
            test_text(rows[i].name, got, rows[i].want);
        else
            test_true(rows[i].name, got == NULL);
        free(got);
        free(profile);
    }
}

static void a_long_name_is_cut(void **state) {
    wchar_t wide[1001];
    cmsUInt32Number n;
    void *profile;
    char *got;
    (void)state;
    for (size_t i = 0; i < 1000; i++)
        wide[i] = L'\x00fc';
    wide[1000] = L'\0';
    profile = profile_named(wide, &n);
    got = ww__icc_description(profile, n);
    assert_non_null(got);
    test_true("whole letters", strlen(got) <= 200 && strlen(got) % 2 == 0 && strlen(got) > 190);
    free(got);
    free(profile);
}

/* Cut off or changed anywhere, it has a name or none. */
static void damage_is_borne(void **state) {
    cmsUInt32Number n;
    unsigned char *profile = profile_named(L"Backlit", &n);
    const size_t step = test_quick() ? 61 : 1;
    (void)state;
    test_true("nothing", ww__icc_description("", 0) == NULL);
    for (size_t i = 0; i < n; i += step) {
        const unsigned char whole = profile[i];
        free(ww__icc_description(profile, i));
        profile[i] = (unsigned char)~whole;
        free(ww__icc_description(profile, n));
        profile[i] = whole;
    }
    free(profile);
}

/* Source: definition; sRGB by IEC 61966-2-1: half is ((0.5 + 0.055) / 1.055)^2.4 = 0.2140 of light,
 * which a power of 2.224 makes. */
static void says_how_codes_are_encoded(void **state) {
    static const struct {
        const char *name;
        double gamma, want;
    } curves[] = {{"linear", 1.0, 1.0}, {"1.8", 1.8, 1.8}, {"sRGB", 0.0, 2.224}};
    (void)state;
    for (size_t i = 0; i < sizeof curves / sizeof curves[0]; i++) {
        cmsToneCurve *curve = cmsBuildGamma(NULL, curves[i].gamma);
        cmsHPROFILE made = curves[i].gamma > 0.0 ? cmsCreateGrayProfile(cmsD50_xyY(), curve)
                                                 : cmsCreate_sRGBProfile();
        unsigned char bytes[8192];
        cmsUInt32Number n = sizeof bytes;
        assert_true(cmsSaveProfileToMem(made, bytes, &n));
        test_close(curves[i].name, ww__icc_gamma(bytes, n).value, curves[i].want, 0.005);
        cmsCloseProfile(made);
        cmsFreeToneCurve(curve);
    }
    test_true("no profile", !ww__icc_gamma("none", 4).set);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(says_what_a_profile_calls_itself), cmocka_unit_test(a_long_name_is_cut),
        cmocka_unit_test(damage_is_borne), cmocka_unit_test(says_how_codes_are_encoded)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
