"""Lowest modes of K x = lambda M x by SciPy's eigsh in shift-invert mode, timed.

usage: python3 eigsh.py MATRICES COUNT TOLERANCE default|best SIGMA    (set OMP_NUM_THREADS=1 and its kin outside)
MATRICES holds two matrices, each as uint32 n, uint32 entries, uint32 columnStart[n+1], uint32 row[entries],
float64 value[entries]: lower triangles by columns. Prints one line of JSON. Reading and mirroring are not timed.

Shift-invert around SIGMA, which is below 0 for a free body.

default: eigsh factors K - SIGMA M itself (SuperLU, COLAMD ordering, partial pivoting).
best:    SuperLU told that the matrix is symmetric: minimum degree on A'+A, symmetric mode, diagonal pivots.
"""
import json
import sys
import time

import numpy as np
import scipy
from scipy.sparse import csc_matrix, tril
from scipy.sparse.linalg import LinearOperator, eigsh, splu


def read_matrix(stream):
    n, entries = np.fromfile(stream, np.uint32, 2)
    start = np.fromfile(stream, np.uint32, n + 1)
    row = np.fromfile(stream, np.uint32, entries)
    value = np.fromfile(stream, np.float64, entries)
    lower = csc_matrix((value, row.astype(np.int32), start.astype(np.int32)), shape=(n, n))
    full = (lower + tril(lower, -1).T).tocsc()
    full.eliminate_zeros()
    return full


path, count, tolerance, way = sys.argv[1], int(sys.argv[2]), float(sys.argv[3]), sys.argv[4]
sigma = float(sys.argv[5])
with open(path, "rb") as stream:
    K = read_matrix(stream)
    M = read_matrix(stream)

start = np.random.default_rng(1).standard_normal(K.shape[0])
wall, cpu = time.perf_counter(), time.process_time()
if way == "default":
    factored = None
    values = eigsh(K, count, M, sigma=sigma, which="LM", tol=tolerance, v0=start)[0]
else:
    lu = splu((K - sigma * M).tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options=dict(SymmetricMode=True))
    factored = time.perf_counter() - wall
    inverse = LinearOperator(K.shape, matvec=lu.solve, dtype=np.float64)
    values = eigsh(K, count, M, sigma=sigma, which="LM", tol=tolerance, v0=start, OPinv=inverse)[0]
print(json.dumps(dict(
    wall=time.perf_counter() - wall, cpu=time.process_time() - cpu, factor=factored,
    values=sorted(values.tolist()), scipy=scipy.__version__,
)))
