#!/usr/bin/env python3
"""Writes diffusion_checks.csv: worked examples of predeposition and drive-in.

Standard library only and independent of the kernel: closed forms by math.erfc and bisection,
the two-step integral by the midpoint rule. Where a number was printed before, it stands here as
printed, and is asserted against the formula.
"""

import csv
import json
import math
import pathlib

K = 8.617333e-5


def kt(celsius):
    return K * (celsius + 273.15)


def arrhenius(d0, energy, celsius):
    return d0 * math.exp(-energy / kt(celsius))


def root(function, low, high):
    falling = function(low) > 0
    for _ in range(200):
        middle = 0.5 * (low + high)
        if (function(middle) > 0) == falling:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def erfc_junction(surface, background, dt):
    return 2 * math.sqrt(dt) * root(lambda y: math.erfc(y) - background / surface, 0, 10) * 1e4


def two_step(surface, dt1, dt2, x_um):
    end = math.atan(math.sqrt(dt1 / dt2))
    beta = (x_um * 1e-4) ** 2 / (4 * (dt1 + dt2))
    n = 20000
    total = sum(math.exp(-beta / math.cos((i + 0.5) * end / n) ** 2) for i in range(n))
    return 2 * surface / math.pi * total * end / n


ROWS = []
FD = "Fuller, Ditzenberger, J. Appl. Phys. 27, 544 (1956): D = 10.5 exp(-3.69/kT)"
CRANK = "Crank, The Mathematics of Diffusion (1975), ch. 2-3"
PDG = "Plummer, Deal, Griffin, Silicon VLSI Technology (2000), table 7-5"


def row(name, kind, inputs, quantity, value, unit, tolerance, source, known_by, deviation=""):
    inputs = json.dumps(inputs) if isinstance(inputs, dict) else inputs
    value = f"{value:.6g}"
    ROWS.append([name, kind, quantity, inputs, value, unit, tolerance, source, known_by, deviation])


def agrees(value, printed, tolerance=0.01):
    assert abs(value / printed - 1) < tolerance, (value, printed)
    return printed


def fd(celsius, minutes, surface, background):
    return {"operation": "predeposition", "dopant": "boron", "temperature_c": celsius,
            "time_min": minutes, "surface_concentration_cm3": surface,
            "diffusivity": "fuller_ditzenberger_1956", "solution": "closed_form",
            "substrate": {"type": "n", "concentration_cm3": background}}


def drive(start, minutes, background):
    return {"operation": "drive_in", "start": start, "temperature_c": 1100, "time_min": minutes,
            "diffusivity": "fuller_ditzenberger_1956", "solution": "closed_form",
            "substrate": {"type": "n", "concentration_cm3": background}}


# E1, E2
dt1 = arrhenius(10.5, 3.69, 950) * 1800
dose = 2 * 2e20 * math.sqrt(dt1 / math.pi)
row("E1-dose", "request", fd(950, 30, 2e20, 1e15), "dose_cm2", agrees(dose, 7.757e14), "cm-2",
    0.01, f"{FD}; {CRANK}", "computed")
for background, printed in [(1e15, 0.2219), (1e16, 0.1972)]:
    row(f"E1-junction-{background:g}", "request", fd(950, 30, 2e20, background),
        "junction_depth_um", agrees(erfc_junction(2e20, background, dt1), printed), "um", 0.01,
        f"{FD}; {CRANK}", "computed")
dt2 = arrhenius(10.5, 3.69, 1100) * 7200
after = dose / math.sqrt(math.pi * dt2)
row("E2-surface", "request", drive(fd(950, 30, 2e20, 1e15), 120, 1e15),
    "surface_concentration_cm3", agrees(after, 9.407e18), "cm-3", 0.01, f"{FD}; {CRANK}",
    "computed")
