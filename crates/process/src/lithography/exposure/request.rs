//! The fields of an exposure.

use serde::{Deserialize, Deserializer};

use super::alignment::{Alignment, AlignmentRequest, Pair};
use super::blur::spread_nm;
use super::bounds::*;
use super::film::ResistFilm;
use super::lamp;
use super::line::{Bleaching, MercuryLine};
use super::mask_request::MaskRequest;
use crate::error::RequestError;
use crate::lithography::imaging::{Mask, Optics, Shadow};
use crate::lithography::{Resist, Tone};
use crate::num;
use crate::thin_film::Layer;
use crate::units::Temperature;
use crate::vocabulary::{Material, words};

words!(
    /// How a mask is printed.
    Tool {
        /// The mask lies on the resist.
        Contact = "contact", "contact";
        /// The mask hovers over the resist.
        Proximity = "proximity", "proximity";
        /// A lens images the mask.
        Projection = "projection", "projection (stepper)";
    }
);

words!(
    /// Where in the resist the image is as sharp as at its top.
    ResistFocus {
        /// One image for all depths.
        Same = "same", "the same at every depth";
        /// Every depth is further from the focus than the one above.
        ByDepth = "by_depth", "less sharp with depth";
    }
);

/// Gap of proximity printing unless given, in um (common practice: 10-50).
pub const PROXIMITY_GAP_UM: f64 = 20.0;

/// Films that a stack may list.
const MOST_FILMS: usize = 12;

/// An exposure as it is asked for.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::lithography) struct ExposureRequest {
    tool: Option<Tool>,
    wavelength_nm: Option<f64>,
    numerical_aperture: Option<f64>,
    partial_coherence: Option<f64>,
    defocus_um: Option<f64>,
    gap_um: Option<f64>,
    collimation_deg: Option<f64>,
    dose_mj_cm2: Option<f64>,
    irradiance_mw_cm2: Option<f64>,
    time_s: Option<f64>,
    overlay_um: Option<Pair>,
    alignment: Option<AlignmentRequest>,
    focus_in_resist: Option<ResistFocus>,
    mask: Option<MaskRequest>,
    resist: Option<Resist>,
    thickness_nm: Option<f64>,
    stack_below: Option<Vec<FilmRequest>>,
    resist_parameters: Option<ParametersRequest>,
    #[serde(default, deserialize_with = "present")]
    post_exposure_bake: Option<Option<BakeRequest>>,
    k1: Option<f64>,
    k2: Option<f64>,
    source_rings: Option<f64>,
    pub(in crate::lithography) grid_nm: Option<f64>,
    swing_span_nm: Option<f64>,
    oxide_swing_nm: Option<f64>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FilmRequest {
    material: Material,
    thickness_nm: f64,
}

#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct ParametersRequest {
    bleachable_per_um: Option<f64>,
    residual_per_um: Option<f64>,
    bleach_rate_cm2_mj: Option<f64>,
    index: Option<f64>,
}

#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct BakeRequest {
    temperature_c: Option<f64>,
    time_s: Option<f64>,
}

/// Tells a field that says null from one that is left out.
fn present<'de, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<Option<Option<BakeRequest>>, D::Error> {
    Option::<BakeRequest>::deserialize(deserializer).map(Some)
}

/// An exposure whose numbers lie in their ranges.
#[derive(Clone, Debug)]
pub(in crate::lithography) struct Exposure {
    pub(in crate::lithography) tool: Tool,
    pub(super) line: MercuryLine,
    pub(super) optics: Optics,
    pub(super) shadow: Shadow,
    pub(super) gap_um: f64,
    pub(in crate::lithography) dose_mj_cm2: f64,
    pub(super) irradiance_mw_cm2: f64,
    pub(in crate::lithography) alignment: Alignment,
    pub(super) focus_in_resist: ResistFocus,
    pub(in crate::lithography) mask: Mask,
    pub(in crate::lithography) resist: Resist,
    pub(in crate::lithography) thickness_nm: f64,
    pub(in crate::lithography) stack: Vec<(Material, f64)>,
    pub(super) bleaching: Bleaching,
    /// Temperature in C and time in s.
    pub(in crate::lithography) bake: Option<[f64; 2]>,
    pub(super) k1: f64,
    pub(super) k2: f64,
    pub(super) grid_nm: f64,
    pub(super) swing_span_nm: f64,
    pub(super) oxide_swing_nm: f64,
}

