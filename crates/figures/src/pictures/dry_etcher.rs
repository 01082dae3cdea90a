//! Dry etcher: mask, film, walls, loss of the layer below, and the fence at a step.

use barewafer_process::etching::{DryEtchResults, StripResults};

use super::material_word;
use super::sketch::{HEIGHT, Leader, Sketch, leader, length_words, strong};
use super::wet_bench::{break_marks, cut, widths};
use crate::axis::nice_above;
use crate::numbers::{digits, short};
use crate::scene::Scene;

/// The ground under the film before the etch.
const GROUND: f64 = 262.0;
const BOTTOM: f64 = 318.0;
/// Height that the round number above the film thickness takes.
const TALL: f64 = 110.0;
/// Height that film and step together may take.
const TALL_STEP: f64 = 150.0;
/// Height of the whole mask, not to scale.
const MASK: f64 = 42.0;
/// A layer below whose thickness is not known.
const SOME_LAYER: f64 = 26.0;

/// The section in px.
struct Section {
    px_per_nm: f64,
    film: f64,
    /// How deep the plasma has come into the layer below.
    loss: f64,
    /// Bottom of the layer below.
    stop_bottom: f64,
    /// Height of the mask that is left, and of the whole.
    mask: [f64; 2],
}

pub(super) fn picture(results: &DryEtchResults, mut sketch: Sketch) -> Scene {
    let [left, right] = sketch.frame.pick([24.0, 440.0], [6.0, 278.0]);
    let stepped = 0.0 < results.step_height_nm;
    let split = stepped.then(|| sketch.frame.pick([232.0, 262.0], [140.0, 156.0]));
    let (d, h) = (results.thickness_nm, results.step_height_nm);
    let mut px_per_nm = TALL / nice_above(d.max(1.0));
    if stepped {
        px_per_nm = px_per_nm.min(TALL_STEP / nice_above(d + h));
    }
    if results.mask_nm.is_some() {
        let beside =
            sketch.frame.pick(120.0, 60.0) / nice_above(results.lateral_nm.max(1.0));
        px_per_nm = px_per_nm.min(beside);
    }
    let room = BOTTOM - GROUND;
    let stop = match results.stop_layer_nm {
        Some(nm) => (nm * px_per_nm).clamp(1.0, room - 8.0),
        None if material_word(results.stop) == "silicon" => room,
        None => SOME_LAYER,
    };
    let mask_left = match (results.mask_nm, results.mask_loss_nm) {
        (Some(nm), Some(loss)) => MASK * (1.0 - loss / nm).max(0.0),
        (Some(_), None) => MASK,
        _ => 0.0,
    };
    let section = Section {
        px_per_nm,
        film: d * px_per_nm,
        loss: (results.stop_layer_loss_nm * px_per_nm).min(stop),
        stop_bottom: GROUND + stop,
        mask: [mask_left, MASK],
    };
    let window = [left, split.map_or(right, |split| split[0])];
    ground(&mut sketch, window, &section, results);
    let mut labels = match (results.mask_opening_um, results.mask_line_um) {
        (Some(um), _) => masked(&mut sketch, results, &section, window, um, true),
        (None, Some(um)) => masked(&mut sketch, results, &section, window, um, false),
        (None, None) => {
            let left_px = results.remaining_nm * px_per_nm;
            bare(&mut sketch, window, [section.film, left_px], section.loss, results)
        }
    };
    if let Some(split) = split {
        let window = [split[1], right];
        ground(&mut sketch, window, &section, results);
        labels.extend(step(&mut sketch, results, &section, window));
    }
    // The leaders start at the right edge of the picture, where a step hides the window.
    for label in &mut labels {
        label.from[0] = label.from[0].min(right);
    }
    labels.push(stop_label(results, [right, 0.5 * (GROUND + section.stop_bottom) + 2.0]));
    if section.stop_bottom + 10.0 < BOTTOM && material_word(results.stop) != "silicon" {
        labels.push(leader([right, 0.5 * (section.stop_bottom + BOTTOM)], "silicon"));
    }
    labels.push(state(results, [right, GROUND - 2.0]));
    let column = sketch.frame.pick(462.0, 298.0);
    sketch.leaders(labels, column, 60.0, HEIGHT - 12.0);
    sketch.scale_bar(left, px_per_nm, 110.0);
    sketch.finish(description(results))
}

