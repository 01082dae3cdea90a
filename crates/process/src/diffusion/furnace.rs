//! The furnace as the solver sees it: temperature ramps, growing oxide, injected interstitials.

use super::diffusivity::{DopantDiffusivity, intrinsic_cm3};
use super::point_defects::{interstitial_share, supersaturation};
use super::segregation::{Segregation, segregation};
use super::simulated::Conditions;
use super::solubility::active_limit;
use super::solver::{Crystal, Moment, Schedule, Species, enhancement};
use crate::error::RequestError;
use crate::num::{MonotoneCubic, exp, to_count};
use crate::oxidation::{self, Segment, through_segment};
use crate::units::{Length, Temperature, Time};
use crate::vocabulary::{Ambient, BoronSegregation, Dopant, Orientation, Substrate};

/// Heating before and cooling after the time at temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Ramp {
    pub(super) start_c: f64,
    pub(super) up_c_s: f64,
    pub(super) down_c_s: f64,
}

/// What a drive-in says about its furnace, checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Recipe {
    pub(super) ambient: Ambient,
    pub(super) ramp: Option<Ramp>,
    pub(super) orientation: Orientation,
    /// Diffusion feels the interstitials that the oxidation injects.
    pub(super) enhanced: bool,
    pub(super) boron: BoronSegregation,
    pub(super) donors: f64,
    /// Oxide at the start.
    pub(super) oxide: Length,
}

/// Colder than this (C) nothing moves: diffusivities are taken as there, a millionth of a
/// millionth of those at 1000 C.
const COLDEST_C: f64 = 400.0;
/// The furnace's clock never runs slower than this share of its pace at temperature.
const SLOWEST: f64 = 1e-9;
/// Parts of a ramp, so that the diffusivity changes by a tenth at most in each.
const PART_C: f64 = 4.0;
/// The active part follows its equilibrium down to here (C; common practice).
const FREEZES_C: f64 = 700.0;
/// Points of the curve of the oxide in each part of the recipe.
const OXIDE_POINTS: u32 = 120;

/// A point of the temperature program.
#[derive(Clone, Copy, Debug)]
struct Knot {
    time_s: f64,
    celsius: f64,
    clock_s: f64,
}

/// The furnace through the whole step.
#[derive(Clone, Debug)]
pub(super) struct Furnace {
    recipe: Recipe,
    conditions: Conditions,
    substrate: Substrate,
    dopants: Vec<(Dopant, DopantDiffusivity)>,
    segregation: Vec<Segregation>,
    shares: Vec<f64>,
    knots: Vec<Knot>,
    /// From here on the furnace cools.
    cools_from_s: f64,
    oxide_um: Option<MonotoneCubic>,
    oxide_start_um: f64,
    oxide_end_um: f64,
}

impl Furnace {
    /// # Errors
    /// If the diffusivity set lacks a dopant.
    pub(super) fn new(
        recipe: Recipe,
        conditions: Conditions,
        substrate: Substrate,
        dopants: &[Dopant],
    ) -> Result<Self, RequestError> {
        let found = dopants
            .iter()
            .map(|&dopant| Ok((dopant, conditions.set.require(dopant)?)))
            .collect::<Result<Vec<_>, RequestError>>()?;
        let by = |dopant: &Dopant| {
            segregation(*dopant, recipe.orientation, recipe.boron, recipe.donors)
        };
        let shares = if recipe.enhanced && recipe.ambient != Ambient::Inert {
            dopants.iter().map(|&dopant| interstitial_share(dopant)).collect()
        } else {
            Vec::new()
        };
        let mut furnace = Self {
            recipe,
            conditions,
            substrate,
            segregation: dopants.iter().map(by).collect(),
            shares,
            dopants: found,
            knots: Vec::new(),
            cools_from_s: 0.0,
            oxide_um: None,
            oxide_start_um: recipe.oxide.to_um(),
            oxide_end_um: recipe.oxide.to_um(),
        };
        furnace.heat();
        furnace.oxidize();
        Ok(furnace)
    }

    /// The parts of the program: temperature at both ends in C and length in s.
    fn parts(&self) -> Vec<(f64, f64, f64)> {
        let hold_c = self.conditions.temperature.to_celsius();
        let hold = (hold_c, hold_c, self.conditions.time_s);
        let Some(ramp) = self.recipe.ramp else { return vec![hold] };
        let rise_c = hold_c - ramp.start_c;
        if rise_c <= 0.0 {
            return vec![hold];
        }
        vec![
            (ramp.start_c, hold_c, rise_c / ramp.up_c_s),
            hold,
            (hold_c, ramp.start_c, rise_c / ramp.down_c_s),
        ]
    }

