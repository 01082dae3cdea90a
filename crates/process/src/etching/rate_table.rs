//! Wet etch rates in nm/min at the table temperature of each bath.
//!
//! # Source
//! K. R. Williams, R. S. Muller, J. Microelectromech. Syst. 5, 256 (1996), table of etch
//! rates (memory), unless a row says otherwise. Rates of one laboratory: take them as ±30 %.
//! Where no measurement is at hand a rate is estimated from the nearest film by the ratios
//! that the trade uses (deposited TEOS oxide 2-3 times thermal oxide, plasma oxide 2-3 times,
//! glass as deposited 1.5-3 times annealed glass; common practice) and marked so.

use super::bath::Etchant;
use super::film::{Film, Variant};
use crate::vocabulary::Material;

/// How a rate of the table is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Measured and published.
    Measured,
    /// Published as a lower bound.
    LowerBound,
    /// Estimated from a related film or bath.
    Estimated,
    /// Given by the reader.
    Given,
}

/// A rate of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TableRate {
    /// Rate in nm/min.
    pub rate_nm_min: f64,
    /// Low end of the spread seen or expected in nm/min.
    pub low_nm_min: f64,
    /// High end in nm/min.
    pub high_nm_min: f64,
    /// How it is known.
    pub basis: Basis,
    /// Where it comes from.
    pub source: &'static str,
}

impl TableRate {
    /// The same rate times a factor (another strength or temperature).
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self {
            rate_nm_min: self.rate_nm_min * factor,
            low_nm_min: self.low_nm_min * factor,
            high_nm_min: self.high_nm_min * factor,
            ..self
        }
    }

    pub(super) const fn estimated(self, source: &'static str) -> Self {
        Self { basis: Basis::Estimated, source, ..self }
    }
}

const WILLIAMS_1996: &str =
    "K. R. Williams, R. S. Muller, J. Microelectromech. Syst. 5, 256 (1996) (memory)";
const ESTIMATE: &str = "estimated from the nearest film (common practice)";
const BURNS_2011: &str = "D. W. Burns in R. Ghodssi, P. Lin, MEMS Materials and Processes Handbook (2011), table 8.19 (read: excerpt)";
const TABATA_1992: &str =
    "O. Tabata et al., Sens. Actuators A 34, 51 (1992) (memory, wide)";
const WET_ETCH_PAGE: &str = "teaching page of halbleiter.org on wet etching (read)";
const RECIPE_PAGE: &str =
    "University of Alberta nanoFAB, recipe page of plasma oxide (read)";
const BUFFERED_ARTICLE: &str = "reference article on buffered oxide etch, 2 nm/s at 25 °C (read), brought to 21 °C with 0.36 eV";

