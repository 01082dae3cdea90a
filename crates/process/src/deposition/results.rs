//! A deposition from the request to the report.

use serde::Serialize;
use serde_json::{Map, Value};

use super::coverage::{Covered, Trench};
use super::polysilicon::{Structure, resistivity_ohm_cm};
use super::rate::Conditions;
use super::recipe::{DepositedFilm, Method, Range};
use super::request::{
    ACTIVATION_ENERGY_EV, CONCENTRATION_CM3, Deposition, DepositionRequest,
    OXIDE_BELOW_NM, PHOSPHORUS_PERCENT, PRESSURE_PA, REFLOW_TEMPERATURE_C,
    REFLOW_TIME_MIN, SOURCE_HEIGHT_MM, TARGET_NM, TEMPERATURE_C, TIME_MIN,
    TRENCH_DEPTH_UM, TRENCH_WIDTH_UM, WAFER_DIAMETER_MM,
};
use super::{cautions, derivation, evaporation, reflow};
use crate::bench::OperationSchema;
use crate::color::{Film, FilmColor, Illuminant, OpticalMaterial, Stack, chart_name};
use crate::error::RequestError;
use crate::etching::Variant;
use crate::hazards;
use crate::num::linspace;
use crate::report::{Accuracy, Report};
use crate::request::read_fields;
use crate::units::Length;
use crate::vocabulary::Dopant;

/// Share of its height that a spun film loses when it is cured: 5 to 15 % (common practice).
pub(super) const CURE_SHRINK: f64 = 0.10;

/// Results of a deposition.
#[derive(Clone, Debug, Serialize)]
pub struct DepositionResults {
    /// The film.
    pub film: DepositedFilm,
    /// How it is made.
    pub method: Method,
    /// Its variant; null if the film comes in one only.
    pub variant: Option<Variant>,
    /// What reacts.
    pub chemistry: &'static str,
    /// Temperature of the wafer in C.
    pub temperature_c: f64,
    /// Film on flat ground (at the wafer's center) in nm.
    pub thickness_nm: f64,
    /// The same by the slowest tool and the least favorable published energy in nm.
    pub thickness_low_nm: f64,
    /// The same by the fastest ones in nm.
    pub thickness_high_nm: f64,
    /// Growth rate in nm/min; null for a spun film.
    pub rate_nm_min: Option<f64>,
    /// Time given or needed in min; null for a spun film.
    pub time_min: Option<f64>,
    /// Film at the rim over film at the center; evaporation only.
    pub rim_to_center: Option<f64>,
    /// Film at the rim in nm; evaporation only.
    pub rim_nm: Option<f64>,
    /// Metal that the source must give in g; evaporation only.
    pub charge_g: Option<f64>,
    /// Film on top, wall and bottom of a trench, if one was given.
    pub step_coverage: Option<StepCoverage>,
    /// Width of the trench in um.
    pub trench_width_um: Option<f64>,
    /// Depth of the trench in um.
    pub trench_depth_um: Option<f64>,
    /// Surface of the film over the trench, from left to right.
    pub outline: Option<Outline>,
    /// Voids shut in the trench, each round its edge.
    pub voids: Vec<Outline>,
    /// Lower and upper end of the seam in the middle in um above the old surface.
    pub seam_um: Option<[f64; 2]>,
    /// Grains of polysilicon.
    pub structure: Option<Structure>,
    /// Thermal oxide below the film in nm.
    pub oxide_below_nm: f64,
    /// Dopant of a film doped while it grows.
    pub dopant: Option<Dopant>,
    /// Its concentration per cm3.
    pub concentration_cm3: Option<f64>,
    /// Resistivity in ohm cm; null for films that do not conduct usefully.
    pub resistivity_ohm_cm: Option<f64>,
    /// Sheet resistance in ohm per square; null as above.
    pub sheet_resistance_ohm_sq: Option<f64>,
    /// Other properties.
    pub properties: Properties,
    /// What a reflow did; glass only.
    pub reflow: Option<Reflow>,
    /// Color of the film on the wafer.
    pub color: FilmColor,
    /// Thickness against time; none for a spun film.
    pub curve: Option<GrowthCurve>,
    /// Rate against temperature; none for a film that is not thermally activated.
    pub rate_curve: Option<RateCurve>,
}

/// How a film covers a trench.
#[derive(Clone, Debug, Serialize)]
pub struct StepCoverage {
    /// On flat ground beside the trench in nm.
    pub top_nm: f64,
    /// On the wall at half depth, measured across, in nm; null where the film has filled an open
    /// trench to there from below.
    pub side_nm: Option<f64>,
    /// At the middle of the bottom in nm.
    pub bottom_nm: f64,
    /// Side over top; null as above.
    pub side_ratio: Option<f64>,
    /// Bottom over top.
    pub bottom_ratio: f64,
    /// Whether the trench has closed.
    pub closed: bool,
}