/// The layer below and the silicon; the lost part is cut out later by what is drawn over it.
fn ground(sketch: &mut Sketch, x: [f64; 2], section: &Section, results: &DryEtchResults) {
    sketch.block(x, [section.stop_bottom, BOTTOM], "silicon");
    // Where the film stands the layer is whole; the open parts are drawn by the callers.
    if results.mask_nm.is_none() {
        sketch.block(
            x,
            [GROUND + section.loss, section.stop_bottom],
            material_word(results.stop),
        );
    }
}

fn masked(
    sketch: &mut Sketch,
    results: &DryEtchResults,
    section: &Section,
    [left, right]: [f64; 2],
    mask_um: f64,
    opening: bool,
) -> Vec<Leader> {
    let film = material_word(results.material);
    let stop = material_word(results.stop);
    let middle = 0.5 * (left + right);
    let film_top = GROUND - section.film;
    let reach = results.lateral_nm * section.px_per_nm;
    let limit = if opening {
        (middle - left - reach - 20.0).max(0.3 * (middle - left))
    } else {
        (0.62 * (middle - left)).max(reach + 12.0).min(middle - left - 12.0)
    };
    let (half, broken) = cut(0.5 * mask_um * 1000.0 * section.px_per_nm, limit);
    let edges = [middle - half, middle + half];
    // The wall from the film's top down; outward of an opening, inward of a line.
    let outward = if opening { 1.0 } else { -1.0 };
    let inside = |x: f64| x.clamp(left, right);
    let wall: Vec<[f64; 2]> = results
        .wall
        .across_nm
        .iter()
        .zip(&results.wall.along_nm)
        .map(|(&x, &z)| [x * section.px_per_nm, film_top + z * section.px_per_nm])
        .filter(|p| opening || p[0] < half)
        .collect();
    let side = |edge: f64, sign: f64| -> Vec<[f64; 2]> {
        wall.iter().map(|p| [inside(edge + sign * outward * p[0]), p[1]]).collect()
    };
    let (mut one, mut two) = (side(edges[0], -1.0), side(edges[1], 1.0));
    two.reverse();
    let floor = film_top + results.etched_nm * section.px_per_nm;
    let cleared = results.remaining_nm <= 0.0;
    let outer = if opening { [left, right] } else { edges };
    if cleared && opening {
        one.extend([[left, GROUND], [left, film_top]]);
        two.extend([[right, film_top], [right, GROUND]]);
        sketch.area(one, film);
        sketch.area(two, film);
    } else if cleared {
        one.extend(two);
        if 2 < one.len() {
            sketch.area(one, film);
        }
    } else if opening {
        one.extend(two);
        one.extend([
            [right, film_top],
            [right, GROUND],
            [left, GROUND],
            [left, film_top],
        ]);
        sketch.area(one, film);
    } else {
        one.extend([[left, floor], [left, GROUND], [right, GROUND], [right, floor]]);
        one.extend(two);
        sketch.area(one, film);
    }
    // The layer below: whole under the film, lower where the ions could reach it.
    let low = GROUND + section.loss;
    sketch.block([left, right], [low, section.stop_bottom], stop);
    let covered: &[[f64; 2]] =
        if opening { &[[left, edges[0]], [edges[1], right]] } else { &[edges] };
    if 0.2 < section.loss {
        for &part in covered {
            sketch.block(part, [GROUND, low], stop);
        }
    }
    let [mask_left, mask_whole] = section.mask;
    for &part in covered {
        sketch.block(part, [film_top - mask_left, film_top], "resist");
        let corners = [
            [part[0], film_top - mask_left],
            [part[0], film_top - mask_whole],
            [part[1], film_top - mask_whole],
            [part[1], film_top - mask_left],
        ];
        sketch.line(&corners, "dashed");
    }
    if broken {
        let top = film_top - mask_whole;
        let end = section.stop_bottom + 8.0;
        let style = if opening { "outline" } else { "section" };
        let open_to = if opening { floor } else { end };
        break_marks(sketch, middle, [top, open_to], style);
        if opening {
            break_marks(sketch, middle, [floor, end], "section");
        }
    }
    let (word, um, beyond) = if opening {
        ("mask opening", results.opening_um, reach)
    } else {
        ("mask line", results.line_um, -reach)
    };
    let moved = 1e-3 * mask_um < (um.unwrap_or(mask_um) - mask_um).abs();
    let top = film_top - mask_whole;
    widths(
        sketch,
        [left, right],
        [top, film_top],
        edges,
        &format!("{word} {}", length_words(1000.0 * mask_um)),
        um.filter(|&um| moved && 0.0 < um)
            .map(|um| (beyond, format!("film {}", length_words(1000.0 * um)))),
    );
    let at = outer[1];
    let mut labels =
        vec![leader([at, film_top - 0.5 * mask_left.max(8.0)], mask_label(results))];
    if opening || results.line_um.is_some_and(|um| 0.0 < um) {
        let edge = if opening { right } else { edges[1] - reach };
        labels.push(leader(
            [edge, film_top + 0.35 * section.film],
            results.material.label(),
        ));
    }
    labels
}

