//! Mobility of majority carriers in doped silicon.

use crate::num::{exp, pow};
use crate::vocabulary::{Dopant, DopingType, MobilityModel};

/// One row of Masetti's table.
#[derive(Clone, Copy, Debug)]
struct MasettiRow {
    highest: f64,
    lowest: f64,
    lowest_of_sum: f64,
    high_doping_drop: f64,
    pc_cm3: f64,
    cr_cm3: f64,
    cs_cm3: f64,
    alpha: f64,
    beta: f64,
}

/// Arsenic. G. Masetti, M. Severi, S. Solmi, IEEE Trans. Electron Devices 30, 764, 1983,
/// table I (memory; read: quoted in the open documentation of a detector library).
const ARSENIC: MasettiRow = MasettiRow {
    highest: 1417.0,
    lowest: 52.2,
    lowest_of_sum: 52.2,
    high_doping_drop: 43.4,
    pc_cm3: 0.0,
    cr_cm3: 9.68e16,
    cs_cm3: 3.43e20,
    alpha: 0.680,
    beta: 2.00,
};
/// Phosphorus, same table (same standing).
const PHOSPHORUS: MasettiRow = MasettiRow {
    highest: 1414.0,
    lowest: 68.5,
    lowest_of_sum: 68.5,
    high_doping_drop: 56.1,
    pc_cm3: 0.0,
    cr_cm3: 9.20e16,
    cs_cm3: 3.41e20,
    alpha: 0.711,
    beta: 1.98,
};
/// Boron, same table (memory).
const BORON: MasettiRow = MasettiRow {
    highest: 470.5,
    lowest: 44.9,
    lowest_of_sum: 0.0,
    high_doping_drop: 29.0,
    pc_cm3: 9.23e16,
    cr_cm3: 2.23e17,
    cs_cm3: 6.10e20,
    alpha: 0.719,
    beta: 2.00,
};

impl MasettiRow {
    fn at(&self, total_cm3: f64) -> f64 {
        let n = total_cm3.max(1.0);
        let first = self.lowest * exp(-self.pc_cm3 / n);
        let second = (self.highest - self.lowest_of_sum)
            / (1.0 + pow(n / self.cr_cm3, self.alpha));
        first + second - self.high_doping_drop / (1.0 + pow(self.cs_cm3 / n, self.beta))
    }
}

/// Returns the mobility of the majority carriers at 300 K in cm2/Vs.
///
/// # Model
/// `mu = mu1 exp(-Pc/N) + (mumax - mu2)/(1 + (N/Cr)^a) - mu3/(1 + (Cs/N)^b)`, `N` the sum of all
/// ionized dopants. Antimony takes the phosphorus row and the other acceptors the boron row (model choice:
/// the table has no row of theirs).
///
/// # Source
/// G. Masetti, M. Severi, S. Solmi, IEEE Trans. Electron Devices 30, 764, 1983, table I.
///
/// # Validity
/// 1e13 to 5e20 per cm3; above 3e20 only for what is electrically active.
#[must_use]
pub fn masetti_cm2_vs(dopant: Dopant, total_cm3: f64) -> f64 {
    match dopant {
        Dopant::Arsenic => ARSENIC.at(total_cm3),
        Dopant::Phosphorus | Dopant::Antimony => PHOSPHORUS.at(total_cm3),
        Dopant::Boron | Dopant::Indium | Dopant::Gallium | Dopant::Aluminum => {
            BORON.at(total_cm3)
        }
    }
}

/// Returns the mobility of the majority carriers at 300 K in cm2/Vs in the short form that
/// textbooks print for doping up to 1e18: two terms, `Pc = mu3 = 0`, one minimum.
///
/// # Source
/// B. Van Zeghbroeck, Principles of Semiconductor Devices, ch. 2 (read: example page).
#[must_use]
pub fn two_term_cm2_vs(dopant: Dopant, total_cm3: f64) -> f64 {
    let row = match dopant {
        Dopant::Arsenic => ARSENIC,
        Dopant::Phosphorus | Dopant::Antimony => PHOSPHORUS,
        Dopant::Boron | Dopant::Indium | Dopant::Gallium | Dopant::Aluminum => BORON,
    };
    MasettiRow { pc_cm3: 0.0, high_doping_drop: 0.0, lowest_of_sum: row.lowest, ..row }
        .at(total_cm3)
}

