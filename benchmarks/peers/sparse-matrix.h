/* Reads the lower triangle of a complex symmetric matrix as the benchmark writes it (native byte order):
   int32 n, int32 entries, int32 starts[n + 1], int32 rows[entries], double real[entries], double imaginary[entries]. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

typedef struct { int n, entries; int *starts, *rows; double *real, *imaginary; } matrix;

static matrix read_matrix(const char *path)
{
    matrix a;
    FILE *f = fopen(path, "rb");
    if (!f || fread(&a.n, 4, 1, f) != 1 || fread(&a.entries, 4, 1, f) != 1) { perror(path); exit(2); }
    a.starts = malloc(4 * (size_t)(a.n + 1));
    a.rows = malloc(4 * (size_t)a.entries);
    a.real = malloc(8 * (size_t)a.entries);
    a.imaginary = malloc(8 * (size_t)a.entries);
    if (fread(a.starts, 4, a.n + 1, f) != (size_t)a.n + 1 || fread(a.rows, 4, a.entries, f) != (size_t)a.entries
        || fread(a.real, 8, a.entries, f) != (size_t)a.entries || fread(a.imaginary, 8, a.entries, f) != (size_t)a.entries) { perror(path); exit(2); }
    fclose(f);
    return a;
}

/* Processor time of this process, ms. */
static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return 1e3 * t.tv_sec + 1e-6 * t.tv_nsec;
}

/* Peak resident memory so far, MB. */
static double peak(void)
{
    struct rusage u;
    getrusage(RUSAGE_SELF, &u);
    return u.ru_maxrss / 1024.0;
}

/* One line a peer: name, analysis ms, factorisation ms (best), solve ms (best), peak MB beyond the matrix itself. */
static void report(const char *name, double analysis, double factor, double solve, double memory)
{
    printf("%s %.1f %.1f %.1f %.0f\n", name, analysis, factor, solve, memory);
    fflush(stdout);
}