    /// Lays out the temperature program against time and clock.
    fn heat(&mut self) {
        let mut knot = Knot {
            time_s: 0.0,
            celsius: self.parts().first().map_or(0.0, |part| part.0),
            clock_s: 0.0,
        };
        let mut knots = vec![knot];
        for (from_c, to_c, length_s) in self.parts() {
            if to_c < from_c {
                self.cools_from_s = knot.time_s;
            }
            let count = to_count(((to_c - from_c).abs() / PART_C).ceil()).max(1);
            let (dt, dc) = (length_s / count as f64, (to_c - from_c) / count as f64);
            for _ in 0..count {
                let (a, b) = (knot.celsius, knot.celsius + dc);
                let (ends, middle) =
                    (self.clock(a) + self.clock(b), self.clock(0.5 * (a + b)));
                // Simpson's rule.
                knot.clock_s += dt / 6.0 * (ends + 4.0 * middle);
                knot.time_s += dt;
                knot.celsius = b;
                knots.push(knot);
            }
            knot.celsius = to_c;
        }
        if knots.len() == 2 {
            self.cools_from_s = f64::INFINITY;
        }
        self.knots = knots;
    }

    /// How fast the clock runs at a temperature in C, 1 at the hold: with the fastest of all
    /// that goes on, over what it does at the hold.
    fn clock(&self, celsius: f64) -> f64 {
        let (here, hold) = (warm(celsius), self.conditions.temperature);
        if (here.to_kelvin() - hold.to_kelvin()).abs() < 1e-9 {
            return 1.0;
        }
        let diffusion = self
            .dopants
            .iter()
            .map(|(_, d)| d.intrinsic_cm2_s(here) / d.intrinsic_cm2_s(hold))
            .fold(SLOWEST, f64::max);
        if self.recipe.ambient == Ambient::Inert {
            return diffusion;
        }
        // Thick dry oxide grows with 1.23 eV, the lowest energy of all.
        diffusion.max(exp(-1.23 * (1.0 / here.to_kt_ev() - 1.0 / hold.to_kt_ev())))
    }

    /// Grows the oxide through the program.
    fn oxidize(&mut self) {
        let ambient = self.recipe.ambient;
        if ambient == Ambient::Inert {
            return;
        }
        let law = self.oxide_conditions();
        let mut oxide = law.effective_start(ambient, self.recipe.oxide);
        self.oxide_start_um = oxide.to_um();
        let (mut x, mut y) = (vec![0.0], vec![oxide.to_um()]);
        let mut past_s = 0.0;
        for (from_c, to_c, length_s) in self.parts() {
            let segment = Segment {
                ambient,
                start: Temperature::celsius(from_c),
                end: Temperature::celsius(to_c),
                duration: Time::s(length_s),
            };
            // Close together at first, where the oxide grows fastest.
            let times_s: Vec<f64> = (1..=OXIDE_POINTS)
                .map(|i| {
                    let share = f64::from(i) / f64::from(OXIDE_POINTS);
                    length_s * share * share
                })
                .collect();
            let times_h: Vec<f64> = times_s.iter().map(|&t| Time::s(t).to_h()).collect();
            let grown = through_segment(&law, &segment, oxide, &times_h);
            for (t, um) in times_s.iter().zip(&grown) {
                x.push(past_s + t);
                y.push(*um);
            }
            oxide = Length::um(grown.last().copied().unwrap_or(oxide.to_um()));
            past_s += length_s;
        }
        self.oxide_end_um = oxide.to_um();
        self.oxide_um = MonotoneCubic::new(x, y);
    }

    fn oxide_conditions(&self) -> oxidation::Conditions {
        oxidation::Conditions {
            surface: oxidation::Surface::Crystal(self.recipe.orientation),
            ..oxidation::Conditions::default()
        }
    }

    /// Time and temperature (C) at a clock reading.
    fn locate(&self, clock_s: f64) -> (f64, f64) {
        let last = self.knots.len() - 1;
        let i = self.knots.partition_point(|knot| knot.clock_s <= clock_s).clamp(1, last);
        let (a, b) = (self.knots[i - 1], self.knots[i]);
        let share = ((clock_s - a.clock_s) / (b.clock_s - a.clock_s)).clamp(0.0, 1.0);
        let between = |a: f64, b: f64| a + share * (b - a);
        (between(a.time_s, b.time_s), between(a.celsius, b.celsius))
    }

    /// Time in s at a clock reading.
    pub(super) fn time_at_s(&self, clock_s: f64) -> f64 {
        self.locate(clock_s).0
    }

    /// What the clock shows at the end.
    pub(super) fn clock_s(&self) -> f64 {
        self.knots.last().map_or(0.0, |knot| knot.clock_s)
    }

    /// The whole time with its ramps.
    pub(super) fn time_s(&self) -> f64 {
        self.knots.last().map_or(0.0, |knot| knot.time_s)
    }

