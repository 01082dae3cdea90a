//! Single ions, followed from collision to collision (Monte Carlo).
//!
//! Nothing is read from a range table: where ions rest follows from the force between two atoms
//! (`potential`), the angle by which they part (`scattering`), the friction of the
//! electrons (`electronic`) and chance (`generator`). What one ion does cannot be
//! foretold; what thousands do comes with the error that their number leaves.

mod electronic;
mod flight;
mod generator;
mod listed;
mod moments;
mod potential;
mod results;
mod scattering;
mod table;
mod tally;
mod target;
mod tracks;
mod warnings;
mod working;

use serde_json::{Map, Value};

use super::ImplantationResults;
use super::calculation::{Calculation, StoppingLayer};
use super::request::{ImplantationModel, ImplantationRequest, Settings};
use crate::error::RequestError;
use crate::num::{cos, exp, log10, sin};
use crate::report::Report;
use crate::request::read_fields;
use crate::vocabulary::Ion;

use flight::{End, REST_EV, Source};
use table::ScatteringTable;
use tally::{Stop, Tally};
use target::{Slab, stack};

pub(super) use listed::list;
pub use results::{Histogram, SingleIons};
pub use scattering::half_angle_sine_squared;
pub use tracks::Track;

/// Ions whose ways are kept for the picture: more would cover each other.
const TRACKS: u32 = 60;
/// Points of a way per range: closer together than a picture shows.
const POINTS_PER_RANGE: f64 = 90.0;

/// An implantation of single ions that can be watched while it runs.
///
/// The ions fly one after the other; however they are grouped, the run ends with the same bits.
#[derive(Debug)]
pub struct TrackRun {
    /// The same implantation by table, to compare with.
    calculation: Calculation,
    source: Source,
    table: ScatteringTable,
    slabs: Vec<Slab>,
    tally: Tally,
    tracks: Vec<Track>,
    track_spacing_nm: f64,
    done: u32,
}

impl TrackRun {
    /// Prepares the run of a request with the model `monte_carlo`; no ion flies yet.
    ///
    /// # Errors
    /// [`RequestError`] for bad fields, `wrong_model` for another model or operation.
    pub fn start(mut request: Map<String, Value>) -> Result<Self, RequestError> {
        let operation = request.remove("operation");
        let implants = operation.is_none_or(|name| name.as_str() == Some("implantation"));
        let model = request.get("model").and_then(Value::as_str).unwrap_or_default();
        if !implants || model != ImplantationModel::MonteCarlo.word() {
            return Err(RequestError::new(
                "wrong_model",
                "model",
                model,
                "monte_carlo",
                "model: only the model monte_carlo follows single ions (allowed: monte_carlo)",
                "run the request as a whole",
            ));
        }
        Ok(Self::of(read_fields::<ImplantationRequest>(request)?.check()?))
    }

    pub(super) fn of(settings: Settings) -> Self {
        let calculation = Calculation::new(settings);
        let settings = &calculation.settings;
        let slabs = stack(
            settings.species.dopant(),
            settings.layers.iter().map(|layer| (layer.material, layer.thickness_nm)),
            settings.target,
        );
        let source = Source {
            seed: settings.seed,
            energy_ev: 1e3 * calculation.atom_energy_kev,
            direction: beam_direction(settings),
        };
        let table = table_for(&slabs, source.energy_ev);
        let layers = calculation.layers.iter().map(|layer: &StoppingLayer| layer.moments);
        let narrowest_nm = layers
            .clone()
            .map(|moments| moments.sigma_nm)
            .fold(calculation.moments.sigma_nm, f64::min);
        let range_nm = layers
            .map(|moments| moments.mean_nm)
            .next()
            .unwrap_or(calculation.moments.mean_nm);
        let faces = slabs.iter().map(|slab| (slab.top_nm, slab.bottom_nm - slab.top_nm));
        let tally =
            Tally::new(faces, bar_width_nm(narrowest_nm, settings.ions), settings.ions);
        Self {
            source,
            table,
            slabs,
            tally,
            tracks: Vec::new(),
            track_spacing_nm: range_nm / POINTS_PER_RANGE,
            done: 0,
            calculation,
        }
    }

