//! Spinner: the wafer on its chuck, a clock of the thinning, and the film magnified.

use barewafer_process::lithography::SpinCoatingResults;
use barewafer_process::lithography::spin_coating::StepCoverage;

use super::sketch::{HEIGHT, Sketch, arc, leader, strong};
use crate::axis::nice_above;
use crate::charts::ramp_end_s;
use crate::numbers::{digits, short, three};
use crate::scene::Scene;

const DISC: [f64; 2] = [158.0, 246.0];
const RADII: [f64; 2] = [124.0, 38.0];

pub(super) fn picture(results: &SpinCoatingResults, mut sketch: Sketch) -> Scene {
    let rpm = results.curve.speed_rpm.last().copied().unwrap_or(0.0);
    spinning_wafer(&mut sketch, rpm);
    edge(&mut sketch, results);
    clock(&mut sketch, results);
    match &results.step {
        Some(step) => magnified_step(&mut sketch, step),
        None => magnified_film(&mut sketch, results),
    }
    sketch.finish(description(results, rpm))
}

fn spinning_wafer(sketch: &mut Sketch, rpm: f64) {
    let [x, y] = DISC;
    // Chuck and shaft.
    sketch.area(
        vec![
            [x - 46.0, y + 20.0],
            [x + 46.0, y + 20.0],
            [x + 34.0, y + 58.0],
            [x - 34.0, y + 58.0],
        ],
        "metal",
    );
    sketch.area(
        vec![
            [x - 9.0, y + 58.0],
            [x + 9.0, y + 58.0],
            [x + 9.0, y + 86.0],
            [x - 9.0, y + 86.0],
        ],
        "metal",
    );
    sketch.ellipse([x, y + 5.0], RADII, "#cfcac0", "outline");
    sketch.ellipse(DISC, RADII, "#f5a9d4", "outline");
    let turn = arc(DISC, [RADII[0] * 0.72, RADII[1] * 0.72], 200.0, 338.0);
    sketch.line(&turn, "section");
    if let [.., before, last] = turn.as_slice() {
        let back = [
            last[0] - 8.0 * (last[0] - before[0]),
            last[1] - 8.0 * (last[1] - before[1]),
        ];
        sketch.head(back, *last, "section");
    }
    let words = format!("{} rpm", digits(rpm, 4));
    sketch.text([x - 68.0, y + 72.0], &words, "end", "strong");
}

/// The bead at the edge, or the ring that is washed clean.
fn edge(sketch: &mut Sketch, results: &SpinCoatingResults) {
    let across = &results.across;
    let radius_mm = across.radius_mm.last().copied().unwrap_or(0.0).max(1e-3);
    let washed = 0.0 < across.removed_mm;
    let ring_mm = if washed { across.removed_mm } else { across.bead_width_mm };
    let share = (1.0 - ring_mm / radius_mm).clamp(0.0, 1.0);
    let inner = RADII.map(|radius| radius * share);
    if washed {
        sketch.ellipse(DISC, RADII, "#cfcac0", "outline");
        sketch.ellipse(DISC, inner, "#f5a9d4", "section");
    } else {
        sketch.ellipse(DISC, inner, "", "mark");
    }
    let words = if washed {
        format!("edge washed clean, {} mm", short(ring_mm))
    } else {
        format!("edge bead {} nm", three(across.bead_nm))
    };
    let [x, y] = DISC;
    let words = sketch.keyed(&words, "label");
    sketch.text([x + 44.0, y + 72.0], &words, "start", "label");
}

/// One turn of the clock is the whole spin; the events are numbered on it.
fn clock(sketch: &mut Sketch, results: &SpinCoatingResults) {
    let total = results.curve.time_s.last().copied().unwrap_or(0.0);
    let radius = 40.0;
    let center @ [middle, height] = sketch.frame.pick([72.0, 82.0], [58.0, 82.0]);
    sketch.ellipse(center, [radius, radius], "", "outline");
    let events: Vec<(f64, &str)> = [
        (ramp_end_s(results), "full speed"),
        (results.transition_s, "drying takes over"),
        (results.dry_s, "dry"),
        (Some(total), "stop"),
    ]
    .into_iter()
    .filter_map(|(time, name)| time.map(|t| (t, name)))
    .collect();
    let mut y = height - 34.0;
    let mut last_angle = -90.0 - 10.0;
    for (number, (time, name)) in events.iter().enumerate() {
        let share = if 0.0 < total { (time / total).clamp(0.0, 1.0) } else { 0.0 };
        let angle = -90.0 + 360.0 * share;
        let tick = |r: f64| arc(center, [r, r], angle, angle)[0];
        sketch.line(&[tick(radius - 8.0), tick(radius)], "outline");
        // Numbers of close events are moved on, their ticks stay. The stop stands left of the top.
        let shown = if number + 1 == events.len() {
            -106.0
        } else {
            angle.max(last_angle + 26.0).min(228.0)
        };
        last_angle = shown;
        let at = arc(center, [radius + 13.0, radius + 13.0], shown, shown)[0];
        let label = (number + 1).to_string();
        sketch.text(at, &label, "middle", "strong");
        let words = format!("{label}  {name} {} s", short(*time));
        sketch.text([middle + 66.0, y], &words, "start", "label");
        y += 20.0;
    }
    sketch.arrow(center, [middle, height - radius + 10.0], "amber");
    sketch.text([middle, height + radius + 30.0], "clock of the spin", "middle", "soft");
}

