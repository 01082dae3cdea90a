"""Writes scattering_angles.csv: the angle by which two atoms part, by quadrature with 40 digits.

Run with Python 3 and mpmath: python make_scattering_angles.py > scattering_angles.csv

An evaluation independent of the kernel's: mpmath's tanh-sinh quadrature of the classical
deflection integral with the universal potential, the closest approach by bisection.
"""

from mpmath import mp, mpf

mp.dps = 40

UNIVERSAL = [
    (mpf("0.1818"), mpf("3.2")),
    (mpf("0.5099"), mpf("0.9423")),
    (mpf("0.2802"), mpf("0.4028")),
    (mpf("0.02817"), mpf("0.2016")),
]


def screening(x):
    return sum(height * mp.exp(-rate * x) for height, rate in UNIVERSAL)


def closest_approach(energy, impact):
    def left(r):
        return r * r - r * screening(r) / energy - impact * impact

    low, high = impact, 1 / energy + impact
    for _ in range(200):
        middle = (low + high) / 2
        if left(middle) < 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def sine_squared(energy, impact):
    nearest = closest_approach(energy, impact)

    # r = nearest / (1 - s^2) takes the square root off the integrand at the closest approach.
    def integrand(s):
        u = 1 - s * s
        root = 1 - screening(nearest / u) * u / (energy * nearest) - (impact * u / nearest) ** 2
        return 2 * s / mp.sqrt(root)

    inside = mp.quad(integrand, [mpf("1e-15"), 0.05, 0.2, 0.5, 0.8, 1 - mpf("1e-30")])
    angle = mp.pi - 2 * impact / nearest * inside
    return mp.sin(angle / 2) ** 2


print("# Sine squared of half the scattering angle in the universal potential (Ziegler, Biersack,")
print("# Littmark 1985), reduced energy and impact parameter; computed by make_scattering_angles.py.")
print("# tolerance_reason: absolute 1e-9 (rounding of the kernel's doubles), relative 1e-3 (its 24 points)")
print("reduced_energy,reduced_impact,sine_squared,known_by")
for energy in ["1e-6", "1e-5", "1e-4", "1e-3", "1e-2", "0.1", "1", "10", "100"]:
    for impact in ["0.001", "0.01", "0.1", "0.3", "1", "2", "4", "8", "12", "15"]:
        value = sine_squared(mpf(energy), mpf(impact))
        print(f"{energy},{impact},{mp.nstr(value, 10)},computed")
