#!/usr/bin/env python3
"""Values of the hazard table's substances as open compilations list them, by registry number.

Usage: python3 generate_hazard_values.py   (reads hazards.csv, writes hazard_values.csv, both here)
pip install -r hazard_values_requirements.txt

Compilations, as the libraries carry and name them:
- Ontario: exposure limits for Ontario workplaces (Regulation 833), as listed by the Ministry of Labour; most of
  its values are those of the ACGIH. Taken in the units of the list.
- IEC 60079-20-1:2010 and NFPA 497 (2008): flash point, autoignition, flammable limits in air.
- Serat and others (2017): flash points (evaluated by DIPPR), only where neither standard has the substance.
- Wikidata: flammable limits, only where neither standard has the substance.
- CRC Handbook, CAS Common Chemistry: boiling point at 1 atm.
- IARC monographs and the US National Toxicology Program: cancer. The newer of two lists is taken.
- US EPA hazardous waste codes (40 CFR 261.33), University of Minnesota list of peroxide formers.
"""
import csv
import os
from importlib.metadata import distribution, version

import chemicals
from chemicals import identifiers, safety

HERE = os.path.dirname(os.path.abspath(__file__))
CHEMICALS = f"chemicals {version('chemicals')}"
LISTS = f"chemical-safety {version('chemical-safety')}"

# What a list names in place of a substance: the gas that a solution gives off, the element whose compounds count.
LISTED_AS = {
    "1336-21-6": ("7664-41-7", "as the ammonia it gives off"),
    "12125-01-8": ("Fluorides, as F", "as F"),
    "1327-53-3": ("7440-38-2", "as As"),
    "1309-64-4": ("7440-36-0", "as Sb"),
    "1312-43-2": ("7440-74-6", "as In"),
}
# The library's names of a number that are wrong or missing, with what it says.
NO_IDENTITY = {"7803-52-3": "the library gives the element antimony", "1309-64-4": "the library has no entry"}
IARC_NAMES = {
    "1327-53-3": "Arsenic and inorganic arsenic compounds",
    "1309-64-4": "Trivalent antimony",
    "7664-93-9": "Acid mists, strong inorganic",
}
NTP_NAMES = {
    "1327-53-3": "Arsenic and Inorganic Arsenic Compounds",
    "1309-64-4": "Antimony Trioxide",
}


def table(path, delimiter=","):
    with open(path, encoding="utf-8") as file:
        return list(csv.DictReader(file, delimiter=delimiter))


def lists(name):
    return table(distribution("chemical-safety").locate_file(f"chemical_safety/chemical/lists/{name}"))


ONTARIO = table(os.path.join(os.path.dirname(chemicals.__file__), "Safety", "Ontario Exposure Limits.tsv"), "\t")
IARC = {row["name"].strip(): row for row in lists("IARC_classification.csv") if row["group"]}
IARC_BY_CAS = {row["cas"]: row for row in IARC.values() if row["cas"]}
NTP = {
    **{row["name"].strip(): "known" for row in lists("NTP_known_carcinogens.csv")},
    **{row["name"].strip(): "reasonably anticipated" for row in lists("NTP_anticipated_carcinogens.csv")},
}
WASTE = {row["CAS"]: row["code"] for name in ("P", "U") for row in lists(f"EPA_{name}_List.csv")}
PEROXIDES = {row["CAS"]: row["PFC Class"] for row in lists("UMN_peroxide_formers.csv")}


def substances():
    seen = []
    for row in table(os.path.join(HERE, "hazards.csv")):
        for number in row["cas"].split(";"):
            number = number.strip()
            if number[:1].isdigit() and number not in seen:
                seen.append(number)
    return seen


def amount(text):
    """`0.5ppm` as value and unit."""
    text = text.strip()
    digits = "".join(c for c in text.replace("mg/m3", "").replace("ppm", "") if c in "0123456789.")
    return (digits.rstrip("0").rstrip(".") if "." in digits else digits), ("ppm" if "ppm" in text else "mg/m3")