impl ExposureRequest {
    pub(in crate::lithography) fn check(self) -> Result<Exposure, RequestError> {
        let wavelength_nm = WAVELENGTH_NM.check_or_default(self.wavelength_nm)?;
        let line = MercuryLine::near(wavelength_nm)?;
        let wavelength_um = 1e-3 * line.wavelength_nm();
        let tool = self.tool.unwrap_or(Tool::Projection);
        let gap_um = match (tool, self.gap_um) {
            (Tool::Proximity, None) => PROXIMITY_GAP_UM,
            (_, given) => GAP_UM.check_or_default(given)?,
        };
        let collimation_deg = COLLIMATION_DEG.check_or_default(self.collimation_deg)?;
        let rings = SOURCE_RINGS.check_or_default(self.source_rings)?;
        let mut stack = Vec::new();
        let films = self.stack_below.unwrap_or_default();
        if MOST_FILMS < films.len() {
            return Err(too_many("stack_below", films.len(), MOST_FILMS));
        }
        for (i, film) in films.into_iter().enumerate() {
            let place = format!("stack_below[{i}]");
            let inside = |error: RequestError| error.inside(&place);
            line.index(film.material).map_err(inside)?;
            let nm = FILM_NM.check(film.thickness_nm).map_err(inside)?;
            stack.push((film.material, nm));
        }
        let given = self.resist_parameters.unwrap_or_default();
        let bleaching = given
            .or(line.demo_resist())
            .map_err(|error| error.inside("resist_parameters"))?;
        let bake = match self.post_exposure_bake {
            Some(None) => None,
            given => {
                let bake = given.flatten().unwrap_or_default();
                Some(bake.check().map_err(|error| error.inside("post_exposure_bake"))?)
            }
        };
        let [dose_mj_cm2, irradiance_mw_cm2] =
            lamp::dose(tool, self.dose_mj_cm2, self.irradiance_mw_cm2, self.time_s)?;
        let alignment = self
            .alignment
            .unwrap_or_default()
            .check(self.overlay_um.unwrap_or_default())?;
        Ok(Exposure {
            tool,
            line,
            optics: Optics {
                wavelength_um,
                numerical_aperture: NUMERICAL_APERTURE
                    .check_or_default(self.numerical_aperture)?,
                partial_coherence: PARTIAL_COHERENCE
                    .check_or_default(self.partial_coherence)?,
                defocus_um: DEFOCUS_UM.check_or_default(self.defocus_um)?,
                source_rings: u32::try_from(num::to_count(rings)).unwrap_or(4),
            },
            shadow: Shadow {
                wavelength_um,
                half_angle_rad: collimation_deg.to_radians(),
            },
            gap_um,
            dose_mj_cm2,
            irradiance_mw_cm2,
            alignment,
            focus_in_resist: self.focus_in_resist.unwrap_or(ResistFocus::Same),
            mask: self
                .mask
                .unwrap_or_default()
                .check()
                .map_err(|error| error.inside("mask"))?,
            resist: self.resist.unwrap_or(Resist::P12),
            thickness_nm: THICKNESS_NM.check_or_default(self.thickness_nm)?,
            stack,
            bleaching,
            bake,
            k1: K1.check_or_default(self.k1)?,
            k2: K2.check_or_default(self.k2)?,
            grid_nm: GRID_NM.check_or_default(self.grid_nm)?,
            swing_span_nm: SWING_SPAN_NM.check_or_default(self.swing_span_nm)?,
            oxide_swing_nm: OXIDE_SWING_NM.check_or_default(self.oxide_swing_nm)?,
        })
    }
}

pub(super) fn too_many(field: &str, count: usize, most: usize) -> RequestError {
    RequestError::conflict(
        field,
        &count.to_string(),
        &format!("at most {most}"),
        &format!("{field}: {count} entries are too many (allowed: at most {most})"),
        "leave the least important ones out",
    )
}

