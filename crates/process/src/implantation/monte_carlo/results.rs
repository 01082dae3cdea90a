//! The report of single ions.

use serde::Serialize;

use super::TrackRun;
use super::moments::{Estimate, moments_of, root_mean_square, share};
use super::tally::Bar;
use super::{Track, warnings, working};
use crate::implantation::damage::{self, AMORPHIZING_EV_CM3, amorphizing_dose_cm2};
use crate::implantation::{
    ImplantationResults, LayerDose, StackProfile, accuracy, beam_time_s, hazards,
    lateral, masks,
};
use crate::num::ln;
use crate::profile::Profile;
use crate::report::Report;
use crate::vocabulary::{Ion, Material};

/// What following single ions adds to the results of an implantation.
///
/// Range, straggle and the other moments are then those of the ions at rest, in layers and
/// target, counted from where they entered.
#[derive(Clone, Debug, Serialize)]
pub struct SingleIons {
    /// Ions asked for.
    pub ions: u32,
    /// Ions that have flown.
    pub ions_done: u32,
    /// Standard error of the projected range in nm; null where too few ions tell.
    pub projected_range_error_nm: Option<f64>,
    /// Standard error of the straggle in nm.
    pub straggle_error_nm: Option<f64>,
    /// Standard error of the lateral straggle in nm.
    pub lateral_straggle_error_nm: Option<f64>,
    /// Standard error of the skewness.
    pub skewness_error: Option<f64>,
    /// Standard error of the kurtosis.
    pub kurtosis_error: Option<f64>,
    /// Share of the ions that left through the surface.
    pub backscattered_fraction: f64,
    /// Its standard error.
    pub backscattered_fraction_error: Option<f64>,
    /// Standard error of the share that reaches the silicon.
    pub transmitted_fraction_error: Option<f64>,
    /// Share of the ions' energy that is handed over to atoms; electrons take the rest.
    pub nuclear_fraction: f64,
    /// Projected range in the target by the chosen range table in nm.
    pub table_projected_range_nm: f64,
    /// Straggle in the target by the chosen range table in nm.
    pub table_straggle_nm: f64,
    /// The profile by the chosen range table, to be drawn beside the counts.
    pub table_profile: StackProfile,
    /// The counts, bar by bar.
    pub histogram: Histogram,
    /// The ways of the first ions.
    pub tracks: Vec<Track>,
}

/// Bars from the top of the stack down; all lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Histogram {
    /// Upper face of each bar in um.
    pub from_um: Vec<f64>,
    /// Lower face of each bar in um.
    pub to_um: Vec<f64>,
    /// Ions at rest in it.
    pub ions: Vec<u32>,
    /// Concentration in it per cm3.
    pub concentration_cm3: Vec<f64>,
    /// Energy handed over to atoms in it, per volume in eV/cm3: what damages a crystal.
    pub nuclear_ev_cm3: Vec<f64>,
}

/// A crossing with a substrate is told only where that many ions in a bar would make its level.
const TELLING_IONS: f64 = 3.0;

/// All numbers of the ions flown so far.
pub(super) fn report(run: &TrackRun) -> Report<ImplantationResults> {
    let results = results(run);
    Report {
        operation: "implantation",
        working: working::lines(run, &results),
        warnings: warnings::all(run, &results),
        published: Vec::new(),
        accuracy: accuracy(&run.calculation),
        hazards: hazards(run.calculation.settings.ion),
        results,
        kernel_version: "",
    }
}