    /// Ions asked for.
    #[must_use]
    pub const fn total(&self) -> u32 {
        self.calculation.settings.ions
    }

    /// Ions that have flown.
    #[must_use]
    pub const fn done(&self) -> u32 {
        self.done
    }

    /// Lets up to so many ions more fly; gives back how many have flown in all.
    pub fn advance(&mut self, ions: u32) -> u32 {
        let end = self.done.saturating_add(ions).min(self.total());
        for ion in self.done..end {
            let mut track = (ion < TRACKS).then(|| Track::new(self.track_spacing_nm));
            let found = flight::fly(
                &self.source,
                ion,
                &self.table,
                &self.slabs,
                &mut self.tally,
                track.as_mut(),
            );
            match found {
                End::AtRest { slab, position_nm } => {
                    self.tally.rest(slab, self.stop(position_nm));
                }
                End::Backscattered => {
                    self.tally.backscattered += 1;
                    if let Some(track) = &mut track {
                        track.at_rest = false;
                    }
                }
            }
            self.tracks.extend(track);
        }
        self.done = end;
        end
    }

    /// The report of the ions that have flown so far, as the door gives it.
    #[cfg(feature = "doping")]
    #[must_use]
    pub fn report(&self) -> Report {
        let report = self.own_report().map(crate::report::Results::Implantation);
        crate::bench::finished(report)
    }

    pub(super) fn own_report(&self) -> Report<ImplantationResults> {
        results::report(self)
    }

    fn stop(&self, position_nm: [f64; 3]) -> Stop {
        let along_nm: f64 =
            position_nm.iter().zip(self.source.direction).map(|(p, d)| p * d).sum();
        let whole: f64 = position_nm.iter().map(|p| p * p).sum();
        Stop {
            along_nm,
            across_nm2: 0.5 * (whole - along_nm * along_nm).max(0.0),
            depth_nm: position_nm[2],
        }
    }
}

/// The beam's direction: tilt from the normal, rotation about it.
fn beam_direction(settings: &Settings) -> [f64; 3] {
    let (tilt, rotation) =
        (settings.tilt_deg.to_radians(), settings.rotation_deg.to_radians());
    [sin(tilt) * cos(rotation), sin(tilt) * sin(rotation), cos(tilt)]
}

/// The table of all collisions from the full energy down to rest.
fn table_for(slabs: &[Slab], energy_ev: f64) -> ScatteringTable {
    let (mut lowest, mut highest) = (f64::INFINITY, 0.0_f64);
    for partner in slabs.iter().flat_map(|slab| &slab.stopping.partners) {
        lowest = lowest.min(REST_EV * partner.reduced_energy_per_ev);
        highest = highest.max(energy_ev * partner.reduced_energy_per_ev);
    }
    ScatteringTable::between(lowest, highest)
}

/// Width of a bar: `2.7 sigma n^(-1/3)`, the width that shows the most of a bell curve without
/// its noise (D. Freedman, P. Diaconis, 1981: twice the quartile distance; memory), rounded down
/// to 1, 2 or 5 times a power of ten.
fn bar_width_nm(sigma_nm: f64, ions: u32) -> f64 {
    let wanted = 2.7 * sigma_nm / crate::num::cbrt(f64::from(ions));
    let decade = exp(log10(wanted).floor() * core::f64::consts::LN_10);
    let steps = [5.0, 2.0, 1.0].into_iter().find(|step| step * decade <= wanted);
    steps.unwrap_or(1.0) * decade
}

/// The ion in words.
fn ion_word(ion: Ion) -> &'static str {
    match ion {
        Ion::Bf2 => "boron of BF2",
        _ => ion.word(),
    }
}
