//! Units of answers: how they are printed, what may be typed instead, and how to convert.

/// How a unit of the exercise file (`um`, `cm^-3`) is printed (`µm`, `cm⁻³`).
#[must_use]
pub fn printed(unit: &str) -> &str {
    match unit {
        "um" => "µm",
        "C" => "°C",
        "ohm cm" => "Ω cm",
        "cm^-2" => "cm⁻²",
        "cm^-3" => "cm⁻³",
        other => other,
    }
}

/// The unit that a name of the exercises ends in (`rp_um` -> `um`), or nothing.
#[must_use]
pub fn of_name(name: &str) -> &'static str {
    const SUFFIXES: &[(&str, &str)] = &[
        ("_nm", "nm"),
        ("_um", "um"),
        ("_min", "min"),
        ("_c", "C"),
        ("_k", "K"),
        ("_kev", "keV"),
        ("_rpm", "rpm"),
        ("_mv", "mV"),
        ("_ma", "mA"),
        ("_pct", "%"),
        ("_cm2", "cm^-2"),
        ("_cm3", "cm^-3"),
    ];
    SUFFIXES
        .iter()
        .find(|(suffix, _)| name.ends_with(suffix))
        .map_or("", |(_, unit)| *unit)
}

/// The factor from a typed unit to `asked`, e.g. 1000 from `µm` to `nm`.
///
/// Written forms are taken as people write them: `µm`, `um`, `microns`; `cm^-3`, `cm⁻³`,
/// `/cm3`, `per cm3`, `atoms/cm^3`. `None` if the unit is of another kind or not known.
#[must_use]
pub fn factor(typed: &str, asked: &str) -> Option<f64> {
    let typed = plain(typed);
    if typed.is_empty() {
        return Some(1.0);
    }
    let kind = KINDS.iter().find(|kind| kind.has(&plain(asked)))?;
    let (from, to) = (kind.size(&typed)?, kind.size(&plain(asked))?);
    // Sizes are whole numbers: dividing the larger one keeps factors such as 1000 exact.
    Some(from / to)
}

/// The units that may be typed where `asked` is asked, one spelling each.
#[must_use]
pub fn accepted(asked: &str) -> Vec<&'static str> {
    KINDS
        .iter()
        .find(|kind| kind.has(&plain(asked)))
        .map(|kind| kind.units.iter().map(|unit| unit.shown).collect())
        .unwrap_or_default()
}

struct Kind {
    units: &'static [Unit],
}

struct Unit {
    /// Size relative to the smallest of its kind.
    size: f64,
    /// The spelling in messages.
    shown: &'static str,
    /// Spellings after [`plain`].
    spellings: &'static [&'static str],
}

impl Kind {
    fn has(&self, unit: &str) -> bool {
        self.size(unit).is_some()
    }

    fn size(&self, unit: &str) -> Option<f64> {
        self.units.iter().find(|u| u.spellings.contains(&unit)).map(|u| u.size)
    }
}

const fn unit(
    size: f64,
    shown: &'static str,
    spellings: &'static [&'static str],
) -> Unit {
    Unit { size, shown, spellings }
}

/// Kinds of quantity. The factors are those of the SI and of counting.
const KINDS: &[Kind] = &[
    // Length, in angstrom.
    Kind {
        units: &[
            unit(1.0, "Å", &["å", "a", "angstrom", "angstroms"]),
            unit(
                1e1,
                "nm",
                &["nm", "nanometer", "nanometers", "nanometre", "nanometres"],
            ),
            unit(
                1e4,
                "µm",
                &[
                    "um",
                    "micron",
                    "microns",
                    "micrometer",
                    "micrometers",
                    "micrometre",
                    "micrometres",
                ],
            ),
            unit(1e7, "mm", &["mm", "millimeter", "millimeters", "millimetre"]),
            unit(1e8, "cm", &["cm", "centimeter", "centimeters", "centimetre"]),
            unit(1e10, "m", &["m", "meter", "meters", "metre", "metres"]),
        ],
    },
    // Rotation speed, in turns per minute.
    Kind {
        units: &[
            unit(1.0, "rpm", &["rpm", "r/min", "rev/min", "/min", "min-1", "u/min"]),
            unit(60.0, "1/s", &["/s", "s-1", "rps", "r/s", "rev/s", "hz"]),
            unit(1000.0, "krpm", &["krpm"]),
        ],
    },
    // Number per volume, per cubic meter.
    Kind {
        units: &[
            unit(1.0, "m⁻³", &["m-3", "/m3"]),
            unit(1e6, "cm⁻³", &["cm-3", "/cm3", "/cc", "/ml"]),
            unit(1e18, "µm⁻³", &["um-3", "/um3"]),
            unit(1e27, "nm⁻³", &["nm-3", "/nm3"]),
        ],
    },
    // Number per area, per square meter.
    Kind {
        units: &[
            unit(1.0, "m⁻²", &["m-2", "/m2"]),
            unit(1e4, "cm⁻²", &["cm-2", "/cm2"]),
            unit(1e12, "µm⁻²", &["um-2", "/um2"]),
        ],
    },
    // Resistivity, in milliohm centimeters.
    Kind {
        units: &[
            unit(1.0, "mΩ cm", &["mωcm", "mohmcm", "mohm-cm", "mω·cm"]),
            unit(1e3, "Ω cm", &["ωcm", "ohmcm", "ohm-cm", "ohmscm", "ω·cm", "ohm*cm"]),
            unit(1e5, "Ω m", &["ωm", "ohmm", "ohm-m", "ohmsm", "ω·m", "ohm*m"]),
        ],
    },
    // A ratio, in hundredths.
    Kind {
        units: &[
            unit(1.0, "%", &["%", "percent"]),
            unit(100.0, "1", &["", "1", "x", "times"]),
        ],
    },
    // Time, in seconds.
    Kind {
        units: &[
            unit(1.0, "s", &["s", "sec", "second", "seconds"]),
            unit(60.0, "min", &["min", "minute", "minutes"]),
            unit(3600.0, "h", &["h", "hr", "hour", "hours"]),
        ],
    },
];