/// Points of a surface in section; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Outline {
    /// Across, from the trench's middle, in um.
    pub x_um: Vec<f64>,
    /// Up, from the old surface, in um.
    pub z_um: Vec<f64>,
}

/// Usual properties of a film as deposited: low and high end.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Properties {
    /// Refractive index at 633 nm; null for a metal.
    pub index: Option<Range>,
    /// Density in g/cm3.
    pub density_g_cm3: Range,
    /// Stress in megapascals, tension positive; null if not stated.
    pub stress_mpa: Option<Range>,
    /// Thickness after densification at about 1000 C in nm; null if not stated.
    pub densified_nm: Option<Range>,
}

/// What a reflow did.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Reflow {
    /// Temperature in C at which this glass flows in half an hour.
    pub flow_temperature_c: f64,
    /// Length over which the surface was evened out in um.
    pub smoothing_um: f64,
    /// Steepest slope over the trench in degrees; null without a trench.
    pub slope_deg: Option<f64>,
}

/// Thickness against time; all lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct GrowthCurve {
    /// Times in min, from 0.
    pub time_min: Vec<f64>,
    /// Thickness in nm.
    pub thickness_nm: Vec<f64>,
    /// Low end of the spread in nm.
    pub low_nm: Vec<f64>,
    /// High end of the spread in nm.
    pub high_nm: Vec<f64>,
}

/// Rate against temperature; all lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct RateCurve {
    /// Temperatures in C.
    pub temperature_c: Vec<f64>,
    /// Rate in nm/min.
    pub rate_nm_min: Vec<f64>,
    /// Lowest rate by a published activation energy in nm/min.
    pub low_nm_min: Vec<f64>,
    /// Highest rate by a published activation energy in nm/min.
    pub high_nm_min: Vec<f64>,
    /// Lower end of the published temperatures in C.
    pub published_low_c: f64,
    /// Upper end of them in C.
    pub published_high_c: f64,
    /// Published activation energies in eV.
    pub activation_ev: Range,
}

/// Runs a deposition.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(
    fields: Map<String, Value>,
) -> Result<Report<DepositionResults>, RequestError> {
    let deposition = read_fields::<DepositionRequest>(fields)?.check()?;
    let results = deposition.results();
    let working = derivation::working(&deposition, &results);
    let warnings = cautions::warnings(&deposition, &results);
    Ok(Report {
        operation: "deposition",
        results,
        working,
        warnings,
        published: Vec::new(),
        accuracy: deposition.rate.map(|_| deposition.accuracy()),
        hazards: hazards::for_step("deposition", &deposition.chemistry()),
        kernel_version: "",
    })
}

/// The form of a deposition.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "deposition",
        numbers: vec![
            TEMPERATURE_C,
            TIME_MIN,
            TARGET_NM,
            PRESSURE_PA,
            ACTIVATION_ENERGY_EV,
            TRENCH_WIDTH_UM,
            TRENCH_DEPTH_UM,
            CONCENTRATION_CM3,
            SOURCE_HEIGHT_MM,
            WAFER_DIAMETER_MM,
            OXIDE_BELOW_NM,
            PHOSPHORUS_PERCENT,
            REFLOW_TEMPERATURE_C,
            REFLOW_TIME_MIN,
        ],
        choices: vec![
            DepositedFilm::choice("film", "Film", None),
            Method::choice("method", "Method", None),
            Variant::choice("variant", "Kind of film", None),
            Dopant::choice("dopant", "Dopant in the film", None),
        ],
    }
}

