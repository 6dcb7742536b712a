/* UMFPACK, complex, its own choice of strategy and ordering: argv[1] matrix, argv[2] repetitions. */
#include "sparse-matrix.h"
#include <suitesparse/umfpack.h>

int main(int argc, char **argv)
{
    matrix a = read_matrix(argv[1]);
    int repeat = argc > 2 ? atoi(argv[2]) : 2, n = a.n, full = 2 * a.entries - n;
    int *ap = calloc(n + 1, 4), *ai = malloc(4 * (size_t)full), *next = malloc(4 * (size_t)n);
    double *ax = malloc(8 * (size_t)full), *az = malloc(8 * (size_t)full);
    for (int j = 0; j < n; j++)
        for (int p = a.starts[j]; p < a.starts[j + 1]; p++) {
            ap[j + 1]++;
            if (a.rows[p] != j) ap[a.rows[p] + 1]++;
        }
    for (int j = 0; j < n; j++) ap[j + 1] += ap[j];
    memcpy(next, ap, 4 * (size_t)n);
    for (int j = 0; j < n; j++) /* columns ascending leave rows ascending: the upper part is filled first */
        for (int p = a.starts[j]; p < a.starts[j + 1]; p++)
            if (a.rows[p] != j) { int i = a.rows[p], q = next[i]++; ai[q] = j; ax[q] = a.real[p]; az[q] = a.imaginary[p]; }
    for (int j = 0; j < n; j++)
        for (int p = a.starts[j]; p < a.starts[j + 1]; p++) { int q = next[j]++; ai[q] = a.rows[p]; ax[q] = a.real[p]; az[q] = a.imaginary[p]; }
    double base = peak(), *xr = malloc(8 * (size_t)n), *xi = malloc(8 * (size_t)n), *br = malloc(8 * (size_t)n), *bi = calloc(n, 8);
    for (int j = 0; j < n; j++) br[j] = 1;
    double control[UMFPACK_CONTROL], info[UMFPACK_INFO];
    umfpack_zi_defaults(control);
    void *symbolic = NULL, *numeric = NULL;
    double t, analysis = 1e300, factor = 1e300, solve = 1e300;
    for (int k = 0; k < repeat; k++) {
        if (symbolic) umfpack_zi_free_symbolic(&symbolic);
        t = now();
        if (umfpack_zi_symbolic(n, n, ap, ai, ax, az, &symbolic, control, info)) { printf("UMFPACK-complex failed\n"); return 1; }
        if (now() - t < analysis) analysis = now() - t;
    }
    for (int k = 0; k < repeat; k++) {
        t = now();
        if (umfpack_zi_numeric(ap, ai, ax, az, symbolic, &numeric, control, info)) { printf("UMFPACK-complex failed\n"); return 1; }
        if (now() - t < factor) factor = now() - t;
        t = now();
        umfpack_zi_solve(UMFPACK_A, ap, ai, ax, az, xr, xi, br, bi, numeric, control, info);
        if (now() - t < solve) solve = now() - t;
        umfpack_zi_free_numeric(&numeric);
    }
    report("UMFPACK-complex", analysis, factor, solve, peak() - base);
    return 0;
}