/// Returns the mobility of the majority carriers in cm2/Vs at a temperature in K.
///
/// # Model
/// With `Tn = T/300`: electrons `88 Tn^-0.57 + 7.4e8 T^-2.33/(1 + 0.88 Tn^-0.146 N/(1.26e17
/// Tn^2.4))`, holes `54.3 Tn^-0.57 + 1.36e8 T^-2.23/(1 + 0.88 Tn^-0.146 N/(2.35e17 Tn^2.4))`.
///
/// # Source
/// N. D. Arora, J. R. Hauser, D. J. Roulston, IEEE Trans. Electron Devices 29, 292, 1982
/// (memory).
///
/// # Validity
/// 200 to 500 K, up to 1e20 per cm3.
#[must_use]
pub fn arora_cm2_vs(carriers: DopingType, total_cm3: f64, temperature_k: f64) -> f64 {
    let tn = temperature_k / 300.0;
    let [lowest, lattice, power, reference] = arora_constants(carriers);
    let doped = 0.88 * pow(tn, -0.146) * total_cm3 / (reference * pow(tn, 2.4));
    lowest * pow(tn, -0.57) + lattice * pow(temperature_k, power) / (1.0 + doped)
}

/// Lowest mobility, lattice factor and its power, reference doping of [`arora_cm2_vs`].
pub(super) const fn arora_constants(carriers: DopingType) -> [f64; 4] {
    match carriers {
        DopingType::N => [88.0, 7.4e8, -2.33, 1.26e17],
        DopingType::P => [54.3, 1.36e8, -2.23, 2.35e17],
    }
}

/// Masetti's row of a dopant, constant by constant with its unit.
pub(super) const fn masetti_constants(
    dopant: Dopant,
) -> [(&'static str, f64, &'static str); 9] {
    let row = match dopant {
        Dopant::Arsenic => ARSENIC,
        Dopant::Phosphorus | Dopant::Antimony => PHOSPHORUS,
        _ => BORON,
    };
    [
        ("mu max", row.highest, "cm2/(V s)"),
        ("mu 1", row.lowest, "cm2/(V s)"),
        ("mu 2", row.lowest_of_sum, "cm2/(V s)"),
        ("mu 3", row.high_doping_drop, "cm2/(V s)"),
        ("Pc", row.pc_cm3, "cm-3"),
        ("Cr", row.cr_cm3, "cm-3"),
        ("Cs", row.cs_cm3, "cm-3"),
        ("a", row.alpha, ""),
        ("b", row.beta, ""),
    ]
}

impl MobilityModel {
    /// Mobility at 300 K in cm2/Vs of the carriers that `dopant` gives.
    #[must_use]
    pub fn mobility_cm2_vs(self, dopant: Dopant, total_cm3: f64) -> f64 {
        match self {
            Self::Masetti1983 => masetti_cm2_vs(dopant, total_cm3),
            Self::Arora1982 => arora_cm2_vs(dopant.doping_type(), total_cm3, 300.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_follow_the_printed_tables() {
        let rows = [
            (1e14, 1404.0, 1404.0, 469.0, 1339.0, 461.0),
            (1e16, 1177.0, 1184.0, 425.0, 1258.0, 447.0),
            (1e18, 284.0, 277.0, 160.0, 245.0, 140.0),
            (1e20, 61.0, 73.0, 50.0, 90.0, 55.0),
        ];
        for (n, arsenic, phosphorus, boron, electrons, holes) in rows {
            let found = [
                (masetti_cm2_vs(Dopant::Arsenic, n), arsenic),
                (masetti_cm2_vs(Dopant::Phosphorus, n), phosphorus),
                (masetti_cm2_vs(Dopant::Boron, n), boron),
                (arora_cm2_vs(DopingType::N, n, 300.0), electrons),
                (arora_cm2_vs(DopingType::P, n, 300.0), holes),
            ];
            for (value, expected) in found {
                assert!((value - expected).abs() < 0.51, "{n:e} {value} {expected}");
            }
        }
    }
}