depth = 2 * math.sqrt(dt2 * math.log(after / 1e15)) * 1e4
row("E2-junction", "request", drive(fd(950, 30, 2e20, 1e15), 120, 1e15), "junction_depth_um",
    agrees(depth, 2.8145), "um", 0.01, f"{FD}; {CRANK}", "computed")
for x_um in [0.0, 1.0, 2.0]:
    row(f"E2-smith-{x_um:g}", "two_step", f"2e20 {math.sqrt(dt1)*1e4:.8g} {math.sqrt(dt2)*1e4:.8g} {x_um}",
        "concentration", two_step(2e20, dt1, dt2, x_um), "cm-3", 1e-4,
        "R. C. T. Smith 1953, quoted in Jaeger", "memory (formula); value computed")
# E3: own constants
d3 = lambda celsius: arrhenius(1.0, 3.46, celsius)
dt3, dt4 = d3(850) * 1800, d3(1150) * 2400
dose3 = agrees(2 * 2e20 * math.sqrt(dt3 / math.pi), 1.653e14)
after3 = agrees(dose3 / math.sqrt(math.pi * dt4), 2.547e18)
HOMEWORK = "a course problem: D0 = 1.0 cm2/s, Ea = 3.46 eV"
row("E3-dose", "constant_source", f"2e20 {math.sqrt(dt3)*1e4:.8g}", "dose", dose3, "cm-2", 0.01,
    HOMEWORK, "read: public homework page (problem); value computed")
row("E3-surface", "limited_source", f"{dose3} {math.sqrt(dt4)*1e4:.8g} 0", "concentration", after3,
    "cm-3", 0.01, HOMEWORK, "read: public homework page (problem); value computed")
row("E3-junction", "limited_junction", f"{dose3} {math.sqrt(dt4)*1e4:.8g} 2e15", "junction", agrees(
    2 * math.sqrt(dt4 * math.log(after3 / 2e15)) * 1e4, 1.958), "um", 0.01, HOMEWORK,
    "read: public homework page (problem); value computed")
# E4
dt5, dt6 = arrhenius(10.5, 3.69, 900) * 900, arrhenius(10.5, 3.69, 1100) * 18000
dose5 = agrees(2 * 1.1e20 * math.sqrt(dt5 / math.pi), 1.431e14)
after5 = agrees(dose5 / math.sqrt(math.pi * dt6), 1.097e18)
row("E4-dose", "request", fd(900, 15, 1.1e20, 3e16), "dose_cm2", dose5, "cm-2", 0.01,
    f"{FD}; {CRANK}", "computed")
row("E4-surface", "request", drive(fd(900, 15, 1.1e20, 3e16), 300, 3e16),
    "surface_concentration_cm3", after5, "cm-3", 0.01, f"{FD}; {CRANK}", "computed")
row("E4-junction", "request", drive(fd(900, 15, 1.1e20, 3e16), 300, 3e16), "junction_depth_um",
    agrees(2 * math.sqrt(dt6 * math.log(after5 / 3e16)) * 1e4, 2.791), "um", 0.01,
    f"{FD}; {CRANK}", "computed")
# E5
for dopant, parts, printed in [
    ("boron", [(0.05, 3.5), (0.95, 3.5)], 1.397e-14),
    ("phosphorus", [(3.85, 3.66), (4.44, 4.0), (44.2, 4.37)], 1.339e-14),
    ("arsenic", [(0.011, 3.44), (31.0, 4.15)], 1.423e-15),
    ("antimony", [(0.214, 3.65), (15.0, 4.08)], 1.822e-15),
]:
    value = sum(arrhenius(d0, e, 1000) for d0, e in parts)
    row(f"E5-{dopant}", "intrinsic", f"plummer_2000 {dopant} 1000", "diffusivity",
        agrees(value, printed), "cm2/s", 0.01, PDG, "memory")
# Gallium and aluminum
for dopant, (d0, energy), printed in [("aluminum", (8.0, 3.47), None), ("gallium", (3.6, 3.51), None)]:
    row(f"FD-{dopant}", "intrinsic", f"fuller_ditzenberger_1956 {dopant} 1200", "diffusivity",
        arrhenius(d0, energy, 1200), "cm2/s", 0.01, FD.split(":")[0], "read: abstract page")