impl ParametersRequest {
    fn or(self, usual: Bleaching) -> Result<Bleaching, RequestError> {
        let pick = |bound: &crate::bound::Bound, given: Option<f64>, usual: f64| {
            given.map_or(Ok(usual), |given| bound.check(given))
        };
        Ok(Bleaching {
            bleachable_per_um: pick(
                &BLEACHABLE_PER_UM,
                self.bleachable_per_um,
                usual.bleachable_per_um,
            )?,
            residual_per_um: pick(
                &RESIDUAL_PER_UM,
                self.residual_per_um,
                usual.residual_per_um,
            )?,
            bleach_rate_cm2_mj: pick(
                &BLEACH_RATE_CM2_MJ,
                self.bleach_rate_cm2_mj,
                usual.bleach_rate_cm2_mj,
            )?,
            index: pick(&INDEX, self.index, usual.index)?,
        })
    }
}

impl BakeRequest {
    fn check(self) -> Result<[f64; 2], RequestError> {
        Ok([
            BAKE_TEMPERATURE_C.check_or_default(self.temperature_c)?,
            BAKE_TIME_S.check_or_default(self.time_s)?,
        ])
    }
}

impl Exposure {
    /// The same with the dose in mJ/cm2 and, in um, its focus or, without a lens, its gap.
    pub(in crate::lithography) fn at(&self, dose_mj_cm2: f64, focus_um: f64) -> Self {
        let mut exposure = self.clone();
        exposure.dose_mj_cm2 = dose_mj_cm2;
        match self.tool {
            Tool::Projection => exposure.optics.defocus_um = focus_um,
            Tool::Contact | Tool::Proximity => exposure.gap_um = focus_um,
        }
        exposure
    }

    /// Its focus, or without a lens its gap, in um.
    pub(in crate::lithography) fn focus_um(&self) -> f64 {
        match self.tool {
            Tool::Projection => self.optics.defocus_um,
            Tool::Contact | Tool::Proximity => self.gap_um,
        }
    }

    /// Length over which light spreads at the foot of the resist, in um.
    pub(in crate::lithography) fn spread_um(&self) -> f64 {
        match self.tool {
            Tool::Projection => {
                self.optics.wavelength_um / self.optics.numerical_aperture
            }
            Tool::Contact | Tool::Proximity => {
                let distance = self.distance_um(1e-3 * self.thickness_nm);
                (self.optics.wavelength_um * distance).sqrt().max(0.25)
                    + distance * num::tan(self.shadow.half_angle_rad)
            }
        }
    }

    /// Optical distance of a depth in the resist from the mask in um: in resist light spreads as
    /// over a way shorter by its index.
    pub(super) fn distance_um(&self, depth_um: f64) -> f64 {
        self.gap_um + depth_um / self.bleaching.index
    }

    /// The resist of a thickness in um, in sublayers.
    pub(super) fn film(&self, thickness_um: f64) -> Result<ResistFilm, RequestError> {
        let most = 2000.0 / self.grid_nm;
        let cells =
            num::to_count((1e3 * thickness_um / self.grid_nm + 0.5).min(most)).max(4);
        let mut below = Vec::new();
        for &(material, thickness_nm) in &self.stack {
            below.push(Layer { index: self.line.index(material)?, thickness_nm });
        }
        Ok(ResistFilm {
            wavelength_nm: self.line.wavelength_nm(),
            bleaching: self.bleaching,
            thickness_um,
            cells,
            above: 1.0,
            below,
            substrate: self.line.index(Material::Silicon)?,
        })
    }

    /// How far the compound spreads in the bake after exposure, in nm.
    pub(super) fn spread_nm(&self) -> f64 {
        self.bake.map_or(0.0, |[temperature_c, time_s]| {
            spread_nm(Temperature::celsius(temperature_c), time_s)
        })
    }

    /// Whether exposed resist goes.
    pub(in crate::lithography) const fn tone(&self) -> Tone {
        self.resist.tone()
    }
}
