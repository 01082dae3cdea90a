//! Published rates whose clear time is drawn on the curve of a wet etch.
//!
//! Ids are those of `tests/reference/etch_rates.csv`; a test holds both against each other.

use super::bath::Etchant;
use super::film::{Film, Variant};
use super::rate::Bath;
use crate::vocabulary::Material;

/// A published rate at the table temperature of its bath.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PublishedRate {
    /// Id of the row in the reference table.
    pub id: &'static str,
    /// The bath.
    pub etchant: Etchant,
    /// Its strength in percent, if it is not the usual one.
    pub concentration_percent: Option<f64>,
    /// The film's material.
    pub material: Material,
    /// Its variant; none for any.
    pub variant: Option<Variant>,
    /// The rate in nm/min.
    pub rate_nm_min: f64,
    /// Relative tolerance stated for it.
    pub tolerance: f64,
    /// Where it was published.
    pub source: &'static str,
}

const WILLIAMS_1996: &str = "K. R. Williams, R. S. Muller, J. Microelectromech. Syst. 5, 256 (1996), the table of the lab";
const WILLIAMS_2003: &str =
    "K. R. Williams, K. Gupta, M. Wasilik, J. Microelectromech. Syst. 12, 761 (2003)";
const RUNYAN: &str = "W. R. Runyan, K. E. Bean, Semiconductor Integrated Circuit Processing Technology, p. 265";
const WET_ETCH_PAGE: &str = "teaching page of halbleiter.org";
const BURNS_2011: &str = "D. W. Burns in R. Ghodssi, P. Lin, MEMS Materials and Processes Handbook (2011), table 8.19";

const fn row(
    id: &'static str,
    etchant: Etchant,
    film: (Material, Option<Variant>),
    rate_nm_min: f64,
    tolerance: f64,
    source: &'static str,
) -> PublishedRate {
    PublishedRate {
        id,
        etchant,
        concentration_percent: None,
        material: film.0,
        variant: film.1,
        rate_nm_min,
        tolerance,
        source,
    }
}

const fn diluted(id: &'static str, percent: f64, rate_nm_min: f64) -> PublishedRate {
    PublishedRate {
        concentration_percent: Some(percent),
        ..row(id, Etchant::HfDilute, THERMAL, rate_nm_min, 0.35, RUNYAN)
    }
}

const THERMAL: (Material, Option<Variant>) = (Material::ThermalOxide, None);
const THERMAL_WET: (Material, Option<Variant>) =
    (Material::ThermalOxide, Some(Variant::Wet));
const LTO: (Material, Option<Variant>) = (Material::DepositedOxide, Some(Variant::Lto));
const GLASS: (Material, Option<Variant>) =
    (Material::PhosphorusGlass, Some(Variant::Annealed));
const NITRIDE: (Material, Option<Variant>) =
    (Material::Nitride, Some(Variant::Stoichiometric));
const ALLOY: (Material, Option<Variant>) =
    (Material::Aluminum, Some(Variant::SiliconAlloy));
const SILICON: (Material, Option<Variant>) = (Material::Silicon, None);

/// The rows, by bath.
pub const PUBLISHED: &[PublishedRate] = &[
    row("ER-001", Etchant::Hf49, THERMAL_WET, 2300.0, 0.25, WILLIAMS_1996),
    row("ER-009", Etchant::Hf10, THERMAL_WET, 23.0, 0.15, WILLIAMS_1996),
    row("ER-011", Etchant::Hf10, LTO, 34.0, 0.25, WILLIAMS_1996),
    row("ER-013", Etchant::Hf10, GLASS, 470.0, 0.4, WILLIAMS_1996),
    row("ER-019", Etchant::Hf25, THERMAL_WET, 9.7, 0.2, WILLIAMS_1996),
    row("ER-025", Etchant::Bhf5, THERMAL_WET, 100.0, 0.15, WILLIAMS_1996),
    row("ER-027", Etchant::Bhf5, LTO, 120.0, 0.25, WILLIAMS_1996),
    row("ER-029", Etchant::Bhf5, GLASS, 440.0, 0.35, WILLIAMS_1996),
    row("ER-074", Etchant::Bhf5, NITRIDE, 1.3, 0.4, WILLIAMS_2003),
    row("ER-083", Etchant::Bhf10, THERMAL, 50.0, 0.2, WET_ETCH_PAGE),
    row("ER-037", Etchant::Phosphoric, NITRIDE, 2.8, 0.35, WILLIAMS_1996),
    row("ER-075", Etchant::Phosphoric, NITRIDE, 4.5, 0.35, WILLIAMS_2003),
    row(
        "ER-098",
        Etchant::Phosphoric,
        NITRIDE,
        6.0,
        0.4,
        "DTU Nanolab, process page on etching of silicon nitride",
    ),
    row("ER-046", Etchant::AluminumEtch, ALLOY, 660.0, 0.35, WILLIAMS_1996),
    row(
        "ER-088",
        Etchant::AluminumEtch,
        (Material::Aluminum, Some(Variant::Pure)),
        540.0,
        0.3,
        BURNS_2011,
    ),
    row("ER-060", Etchant::Koh33, SILICON, 1400.0, 0.25, WILLIAMS_1996),
    row("ER-077", Etchant::Koh30, SILICON, 1100.0, 0.25, WILLIAMS_2003),
    row(
        "ER-079",
        Etchant::Tmah,
        SILICON,
        400.0,
        0.4,
        "O. Tabata et al., Sens. Actuators A 34, 51 (1992)",
    ),
    diluted("ER-091", 2.0, 7.8),
    diluted("ER-092", 5.0, 18.0),
    diluted("ER-093", 10.0, 36.0),
    diluted("ER-094", 16.0, 60.0),
    diluted("ER-095", 20.0, 90.0),
    diluted("ER-096", 30.0, 150.0),
];

/// The published rates of a film in a bath.
pub(super) fn rates(
    bath: Bath,
    film: Film,
) -> impl Iterator<Item = &'static PublishedRate> {
    let usual = Bath::usual(bath.etchant).concentration_percent;
    let same = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() < 1e-6 * b.abs(),
        (None, None) => true,
        _ => false,
    };
    PUBLISHED.iter().filter(move |row| {
        row.etchant == bath.etchant
            && row.material == film.material
            && (row.variant.is_none() || row.variant == film.variant)
            && same(bath.concentration_percent, row.concentration_percent.or(usual))
    })
}
