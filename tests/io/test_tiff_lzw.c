/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/tiff_lzw.h"
#include "io/tiff_made.h"

enum { MOST = 60000 };

/* A copy of its own, so that a sanitizer sees each byte that is read or written beyond it. */
static bool decodes(const unsigned char *in, size_t n_in, unsigned char *out, size_t n_out) {
    ww__tiff_lzw *lzw = malloc(sizeof *lzw);
    unsigned char *packed = malloc(n_in > 0 ? n_in : 1);
    unsigned char *bytes = malloc(n_out + WW__TIFF_LZW_SLACK);
    assert_true(lzw && packed && bytes);
    memcpy(packed, in, n_in);
    const bool done = ww__tiff_lzw_decode(lzw, packed, n_in, bytes, n_out);
    if (done)
        memcpy(out, bytes, n_out);
    free(lzw);
    free(packed);
    free(bytes);
    return done;
}

/* -------------------------------------------------------------------------------- by hand */

/* Codes of 9 bits, one behind the other, highest bit first. */
static size_t pack(const unsigned code[], size_t n, unsigned char *out) {
    memset(out, 0, (9 * n + 7) / 8);
    for (size_t i = 0; i < 9 * n; i++)
        if (code[i / 9] >> (8 - i % 9) & 1)
            out[i / 8] = (unsigned char)(out[i / 8] | 0x80 >> i % 8);
    return (9 * n + 7) / 8;
}

/*
 * Source: TIFF 6.0, section 13: 256 clears, 257 ends, 258 is the first string. The first row is
 * that section's example (from memory); the others by hand.
 */
static const struct {
    const char *name;
    size_t n_codes;
    unsigned code[12];
    size_t n;
    unsigned char byte[20];
    bool decoded;
} rows[] = {
    {"example", 9, {256, 7, 258, 8, 8, 258, 6, 6, 257}, 9, {7, 7, 7, 8, 8, 7, 7, 6, 6}, true},
    {"needs no end", 8, {256, 7, 258, 8, 8, 258, 6, 6}, 9, {7, 7, 7, 8, 8, 7, 7, 6, 6}, true},
    {"less is wanted", 9, {256, 7, 8, 9, 10, 11, 6, 6, 257}, 3, {7, 8, 9}, true},
    {"its own newest, growing to 8", 4, {256, 7, 258, 259}, 6, {7, 7, 7, 7, 7, 7}, true},
    {"longer than a word",
     7,
     {256, 7, 258, 259, 260, 260, 259},
     17,
     {7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7},
     true},
    {"cleared twice", 7, {256, 256, 7, 7, 256, 9, 258}, 5, {7, 7, 9, 9, 9}, true},
    {"no clear", 2, {7, 8}, 2, {0}, false},
    {"ends early", 3, {256, 7, 257}, 2, {0}, false},
    {"ends at once", 2, {256, 257}, 2, {0}, false},
    {"breaks off", 3, {256, 7, 8}, 3, {0}, false},
    {"a string that is none", 3, {256, 7, 259}, 3, {0}, false},
    {"a string first", 2, {256, 258}, 2, {0}, false},
    {"of the table before", 5, {256, 7, 7, 256, 258}, 4, {0}, false},
    {"a string too long", 4, {256, 7, 7, 258}, 3, {0}, false},
    {"the newest too long", 3, {256, 7, 258}, 2, {0}, false},
    {"nothing", 0, {0}, 1, {0}, false},
};

static void by_hand(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        unsigned char in[16], out[20] = {0};
        const size_t n = pack(rows[i].code, rows[i].n_codes, in);
        if (decodes(in, n, out, rows[i].n) != rows[i].decoded)
            fail_msg("%s: should %s", rows[i].name, rows[i].decoded ? "be read" : "be refused");
        test_true(rows[i].name, !rows[i].decoded || memcmp(out, rows[i].byte, rows[i].n) == 0);
    }
}

/* Bits the other way round, as before TIFF 5: the first code is 256 there too, lowest bit first. */
static void the_old_form_is_left_to_libtiff(void **state) {
    static const unsigned char old[] = {0x00, 0x0f, 0x10, 0x20, 0x40, 0x80, 0x00, 0x01};
    unsigned char out[4];
    (void)state;
    test_true("old", !decodes(old, sizeof old, out, 4));
}

/* ---------------------------------------------------------------------------- as libtiff */

/* A byte that is one of `many`, and mostly the one before where `many` is small. */
static unsigned char drawn(uint64_t *state, unsigned many, unsigned char before) {
    *state = *state * 6364136223846793005ULL + 1442695040888963407ULL;
    if (many < 4 && *state >> 60 != 0)
        return before;
    return (unsigned char)((*state >> 33) % many);
}

