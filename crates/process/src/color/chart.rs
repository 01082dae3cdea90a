//! The published color chart of thermal oxide on silicon: names by thickness.

use crate::units::Length;

/// Thickness in um and name of each entry.
///
/// W. A. Pliskin, E. E. Conrad, IBM J. Res. Dev. 8, 43 (1964): oxide on silicon, seen
/// vertically under daylight fluorescent lamps. Up to 0.99 um read: a university course page
/// "`SiO2` Color Chart"; from 1.00 um on: memory.
pub const CHART: &[(f64, &str)] = &[
    (0.05, "tan"),
    (0.07, "brown"),
    (0.10, "dark violet to red violet"),
    (0.12, "royal blue"),
    (0.15, "light blue to metallic blue"),
    (0.17, "metallic to very light yellow-green"),
    (0.20, "light gold or yellow, slightly metallic"),
    (0.22, "gold with slight yellow-orange"),
    (0.25, "orange to melon"),
    (0.27, "red-violet"),
    (0.30, "blue to violet-blue"),
    (0.31, "blue"),
    (0.32, "blue to blue-green"),
    (0.34, "light green"),
    (0.35, "green to yellow-green"),
    (0.36, "yellow-green"),
    (0.37, "green-yellow"),
    (0.39, "yellow"),
    (0.41, "light orange"),
    (0.42, "carnation pink"),
    (0.44, "violet-red"),
    (0.46, "red-violet"),
    (0.47, "violet"),
    (0.48, "blue-violet"),
    (0.49, "blue"),
    (0.50, "blue-green"),
    (0.52, "green"),
    (0.54, "yellow-green"),
    (0.56, "green-yellow"),
    (0.57, "yellow to yellowish"),
    (0.58, "light orange or yellow to pink"),
    (0.60, "carnation pink"),
    (0.63, "violet-red"),
    (0.68, "bluish"),
    (0.72, "blue-green to green"),
    (0.77, "yellowish"),
    (0.80, "orange"),
    (0.82, "salmon"),
    (0.85, "dull light red-violet"),
    (0.86, "violet"),
    (0.87, "blue-violet"),
    (0.89, "blue"),
    (0.92, "blue-green"),
    (0.95, "dull yellow-green"),
    (0.97, "yellow to yellowish"),
    (0.99, "orange"),
    (1.00, "carnation pink"),
    (1.02, "violet-red"),
    (1.05, "red-violet"),
    (1.06, "violet"),
    (1.07, "blue-violet"),
    (1.10, "green"),
    (1.11, "yellow-green"),
    (1.12, "green"),
    (1.18, "violet"),
    (1.19, "red-violet"),
    (1.21, "violet-red"),
    (1.24, "carnation pink to salmon"),
    (1.25, "orange"),
    (1.28, "yellowish"),
    (1.32, "sky blue to green-blue"),
    (1.40, "orange"),
    (1.45, "violet"),
    (1.46, "blue-violet"),
    (1.50, "blue"),
    (1.54, "dull yellow-green"),
];

/// Below this the film is invisible to the eye: bare silicon is told from 30 nm of oxide only
/// by a slight tan (common practice).
const INVISIBLE_BELOW_UM: f64 = 0.03;

/// How far beyond its last entry the chart is still quoted, in um: the half distance to a next
/// entry as far away as the last but one.
const BEYOND_LAST_UM: f64 = 0.02;

/// The name that the chart gives to an oxide of this thickness: that of the nearest entry.
#[must_use]
pub fn chart_name(thickness: Length) -> &'static str {
    let um = thickness.to_um();
    if um < INVISIBLE_BELOW_UM {
        return "silicon gray";
    }
    let mut nearest = ("silicon gray", f64::INFINITY);
    let mut last_um = 0.0;
    for &(entry_um, name) in CHART {
        let away = (entry_um - um).abs();
        if away < nearest.1 {
            nearest = (name, away);
        }
        last_um = entry_um;
    }
    if last_um + BEYOND_LAST_UM < um {
        "pale, beyond the published chart"
    } else {
        nearest.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_those_of_the_nearest_entry_and_honest_outside() {
        let cases = [
            (0.0, "silicon gray"),
            (29.0, "silicon gray"),
            (50.0, "tan"),
            (100.0, "dark violet to red violet"),
            (394.0, "yellow"),
            (515.0, "green"),
            (1545.0, "dull yellow-green"),
            (1600.0, "pale, beyond the published chart"),
        ];
        for (nm, name) in cases {
            assert_eq!(chart_name(Length::nm(nm)), name, "{nm} nm");
        }
    }

    #[test]
    fn entries_increase() {
        assert!(CHART.windows(2).all(|pair| pair[0].0 < pair[1].0));
    }
}