impl Deposition {
    fn results(&self) -> DepositionResults {
        let recipe = self.recipe;
        let t_nm = self.thickness_nm;
        let section = self.trench.map(|trench| self.section(&trench));
        let spread = |pick: fn(&super::rate::Rate) -> f64| {
            self.rate.as_ref().map_or(t_nm, |rate| t_nm * pick(rate) / rate.nm_min)
        };
        let resistivity = self.resistivity_ohm_cm();
        let rim = self.source.map(|(height_mm, diameter_mm)| {
            evaporation::film_ratio(0.5 * diameter_mm, height_mm)
        });
        let (density_low, density_high) = recipe.density_g_cm3;
        let density = 0.5 * (density_low + density_high);
        DepositionResults {
            film: recipe.film,
            method: recipe.method,
            variant: self.variant,
            chemistry: recipe.chemistry,
            temperature_c: self.conditions.temperature_c,
            thickness_nm: t_nm,
            thickness_low_nm: spread(|rate| rate.low_nm_min),
            thickness_high_nm: spread(|rate| rate.high_nm_min),
            rate_nm_min: self.rate.map(|rate| rate.nm_min),
            time_min: self.time_min,
            rim_to_center: rim,
            rim_nm: rim.map(|ratio| ratio * t_nm),
            charge_g: self
                .source
                .map(|(height_mm, _)| evaporation::charge_g(t_nm, height_mm, density)),
            step_coverage: section.as_ref().map(|(film, _)| self.coverage(film)),
            trench_width_um: self.trench.map(|trench| trench.width_um),
            trench_depth_um: self.trench.map(|trench| trench.depth_um),
            outline: section.as_ref().map(|(film, _)| Outline::mirrored(&film.surface)),
            voids: section.as_ref().map_or_else(Vec::new, |(film, _)| voids(film)),
            seam_um: section.as_ref().and_then(|(film, _)| film.seam),
            structure: (recipe.film == DepositedFilm::Polysilicon)
                .then(|| Structure::at(self.conditions.temperature_c)),
            oxide_below_nm: self.oxide_below_nm,
            dopant: self.doping.map(|(dopant, _)| dopant),
            concentration_cm3: self.doping.map(|(_, cm3)| cm3),
            resistivity_ohm_cm: resistivity,
            sheet_resistance_ohm_sq: resistivity.map(|rho| rho / (1e-7 * t_nm)),
            properties: Properties {
                index: recipe.index,
                density_g_cm3: recipe.density_g_cm3,
                stress_mpa: recipe.stress_mpa,
                densified_nm: recipe.shrink_percent.map(|(least, most)| {
                    (t_nm * (1.0 - most / 100.0), t_nm * (1.0 - least / 100.0))
                }),
            },
            reflow: self.phosphorus_percent.zip(self.reflow).map(|(percent, at)| {
                Reflow {
                    flow_temperature_c: reflow::flow_temperature_c(percent),
                    smoothing_um: reflow::smoothing_um(percent, at.0, at.1),
                    slope_deg: section.as_ref().and_then(|(_, slope)| *slope),
                }
            }),
            color: self.color(),
            curve: self.curve(),
            rate_curve: self.rate_curve(),
        }
    }

    /// The film over a trench, and its steepest slope after a reflow in degrees.
    fn section(&self, trench: &Trench) -> (Covered, Option<f64>) {
        let t_um = 1e-3 * self.thickness_nm;
        let film = trench.covered(self.recipe.arrival, t_um, CURE_SHRINK);
        match (self.phosphorus_percent, self.reflow) {
            (Some(percent), Some((temperature_c, time_min))) => {
                let b_um = reflow::smoothing_um(percent, temperature_c, time_min);
                let (film, slope_deg) = reflow::flowed(&film, trench, b_um);
                (film, Some(slope_deg))
            }
            _ => (film, None),
        }
    }

    fn coverage(&self, film: &Covered) -> StepCoverage {
        let side_nm = film.side_um.map(|side_um| 1e3 * side_um);
        let bottom_nm = 1e3 * film.bottom_um;
        StepCoverage {
            top_nm: self.thickness_nm,
            side_nm,
            bottom_nm,
            side_ratio: side_nm.map(|side_nm| side_nm / self.thickness_nm),
            bottom_ratio: bottom_nm / self.thickness_nm,
            closed: film.seam.is_some(),
        }
    }

    /// Doped polysilicon after its anneal; aluminum films 2.8 to 3.2 uohm cm, with silicon 2.9
    /// to 3.3 (common practice): the middle.
    fn resistivity_ohm_cm(&self) -> Option<f64> {
        match (self.recipe.film, self.doping) {
            (DepositedFilm::Polysilicon, Some((dopant, cm3))) => {
                Some(resistivity_ohm_cm(dopant, cm3))
            }
            (DepositedFilm::Aluminum, _) => {
                Some(if self.variant == Some(Variant::Pure) { 3.0e-6 } else { 3.1e-6 })
            }
            _ => None,
        }
    }

