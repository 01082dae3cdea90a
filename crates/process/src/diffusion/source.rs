//! Sources of a predeposition: which dopant each carries, and what it does at the surface.
//!
//! Gas, liquid and solid sources offer more dopant than silicon takes and so hold the surface at
//! the limit; a dilute vapor holds it below, at a value that must be known; a glass film gives
//! what its own diffusion and its content allow.

use super::glass::GlassSource;
use super::request::{
    GLASS_CONCENTRATION, GLASS_THICKNESS, PredepositionFields, SURFACE_CONCENTRATION,
};
use super::simulated::Conditions;
use super::solubility::{Limit, active_limit, solubility};
use crate::error::RequestError;
use crate::num::show;
use crate::vocabulary::{Dopant, DopantSource};

/// What a source does at the surface.
#[derive(Clone, Copy, Debug)]
pub(super) struct Supply {
    pub(super) source: DopantSource,
    /// Concentration per cm3 held at the surface, and where it comes from.
    pub(super) surface_cm3: f64,
    pub(super) from: &'static str,
    /// The glass film, if its content is known.
    pub(super) glass: Option<GlassSource>,
}

impl Supply {
    /// Rows of the hazard table that this source shows.
    pub(super) fn hazards(&self, dopant: Dopant) -> Vec<&'static str> {
        crate::hazards::for_step("predeposition", &[self.source.word(), dopant.word()])
    }

    /// The glass film where it, and not the silicon, sets the surface concentration.
    pub(super) fn limiting_glass(&self) -> Option<GlassSource> {
        self.glass.filter(|glass| glass.first_surface_cm3() <= 1.001 * self.surface_cm3)
    }
}

/// The sources of a dopant, the usual one first (common practice).
const fn sources_of(dopant: Dopant) -> &'static [DopantSource] {
    use DopantSource as S;
    match dopant {
        Dopant::Boron => &[S::SolidDisc, S::Diborane, S::DiluteVapor, S::DopedGlass],
        Dopant::Phosphorus => {
            &[S::Pocl3, S::Phosphine, S::SolidDisc, S::DiluteVapor, S::DopedGlass]
        }
        Dopant::Arsenic => &[S::DopedGlass, S::SolidDisc, S::DiluteVapor],
        Dopant::Antimony | Dopant::Gallium | Dopant::Aluminum => {
            &[S::DopedGlass, S::DiluteVapor]
        }
        Dopant::Indium => &[S::DopedGlass],
    }
}

/// Whether a source carries a dopant.
pub(crate) fn carries(source: DopantSource, dopant: Dopant) -> bool {
    sources_of(dopant).contains(&source)
}

/// The source that is asked for, or the usual one of the dopant.
fn source_for(
    dopant: Dopant,
    given: Option<DopantSource>,
) -> Result<DopantSource, RequestError> {
    let usable = sources_of(dopant);
    let Some(source) = given else { return Ok(usable[0]) };
    if usable.contains(&source) {
        return Ok(source);
    }
    let allowed = usable.iter().map(|s| s.word()).collect::<Vec<_>>().join(", ");
    Err(RequestError::conflict(
        "source",
        source.word(),
        &allowed,
        &format!(
            "source: {} does not carry {} (allowed: {allowed})",
            source.word(),
            dopant.word()
        ),
        &format!("choose a source of {}", dopant.word()),
    ))
}

/// Reads the source and finds what it holds at the surface.
///
/// `separate`: the model tells active from inactive atoms.
pub(super) fn supply(
    fields: &PredepositionFields,
    conditions: &Conditions,
    root_dt_um: f64,
    separate: bool,
) -> Result<Supply, RequestError> {
    let dopant = fields.dopant;
    let source = source_for(dopant, fields.source)?;
    if fields.glass.is_some() {
        return from_glass(fields, conditions, source, root_dt_um, separate);
    }
    if source == DopantSource::DiluteVapor {
        return dilute(fields, conditions);
    }
    let (surface_cm3, from) = match fields.surface_concentration_cm3 {
        Some(given) => (SURFACE_CONCENTRATION.check(given)?, "given"),
        None => {
            let limit = limit(dopant, conditions, separate).ok_or_else(|| {
                no_surface(format!(
                    "add surface_concentration_cm3: no published limit for {} is at hand",
                    dopant.word()
                ))
            })?;
            (limit.concentration_cm3, limit.source)
        }
    };
    Ok(Supply { source, surface_cm3, from, glass: None })
}