    /// `∫D dt` of a dopant in intrinsic silicon in cm2.
    pub(super) fn dt_cm2(&self, dopant: Dopant) -> f64 {
        let Some((_, d)) = self.dopants.iter().find(|(found, _)| *found == dopant) else {
            return 0.0;
        };
        let at = |celsius: f64| d.intrinsic_cm2_s(warm(celsius));
        let parts = self.knots.windows(2).map(|pair| {
            let (a, b) = (pair[0], pair[1]);
            let middle = at(0.5 * (a.celsius + b.celsius));
            (b.time_s - a.time_s) / 6.0 * (at(a.celsius) + 4.0 * middle + at(b.celsius))
        });
        parts.sum()
    }

    /// Oxide at the start, native oxide included, and at the end.
    pub(super) const fn oxide(&self) -> [Length; 2] {
        [Length::um(self.oxide_start_um), Length::um(self.oxide_end_um)]
    }

    /// The segregation of each dopant.
    pub(super) fn segregation(&self) -> impl Iterator<Item = (Dopant, Segregation)> {
        self.dopants
            .iter()
            .map(|(dopant, _)| *dopant)
            .zip(self.segregation.iter().copied())
    }

    /// Growth rate in um/h and supersaturation at the end of the time at temperature.
    pub(super) fn at_the_end(&self) -> (f64, f64) {
        let hold_end_s = self.time_s().min(self.cools_from_s);
        self.injection(hold_end_s, self.conditions.temperature)
    }

    fn injection(&self, time_s: f64, temperature: Temperature) -> (f64, f64) {
        let Some(oxide) = &self.oxide_um else { return (0.0, 1.0) };
        let law = self.oxide_conditions().law(self.recipe.ambient, temperature);
        let rate_um_h = law.rate_um_h(oxide.value(time_s).max(0.0));
        (rate_um_h, supersaturation(rate_um_h, temperature, self.recipe.orientation))
    }

    /// Largest factor on a diffusivity that the mean growth of the oxide gives.
    pub(super) fn speed_up(&self) -> f64 {
        let mean_um_h = (self.oxide_end_um - self.oxide_start_um)
            / Time::s(self.conditions.time_s).to_h();
        let temperature = self.conditions.temperature;
        let s = supersaturation(mean_um_h, temperature, self.recipe.orientation);
        self.shares.iter().map(|&share| enhancement(share, s)).fold(1.0, f64::max)
    }

    /// Thickness in cm in which a dopant piles up ahead of the interface: D/v.
    pub(super) fn pile_up_cm(&self) -> Option<f64> {
        let grown_cm = 1e-4 * (self.oxide_end_um - self.oxide_start_um);
        if grown_cm <= 0.0 {
            return None;
        }
        let speed =
            crate::constants::SILICON_PER_OXIDE * grown_cm / self.conditions.time_s;
        let slowest = self
            .dopants
            .iter()
            .map(|(_, d)| d.intrinsic_cm2_s(self.conditions.temperature))
            .fold(f64::INFINITY, f64::min);
        Some(slowest / speed)
    }
}

impl Schedule for Furnace {
    fn at(&self, clock_s: f64) -> Moment {
        let (time_s, celsius) = self.locate(clock_s);
        let temperature = warm(celsius);
        let constant = self.conditions.set.is_constant();
        // What is active stays active while the furnace cools (model choice).
        let limit_at = if self.cools_from_s <= time_s {
            self.conditions.temperature
        } else {
            Temperature::celsius(celsius.max(FREEZES_C))
        };
        let species = self.dopants.iter().map(|(dopant, d)| Species {
            charge: if constant { 0.0 } else { dopant.charge() },
            diffusivity: d.components(temperature),
            active_limit_cm3: active_limit(*dopant, limit_at)
                .filter(|_| self.conditions.limited)
                .map(|limit| limit.concentration_cm3),
        });
        let (mut oxide_um, mut supersaturation) = (self.oxide_start_um, 1.0);
        if let Some(oxide) = &self.oxide_um {
            oxide_um = oxide.value(time_s);
            if !self.shares.is_empty() {
                supersaturation = self.injection(time_s, temperature).1;
            }
        }
        Moment {
            pace: 1.0 / self.clock(celsius),
            crystal: Crystal {
                intrinsic_cm3: intrinsic_cm3(temperature),
                background_cm3: self.substrate.net_donors_cm3(),
            },
            species: species.collect(),
            oxide_cm: 1e-4 * oxide_um,
            segregation: self.segregation.iter().map(|m| m.at(temperature)).collect(),
            supersaturation,
        }
    }

    fn interstitial_share(&self) -> &[f64] {
        &self.shares
    }
}

/// A furnace temperature, not below the one from which on nothing moves.
fn warm(celsius: f64) -> Temperature {
    Temperature::celsius(celsius.max(COLDEST_C))
}