    /// Color on the wafer. Glasses are seen as thermal oxide, all nitrides as the
    /// stoichiometric one, polysilicon as smooth silicon.
    fn color(&self) -> FilmColor {
        let oxide_below = Length::nm(self.oxide_below_nm);
        let (material, name) = match self.recipe.film {
            DepositedFilm::Polysilicon if self.oxide_below_nm <= 0.0 => {
                (OpticalMaterial::Silicon, "gray like bare silicon")
            }
            DepositedFilm::Polysilicon => {
                (OpticalMaterial::Silicon, "silicon with a tint of its own")
            }
            DepositedFilm::Nitride if self.oxide_below_nm <= 0.0 => {
                // The name of the oxide that is as thick for light: n = 2.0 against 1.46.
                let equal = Length::nm(self.thickness_nm * 2.0 / 1.46);
                (OpticalMaterial::Nitride, chart_name(equal))
            }
            DepositedFilm::Nitride => (OpticalMaterial::Nitride, "color of two films"),
            DepositedFilm::DepositedOxide | DepositedFilm::PhosphorusGlass => (
                OpticalMaterial::ThermalOxide,
                chart_name(Length::nm(self.thickness_nm) + oxide_below),
            ),
            DepositedFilm::Aluminum => (OpticalMaterial::Aluminum, "bright metal"),
        };
        let films = [
            Film { material, thickness: Length::nm(self.thickness_nm) },
            Film { material: OpticalMaterial::ThermalOxide, thickness: oxide_below },
        ];
        let stack =
            Stack { films: &films, substrate: OpticalMaterial::Silicon, angle_rad: 0.0 };
        FilmColor::of_stack(&stack, Illuminant::D65, name)
    }

    fn curve(&self) -> Option<GrowthCurve> {
        let (rate, time_min) = (self.rate?, self.time_min?);
        let time_min = linspace(0.0, 1.5 * time_min, 31);
        let grown = |nm_min: f64| time_min.iter().map(|t| nm_min * t).collect();
        Some(GrowthCurve {
            thickness_nm: grown(rate.nm_min),
            low_nm: grown(rate.low_nm_min),
            high_nm: grown(rate.high_nm_min),
            time_min,
        })
    }

    /// Rate over the published temperatures and the present one.
    fn rate_curve(&self) -> Option<RateCurve> {
        let recipe = self.recipe;
        self.rate?;
        recipe.activation_ev.filter(|&energy_ev| 0.0 < energy_ev)?;
        let (low_c, high_c) = recipe.published_c;
        let here_c = self.conditions.temperature_c;
        let temperature_c =
            linspace((low_c - 20.0).min(here_c), (high_c + 20.0).max(here_c), 61);
        let at = |activation_ev: f64| -> Vec<f64> {
            temperature_c
                .iter()
                .map(|&temperature_c| {
                    let there =
                        Conditions { temperature_c, activation_ev, ..self.conditions };
                    recipe.rate(&there).nm_min
                })
                .collect()
        };
        let (a, b) = (at(recipe.activation_spread.0), at(recipe.activation_spread.1));
        let pick = |f: fn(f64, f64) -> f64| a.iter().zip(&b).map(move |(&a, &b)| f(a, b));
        Some(RateCurve {
            rate_nm_min: at(self.conditions.activation_ev),
            low_nm_min: pick(f64::min).collect(),
            high_nm_min: pick(f64::max).collect(),
            temperature_c,
            published_low_c: low_c,
            published_high_c: high_c,
            activation_ev: recipe.activation_spread,
        })
    }

    fn accuracy(&self) -> Accuracy {
        let (low, high) = self.recipe.rate_spread;
        let rate = self.recipe.rate_nm_min;
        Accuracy {
            relative: (high / rate - 1.0).max(1.0 - low / rate),
            meaning: "rate of another tool with the same recipe; measure your own tool on a test wafer",
            source: "spread of the published rates; at least 30 % between two tools (common practice)",
        }
    }

    /// The words that choose the rows of the hazard table.
    fn chemistry(&self) -> Vec<&'static str> {
        let mut words = vec![self.recipe.film.word(), self.recipe.method.word()];
        words.extend(self.variant.map(Variant::word));
        words.extend(self.doping.map(|(dopant, _)| dopant.word()));
        words
    }
}

/// The voids of a whole section: one in the middle is its left side and the mirror image, one
/// beside it comes twice.
fn voids(film: &Covered) -> Vec<Outline> {
    let mut voids = Vec::new();
    for void in &film.voids {
        let ends = [void.first(), void.last()];
        if ends.iter().flatten().all(|p| p[0].abs() < 1e-9) {
            voids.push(Outline::mirrored(void));
        } else {
            voids.push(Outline::of(void.iter().copied()));
            voids.push(Outline::of(void.iter().map(|&[x, z]| [-x, z])));
        }
    }
    voids
}

impl Outline {
    fn of(points: impl Iterator<Item = [f64; 2]>) -> Self {
        let (x_um, z_um) = points.map(|[x, z]| (x + 0.0, z + 0.0)).unzip();
        Self { x_um, z_um }
    }

    /// A left half and its mirror image.
    fn mirrored(half: &[[f64; 2]]) -> Self {
        Self::of(half.iter().copied().chain(half.iter().rev().map(|&[x, z]| [-x, z])))
    }
}