fn results(run: &TrackRun) -> ImplantationResults {
    let calculation = &run.calculation;
    let settings = &calculation.settings;
    let tally = &run.tally;
    let stops = || tally.stops.iter();
    let along = moments_of(stops().map(|stop| stop.along_nm));
    let depth = moments_of(stops().map(|stop| stop.depth_nm));
    let lateral = root_mean_square(stops().map(|stop| stop.across_nm2));

    let target = settings.layers.len();
    let target_top_nm = run.slabs.last().map_or(0.0, |slab| slab.top_nm);
    let in_target = tally.ions_in(target);
    let transmitted = share(in_target, run.done);
    let backscattered = share(tally.backscattered, run.done);
    let in_bars = InBars { run };
    let bars = tally.bars(target);
    let peak = bars.iter().max_by(|a, b| {
        // Of two equal bars the upper one: the order of `max_by` is turned around.
        a.ions.cmp(&b.ions).then(b.from_nm.total_cmp(&a.from_nm))
    });
    let (depth_um, values) = in_bars.points(&bars, target_top_nm);
    let junctions_um = in_bars.junctions_um(&bars, target_top_nm);
    let (histogram, stack_profile) = in_bars.whole_stack();
    ImplantationResults {
        projected_range_nm: along.mean.value,
        straggle_nm: along.sigma.value,
        lateral_straggle_nm: lateral.value,
        skewness: along.skewness.value,
        kurtosis: along.kurtosis.value,
        range_depth_nm: depth.mean.value,
        depth_straggle_nm: depth.sigma.value,
        peak_cm3: peak.map_or(0.0, |bar| in_bars.concentration_cm3(bar)),
        peak_depth_nm: peak
            .map_or(0.0, |bar| 0.5 * (bar.from_nm + bar.to_nm) - target_top_nm),
        transmitted_fraction: if target == 0 { 1.0 } else { transmitted.value },
        retained_dose_cm2: settings.dose_cm2 * transmitted.value,
        lost_fraction: backscattered.value,
        mask_thickness_nm: masks::of_thickest(calculation).map(|mask| mask.thickness_nm),
        masks: masks::of_each_material(calculation),
        mask_leak: settings.mask_leak,
        drawn_kurtosis: None,
        illustrative: false,
        // The table's curve is drawn beside the counts already.
        spread: None,
        lateral_junction_um: None,
        shadow_per_height: lateral::shadow_per_height(
            settings.tilt_deg,
            settings.rotation_deg,
        ),
        damage: None,
        activation: None,
        transient_diffusion: None,
        fluorine: damage::fluorine(settings),
        junction_depth_um: junctions_um.last().copied(),
        junctions_um,
        profile: Profile {
            depth_um,
            dopants: vec![(settings.species.dopant(), values)],
            net_cm3: Vec::new(),
            active_net_cm3: Vec::new(),
        },
        layers: settings
            .layers
            .iter()
            .enumerate()
            .map(|(i, layer)| LayerDose {
                material: layer.material,
                thickness_nm: layer.thickness_nm,
                dose_cm2: settings.dose_cm2 * share(tally.ions_in(i), run.done).value,
            })
            .collect(),
        stack_profile,
        beam_time_s: settings.beam.map(|beam| beam_time_s(settings.dose_cm2, beam)),
        amorphous_depth_nm: in_bars.amorphous_depth_nm(&bars, target_top_nm, transmitted),
        single_ions: Some(Box::new(SingleIons {
            ions: run.total(),
            ions_done: run.done,
            projected_range_error_nm: along.mean.error,
            straggle_error_nm: along.sigma.error,
            lateral_straggle_error_nm: lateral.error,
            skewness_error: along.skewness.error,
            kurtosis_error: along.kurtosis.error,
            backscattered_fraction: backscattered.value,
            backscattered_fraction_error: backscattered.error,
            transmitted_fraction_error: transmitted.error.filter(|_| target != 0),
            nuclear_fraction: tally.nuclear_ev
                / (run.source.energy_ev * f64::from(run.done.max(1))),
            table_projected_range_nm: calculation.beam_moments.mean_nm,
            table_straggle_nm: calculation.beam_moments.sigma_nm,
            table_profile: table_profile(run),
            histogram,
            tracks: run.tracks.clone(),
        })),
    }
}

fn table_profile(run: &TrackRun) -> StackProfile {
    let (depth_um, concentration_cm3) = run.calculation.stack_profile();
    StackProfile { depth_um, concentration_cm3 }
}

/// Bars turned into concentrations of the dose.
struct InBars<'a> {
    run: &'a TrackRun,
}