/// Lower case without spaces, powers without `^`, `per` and `1/` as `/`, no `atoms`.
fn plain(unit: &str) -> String {
    let mut text: String = unit
        .chars()
        .map(|c| match c {
            'µ' | 'μ' => 'u',
            // The angstrom sign and the letter are two code points with one look.
            '\u{212b}' | 'Å' => 'å',
            '−' | '–' => '-',
            // The ohm sign and the letter are two code points with one look.
            '\u{2126}' | 'Ω' => 'ω',
            other => other.to_ascii_lowercase(),
        })
        .filter(|c| !c.is_whitespace() && *c != '^' && *c != '.')
        .collect();
    for (from, to) in [("⁻", "-"), ("¹", "1"), ("²", "2"), ("³", "3")] {
        text = text.replace(from, to);
    }
    for words in ["atoms", "atom", "ions", "ion"] {
        if let Some(rest) = text.strip_prefix(words) {
            text = rest.to_owned();
        }
    }
    if let Some(rest) = text.strip_prefix("per") {
        text = format!("/{rest}");
    }
    if let Some(rest) = text.strip_prefix("1/") {
        text = format!("/{rest}");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(typed: &str, asked: &str, expected: f64) {
        let found = factor(typed, asked).expect("a known unit");
        assert!(
            (found - expected).abs() <= 1e-15 * expected,
            "{typed} -> {asked}: {found}"
        );
    }

    #[test]
    fn units_are_taken_as_people_write_them() {
        for micrometer in ["um", "µm", "μm", "UM", " um ", "microns", "micrometers"] {
            check(micrometer, "nm", 1e3);
        }
        check("", "nm", 1.0);
        check("nm", "um", 1e-3);
        check("cm", "um", 1e4);
        check("mm", "um", 1e3);
        check("Å", "nm", 0.1);
        check("\u{212b}", "nm", 0.1);
        for per_volume in [
            "cm^-3",
            "cm-3",
            "cm⁻³",
            "/cm3",
            "/cm^3",
            "1/cm3",
            "per cm3",
            "atoms/cm³",
            "atoms cm^-3",
        ] {
            check(per_volume, "cm^-3", 1.0);
        }
        check("m^-3", "cm^-3", 1e-6);
        check("rpm", "rpm", 1.0);
        check("Hz", "rpm", 60.0);
        check("1/min", "rpm", 1.0);
        check("h", "min", 60.0);
        check("m⁻²", "cm^-2", 1e-4);
        for ohm_cm in ["ohm cm", "Ω cm", "\u{2126}·cm", "Ohm-cm", "ohm*cm"] {
            check(ohm_cm, "ohm cm", 1.0);
        }
        check("Ω m", "ohm cm", 100.0);
        check("mΩ cm", "ohm cm", 1e-3);
    }

    #[test]
    fn a_unit_of_another_kind_is_refused() {
        for (typed, asked) in [
            ("um", "rpm"),
            ("cm^-2", "cm^-3"),
            ("furlong", "nm"),
            ("x", "cm^-3"),
            ("nm", "C"),
        ] {
            assert_eq!(factor(typed, asked), None, "{typed} for {asked}");
        }
        assert!(accepted("nm").contains(&"µm"));
        assert!(accepted("?").is_empty());
    }

    #[test]
    fn units_are_printed_as_in_print() {
        assert_eq!(
            (printed("um"), printed("cm^-3"), printed("rpm")),
            ("µm", "cm⁻³", "rpm")
        );
        assert_eq!(
            (of_name("rp_um"), of_name("dose_cm2"), of_name("ratio")),
            ("um", "cm^-2", "")
        );
    }
}
