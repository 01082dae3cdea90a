#!/usr/bin/env python3
"""Reflectance and color of film stacks by general libraries, independent of the kernel.

Usage: python3 make_color_reference.py   (writes reflectance_reference.csv and color_reference.csv here)

Reflectance: tmm (S. J. Byrnes, arXiv:1603.02720), coherent stacks, mean of s and p polarization.
Color: colour-science, CIE 1931 2 degree observer, CIE illuminants, 380 to 780 nm in steps of 5 nm,
method "Integration"; adaptation by Bradford; sRGB of IEC 61966-2-1.
Optical constants: optical_nk_5nm.csv for silicon, aluminum and the absorption of resist; the dispersion
formulas of their papers for oxide, nitride and resist.
pip install tmm colour-science numpy scipy
"""
import csv
import os
import warnings

import numpy as np

warnings.filterwarnings("ignore")
import colour  # noqa: E402
from tmm import coh_tmm  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(HERE, "optical_nk_5nm.csv")) as file:
    ROWS = list(csv.DictReader(line for line in file if not line.startswith("#")))
WAVELENGTH = np.array([float(row["wavelength_nm"]) for row in ROWS])


def column(name):
    return np.array([float(row[name]) for row in ROWS])


UM2 = (WAVELENGTH / 1000.0) ** 2
INDEX = {
    "silicon": column("si_n_green") + 1j * column("si_k_green"),
    "aluminum": column("al_n") + 1j * column("al_k"),
    "thermal_oxide": np.sqrt(1 + 0.6961663 * UM2 / (UM2 - 0.0684043**2) + 0.4079426 * UM2 / (UM2 - 0.1162414**2)
                             + 0.8974794 * UM2 / (UM2 - 9.896161**2)),
    "nitride": np.sqrt(1 + 2.8939 * UM2 / (UM2 - 0.13967**2)),
    "resist": 1.60495 + 0.0143962 / UM2 + 1j * column("resist_k"),
}

# Films from the top down with their thickness in nm, what they lie on, angle in degrees.
STACKS = [
    ("", "silicon", 0), ("", "silicon", 60), ("", "aluminum", 0),
    ("thermal_oxide 10", "silicon", 0), ("thermal_oxide 100", "silicon", 0), ("thermal_oxide 500", "silicon", 0),
    ("thermal_oxide 500", "silicon", 30), ("thermal_oxide 500", "silicon", 75), ("thermal_oxide 1234.5", "silicon", 45),
    ("nitride 150;thermal_oxide 20", "silicon", 0), ("nitride 100;thermal_oxide 30", "silicon", 50),
    ("silicon 300;thermal_oxide 20", "silicon", 0), ("silicon 300;thermal_oxide 20", "silicon", 40),
    ("resist 1200;thermal_oxide 500", "silicon", 0), ("resist 1200;nitride 80;thermal_oxide 40", "silicon", 20),
    ("aluminum 30;thermal_oxide 500", "silicon", 0), ("aluminum 30;thermal_oxide 500", "silicon", 65),
]
LIGHTS = {"d65": "D65", "fl2": "FL2", "fl7": "FL7"}


def reflectance(films, substrate, degrees):
    layers = [film.split() for film in films.split(";") if film]
    thickness = [np.inf] + [float(nm) for _, nm in layers] + [np.inf]
    out = []
    for i, wavelength in enumerate(WAVELENGTH):
        n = [1.0] + [INDEX[name][i] for name, _ in layers] + [INDEX[substrate][i]]
        out.append(sum(coh_tmm(p, n, thickness, np.radians(degrees), wavelength)["R"] for p in "sp") / 2)
    return np.array(out)


def main():
    shape = colour.SpectralShape(380, 780, 5)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    with open(os.path.join(HERE, "reflectance_reference.csv"), "w") as spectra, \
            open(os.path.join(HERE, "color_reference.csv"), "w") as colors:
        spectra.write("# Made by make_color_reference.py with tmm; unpolarized reflectance; tolerance 1e-9.\n"
                      "films,substrate,angle_deg,wavelength_nm,reflectance\n")
        colors.write(f"# Made by make_color_reference.py with colour-science {colour.__version__}; tolerance 1e-4.\n"
                     "# X, Y, Z against a perfect white; r, g, b in sRGB from 0 to 1 before cutting off, plain and adapted\n"
                     "# (Bradford, bare silicon to the white of D65 at luminance 0.60).\n"
                     "films,substrate,angle_deg,lamp,x,y,z,r,g,b,x_adapted,y_adapted,z_adapted\n")
        for films, substrate, degrees in STACKS:
            r = reflectance(films, substrate, degrees)
            for i in range(0, len(WAVELENGTH), 8):
                spectra.write(f"{films},{substrate},{degrees},{WAVELENGTH[i]:g},{r[i]:.12f}\n")
            for lamp, name in LIGHTS.items():
                light = colour.SDS_ILLUMINANTS[name].copy().align(shape)

                def seen(values):
                    sd = colour.SpectralDistribution(dict(zip(WAVELENGTH, values)))
                    return colour.sd_to_XYZ(sd, observer, light, method="Integration", shape=shape) / 100

                xyz = seen(r)
                silicon = seen(reflectance("", "silicon", 0))
                d65 = colour.SDS_ILLUMINANTS["D65"].copy().align(shape)
                ones = colour.SpectralDistribution(dict(zip(WAVELENGTH, np.ones(len(WAVELENGTH)))))
                white = colour.sd_to_XYZ(ones, observer, d65, method="Integration", shape=shape) / 100
                adapted = colour.adaptation.chromatic_adaptation_VonKries(
                    xyz * 0.60 / silicon[1], silicon / silicon[1], white, transform="Bradford")
                rgb = colour.XYZ_to_sRGB(xyz, chromatic_adaptation_transform=None)
                colors.write(f"{films},{substrate},{degrees},{lamp}," + ",".join(f"{v:.8f}" for v in (*xyz, *rgb, *adapted)) + "\n")


if __name__ == "__main__":
    main()
