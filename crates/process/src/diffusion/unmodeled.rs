//! Fields that name physics which is not computed yet: their plain value is accepted, any
//! other is refused by name.

use serde::Deserialize;

use crate::error::RequestError;
use crate::vocabulary::{BoronSegregation, Material};

/// Donors in silicon over donors in the oxide beside it: 10, known to a factor of 3 (A. S.
/// Grove, O. Leistiko, C. T. Sah, J. Appl. Phys. 35, 2695 (1964); memory).
const DONOR_SEGREGATION: f64 = 10.0;

/// Heating and cooling before and after the time at temperature.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Ramp {
    pub(super) start_c: f64,
    pub(super) up_c_s: f64,
    pub(super) down_c_s: f64,
}

/// The fields of a step that ask for more than is computed.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Unmodeled {
    pub(super) ramp: Option<Ramp>,
    pub(super) oxidation_enhanced_diffusion: Option<bool>,
    pub(super) boron_segregation: Option<BoronSegregation>,
    pub(super) donor_segregation: Option<f64>,
    pub(super) target: Option<Material>,
}

impl Unmodeled {
    /// # Errors
    /// `not_available_yet` for the first field that would change the result.
    pub(super) fn check(self) -> Result<(), RequestError> {
        if let Some(ramp) = self.ramp {
            let Ramp { start_c, up_c_s, down_c_s } = ramp;
            return Err(not_available_yet(
                "ramp",
                &format!("from {start_c} °C, {up_c_s} °C/s up, {down_c_s} °C/s down"),
                "no ramp: the whole time at one temperature",
                "leave ramp out, or chain steps at the temperatures of the ramp",
            ));
        }
        if self.oxidation_enhanced_diffusion == Some(true) {
            return Err(not_available_yet(
                "oxidation_enhanced_diffusion",
                "true",
                "false",
                "leave oxidation_enhanced_diffusion out",
            ));
        }
        if let Some(other) = self.boron_segregation
            && other != BoronSegregation::Antoniadis1979
        {
            return Err(not_available_yet(
                "boron_segregation",
                other.word(),
                BoronSegregation::Antoniadis1979.word(),
                "leave boron_segregation out: no oxide takes up dopant here",
            ));
        }
        if let Some(other) = self.donor_segregation
            && (other - DONOR_SEGREGATION).abs() > 1e-9
        {
            return Err(not_available_yet(
                "donor_segregation",
                &other.to_string(),
                &DONOR_SEGREGATION.to_string(),
                "leave donor_segregation out: no oxide takes up dopant here",
            ));
        }
        if let Some(other) = self.target
            && other != Material::Silicon
        {
            return Err(not_available_yet(
                "target",
                other.word(),
                Material::Silicon.word(),
                "leave target out: here dopant goes into the single crystal. A polysilicon film of at most 0.5 um takes it up evenly within about 15 min at 900 °C or more (common practice): its dose is the surface concentration times its thickness",
            ));
        }
        Ok(())
    }
}

fn not_available_yet(
    field: &str,
    value: &str,
    allowed: &str,
    hint: &str,
) -> RequestError {
    RequestError::new(
        "not_available_yet",
        field,
        value,
        allowed,
        &format!(
            "{field}: {} is not available yet (allowed: {allowed})",
            crate::error::one_line(value)
        ),
        hint,
    )
}