/// What silicon takes: as all atoms count as active unless the model separates them, the
/// electrically active limit; else, and where no active limit is at hand, the solubility.
fn limit(dopant: Dopant, conditions: &Conditions, separate: bool) -> Option<Limit> {
    let chemical = solubility(dopant, conditions.temperature);
    if separate {
        chemical
    } else {
        active_limit(dopant, conditions.temperature).or(chemical)
    }
}

fn no_surface(hint: String) -> RequestError {
    RequestError::missing(
        "surface_concentration_cm3",
        &SURFACE_CONCENTRATION.allowed(),
        &hint,
    )
}

/// A vapor too dilute to saturate the surface.
fn dilute(
    fields: &PredepositionFields,
    conditions: &Conditions,
) -> Result<Supply, RequestError> {
    let source = DopantSource::DiluteVapor;
    let Some(given) = fields.surface_concentration_cm3 else {
        return Err(no_surface(
            "add surface_concentration_cm3: a dilute vapor holds the surface at a value that depends on its dilution".to_owned(),
        ));
    };
    let surface_cm3 = SURFACE_CONCENTRATION.check(given)?;
    if let Some(limit) = solubility(fields.dopant, conditions.temperature)
        && limit.concentration_cm3 < surface_cm3
    {
        let allowed = format!("below {} cm⁻³", show(limit.concentration_cm3));
        return Err(RequestError::conflict(
            "surface_concentration_cm3",
            &given.to_string(),
            &allowed,
            &format!(
                "surface_concentration_cm3: {} per cm3 is above the solubility of {}, which a dilute vapor stays below (allowed: {allowed})",
                show(surface_cm3),
                fields.dopant.word()
            ),
            "lower the surface concentration or choose another source",
        ));
    }
    Ok(Supply { source, surface_cm3, from: "given", glass: None })
}

/// A glass film of known content.
fn from_glass(
    fields: &PredepositionFields,
    conditions: &Conditions,
    source: DopantSource,
    root_dt_um: f64,
    separate: bool,
) -> Result<Supply, RequestError> {
    let refuse = |field: &str, value: &str, allowed: &str, why: &str, hint: &str| {
        Err(RequestError::conflict(
            field,
            value,
            allowed,
            &format!("{field}: {why} (allowed: {allowed})"),
            hint,
        ))
    };
    let Some(film) = fields.glass else {
        return refuse("glass", "", "a film", "there is no film", "give glass");
    };
    if source != DopantSource::DopedGlass {
        return refuse(
            "glass",
            source.word(),
            "none with this source",
            &format!("the source {} is no glass film", source.word()),
            "set source to doped_glass or leave glass out",
        );
    }
    if let Some(given) = fields.surface_concentration_cm3 {
        return refuse(
            "surface_concentration_cm3",
            &given.to_string(),
            "none beside glass",
            "the glass already sets the surface",
            "give glass or surface_concentration_cm3, not both",
        );
    }
    let film = (
        GLASS_CONCENTRATION.check(film.concentration_cm3)?,
        1e-3 * GLASS_THICKNESS.check(film.thickness_nm)?,
    );
    let dopant = fields.dopant;
    let (temperature, time_s) = (conditions.temperature, conditions.time_s);
    let glass = GlassSource::new(dopant, temperature, time_s, film, root_dt_um);
    let (Some(glass), Some(limit)) = (glass, limit(dopant, conditions, separate)) else {
        return refuse(
            "glass",
            dopant.word(),
            "boron, phosphorus, arsenic, antimony",
            &format!(
                "how {} moves in glass is not known well enough here",
                dopant.word()
            ),
            "leave glass out and give surface_concentration_cm3",
        );
    };
    let first = glass.first_surface_cm3();
    let (surface_cm3, from) = if first <= limit.concentration_cm3 {
        (first, "Barry, Olofsen, J. Electrochem. Soc. 116, 854, 1969; Crank 1975, ch. 3")
    } else {
        (limit.concentration_cm3, limit.source)
    };
    Ok(Supply { source, surface_cm3, from, glass: Some(glass) })
}
