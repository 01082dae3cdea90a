"""Single ions followed from collision to collision in an amorphous target.

Made the rows of indium, the damage curves of all ions in silicon (damage_curves.rs) and
implant_damage.csv. Needs numpy, scipy and numba:  python implant_collisions.py OUT.csv [ION ...]

Model: J. F. Ziegler, J. P. Biersack, U. Littmark, The Stopping and Range of Ions in Solids,
vol. 1, 1985, ch. 2 (universal potential, scattering formula); J. P. Biersack, L. G. Haggmark,
Nucl. Instrum. Methods 174, 257 (1980); electronic loss of J. Lindhard, M. Scharff, Phys. Rev.
124, 128 (1961), times a factor: 1.6 for boron on silicon, 1.0 for every other ion (memory).
The energy given to nuclei is counted where the collision happens: the paths of the atoms that
are struck, and what they lose to electrons, are left out.
"""

import sys

import numpy as np
from numba import njit
from scipy.optimize import fsolve
from scipy.stats import norm

# Atomic number, mass (isotope in the beam), factor on the electronic loss in silicon.
IONS = {
    "boron": (5, 11.009, 1.6),
    "fluorine": (9, 18.998, 1.0),
    "phosphorus": (15, 30.974, 1.0),
    "arsenic": (33, 74.922, 1.0),
    "indium": (49, 114.904, 1.0),
    "antimony": (51, 120.904, 1.0),
}
# Density in g/cm3, atoms of the formula: number, atomic number, mass.
TARGETS = {
    "silicon": (2.329, [(1, 14, 28.0855)]),
    "oxide": (2.27, [(1, 14, 28.0855), (2, 8, 15.999)]),
    "nitride": (3.10, [(3, 14, 28.0855), (4, 7, 14.007)]),
    "resist": (1.20, [(8, 6, 12.011), (8, 1, 1.008), (1, 8, 15.999)]),
    "aluminum": (2.70, [(1, 13, 26.982)]),
}
# Light ions have many collisions each: fewer give the same statistical error of the damage.
COUNTS = {"boron": 5000, "fluorine": 5000, "arsenic": 5000}
SILICON_KEV = [10, 20, 30, 40, 50, 60, 80, 100, 120, 150, 200, 300, 400]
LAYER_KEV = [10, 20, 30, 50, 80, 100, 150, 200, 300, 400]
A0, E2 = 0.529177, 14.3996  # angstrom, eV angstrom


@njit
def follow(z1, m1, energy, density, fraction, z2, m2, factor, count, seed, bins, width):
    """Ends of the paths in nm (depth < 0: left the target), damage in eV per ion and bin."""
    np.random.seed(seed)
    partners = len(z2)
    au, to_eps = np.empty(partners), np.empty(partners)
    most, loss = np.empty(partners), np.empty(partners)
    for k in range(partners):
        au[k] = 0.8854 * A0 / (z1**0.23 + z2[k] ** 0.23)
        to_eps[k] = au[k] * m2[k] / (z1 * z2[k] * E2 * (m1 + m2[k]))
        most[k] = 4.0 * m1 * m2[k] / (m1 + m2[k]) ** 2
        loss[k] = (factor * 1.212 * z1 ** (7 / 6) * z2[k]
                   / ((z1 ** (2 / 3) + z2[k] ** (2 / 3)) ** 1.5 * m1**0.5))
    electronic = density * np.sum(fraction * loss)
    free = density ** (-1.0 / 3.0)
    widest = 1.0 / np.sqrt(np.pi * density * free)
    depth, across = np.empty(count), np.empty(count)
    damage = np.zeros(bins)
    moments = np.zeros(3)
    for i in range(count):
        x, y, e = 0.0, 0.0, energy
        u, v, c = 0.0, 0.0, 1.0
        step = free * np.random.random()
        while True:
            x += c * step
            y += u * step
            if x < 0.0:
                break
            e -= electronic * np.sqrt(e) * step
            if e < 5.0:
                break
            k = 0
            if partners > 1:
                r = np.random.random()
                while k < partners - 1 and fraction[k] <= r:
                    r -= fraction[k]
                    k += 1
            b = np.sqrt(np.random.random()) * widest / au[k]
            eps = e * to_eps[k]
            if eps > 10.0:
                s2 = 1.0 / (1.0 + (1.0 + b * (1.0 + b)) * (2.0 * eps * b) ** 2)
            else:
                rr = 0.5 / eps + np.sqrt(0.25 / eps**2 + b * b)
                for _ in range(60):
                    e1, e2 = 0.1818 * np.exp(-3.2 * rr), 0.5099 * np.exp(-0.9423 * rr)
                    e3, e4 = 0.2802 * np.exp(-0.4028 * rr), 0.02817 * np.exp(-0.2016 * rr)
                    phi = e1 + e2 + e3 + e4
                    dphi = -3.2 * e1 - 0.9423 * e2 - 0.4028 * e3 - 0.2016 * e4
                    f = rr * rr - rr * phi / eps - b * b
                    df = 2.0 * rr - (phi + rr * dphi) / eps
                    new = rr - f / df
                    if new <= 0.0:
                        new = 0.5 * rr
                    done = abs(new - rr) < 1e-10 * rr
                    rr = new
                    if done:
                        break
                e1, e2 = 0.1818 * np.exp(-3.2 * rr), 0.5099 * np.exp(-0.9423 * rr)
                e3, e4 = 0.2802 * np.exp(-0.4028 * rr), 0.02817 * np.exp(-0.2016 * rr)
                phi = e1 + e2 + e3 + e4
                dphi = -3.2 * e1 - 0.9423 * e2 - 0.4028 * e3 - 0.2016 * e4
                potential = phi / rr
                slope = (dphi - potential) / rr
                rc = 2.0 * (eps - potential) / (-slope)
                root = np.sqrt(eps)
                alf = 1.0 + 0.99229 / root
                bet = (0.011615 + root) / (0.0071222 + root)
                gm = (14.813 + eps) / (9.3066 + eps)
                a = 2.0 * alf * eps * b**bet
                f = gm / (np.sqrt(1.0 + a * a) - a)
                delta = a * (rr - b) / (1.0 + f)
                half = min((b + rc + delta) / (rr + rc), 1.0)
                s2 = 1.0 - half * half
            given = most[k] * e * s2
            e -= given
            moments[0] += given
            moments[1] += given * x
            moments[2] += given * x * x
            bin_ = int(0.1 * x / width)
            if bin_ < bins:
                damage[bin_] += given
            if e < 5.0:
                break
            cos_cm = 1.0 - 2.0 * s2
            sin_cm = np.sqrt(max(0.0, 1.0 - cos_cm * cos_cm))
            psi = np.arctan2(sin_cm, cos_cm + m1 / m2[k])
            az = 2.0 * np.pi * np.random.random()
            cp, sp = np.cos(psi), np.sin(psi)
            ca, sa = np.cos(az), np.sin(az)
            s = np.sqrt(max(0.0, 1.0 - c * c))
            if s < 1e-8:
                u, v, c = sp * ca, sp * sa, c * cp
            else:
                un = u * cp + sp * (u * c * ca - v * sa) / s
                vn = v * cp + sp * (v * c * ca + u * sa) / s
                u, v, c = un, vn, c * cp - s * sp * ca
                length = np.sqrt(u * u + v * v + c * c)
                u, v, c = u / length, v / length, c / length
            short = b * au[k] * np.sqrt(s2 / max(1e-12, 1.0 - s2))
            step = free - min(short, free)
        depth[i], across[i] = 0.1 * x, 0.1 * y
    return depth, across, damage / count, moments / count


