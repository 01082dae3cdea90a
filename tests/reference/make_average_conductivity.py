"""Writes average_conductivity.csv: sheet resistance times junction depth of Gaussian and
complementary error function profiles over a wafer of 1e15 per cm3, integrated with adaptive
quadrature and the mobility of Masetti, Severi and Solmi (1983), apart from the kernel.

Run: python3 make_average_conductivity.py > average_conductivity.csv (needs scipy).
"""

from math import erfc, exp, log

from scipy.integrate import quad
from scipy.special import erfcinv

Q = 1.602176634e-19
WAFER = 1e15
ROWS = {  # mu_max, mu_m1, mu_m2, mu_1, Pc, Cr, Cs, a, b
    "arsenic": (1417, 52.2, 52.2, 43.4, 0, 9.68e16, 3.43e20, 0.680, 2.00),
    "phosphorus": (1414, 68.5, 68.5, 56.1, 0, 9.20e16, 3.41e20, 0.711, 1.98),
    "boron": (470.5, 44.9, 0, 29.0, 9.23e16, 2.23e17, 6.10e20, 0.719, 2.00),
}
CASES = [
    ("boron", 1e20, 1.0),
    ("phosphorus", 1e20, 1.0),
    ("arsenic", 1e20, 0.3),
    ("boron", 1e19, 1.0),
    ("phosphorus", 1e19, 1.0),
    ("boron", 1e18, 1.0),
]


def mobility(dopant, n):
    high, m1, m2, m3, pc, cr, cs, a, b = ROWS[dopant]
    return m1 * exp(-pc / n) + (high - m2) / (1 + (n / cr) ** a) - m3 / (1 + (cs / n) ** b)


def product(shape, dopant, surface):
    """Rs xj in ohm um; it depends on the shape and on the two concentrations only."""
    if shape == "gaussian":
        k = log(surface / WAFER)
        c = lambda u: surface * exp(-k * u * u)
    else:
        k = erfcinv(WAFER / surface)
        c = lambda u: surface * erfc(k * u)
    f = lambda u: mobility(dopant, c(u) + WAFER) * (c(u) - WAFER)
    value, _ = quad(f, 0, 1, limit=400, epsrel=1e-10)
    return 1e4 / (Q * value)


print("# Rs times junction depth, from make_average_conductivity.py (scipy quadrature).")
print("# tolerance_reason: the kernel reads 200 points of the profile; the curves of J. C. Irvin,")
print("# Bell Syst. Tech. J. 41, 387 (1962), lie within 15 % (memory)")
print("id,shape,dopant,surface_cm3,junction_um,rs_xj_ohm_um,tolerance_rel,source,known_by")
n = 0
for dopant, surface, depth in CASES:
    for shape in ("gaussian", "erfc"):
        n += 1
        print(
            f"AC{n:02},{shape},{dopant},{surface:.0e},{depth},{product(shape, dopant, surface):.4f},"
            '0.003,"integral with the mobility of Masetti et al., IEEE Trans. Electron Devices 30, 764 (1983)",computed'
        )