/// A film without a mask: what is left, and where its top was.
fn bare(
    sketch: &mut Sketch,
    [left, right]: [f64; 2],
    [before, now]: [f64; 2],
    loss: f64,
    results: &DryEtchResults,
) -> Vec<Leader> {
    blanket(sketch, [left, right], [before, now + 0.0], material_word(results.material));
    if 1.0 < loss {
        sketch.line(&[[left, GROUND], [right, GROUND]], "section_dashed");
    }
    let mut labels = vec![leader(
        [right, GROUND - before],
        format!("film before, {}", length_words(results.thickness_nm)),
    )];
    if 0.2 < now {
        labels.push(leader([right, GROUND - 0.5 * now], results.material.label()));
    }
    labels
}

fn blanket(sketch: &mut Sketch, x: [f64; 2], [before, now]: [f64; 2], film: &str) {
    let [left, right] = x;
    sketch.block(x, [GROUND - now, GROUND], film);
    let (top, level) = (GROUND - before, GROUND - now);
    sketch.line(&[[left, level], [left, top], [right, top], [right, level]], "dashed");
    if 12.0 < before - now {
        for share in [0.2, 0.4, 0.6, 0.8] {
            let x = left + share * (right - left);
            sketch.arrow([x, top], [x, level], "hairline");
        }
    }
}

/// An upright step of the layer below with the film over it, and the fence at its foot.
fn step(
    sketch: &mut Sketch,
    results: &DryEtchResults,
    section: &Section,
    [left, right]: [f64; 2],
) -> Vec<Leader> {
    let px = section.px_per_nm;
    let film = material_word(results.material);
    let tall = results.step_height_nm * px;
    let edge = left + 0.62 * (right - left);
    let (flat, stop) = (results.remaining_nm * px, material_word(results.stop));
    if results.mask_nm.is_some() {
        sketch.block([left, right], [GROUND + section.loss, section.stop_bottom], stop);
    }
    sketch.block([edge, right], [GROUND - tall, GROUND + section.loss], stop);
    let outline = &results.step_outline;
    let mut side: Vec<[f64; 2]> = outline
        .across_nm
        .iter()
        .zip(&outline.along_nm)
        .map(|(&u, &z)| [(edge - u * px).max(left), GROUND - z.max(0.0) * px])
        .collect();
    let standing = results.step_left_nm.unwrap_or(0.0);
    if 0.2 < standing * px && 2 < side.len() {
        let foot = side.last().map_or(edge, |p| p[0]);
        side.extend([[foot, GROUND], [edge, GROUND]]);
        sketch.area(side, film);
        if 0.2 < flat {
            sketch.block([left, foot], [GROUND - flat, GROUND], film);
            sketch.block([edge, right], [GROUND - tall - flat, GROUND - tall], film);
        }
    }
    // The film as it was deposited.
    let d = section.film;
    let before: Vec<[f64; 2]> = [[left, GROUND - d], [edge - d, GROUND - d]]
        .into_iter()
        .filter(|p| left <= p[0])
        .chain(
            super::sketch::arc([edge, GROUND - tall], [d, d], 180.0, 270.0)
                .into_iter()
                .filter(|p| left <= p[0]),
        )
        .chain([[right, GROUND - tall - d]])
        .collect();
    sketch.line(&before, "dashed");
    let mut labels = vec![leader(
        [right, GROUND - 0.6 * tall],
        format!("step, {}", length_words(results.step_height_nm)),
    )];
    if results.remaining_nm <= 0.0 && 0.0 < standing {
        let middle = edge - 0.3 * results.step_left_width_nm.unwrap_or(0.0) * px;
        labels.push(strong(
            [middle, GROUND - 0.4 * standing * px],
            format!("fence of {} left", length_words(standing)),
        ));
    }
    labels
}