def shape(values):
    """Mean, standard deviation, skewness, kurtosis."""
    mean, sigma = values.mean(), values.std()
    u = (values - mean) / sigma
    return mean, sigma, (u**3).mean(), (u**4).mean()


def cut_normal(mean, sigma):
    """Center and width of the bell that, cut off at the surface, has this mean and sigma."""

    def off(p):
        center, width = p[0], np.exp(p[1])
        a = -center / width
        ratio = norm.pdf(a) / norm.sf(a)
        m = center + width * ratio
        s = width * np.sqrt(max(1e-12, 1.0 + a * ratio - ratio * ratio))
        return [m / mean - 1.0, s / sigma - 1.0]

    center, log_width = fsolve(off, [mean, np.log(sigma)])
    return center, np.exp(log_width)


def run(ion, target, kev, count, seed):
    z1, m1, factor = IONS[ion]
    rho, atoms = TARGETS[target]
    number = sum(n for n, _, _ in atoms)
    formula = sum(n * m for n, _, m in atoms)
    density = rho * 0.602214 * number / formula
    bins, width = 4000, max(0.05, 0.003 * kev)
    depth, across, damage, given = follow(
        float(z1), m1, 1e3 * kev, density,
        np.array([n / number for n, _, _ in atoms]),
        np.array([float(z) for _, z, _ in atoms]), np.array([m for _, _, m in atoms]),
        factor, count, seed, bins, width,
    )
    stays = depth >= 0.0
    mean, sigma, g, beta = shape(depth[stays])
    lateral = np.sqrt((across[stays] ** 2).mean())
    d_mean = 0.1 * given[1] / given[0]
    d_sigma = np.sqrt(0.01 * given[2] / given[0] - d_mean**2)
    center, spread = cut_normal(d_mean, d_sigma)
    shares = np.cumsum(damage) / damage.sum()
    edges = width * np.arange(1, bins + 1)
    low, middle, high = (np.interp(q, shares, edges) for q in (0.1, 0.5, 0.9))
    numbers = [mean, sigma, lateral, g, beta, 1.0 - stays.mean(), given[0] / (1e3 * kev),
               d_mean, d_sigma, center, spread, low, middle, high]
    return ",".join([ion, target, str(kev)] + [f"{n:.4f}" for n in numbers])


if __name__ == "__main__":
    head = ("ion,target,kev,range,straggle,lateral,skewness,kurtosis,backscattered,nuclear,"
            "damage_mean,damage_sigma,center,width,d10,d50,d90")
    with open(sys.argv[1], "w", encoding="ascii") as out:
        print(head, file=out)
        for ion in sys.argv[2:] or IONS:
            for kev in SILICON_KEV:
                print(run(ion, "silicon", kev, COUNTS.get(ion, 20000), 1), file=out, flush=True)
            if ion == "indium":
                for target in ("oxide", "nitride", "resist", "aluminum"):
                    for kev in LAYER_KEV:
                        print(run(ion, target, kev, 6000, 1), file=out, flush=True)
