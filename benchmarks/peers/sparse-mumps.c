/* MUMPS, sequential, ordering METIS: real (SYM=2 or SYM=1) or complex symmetric (SYM=2).
   argv[1] matrix, argv[2] repetitions, argv[3] "real" or "complex", argv[4] pivot threshold (default as shipped, 0 for none). */
#include "sparse-matrix.h"
#include <dmumps_c.h>
#include <zmumps_c.h>
#define ICNTL(k) icntl[(k) - 1]

#define RUN(STRUC, CALL, VALUE, NAME) \
    STRUC m; memset(&m, 0, sizeof m); \
    m.comm_fortran = -987654; m.par = 1; m.sym = 2; m.job = -1; CALL(&m); \
    m.ICNTL(1) = m.ICNTL(2) = m.ICNTL(3) = -1; m.ICNTL(4) = 0; m.ICNTL(7) = 5; m.ICNTL(14) = 60; \
    if (argc > 4) m.cntl[0] = atof(argv[4]); \
    m.n = a.n; m.nz = a.entries; m.irn = irn; m.jcn = jcn; m.a = VALUE; \
    double t, analysis = 1e300; \
    for (int k = 0; k < repeat; k++) { t = now(); m.job = 1; CALL(&m); if (now() - t < analysis) analysis = now() - t; } \
    for (int k = 0; k < repeat; k++) { \
        t = now(); m.job = 2; CALL(&m); if (now() - t < factor) factor = now() - t; \
        if (m.info[0] < 0) { printf("%s failed %d\n", NAME, m.info[0]); return 1; } \
        for (int j = 0; j < a.n; j++) rhs[j * width] = 1; \
        m.rhs = (void *)rhs; t = now(); m.job = 3; CALL(&m); if (now() - t < solve) solve = now() - t; } \
    report(NAME, analysis, factor, solve, peak() - base);

int main(int argc, char **argv)
{
    matrix a = read_matrix(argv[1]);
    int repeat = argc > 2 ? atoi(argv[2]) : 2, complex = argc > 3 && !strcmp(argv[3], "complex"), width = complex ? 2 : 1;
    int *irn = malloc(4 * (size_t)a.entries), *jcn = malloc(4 * (size_t)a.entries);
    double *value = malloc(8 * (size_t)width * a.entries), *rhs = calloc((size_t)width * a.n, 8);
    for (int j = 0; j < a.n; j++)
        for (int p = a.starts[j]; p < a.starts[j + 1]; p++) {
            irn[p] = a.rows[p] + 1; jcn[p] = j + 1; value[p * width] = a.real[p];
            if (complex) value[p * width + 1] = a.imaginary[p];
        }
    double base = peak(), factor = 1e300, solve = 1e300;
    if (complex) { RUN(ZMUMPS_STRUC_C, zmumps_c, (mumps_double_complex *)value, argc > 4 ? "ZMUMPS-SYM2-no-pivoting" : "ZMUMPS-SYM2") }
    else { RUN(DMUMPS_STRUC_C, dmumps_c, value, "DMUMPS-SYM2") }
    return 0;
}