fn mask_label(results: &DryEtchResults) -> String {
    match (results.mask_nm, results.mask_loss_nm) {
        (Some(nm), Some(loss)) if nm <= loss => "resist mask: used up".to_owned(),
        (Some(nm), Some(loss)) => format!(
            "resist mask: {} of {} lost (height not to scale)",
            length_words(loss),
            length_words(nm)
        ),
        _ => "resist mask".to_owned(),
    }
}

fn stop_label(results: &DryEtchResults, from: [f64; 2]) -> Leader {
    let stop = results.stop.label();
    let loss = results.stop_layer_loss_nm;
    match results.stop_layer_nm {
        _ if loss <= 0.0 => leader(from, stop),
        Some(nm) if nm <= loss => {
            strong(from, format!("{stop}: {} gone", length_words(nm)))
        }
        Some(nm) => leader(
            from,
            format!("{stop}: {} of {} lost", length_words(loss), length_words(nm)),
        ),
        None => leader(from, format!("{stop}: {} lost", length_words(loss))),
    }
}

fn state(results: &DryEtchResults, from: [f64; 2]) -> Leader {
    if 0.0 < results.remaining_nm {
        let words = format!("not cleared: {} left", length_words(results.remaining_nm));
        return strong(from, words);
    }
    match results.over_etch_percent {
        Some(percent) if 0.0 < percent => {
            strong(from, format!("cleared; over-etch {} %", digits(percent, 2)))
        }
        Some(_) => strong(from, "cleared just now"),
        None => leader(from, "flat film cleared"),
    }
}

fn description(results: &DryEtchResults) -> String {
    let film = results.material.label();
    let mut text = format!(
        "Section after {} s in {}: {} of {} of {film} are etched, {} left. The film goes {} sideways below a mask edge; its wall leans to {} degrees. The {} below has lost {}.",
        short(results.time_s),
        results.chemistry.label(),
        length_words(results.etched_nm),
        length_words(results.thickness_nm),
        length_words(results.remaining_nm),
        length_words(results.lateral_nm),
        short(results.wall_deg),
        results.stop.label(),
        length_words(results.stop_layer_loss_nm),
    );
    if let Some(left) = results.step_left_nm {
        text.push_str(&if 0.0 < left {
            format!(
                " At the foot of a step of {} stands {} of film.",
                length_words(results.step_height_nm),
                length_words(left)
            )
        } else {
            " Nothing stands at the foot of the step.".to_owned()
        });
    }
    if let (Some(nm), Some(loss)) = (results.mask_nm, results.mask_loss_nm) {
        text.push_str(&format!(
            " Of {} of resist {} are gone.",
            length_words(nm),
            length_words(loss.min(nm))
        ));
    }
    text
}

/// Resist before and after a strip.
pub(super) fn strip(results: &StripResults, mut sketch: Sketch) -> Scene {
    let [left, right] = sketch.frame.pick([24.0, 440.0], [6.0, 278.0]);
    let px_per_nm = TALL_STEP / nice_above(results.thickness_nm);
    sketch.block([left, right], [GROUND, BOTTOM], "silicon");
    let (before, now) =
        (results.thickness_nm * px_per_nm, results.remaining_nm * px_per_nm);
    blanket(&mut sketch, [left, right], [before, now], "resist");
    let mut labels = vec![
        leader(
            [right, GROUND - before],
            format!("resist before, {}", length_words(results.thickness_nm)),
        ),
        leader([right, 0.5 * (GROUND + BOTTOM)], "wafer"),
        if 0.0 < results.remaining_nm {
            strong(
                [right, GROUND - 0.5 * now],
                format!("{} of resist left", length_words(results.remaining_nm)),
            )
        } else {
            strong([right, GROUND], "resist gone, if it was not hardened")
        },
    ];
    for attacked in &results.attacked {
        let words = format!(
            "{} would lose {}",
            attacked.material.label(),
            length_words(attacked.loss_nm)
        );
        labels.push(strong([right, GROUND + 6.0], words));
    }
    let column = sketch.frame.pick(462.0, 298.0);
    sketch.leaders(labels, column, 60.0, HEIGHT - 12.0);
    sketch.scale_bar(left, px_per_nm, 110.0);
    sketch.finish(format!(
        "Section after {} min in {}: of {} of resist {} are left.",
        short(results.time_min),
        results.method.label(),
        length_words(results.thickness_nm),
        length_words(results.remaining_nm)
    ))
}
