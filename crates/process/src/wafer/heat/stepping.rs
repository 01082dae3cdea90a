//! The section through one segment of a recipe.

use super::boost::Boost;
use super::depth::{self, Surface};
use super::lateral;
use super::lines::Lines;
use super::owed::Owed;
use super::oxide::Growth;
use super::schedule::{HeatSegment, Spacing, Step, steps};
use super::{HeatStep, Heated};
use crate::vocabulary::Dopant;
use crate::wafer::section::Section;

/// Steps of an inert segment (measured: 1 % in depth at a thousandth of the largest
/// concentration, also at the foot of arsenic's front).
pub(super) const INERT_STEPS: usize = 10;

/// The part of an inert segment whose steps are short at both ends (measured: the least error at
/// the feet of fronts of arsenic and boron).
pub(super) const SHORT_ENDS: f64 = 0.5;

/// Steps of any other segment end at this power of their number: growth is fastest at first.
pub(super) const EXPONENT: f64 = 2.0;

/// Steps of an oxidizing segment that grows a thin film, and a thick one.
pub(super) const THIN_STEPS: usize = 10;
pub(super) const THICK_STEPS: usize = 20;

/// What counts as thick, in nm.
pub(super) const THICK_NM: f64 = 100.0;

/// A diffusion over less than this in nm moves nothing that the mesh could show.
pub(super) const UNMOVED_NM: f64 = 0.5;

/// Depth lines: passes that bring the carriers up to date.
pub(super) const DEPTH: u32 = 2;

/// Dopants in an inert gas: half a step along x, a step along z, half a step along x (G. Strang,
/// SIAM J. Numer. Anal. 5, 506, 1968; memory), neighboring halves in one.
pub(super) fn anneal(
    section: &mut Section,
    step: &HeatStep,
    dopants: &[Dopant],
    segment: &HeatSegment,
) {
    let orientation = step.wafer.orientation;
    let spacing = Spacing::BothEnds(SHORT_ENDS);
    let steps = steps(segment, INERT_STEPS, spacing, &step.doping, orientation, dopants);
    if UNMOVED_NM <= spread_nm(section, &steps) {
        follow(section, &steps);
    }
}

/// Follows dopants under a closed surface through the steps.
pub(super) fn follow(section: &mut Section, steps: &[Step]) {
    let mut lines = Lines::default();
    let none = Boost::default();
    let mut owed = Owed::default();
    for (k, now) in steps.iter().enumerate() {
        let before = k.checked_sub(1).map(|k| &steps[k]);
        half_steps_along_x(section, &mut lines, before, Some(now), &none, &mut owed);
        depth::sweep(
            section,
            &mut lines,
            &now.moment,
            now.length_s(),
            DEPTH,
            Surface::Closed,
            &none,
            &mut [],
        );
    }
    owed.is_due = true;
    half_steps_along_x(section, &mut lines, steps.last(), None, &none, &mut owed);
}

/// Half of the step before and half of the next one, along x.
fn half_steps_along_x(
    section: &mut Section,
    lines: &mut Lines,
    before: Option<&Step>,
    next: Option<&Step>,
    boost: &Boost,
    owed: &mut Owed,
) {
    let halves: Vec<&Step> = before.into_iter().chain(next).collect();
    let Some(first) = halves.first() else { return };
    let dt_s: f64 = halves.iter().map(|half| 0.5 * half.length_s()).sum();
    let parts: Vec<_> =
        halves.iter().map(|half| (&half.moment, 0.5 * half.length_s() / dt_s)).collect();
    let moment = first.moment.with_diffusivities(&parts);
    lateral::sweep(section, lines, &moment, dt_s, None, boost, owed);
}

/// Largest diffusion length in nm of the steps together, with all carriers that the section's
/// dopants could bring.
fn spread_nm(section: &Section, steps: &[Step]) -> f64 {
    let mut largest = 0.0_f64;
    let Some(first) = steps.first() else { return 0.0 };
    let most_cm3: f64 = first
        .moment
        .mobiles
        .iter()
        .map(|mobile| {
            section.silicon_cm3(mobile.dopant).iter().copied().fold(0.0, f64::max)
        })
        .sum();
    for k in 0..first.moment.mobiles.len() {
        let dt_nm2: f64 = steps
            .iter()
            .map(|step| {
                let m = 1.0 + most_cm3 / step.moment.intrinsic_cm3;
                step.length_s() * step.moment.mobiles[k].at(m)
            })
            .sum();
        largest = largest.max(dt_nm2);
    }
    (2.0 * largest).sqrt()
}

/// Oxide and dopants together: as in an inert gas, and in each step along z the oxide grows and
/// pushes or takes the dopants before it.
pub(super) fn oxidize(
    section: &mut Section,
    step: &HeatStep,
    dopants: &[Dopant],
    segment: &HeatSegment,
    heated: &mut Heated,
) {
    let orientation = step.wafer.orientation;
    let mut growth = Growth::new(section, step, segment);
    let count = if growth.open_growth_nm() < THICK_NM { THIN_STEPS } else { THICK_STEPS };
    let spacing = Spacing::Power(EXPONENT);
    let steps = steps(segment, count, spacing, &step.doping, orientation, dopants);
    let mut lines = Lines::default();
    let mut boost = Boost::default();
    let mut owed = Owed::default();
    let mut crossed = vec![vec![0.0; dopants.len()]; section.columns()];
    for (k, now) in steps.iter().enumerate() {
        let before = k.checked_sub(1).map(|k| &steps[k]);
        half_steps_along_x(section, &mut lines, before, Some(now), &boost, &mut owed);
        let celsius = segment.celsius_at(0.5 * (now.start_s + now.end_s));
        growth.advance(section, celsius, now.length_s());
        if step.doping.oxidation_enhanced {
            let injected = growth.injected(celsius, now.length_s(), orientation);
            boost = Boost::new(section, &injected);
        }
        depth::sweep(
            section,
            &mut lines,
            &now.moment,
            now.length_s(),
            DEPTH,
            Surface::Oxide(growth.last()),
            &boost,
            &mut crossed,
        );
    }
    owed.is_due = true;
    half_steps_along_x(section, &mut lines, steps.last(), None, &boost, &mut owed);
    growth.finish(section, dopants, &crossed, heated);
}