impl InBars<'_> {
    /// Per cm3 for one ion or one eV in a bar.
    fn per_cm3(&self, bar: &Bar) -> f64 {
        let width_cm = 1e-7 * (bar.to_nm - bar.from_nm);
        self.run.calculation.settings.dose_cm2
            / (f64::from(self.run.done.max(1)) * width_cm)
    }

    fn concentration_cm3(&self, bar: &Bar) -> f64 {
        f64::from(bar.ions) * self.per_cm3(bar)
    }

    /// The profile of the target as points: the surface, the middle of each bar down to the
    /// deepest ion, and the first empty one.
    fn points(&self, bars: &[Bar], top_nm: f64) -> (Vec<f64>, Vec<f64>) {
        let width_nm = self.run.tally.width_nm(self.run.slabs.len() - 1);
        let filled = bars.iter().rposition(|bar| 0 < bar.ions).map_or(0, |i| i + 1);
        let first = bars.first().map_or(0.0, |bar| self.concentration_cm3(bar));
        let (mut depth_um, mut values) = (vec![0.0], vec![first]);
        let mut end_nm = 0.0;
        for bar in bars.iter().take(filled) {
            depth_um.push(1e-3 * (0.5 * (bar.from_nm + bar.to_nm) - top_nm));
            values.push(self.concentration_cm3(bar));
            end_nm = bar.to_nm - top_nm;
        }
        depth_um.push(1e-3 * (end_nm + 0.5 * width_nm));
        values.push(0.0);
        (depth_um, values)
    }

    /// Where the counts cross the substrate: above the shallowest and below the deepest bar with
    /// more. None where a bar of few ions already holds more than the substrate.
    fn junctions_um(&self, bars: &[Bar], top_nm: f64) -> Vec<f64> {
        let settings = &self.run.calculation.settings;
        let level_cm3 = settings.substrate.concentration_cm3;
        let own = settings.species.dopant().doping_type();
        let Some(first) = bars.first() else { return Vec::new() };
        if !settings.in_silicon()
            || settings.substrate.doping_type == own
            || level_cm3 < TELLING_IONS * self.per_cm3(first)
        {
            return Vec::new();
        }
        let above = |bar: &Bar| level_cm3 < self.concentration_cm3(bar);
        let middle_nm = |bar: &Bar| 0.5 * (bar.from_nm + bar.to_nm) - top_nm;
        let crossing_um = |inside: &Bar, outside: &Bar| {
            let log_of =
                |bar: &Bar| ln(self.concentration_cm3(bar).max(0.5 * self.per_cm3(bar)));
            let (high, low) = (log_of(inside), log_of(outside));
            let part = ((high - ln(level_cm3)) / (high - low)).clamp(0.0, 1.0);
            let (from_nm, to_nm) = (middle_nm(inside), middle_nm(outside));
            1e-3 * (from_nm + part * (to_nm - from_nm))
        };
        let (Some(top), Some(bottom)) =
            (bars.iter().position(above), bars.iter().rposition(above))
        else {
            return Vec::new();
        };
        let shallow = top.checked_sub(1).and_then(|i| bars.get(i));
        let deep = bars.get(bottom + 1).copied().unwrap_or_else(|| {
            let last = bars[bottom];
            Bar {
                from_nm: last.to_nm,
                to_nm: 2.0 * last.to_nm - last.from_nm,
                ions: 0,
                nuclear_ev: 0.0,
            }
        });
        let mut found = Vec::new();
        found.extend(shallow.map(|outside| crossing_um(&bars[top], outside)));
        found.push(crossing_um(&bars[bottom], &deep));
        found
    }

    /// Deepest face of a bar in the target with the energy per volume that turns a crystal
    /// amorphous, if the dose is one that does.
    fn amorphous_depth_nm(
        &self,
        bars: &[Bar],
        top_nm: f64,
        transmitted: Estimate,
    ) -> Option<f64> {
        let settings = &self.run.calculation.settings;
        // The fluorine of BF2 is not followed, and damages too: the estimate counts it.
        if settings.ion == Ion::Bf2 {
            let estimate = damage::profile(&self.run.calculation);
            return estimate.and_then(|damage| damage.amorphous_to_nm);
        }
        let dose_cm2 = settings.dose_cm2 * transmitted.value;
        if settings.target != Material::Silicon
            || dose_cm2 < amorphizing_dose_cm2(settings.ion)
        {
            return None;
        }
        bars.iter()
            .rev()
            .find(|bar| AMORPHIZING_EV_CM3 <= bar.nuclear_ev * self.per_cm3(bar))
            .map(|bar| bar.to_nm - top_nm)
    }

    /// The bars of all layers and the target, and the same as an outline.
    fn whole_stack(&self) -> (Histogram, StackProfile) {
        let mut histogram = Histogram::default();
        let mut outline = StackProfile::default();
        for slab in 0..self.run.slabs.len() {
            for bar in self.run.tally.bars(slab) {
                let here_cm3 = self.concentration_cm3(&bar);
                let (from_um, to_um) = (1e-3 * bar.from_nm, 1e-3 * bar.to_nm);
                histogram.from_um.push(from_um);
                histogram.to_um.push(to_um);
                histogram.ions.push(bar.ions);
                histogram.concentration_cm3.push(here_cm3);
                histogram.nuclear_ev_cm3.push(bar.nuclear_ev * self.per_cm3(&bar));
                outline.depth_um.extend([from_um, to_um]);
                outline.concentration_cm3.extend([here_cm3, here_cm3]);
            }
        }
        (histogram, outline)
    }
}

/// Concentration per cm3 that one ion in a bar of the target stands for.
pub(super) fn one_ion_cm3(run: &TrackRun) -> f64 {
    let width_cm = 1e-7 * run.tally.width_nm(run.slabs.len() - 1);
    run.calculation.settings.dose_cm2 / (f64::from(run.done.max(1)) * width_cm)
}