/* One strip of n bytes, compressed by libtiff; the compressed bytes, to be freed. */
static unsigned char *compressed(const char *path, unsigned char *bytes, size_t n, size_t *packed) {
    TIFF *tiff = made_open(path, "wl");
    unsigned char *raw;
    TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, (uint32_t)n);
    TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, 1);
    TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, 8);
    TIFFSetField(tiff, TIFFTAG_COMPRESSION, COMPRESSION_LZW);
    TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_MINISBLACK);
    TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, 1);
    assert_true(TIFFWriteEncodedStrip(tiff, 0, bytes, (tmsize_t)n) == (tmsize_t)n);
    TIFFClose(tiff);
    tiff = made_open(path, "r");
    *packed = (size_t)TIFFGetStrileByteCount(tiff, 0);
    raw = malloc(*packed);
    assert_non_null(raw);
    assert_true(TIFFReadRawStrip(tiff, 0, raw, (tmsize_t)*packed) == (tmsize_t)*packed);
    TIFFClose(tiff);
    return raw;
}

/* What libtiff makes of that strip with some bytes changed. */
static bool libtiff_decodes(const char *path, const unsigned char *raw, size_t packed,
                            unsigned char *out, size_t n) {
    TIFF *tiff = made_open(path, "r");
    const uint64_t at = TIFFGetStrileOffset(tiff, 0);
    FILE *file = fopen(path, "r+b");
    assert_true(file && fseek(file, (long)at, SEEK_SET) == 0);
    assert_true(fwrite(raw, 1, packed, file) == packed && fclose(file) == 0);
    const bool done = TIFFReadEncodedStrip(tiff, 0, out, (tmsize_t)n) == (tmsize_t)n;
    TIFFClose(tiff);
    return done;
}

/*
 * Source: libtiff, which compresses: what went in comes out. Some have few values and long strings,
 * some all values and full tables; a cut is refused, and damage that is not refused gives what
 * libtiff gives.
 */
static void as_libtiff(void **state) {
    static const unsigned values[] = {1, 2, 3, 7, 40, 256};
    static const size_t lengths[] = {1, 9, 600, 5003, MOST};
    char *folder = test_folder_new(), *path = test_path(folder, "a.tif");
    unsigned char *bytes = malloc(MOST), *out = malloc(MOST), *other = malloc(MOST);
    uint64_t random = 2731;
    size_t damaged = 0;
    (void)state;
    assert_true(bytes && out && other);
    for (size_t i = 0; i < 30; i++) {
        const size_t n = lengths[i % 5];
        size_t packed;
        unsigned char *raw;
        for (size_t k = 0; k < n; k++)
            bytes[k] = drawn(&random, values[i / 5], k > 0 ? bytes[k - 1] : 0);
        raw = compressed(path, bytes, n, &packed);
        test_true("comes back", decodes(raw, packed, out, n) && memcmp(out, bytes, n) == 0);
        test_true("cut", !decodes(raw, packed / 2, out, n));
        for (size_t k = 0; k < 20; k++) {
            const size_t at = (size_t)(random >> 20) % packed;
            const unsigned char before = raw[at];
            drawn(&random, 2, 0);
            raw[at] ^= (unsigned char)(1u << (random >> 40) % 8);
            if (decodes(raw, packed, out, n)) {
                test_true("as damaged", libtiff_decodes(path, raw, packed, other, n) &&
                                            memcmp(out, other, n) == 0);
                damaged++;
            }
            raw[at] = before;
        }
        free(raw);
    }
    test_true("some damage is none to LZW", damaged > 50);
    free(bytes);
    free(out);
    free(other);
    free(path);
    test_folder_remove(folder);
}

/* ------------------------------------------------------------------------------- differences */

/* Source: definition; sums of 1, 2, 3... are n (n + 1) / 2, to 8 or 16 bits. */
static void sums_of_differences(void **state) {
    enum { PIXELS = 731 };
    static const size_t sides[] = {1, 3, 4};
    (void)state;
    for (size_t k = 0; k < 3; k++)
        for (unsigned bits = 8; bits <= 16; bits += 8) {
            const size_t side = sides[k], n = PIXELS * side, size = bits / 8;
            unsigned char *row = malloc(n * size);
            assert_non_null(row);
            for (size_t i = 0; i < n; i++) {
                const uint16_t step = (uint16_t)((i / side + 1) * (i % side + 1));
                if (bits == 8)
                    row[i] = (unsigned char)step;
                else
                    memcpy(row + 2 * i, &step, 2);
            }
            ww__tiff_lzw_add_up(row, n, side, bits);
            for (size_t i = 0; i < n; i++) {
                const size_t m = i / side + 1, sum = m * (m + 1) / 2 * (i % side + 1);
                uint16_t got = row[i];
                if (bits == 16)
                    memcpy(&got, row + 2 * i, 2);
                test_close("sum", got, (double)(sum % ((size_t)1 << bits)), 0.0);
            }
            free(row);
        }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(by_hand),
        cmocka_unit_test(the_old_form_is_left_to_libtiff),
        cmocka_unit_test(as_libtiff),
        cmocka_unit_test(sums_of_differences),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