for dopant, parts in [("gallium", [(0.37, 3.39), (28.5, 3.92)]), ("aluminum", [(1.39, 3.41), (2480.0, 4.20)])]:
    row(f"Fair-{dopant}", "intrinsic", f"fair_1981 {dopant} 1200", "diffusivity",
        sum(arrhenius(d0, e, 1200) for d0, e in parts), "cm2/s", 0.01,
        "Fair, in Impurity Doping Processes in Silicon (1981), ch. 7", "memory, factor 2")
# E6: the profile of c04
numerical = {"operation": "predeposition", "dopant": "boron", "temperature_c": 950,
             "time_min": 30, "surface_concentration_cm3": 2e20}
row("E6-dose", "request", numerical, "dose_cm2", 3.92e15, "cm-2", 0.01, PDG,
    "computed (independent finite volumes, case c04)")
row("E6-junction", "request", numerical, "junction_depth_um", 0.38655, "um", 0.01, PDG,
    "computed (independent finite volumes, case c04)")
# E7
ni = 3.87e16 * 1273.15**1.5 * math.exp(-0.605 / kt(1000))
row("E7-field", "field_factor", "1e20 1000", "h",
    agrees(1 + 1e20 / math.sqrt(1e40 + 4 * ni * ni), 1.990, 1e-3), "", 0.001, "textbook standard",
    "memory; algebra checked")
# Glass fronts in a mask, as printed to a nanometer
FRONT = "Sah, Sello, Tremere 1959; Ghandhi, VLSI Fabrication Principles"
TABLE = """900 0.128 0.181 0.362 0.003 0.004 0.008
950 0.172 0.243 0.486 0.005 0.007 0.014
1000 0.226 0.319 0.638 0.009 0.012 0.024
1050 0.290 0.410 0.820 0.014 0.020 0.039
1100 0.366 0.518 1.035 0.022 0.031 0.061
1150 0.455 0.643 1.286 0.033 0.046 0.093
1200 0.557 0.787 1.574 0.048 0.068 0.136"""
for line in TABLE.splitlines():
    celsius, *printed = line.split()
    cells = [(dopant, minutes) for dopant in ["phosphorus", "boron"] for minutes in [30, 60, 240]]
    for (dopant, minutes), text in zip(cells, printed):
        value = float(text)
        kg = arrhenius(*{"phosphorus": (1.7e-7, 1.46), "boron": (4.9e-5, 2.80)}[dopant], float(celsius))
        assert abs(math.sqrt(kg * 60 * minutes) * 1e4 - value) < 6e-4, (line, dopant)
        row(f"mask-{dopant}-{celsius}-{minutes}", "glass_front", f"{dopant} {celsius} {minutes}",
            "depth", value, "um", round(max(0.002, 6e-4 / value), 4), FRONT, "memory, factor 2 in Kg")
for dopant, value in [("boron", 3.4e-18), ("phosphorus", 2.1e-17), ("arsenic", 1e-17), ("gallium", 3e-12)]:
    row(f"oxide-{dopant}", "oxide_diffusivity", f"{dopant} 1000", "diffusivity", value, "cm2/s", 0.1,
        "Ghezzo, Brown, J. Electrochem. Soc. 120, 146 (1973) and textbook tables", "memory, factor 3")

path = pathlib.Path(__file__).with_name("diffusion_checks.csv")
with path.open("w", newline="") as file:
    file.write("# Worked examples of predeposition, drive-in and masks; written by make_diffusion_checks.py.\n")
    out = csv.writer(file, lineterminator="\n")
    out.writerow("id,kind,quantity,inputs,value,unit,tolerance,source,known_by,known_deviation".split(","))
    out.writerows(ROWS)
print(len(ROWS), "rows")
