//! Spinner: the wafer on its chuck, a clock of the thinning, and the film magnified.

use barewafer_process::lithography::SpinCoatingResults;

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
    clock(&mut sketch, results);
    magnified_film(&mut sketch, results);
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
    let eye = [DISC[0] + 0.8 * RADII[0], DISC[1] - 4.0];
    sketch.ellipse(eye, [9.0, 5.0], "", "section");
    // The cone of the lens opens to the right, or downward.
    let (first, second) =
        sketch.frame.pick(([7.0, -3.0], [left, bottom]), ([-7.0, 3.0], [right, wet_top]));
    sketch.line(&[[eye[0] + first[0], eye[1] + first[1]], [left, wet_top]], "hairline");
    sketch.line(&[[eye[0] + 7.0, eye[1] + 3.0], second], "hairline");
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
    format!(
        "A wafer spins at {} rpm for {} s. The film on it is {} nm at the end of the spin, {} % solids, and {} nm after the soft bake; it is drawn magnified.",
        digits(rpm, 4),
        short(time),
        three(results.wet_thickness_nm),
        digits(100.0 * results.solids_fraction, 2),
        three(results.thickness_nm),
    )
}
