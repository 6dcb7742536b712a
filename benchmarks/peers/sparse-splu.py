"""SciPy's splu (SuperLU) on the complex matrix, its ordering as shipped (COLAMD) and the one meant for symmetric patterns (MMD)."""
import resource
import sys
import time

import numpy
import scipy.sparse
from scipy.sparse.linalg import splu

with open(sys.argv[1], "rb") as f:
    n, entries = numpy.fromfile(f, numpy.int32, 2)
    starts = numpy.fromfile(f, numpy.int32, n + 1)
    rows = numpy.fromfile(f, numpy.int32, entries)
    values = numpy.fromfile(f, float, entries) + 1j * numpy.fromfile(f, float, entries)
lower = scipy.sparse.csc_matrix((values, rows, starts), (n, n))
full = (lower + scipy.sparse.tril(lower, -1).T).tocsc()
base = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
for order in sys.argv[2:] or ["COLAMD", "MMD_AT_PLUS_A"]:
    start = time.process_time()
    factor = splu(full, permc_spec=order, options={"SymmetricMode": order != "COLAMD"}, diag_pivot_thresh=1.0 if order == "COLAMD" else 0.001)
    middle = time.process_time()
    factor.solve(numpy.ones(n, complex))
    end = time.process_time()
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"splu-complex-{order} 0 {1e3 * (middle - start):.1f} {1e3 * (end - middle):.1f} {(peak - base) / 1024:.0f}", flush=True)
    del factor