def ontario(number):
    wanted, basis = LISTED_AS.get(number, (number, ""))
    for row in ONTARIO:
        agent, listed = row["Agent [CAS No.]"].strip(), (row["CASRN"] or "").split(";")
        if wanted not in [one.strip() for one in listed] and wanted != agent:
            continue
        for column, quantity in (
            ("Time-Weighted Average Limit (TWA)", "twa"),
            ("Short-Term Exposure Limit (STEL)", "stel"),
            ("Ceiling Limit (C)", "ceiling"),
        ):
            text = (row[column] or "").strip()
            if text:
                value, unit = amount(text)
                yield quantity, value, (f"{unit} {basis}" if basis and number != wanted else unit), ontario_source(agent)
        if "skin" in (row["Notations"] or "").lower():
            yield "skin", "yes", "", ontario_source(agent)


def ontario_source(agent):
    return f"Ontario exposure limits ({agent.split('[')[0].strip().rstrip(',')})"


def fire(number):
    standards = ("IEC 60079-20-1 (2010)", "NFPA 497 (2008)")
    for quantity, look, unit, spare in (
        ("flash_point", lambda m: safety.T_flash(number, method=m), "C", "Serat DIPPR (2017)"),
        ("autoignition", lambda m: safety.T_autoignition(number, method=m), "C", None),
        ("lower_flammable_limit", lambda m: safety.LFL(CASRN=number, method=m), "%", "WIKIDATA"),
        ("upper_flammable_limit", lambda m: safety.UFL(CASRN=number, method=m), "%", "WIKIDATA"),
    ):
        found = [(method, look(method)) for method in standards]
        found = [(method, value) for method, value in found if value is not None]
        if not found and spare and look(spare) is not None:
            found = [(spare, look(spare))]
        for method, value in found:
            shown = value - 273.15 if unit == "C" else 100 * value
            yield quantity, f"{shown:.4g}", unit, {"WIKIDATA": "Wikidata"}.get(method, method)


def boiling(number):
    known = chemicals.Tb_methods(number)
    for method, name in (("CRC_ORG", "CRC Handbook"), ("CRC_INORG", "CRC Handbook"), ("COMMON_CHEMISTRY", "CAS Common Chemistry")):
        if method in known:
            yield "boiling_point", f"{chemicals.Tb(number, method=method) - 273.15:.4g}", "C", name
            return


def cancer(number):
    row = IARC.get(IARC_NAMES.get(number, "")) or IARC_BY_CAS.get(number)
    if row:
        year = row["Evaluation year"].split(".")[0]
        yield "iarc_group", row["group"], "", f"IARC monographs, volume {row['Volume'].split(', ')[-1]} (evaluated {year})"
    named = NTP_NAMES.get(number)
    if named in NTP:
        yield "ntp", NTP[named], "", f"US National Toxicology Program ({named})"


def rows(number):
    if number not in NO_IDENTITY:
        found = identifiers.search_chemical(number)
        yield "formula", found.formula, "", f"identifiers ({found.common_name})", CHEMICALS
    for make, library in ((ontario, CHEMICALS), (fire, CHEMICALS), (boiling, CHEMICALS), (cancer, LISTS)):
        for row in make(number):
            yield (*row, library)
    if number in WASTE:
        yield "us_waste_code", WASTE[number], "", "US EPA lists, 40 CFR 261.33", LISTS
    if number in PEROXIDES:
        yield "peroxide_former", PEROXIDES[number], "", "University of Minnesota list of peroxide formers", LISTS


def main():
    with open(os.path.join(HERE, "hazard_values.csv"), "w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["cas", "quantity", "value", "unit", "source", "library", "known_by"])
        count = 0
        for number in substances():
            for row in rows(number):
                out.writerow([number, *row, "read"])
                count += 1
    print(count, "values")


if __name__ == "__main__":
    main()