/// One cell of the table: how it is known, rate, low, high (nm/min), source.
type Cell = (Basis, f64, f64, f64, &'static str);

const fn measured(rate: f64, low: f64, high: f64) -> Option<Cell> {
    Some((Basis::Measured, rate, low, high, WILLIAMS_1996))
}

const fn at_least(rate: f64, high: f64) -> Option<Cell> {
    Some((Basis::LowerBound, rate, rate, high, WILLIAMS_1996))
}

const fn estimate(rate: f64, low: f64, high: f64) -> Option<Cell> {
    Some((Basis::Estimated, rate, low, high, ESTIMATE))
}

const fn from(source: &'static str, rate: f64, low: f64, high: f64) -> Option<Cell> {
    Some((Basis::Measured, rate, low, high, source))
}

const NOT_ETCHED: Option<Cell> = measured(0.0, 0.0, 0.1);

/// Films in the order of the columns below.
const N_FILMS: usize = 16;

/// The column of a film.
const fn column(film: Film) -> usize {
    match (film.material, film.variant) {
        (Material::ThermalOxide, Some(Variant::Dry)) => 1,
        (Material::ThermalOxide, _) => 0,
        (Material::DepositedOxide, Some(Variant::Teos)) => 3,
        (Material::DepositedOxide, Some(Variant::Pecvd)) => 4,
        (Material::DepositedOxide, _) => 2,
        (Material::PhosphorusGlass, Some(Variant::AsDeposited)) => 5,
        (Material::PhosphorusGlass, _) => 6,
        (Material::Nitride, Some(Variant::LowStress)) => 8,
        (Material::Nitride, Some(Variant::Pecvd)) => 9,
        (Material::Nitride, _) => 7,
        (Material::Polysilicon, Some(Variant::Undoped)) => 11,
        (Material::Polysilicon, _) => 10,
        (Material::Silicon, _) => 12,
        (Material::Aluminum, Some(Variant::Pure)) => 14,
        (Material::Aluminum, _) => 13,
        (Material::Resist, _) => 15,
    }
}

/// HF 49 %, 21 C. Aluminum: short-time value, the film pits.
const HF_49: [Option<Cell>; N_FILMS] = [
    measured(2300.0, 1800.0, 2300.0),
    estimate(2300.0, 1800.0, 2300.0),
    at_least(1400.0, 3000.0),
    estimate(5800.0, 4600.0, 7000.0),
    estimate(6000.0, 3000.0, 12_000.0),
    estimate(9000.0, 4000.0, 15_000.0),
    measured(3600.0, 3000.0, 4000.0),
    measured(14.0, 5.0, 14.0),
    measured(5.2, 3.0, 5.2),
    estimate(300.0, 100.0, 1000.0),
    NOT_ETCHED,
    NOT_ETCHED,
    NOT_ETCHED,
    measured(4.2, 0.0, 4.2),
    estimate(4.2, 0.0, 10.0),
    NOT_ETCHED,
];

/// HF 10:1, 21 C.
const HF_10: [Option<Cell>; N_FILMS] = [
    measured(23.0, 20.0, 25.0),
    measured(23.0, 20.0, 25.0),
    measured(34.0, 30.0, 45.0),
    estimate(58.0, 46.0, 70.0),
    estimate(62.0, 30.0, 160.0),
    measured(1500.0, 1000.0, 2000.0),
    measured(470.0, 300.0, 600.0),
    measured(1.1, 0.7, 1.5),
    measured(0.3, 0.2, 0.6),
    estimate(15.0, 5.0, 50.0),
    measured(0.7, 0.0, 1.0),
    estimate(0.2, 0.0, 0.7),
    NOT_ETCHED,
    measured(250.0, 250.0, 1200.0),
    estimate(250.0, 100.0, 1200.0),
    NOT_ETCHED,
];

/// HF 25:1, 21 C.
const HF_25: [Option<Cell>; N_FILMS] = [
    measured(9.7, 8.0, 11.0),
    measured(9.5, 8.0, 11.0),
    measured(15.0, 12.0, 20.0),
    estimate(24.0, 19.0, 29.0),
    estimate(26.0, 13.0, 67.0),
    estimate(480.0, 320.0, 640.0),
    measured(150.0, 100.0, 200.0),
    measured(0.6, 0.3, 0.8),
    measured(0.1, 0.0, 0.3),
    estimate(6.0, 2.0, 20.0),
    NOT_ETCHED,
    NOT_ETCHED,
    NOT_ETCHED,
    estimate(105.0, 50.0, 500.0),
    estimate(105.0, 50.0, 500.0),
    NOT_ETCHED,
];

/// Buffered HF 5:1, 21 C.
const BHF_5: [Option<Cell>; N_FILMS] = [
    measured(100.0, 90.0, 108.0),
    measured(100.0, 90.0, 108.0),
    measured(120.0, 100.0, 150.0),
    estimate(250.0, 200.0, 300.0),
    estimate(270.0, 130.0, 700.0),
    measured(680.0, 500.0, 800.0),
    measured(440.0, 350.0, 440.0),
    measured(0.9, 0.4, 1.3),
    measured(0.4, 0.3, 0.6),
    estimate(50.0, 10.0, 150.0),
    measured(0.9, 0.0, 1.0),
    measured(0.2, 0.0, 0.3),
    measured(0.05, 0.0, 0.1),
    measured(140.0, 100.0, 300.0),
    estimate(140.0, 100.0, 300.0),
    NOT_ETCHED,
];

/// Phosphoric acid 85 %, 160 C. Resist is destroyed.
const PHOSPHORIC: [Option<Cell>; N_FILMS] = [
    measured(0.07, 0.05, 0.2),
    measured(0.08, 0.05, 0.2),
    measured(0.08, 0.0, 0.1),
    estimate(0.1, 0.0, 0.3),
    estimate(0.2, 0.05, 0.6),
    measured(3.7, 2.0, 4.0),
    measured(2.4, 0.9, 2.4),
    measured(2.8, 2.8, 4.5),
    measured(1.9, 1.9, 4.2),
    estimate(10.0, 5.0, 20.0),
    measured(0.7, 0.0, 1.0),
    estimate(0.7, 0.0, 1.0),
    measured(0.05, 0.0, 0.1),
    measured(980.0, 500.0, 1500.0),
    estimate(980.0, 500.0, 1500.0),
    measured(55.0, 30.0, 60.0),
];

/// Aluminum etch 16:1:1:2, 50 C.
const ALUMINUM_ETCH: [Option<Cell>; N_FILMS] = [
    NOT_ETCHED,
    estimate(0.0, 0.0, 0.1),
    NOT_ETCHED,
    estimate(0.0, 0.0, 0.1),
    estimate(0.0, 0.0, 0.2),
    None,
    None,
    measured(0.0, 0.0, 0.2),
    NOT_ETCHED,
    estimate(0.0, 0.0, 0.2),
    measured(0.9, 0.0, 1.0),
    estimate(0.9, 0.0, 1.0),
    measured(0.5, 0.0, 1.0),
    measured(660.0, 260.0, 660.0),
    from(BURNS_2011, 540.0, 400.0, 700.0),
    NOT_ETCHED,
];

/// HNO3:H2O:NH4F 126:60:5, 20 C.
const POLY_ETCH: [Option<Cell>; N_FILMS] = [
    measured(8.7, 5.0, 11.0),
    estimate(8.7, 5.0, 11.0),
    measured(11.0, 8.0, 15.0),
    estimate(20.0, 10.0, 26.0),
    estimate(23.0, 10.0, 60.0),
    estimate(350.0, 170.0, 550.0),
    measured(170.0, 100.0, 250.0),
    measured(0.2, 0.1, 0.3),
    measured(0.3, 0.1, 0.5),
    None,
    measured(310.0, 120.0, 600.0),
    measured(100.0, 50.0, 200.0),
    measured(150.0, 100.0, 300.0),
    measured(400.0, 200.0, 600.0),
    estimate(400.0, 200.0, 600.0),
    NOT_ETCHED,
];

/// KOH:H2O 1:2 by weight (33 %), 80 C. Silicon follows a law of its own.
const KOH_33: [Option<Cell>; N_FILMS] = [
    measured(7.7, 4.1, 7.7),
    estimate(7.7, 4.1, 7.7),
    measured(9.4, 7.0, 12.0),
    estimate(9.4, 7.0, 15.0),
    estimate(12.0, 7.0, 20.0),
    estimate(60.0, 38.0, 120.0),
    measured(38.0, 25.0, 50.0),
    NOT_ETCHED,
    NOT_ETCHED,
    None,
    at_least(1000.0, 2500.0),
    estimate(1000.0, 700.0, 2500.0),
    measured(1400.0, 1000.0, 1500.0),
    at_least(1000.0, 10_000.0),
    estimate(1000.0, 1000.0, 10_000.0),
    measured(1000.0, 500.0, 5000.0),
];

/// TMAH 25 %, 80 C. Aluminum is attacked unless the bath is saturated with silicon.
const TMAH_25: [Option<Cell>; N_FILMS] = [
    from(TABATA_1992, 0.2, 0.05, 0.5),
    estimate(0.2, 0.05, 0.5),
    estimate(0.3, 0.1, 1.0),
    estimate(0.3, 0.1, 1.0),
    estimate(0.4, 0.1, 1.5),
    None,
    None,
    from(TABATA_1992, 0.0, 0.0, 0.1),
    estimate(0.0, 0.0, 0.1),
    None,
    estimate(400.0, 200.0, 700.0),
    estimate(400.0, 200.0, 700.0),
    from(TABATA_1992, 400.0, 300.0, 600.0),
    from(TABATA_1992, 500.0, 100.0, 1000.0),
    estimate(500.0, 100.0, 1000.0),
    estimate(1000.0, 500.0, 5000.0),
];

/// H2SO4:H2O2 50:1, 120 C.
const PIRANHA: [Option<Cell>; N_FILMS] = {
    let mut row = [NOT_ETCHED; N_FILMS];
    row[13] = measured(180.0, 100.0, 300.0);
    row[14] = estimate(180.0, 100.0, 300.0);
    row[15] = measured(1000.0, 500.0, 5000.0);
    row
};

/// Acetone, 21 C. Resist that was not baked hard.
const ACETONE: [Option<Cell>; N_FILMS] = {
    let mut row = [NOT_ETCHED; N_FILMS];
    row[15] = at_least(4400.0, 10_000.0);
    row
};

/// The rate of a film in a bath at the bath's table temperature and usual strength; none if
/// nothing is known. HF of any strength and silicon in KOH follow laws of their own.
#[must_use]
pub(super) fn table_rate(etchant: Etchant, film: Film) -> Option<TableRate> {
    let idx = column(film);
    let row = match etchant {
        Etchant::Hf49 => &HF_49,
        Etchant::Hf25 => &HF_25,
        Etchant::Hf10 | Etchant::HfDilute => &HF_10,
        Etchant::Bhf5 => &BHF_5,
        Etchant::Bhf6 | Etchant::Bhf10 => return other_buffered(etchant, film),
        Etchant::Phosphoric => &PHOSPHORIC,
        Etchant::AluminumEtch => &ALUMINUM_ETCH,
        Etchant::PolyEtch => &POLY_ETCH,
        Etchant::Koh30 | Etchant::Koh33 => &KOH_33,
        Etchant::Tmah => &TMAH_25,
        Etchant::Piranha => &PIRANHA,
        Etchant::Acetone => &ACETONE,
    };
    row.get(idx).copied().flatten().map(rate)
}

fn rate((basis, rate_nm_min, low_nm_min, high_nm_min, source): Cell) -> TableRate {
    TableRate { rate_nm_min, low_nm_min, high_nm_min, basis, source }
}

/// Buffered HF 6:1 and 10:1: what was measured, and else the 5:1 rate scaled as on thermal
/// oxide (the ratio of HF2- ions is nearly the same for all oxides; common practice).
fn other_buffered(etchant: Etchant, film: Film) -> Option<TableRate> {
    let oxide = film.material == Material::ThermalOxide;
    let made = film.variant;
    // 120 nm/min at 25 C is 99 at 21 C with 0.36 eV: 120 / 1.214.
    let (thermal, cell) = if etchant == Etchant::Bhf6 {
        (99.0, oxide.then_some(from(BUFFERED_ARTICLE, 99.0, 75.0, 107.0)))
    } else {
        let cell = match (film.material, made) {
            (Material::DepositedOxide, Some(Variant::Teos)) => {
                Some(from(WET_ETCH_PAGE, 150.0, 100.0, 200.0))
            }
            (Material::DepositedOxide, Some(Variant::Pecvd)) => {
                Some(from(RECIPE_PAGE, 134.0, 120.0, 400.0))
            }
            _ => oxide.then_some(from(WET_ETCH_PAGE, 50.0, 45.0, 60.0)),
        };
        (50.0, cell)
    };
    if let Some(Some(cell)) = cell {
        return Some(rate(cell));
    }
    let five = BHF_5.get(column(film)).copied().flatten().map(rate)?;
    let scaled = five.times(thermal / 100.0);
    Some(if five.rate_nm_min == 0.0 {
        scaled
    } else {
        scaled.estimated("scaled from buffered HF 5:1 as thermal oxide (estimate)")
    })
}

/// Rates of thermal oxide against strength of HF: volume percent of 49 % HF in water, nm/min.
///
/// K. R. Williams, R. S. Muller (1996) at 3.85 % (25:1), 9.1 % (10:1) and 100 %; between them
/// W. R. Runyan, K. E. Bean, Semiconductor Integrated Circuit Processing Technology, p. 265
/// (150 nm/min at 30 %, read: a cleanroom mailing list quoting the plot); 0.5 %: common
/// practice (1.5-2.5). The two books differ by 1.4 times at 4-10 %.
pub(super) const HF_STRENGTH: [(f64, f64); 5] =
    [(0.5, 2.0), (3.85, 9.7), (9.1, 23.0), (30.0, 150.0), (100.0, 2300.0)];
