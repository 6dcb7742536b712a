/* Supernodal CHOLMOD with METIS, real: argv[1] matrix, argv[2] repetitions. */
#include "sparse-matrix.h"
#include <suitesparse/cholmod.h>

int main(int argc, char **argv)
{
    matrix a = read_matrix(argv[1]);
    int repeat = argc > 2 ? atoi(argv[2]) : 3;
    double base = peak();
    cholmod_common c;
    cholmod_start(&c);
    c.supernodal = CHOLMOD_SUPERNODAL;
    c.nmethods = 1;
    c.method[0].ordering = CHOLMOD_METIS;
    c.postorder = 1;
    cholmod_sparse s = { .nrow = a.n, .ncol = a.n, .nzmax = a.entries, .p = a.starts, .i = a.rows, .x = a.real, .stype = -1,
        .itype = CHOLMOD_INT, .xtype = CHOLMOD_REAL, .dtype = CHOLMOD_DOUBLE, .sorted = 1, .packed = 1 };
    double t, analysis = 1e300, factor = 1e300, solve = 1e300;
    cholmod_factor *l = NULL;
    for (int k = 0; k < repeat; k++) {
        if (l) cholmod_free_factor(&l, &c);
        t = now();
        l = cholmod_analyze(&s, &c);
        if (now() - t < analysis) analysis = now() - t;
    }
    cholmod_dense *b = cholmod_ones(a.n, 1, CHOLMOD_REAL, &c);
    for (int k = 0; k < repeat; k++) {
        t = now();
        cholmod_factorize(&s, l, &c);
        if (now() - t < factor) factor = now() - t;
        t = now();
        cholmod_dense *x = cholmod_solve(CHOLMOD_A, l, b, &c);
        if (now() - t < solve) solve = now() - t;
        cholmod_free_dense(&x, &c);
    }
    report("CHOLMOD-real", analysis, factor, solve, peak() - base);
    return 0;
}
