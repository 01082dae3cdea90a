//! The fields of a wet etch and their ranges.

use serde::Deserialize;

use super::bath::Etchant;
use super::clearing;
use super::film::{Film, Variant};
use super::mask::Mask;
use super::rate::{Bath, RateAt, boron_stop_factor, rate_at};
use super::rate_table::{Basis, TableRate};
use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::vocabulary::Material;

/// A number field without a published range; the others are changed from it.
pub(super) const PLAIN: Bound = Bound {
    field: "",
    label: "",
    unit: "",
    min: 0.0,
    max: 0.0,
    published: None,
    default: None,
    step: 1.0,
    scale: Scale::Linear,
};

/// Thickness of the film, up to a wafer.
pub const THICKNESS_NM: Bound = Bound {
    field: "thickness_nm",
    label: "Film thickness",
    unit: "nm",
    min: 1.0,
    max: 1e6,
    step: 10.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Temperature of the bath. Each bath has a narrower range of its own:
/// [`Etchant::temperature_bound`].
pub const TEMPERATURE_C: Bound = Bound {
    field: "temperature_c",
    label: "Bath temperature",
    unit: "°C",
    min: 15.0,
    max: 190.0,
    step: 1.0,
    ..PLAIN
};

/// Strength of the bath where it can be chosen: [`Etchant::concentration_bound`].
pub const CONCENTRATION_PERCENT: Bound = Bound {
    field: "concentration_percent",
    label: "Bath strength",
    unit: "%",
    min: 0.1,
    max: 100.0,
    step: 0.1,
    scale: Scale::Log,
    ..PLAIN
};

/// Time in the bath.
pub const TIME_S: Bound = Bound {
    field: "time_s",
    label: "Etch time",
    unit: "s",
    min: 1.0,
    max: 500_000.0,
    step: 1.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Over-etch beyond the nominal clear time, instead of a time.
pub const OVER_ETCH_PERCENT: Bound = Bound {
    field: "over_etch_percent",
    label: "Over-etch",
    unit: "%",
    min: 0.0,
    max: 500.0,
    step: 5.0,
    ..PLAIN
};

/// Rate given by the reader instead of the table's.
pub const RATE_NM_MIN: Bound = Bound {
    field: "rate_nm_min",
    label: "Etch rate",
    unit: "nm/min",
    min: 0.001,
    max: 100_000.0,
    step: 1.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Boron in the silicon: much of it stops the alkaline baths.
pub const BORON_CM3: Bound = Bound {
    field: "boron_cm3",
    label: "Boron in the silicon",
    unit: "cm⁻³",
    min: 1e14,
    max: 5e20,
    published: Some((1e14, 2e20)),
    step: 2.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Half width of the film's thickness over the wafer.
pub const FILM_SPREAD_PERCENT: Bound = Bound {
    field: "film_spread_percent",
    label: "Film spread (±)",
    unit: "%",
    min: 0.0,
    max: 50.0,
    default: Some(0.0),
    ..PLAIN
};

/// Half width of the rate over the wafer.
pub const RATE_SPREAD_PERCENT: Bound = Bound {
    field: "rate_spread_percent",
    label: "Rate spread (±)",
    unit: "%",
    min: 0.0,
    max: 50.0,
    default: Some(0.0),
    ..PLAIN
};

/// Width of an opening in the mask.
pub const MASK_OPENING_UM: Bound = Bound {
    field: "mask.opening_um",
    label: "Mask opening",
    unit: "µm",
    min: 0.1,
    max: 10_000.0,
    step: 0.1,
    scale: Scale::Log,
    ..PLAIN
};

/// Width of a line in the mask.
pub const MASK_LINE_UM: Bound = Bound {
    field: "mask.line_um",
    label: "Mask line",
    unit: "µm",
    min: 0.1,
    max: 10_000.0,
    step: 0.1,
    scale: Scale::Log,
    ..PLAIN
};

/// A wet etch as it is asked for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WetEtchRequest {
    etchant: Etchant,
    material: Material,
    variant: Option<Variant>,
    thickness_nm: f64,
    temperature_c: Option<f64>,
    concentration_percent: Option<f64>,
    time_s: Option<f64>,
    over_etch_percent: Option<f64>,
    rate_nm_min: Option<f64>,
    boron_cm3: Option<f64>,
    mask: Option<MaskRequest>,
    film_spread_percent: Option<f64>,
    rate_spread_percent: Option<f64>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MaskRequest {
    opening_um: Option<f64>,
    line_um: Option<f64>,
}

/// A wet etch whose numbers lie in their ranges, with its rate.
#[derive(Clone, Copy, Debug)]
pub(super) struct WetEtch {
    pub(super) bath: Bath,
    pub(super) film: Film,
    pub(super) thickness_nm: f64,
    /// Rate with its spread.
    pub(super) rate: TableRate,
    /// How the rate came about; none if the reader gave it.
    pub(super) rate_at: Option<RateAt>,
    /// Boron in the silicon per cm3, if an alkaline bath has to do with it.
    pub(super) boron_cm3: Option<f64>,
    pub(super) mask: Mask,
    /// Half widths as fractions.
    pub(super) film_spread: f64,
    pub(super) rate_spread: f64,
    pub(super) time_s: f64,
}

impl WetEtchRequest {
    pub(super) fn check(self) -> Result<WetEtch, RequestError> {
        let film = Film::new(self.material, self.variant)?;
        let bath = self.bath()?;
        let thickness_nm = THICKNESS_NM.check(self.thickness_nm)?;
        let mask = self.mask()?;
        let boron_cm3 = self.boron_cm3()?;
        let (rate, rate_at) = match self.rate_nm_min {
            Some(given) => (given_rate(RATE_NM_MIN.check(given)?), None),
            None => {
                let found = rate_at(bath, film).ok_or_else(|| no_rate(bath, film))?;
                let slowed = boron_cm3.map_or(1.0, boron_stop_factor);
                (found.here.times(slowed), Some(found))
            }
        };
        let time_s = self.time_s(thickness_nm, rate.rate_nm_min)?;
        Ok(WetEtch {
            bath,
            film,
            thickness_nm,
            rate,
            rate_at,
            boron_cm3,
            mask,
            film_spread: FILM_SPREAD_PERCENT
                .check_or_default(self.film_spread_percent)?
                / 100.0,
            rate_spread: RATE_SPREAD_PERCENT
                .check_or_default(self.rate_spread_percent)?
                / 100.0,
            time_s,
        })
    }

    fn bath(&self) -> Result<Bath, RequestError> {
        let etchant = self.etchant;
        let temperature_c =
            etchant.temperature_bound().check_or_default(self.temperature_c)?;
        let concentration_percent = match etchant.concentration_bound() {
            Some(bound) => Some(bound.check_or_default(self.concentration_percent)?),
            None => match self.concentration_percent {
                None => None,
                Some(given) => {
                    return Err(RequestError::conflict(
                        "concentration_percent",
                        &given.to_string(),
                        "hf_dilute, koh_30, koh_33",
                        &format!(
                            "concentration_percent: {} has one strength only (allowed with: hf_dilute, koh_30, koh_33)",
                            etchant.word()
                        ),
                        "leave concentration_percent out, or choose hf_dilute",
                    ));
                }
            },
        };
        Ok(Bath { etchant, temperature_c, concentration_percent })
    }

    fn boron_cm3(&self) -> Result<Option<f64>, RequestError> {
        let Some(given) = self.boron_cm3 else { return Ok(None) };
        if self.etchant.is_anisotropic() && self.material == Material::Silicon {
            return BORON_CM3.check(given).map(Some);
        }
        Err(RequestError::conflict(
            "boron_cm3",
            &given.to_string(),
            "silicon in koh_30, koh_33 or tmah_25",
            "boron_cm3: only silicon in an alkaline bath is slowed by boron here",
            "leave boron_cm3 out, or etch silicon in KOH or TMAH",
        ))
    }

    fn mask(&self) -> Result<Mask, RequestError> {
        let Some(mask) = self.mask else { return Ok(Mask::None) };
        Mask::new(self.material, mask.opening_um, mask.line_um)
    }

    /// Time in s: given, or the nominal clear time and the over-etch. 0 if nothing is given
    /// and the bath does not etch the film.
    fn time_s(&self, thickness_nm: f64, rate_nm_min: f64) -> Result<f64, RequestError> {
        match (self.time_s, self.over_etch_percent) {
            (Some(time_s), None) => TIME_S.check(time_s),
            (Some(_), Some(percent)) => Err(RequestError::conflict(
                "over_etch_percent",
                &percent.to_string(),
                "time_s or over_etch_percent",
                "over_etch_percent: cannot stand beside time_s",
                "give the time or the over-etch, not both",
            )),
            (None, percent) => {
                let over = OVER_ETCH_PERCENT.check(percent.unwrap_or(0.0))? / 100.0;
                Ok(if 0.0 < rate_nm_min {
                    clearing::time_to_clear_s(thickness_nm, rate_nm_min) * (1.0 + over)
                } else {
                    0.0
                })
            }
        }
    }
}

fn given_rate(rate_nm_min: f64) -> TableRate {
    TableRate {
        rate_nm_min,
        low_nm_min: rate_nm_min,
        high_nm_min: rate_nm_min,
        basis: Basis::Given,
        source: "given in the request",
    }
}

fn no_rate(bath: Bath, film: Film) -> RequestError {
    RequestError::conflict(
        "material",
        film.material.word(),
        "a film with a known rate in this bath, or rate_nm_min",
        &format!(
            "material: no rate of {} in {} is known here",
            film.label(),
            bath.etchant.label()
        ),
        "give rate_nm_min from a test piece, or choose another bath",
    )
}
