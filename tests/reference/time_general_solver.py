#!/usr/bin/env python3
"""How long a general-purpose solver takes for the diffusions that a slider asks for.

Usage: python3 time_general_solver.py [largest error in depth, 0.005]

The method of lines of make_diffusion_profiles.py (finite volumes on a graded grid) with the BDF
integrator of scipy, on the coarsest grid and at the loosest tolerance of a list that keep the error in
depth at 0.1, 0.01 and 0.001 of the largest concentration within the bound, against the committed
profiles. Prints one line a case: nodes, rtol, milliseconds (best of three), error in depth.
`cargo bench --package barewafer-process --bench diffusion` prints the same for the kernel.
One thread each: set OMP_NUM_THREADS=1 and OPENBLAS_NUM_THREADS=1.
"""
import os
import sys
import time

import numpy as np
from scipy.special import erfc

import make_diffusion_profiles as ref

U = ref.U
START_C09 = 2 * np.sqrt(sum(ref.comp("B", 950)) * 1800)
CASES = {
    "c04_B_predep_950C_30min": dict(
        els=["B"], length=0.6 * U, ratio=10, init=ref.stack(ref.zero), temp=950, t=1800, Cs=[2e20], bg=1e15),
    "c09_B_drivein_1100C_60min": dict(
        els=["B"], length=4.0 * U, ratio=40, init=ref.stack(lambda x: 2e20 * erfc(x / START_C09)),
        temp=1100, t=3600, Cs=None, bg=1e15),
    "c10_P_nwell_1150C_360min": dict(
        els=["P"], length=12 * U, ratio=20, init=ref.stack(lambda x: ref.gauss(x, 8e12, 0.1888 * U, 0.0628 * U)),
        temp=1150, t=21600, Cs=None, bg=-1e15),
    "c11_As_sd_950C_30min": dict(
        els=["As"], length=0.6 * U, ratio=6, init=ref.stack(lambda x: ref.gauss(x, 3e15, 0.0374 * U, 0.0136 * U)),
        temp=950, t=1800, Cs=None, bg=-1e16),
    "c13_As_B_coupled_1000C_30min": dict(
        els=["As", "B"], length=1.2 * U, ratio=5,
        init=ref.stack(lambda x: ref.gauss(x, 5e15, 0.0582 * U, 0.0207 * U),
                       lambda x: ref.gauss(x, 5e13, 0.1608 * U, 0.0504 * U)),
        temp=1000, t=1800, Cs=None, bg=1e16),
}
NODES = (41, 61, 81, 121, 161, 241, 321, 481, 641)
TOLERANCES = (1e-2, 3e-3, 1e-3, 1e-4, 1e-5)


def published(name):
    here = os.path.dirname(os.path.abspath(__file__))
    table = np.genfromtxt(os.path.join(here, "diffusion_profiles", name + ".csv"), delimiter=",",
                          comments="#", skip_header=0, names=None)
    table = table[~np.isnan(table).any(axis=1)]
    return table[:, 0] * U, table[:, 1:].T


def deepest(x, c, level):
    """The deepest depth at which c falls through level, on straight lines of ln c."""
    above = np.where(c > level)[0]
    if len(above) == 0 or above[-1] == len(x) - 1:
        return float("nan")
    i = above[-1]
    low = max(c[i + 1], 1e-30 * level)
    share = np.log(c[i] / level) / np.log(c[i] / low)
    return x[i] + share * (x[i + 1] - x[i])


def depth_error(x, c, x_ref, c_ref):
    worst = 0.0
    for mine, theirs in zip(c, c_ref):
        for share in (0.1, 0.01, 0.001):
            level = share * theirs.max()
            exact = deepest(x_ref, theirs, level)
            worst = max(worst, abs(deepest(x, mine, level) / exact - 1))
    return worst


def solve(case, nodes, rtol):
    x = ref.grid(case["length"], nodes, case["ratio"])
    start = time.perf_counter()
    c, _ = ref.solve(x, case["init"](x), case["els"], case["temp"], case["t"], case["Cs"], case["bg"], rtol=rtol)
    return time.perf_counter() - start, x, c


def main():
    bound = float(sys.argv[1]) if len(sys.argv) > 1 else 0.005
    print(f"error in depth at most {bound:g}")
    print("case,nodes,rtol,milliseconds,depth_error")
    for name, case in CASES.items():
        x_ref, c_ref = published(name)
        best = None
        for nodes in NODES:
            for rtol in TOLERANCES:
                seconds, x, c = solve(case, nodes, rtol)
                if depth_error(x, c, x_ref, c_ref) <= bound and (best is None or seconds < best[0]):
                    best = (seconds, nodes, rtol, depth_error(x, c, x_ref, c_ref))
            if best is not None:
                break  # a finer grid only takes longer
        if best is None:
            print(f"{name},no setting of the list meets the bound")
            continue
        _, nodes, rtol, error = best
        seconds = min(solve(case, nodes, rtol)[0] for _ in range(3))
        print(f"{name},{nodes},{rtol:g},{1e3 * seconds:.1f},{error:.2e}")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
