/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/gls.h"
#include <gsl/gsl_cdf.h>
#include <math.h>

bool ww__gls_factor(double covariance[], size_t n) {
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j <= i; j++) {
            double sum = covariance[i * n + j];
            for (size_t k = 0; k < j; k++)
                sum -= covariance[i * n + k] * covariance[j * n + k];
            if (i == j && !(sum > 0.0))
                return false;
            covariance[i * n + j] = i == j ? sqrt(sum) : sum / covariance[j * n + j];
        }
    }
    return true;
}

void ww__gls_whiten(const double factor[], size_t n, double v[]) {
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < i; k++)
            v[i] -= factor[i * n + k] * v[k];
        v[i] /= factor[i * n + i];
    }
}

void ww__gls_whiten_transposed(const double factor[], size_t n, double v[]) {
    for (size_t i = n; i-- > 0;) {
        for (size_t k = i + 1; k < n; k++)
            v[i] -= factor[k * n + i] * v[k];
        v[i] /= factor[i * n + i];
    }
}

double ww__gls_dot(const double a[], const double b[], size_t n) {
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

void ww__gls_make_square(double v[], const double along[], size_t n) {
    const double part = ww__gls_dot(v, along, n) / ww__gls_dot(along, along, n);
    for (size_t i = 0; i < n; i++)
        v[i] -= part * along[i];
}

double ww__gls_chance(double chi_squared, size_t freedom) {
    if (freedom == 0 || !(chi_squared > 0.0))
        return 1.0;
    return gsl_cdf_chisq_Q(chi_squared, (double)freedom);
}