/// The lens over the wafer, and its cone to a section: to the right, or downward.
fn lens(sketch: &mut Sketch, [left, right]: [f64; 2], top: f64, bottom: f64) {
    let eye = [DISC[0] + 0.8 * RADII[0], DISC[1] - 4.0];
    sketch.ellipse(eye, [9.0, 5.0], "", "section");
    let (first, second) =
        sketch.frame.pick(([7.0, -3.0], [left, bottom]), ([-7.0, 3.0], [right, top]));
    sketch.line(&[[eye[0] + first[0], eye[1] + first[1]], [left, top]], "hairline");
    sketch.line(&[[eye[0] + 7.0, eye[1] + 3.0], second], "hairline");
}

/// The film over a step, baked; heights to scale, widths to a scale of their own.
fn magnified_step(sketch: &mut Sketch, step: &StepCoverage) {
    let (x @ [left, right], tall, lower) =
        sketch.frame.pick(([352.0, 478.0], 214.0, 0.0), ([130.0, 270.0], 130.0, 214.0));
    let bottom = 322.0 + lower;
    sketch.height = HEIGHT + lower;
    let extent = |list: &[f64]| {
        list.iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), &v| (a.min(v), b.max(v)))
    };
    let (lowest, _) = extent(&step.ground_nm);
    let (_, highest) = extent(&step.surface_nm);
    let px_per_nm = (tall - 20.0) / nice_above((highest - lowest).max(1.0));
    let zero = bottom - 30.0 + lowest.min(0.0) * px_per_nm;
    let (first, last) = extent(&step.x_um);
    let place = |x_um: f64, nm: f64| {
        let share = (x_um - first) / (last - first).max(1e-9);
        [left + share * (right - left), zero - nm * px_per_nm]
    };
    let line = |heights: &[f64]| -> Vec<[f64; 2]> {
        step.x_um.iter().zip(heights).map(|(&x, &nm)| place(x, nm)).collect()
    };
    let surface = line(&step.surface_nm);
    let ground = line(&step.ground_nm);
    lens(sketch, x, surface[0][1], bottom);
    let mut silicon = ground.clone();
    silicon.extend([[right, bottom], [left, bottom]]);
    sketch.area(silicon, "silicon");
    let mut film = surface;
    film.extend(ground.iter().rev());
    sketch.area(film, "resist");
    let over = place(0.0, step.height_nm + step.top_nm);
    let under = place(0.0, step.height_nm);
    sketch.line(&[over, under], "mark");
    sketch.head(under, over, "mark");
    sketch.head(over, under, "mark");
    let [_, field_top] = place(last, step.field_nm);
    let labels = vec![
        strong([right, field_top], format!("{} nm over the step", three(step.top_nm))),
        leader(
            [right, 0.5 * (field_top + zero)],
            format!("{} nm beside it", three(step.field_nm)),
        ),
        leader([right, 0.5 * (zero + bottom)], "ground"),
    ];
    sketch.leaders(labels, right + 20.0, field_top - 40.0, bottom + 8.0);
    let words = format!(
        "{} µm wide, heights {} times as large",
        short(last - first),
        three(px_per_nm * 1e3 * (last - first) / (right - left))
    );
    sketch.remark(left, &words);
}

/// The film at the end and baked, on the silicon, to scale: beside the wafer, or below it in a
/// narrow frame.
fn magnified_film(sketch: &mut Sketch, results: &SpinCoatingResults) {
    let ([left, right], tall, lower) =
        sketch.frame.pick(([352.0, 478.0], 214.0, 0.0), ([130.0, 270.0], 130.0, 214.0));
    let (surface, bottom) = (262.0 + lower, 322.0 + lower);
    sketch.height = HEIGHT + lower;
    let wet = results.wet_thickness_nm.max(results.thickness_nm);
    let px_per_nm = tall / nice_above(wet.max(1.0));
    sketch.scale_bar(left, px_per_nm, 60.0);
    let top = surface - results.thickness_nm * px_per_nm;
    let wet_top = surface - wet * px_per_nm;
    lens(sketch, [left, right], wet_top, bottom);
    sketch.block([left, right], [surface, bottom], "silicon");
    sketch.block([left, right], [top, surface], "resist");
    let mut labels = vec![
        strong(
            [right, 0.5 * (top + surface)],
            format!("resist {} nm after the soft bake", three(results.thickness_nm)),
        ),
        leader([right, 0.5 * (surface + bottom)], "silicon"),
    ];
    if 1.0 < top - wet_top {
        let outline = [[left, top], [left, wet_top], [right, wet_top], [right, top]];
        sketch.line(&outline, "dashed");
        labels.insert(
            0,
            leader(
                [right, wet_top],
                format!("{} nm at the end of the spin", three(results.wet_thickness_nm)),
            ),
        );
    }
    sketch.leaders(labels, right + 20.0, surface - tall - 28.0, bottom + 8.0);
}

fn description(results: &SpinCoatingResults, rpm: f64) -> String {
    let time = results.curve.time_s.last().copied().unwrap_or(0.0);
    let step = results.step.as_ref().map_or_else(String::new, |step| {
        format!(
            " Over a step of {} nm it is {} nm thick.",
            three(step.height_nm),
            three(step.top_nm)
        )
    });
    let edge = if 0.0 < results.across.removed_mm {
        format!(" The outer {} mm are washed clean.", short(results.across.removed_mm))
    } else {
        format!(" A bead of {} nm stands at the edge.", three(results.across.bead_nm))
    };
    format!(
        "A wafer spins at {} rpm for {} s. The film on it is {} nm at the end of the spin, {} % solids, and {} nm after the soft bake; it is drawn magnified.{step}{edge}",
        digits(rpm, 4),
        short(time),
        three(results.wet_thickness_nm),
        digits(100.0 * results.solids_fraction, 2),
        three(results.thickness_nm),
    )
}
