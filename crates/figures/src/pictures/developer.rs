//! Developer: the resist in section, its walls as the front moves, and what is measured there.

use barewafer_process::lithography::imaging::Pattern;
use barewafer_process::lithography::{DevelopmentResults, Tone};

use super::material_word;
use super::sketch::{Leader, Sketch, TEXT, leader, length_words, strong};
use crate::numbers::{digits, short, three};
use crate::scene::Scene;
use crate::text_width::text_width;

/// Top of the resist before the development.
const TOP: f64 = 42.0;
/// Lower end of the silicon.
const BOTTOM: f64 = 322.0;
/// Silicon below the films at least.
const SILICON: f64 = 30.0;
/// Most that films below the resist take; thicker ones are cut.
const FILMS: f64 = 74.0;

/// Whether the width that is measured is that of a line of resist.
pub(crate) fn is_line(results: &DevelopmentResults) -> bool {
    let positive = results.tone == Tone::Positive;
    match results.pattern {
        Pattern::LineSpace => true,
        Pattern::IsolatedLine => positive,
        _ => !positive,
    }
}

/// How the section lies on the paper.
struct Frame {
    left: f64,
    right: f64,
    /// Foot of the resist.
    foot: f64,
    /// Foot of the films below.
    films: f64,
    px_per_nm: f64,
    /// Place at the left end in um.
    first_um: f64,
}

impl Frame {
    fn at(&self, x_um: f64, z_nm: f64) -> [f64; 2] {
        let x = self.left + 1e3 * (x_um - self.first_um) * self.px_per_nm;
        [x.clamp(self.left, self.right), TOP + z_nm * self.px_per_nm]
    }
}

pub(super) fn picture(results: &DevelopmentResults, mut sketch: Sketch) -> Scene {
    let wall = &results.wall;
    let (Some(&first), Some(&end)) = (wall.x_um.first(), wall.x_um.last()) else {
        return sketch.finish(String::new());
    };
    // A whole line in the middle needs two periods.
    let copies = match results.period_um {
        Some(period_um) if results.pattern == Pattern::LineSpace => vec![0.0, period_um],
        _ => vec![0.0],
    };
    let width_nm = 1e3 * (end - first + copies.last().copied().unwrap_or(0.0));
    let [left, most_right] = sketch.frame.pick([24.0, 440.0], [6.0, 278.0]);
    let films_nm: f64 = results.stack.iter().map(|film| film.thickness_nm).sum();
    let tall = BOTTOM - TOP - SILICON;
    let px_per_nm = ((most_right - left) / width_nm)
        .min((tall - FILMS) / results.thickness_nm)
        .max(if films_nm <= 0.0 {
            (tall / results.thickness_nm).min((most_right - left) / width_nm)
        } else {
            0.0
        });
    let cut = films_nm * px_per_nm > FILMS;
    let foot = TOP + results.thickness_nm * px_per_nm;
    let frame = Frame {
        left,
        right: left + width_nm * px_per_nm,
        foot,
        films: foot + (films_nm * px_per_nm).min(FILMS),
        px_per_nm,
        first_um: first,
    };
    let mut labels = below(&mut sketch, results, &frame, cut);
    let outline = |x_um: &[f64], z_nm: &[f64]| -> Vec<[f64; 2]> {
        copies
            .iter()
            .flat_map(|&shift| x_um.iter().zip(z_nm).map(move |(&x, &z)| (x + shift, z)))
            .map(|(x, z)| frame.at(x, z))
            .collect()
    };
    let last = outline(&wall.x_um, &wall.z_nm);
    for piece in pieces(&last, &frame) {
        sketch.area(piece, "resist");
    }
    let old_top = [[frame.left, TOP], [frame.right, TOP]];
    sketch.line(&old_top, "dashed");
    let fronts = results.contours.iter();
    let fronts: Vec<Vec<[f64; 2]>> = fronts.map(|c| outline(&c.x_um, &c.z_nm)).collect();
    sketch.strokes(fronts.clone(), "hairline");
    front_times(&mut sketch, results, &fronts, &last);
    labels.extend(widths(&mut sketch, results, &frame));
    labels.push(state(results, &frame));
    let column = sketch.frame.pick(frame.right.max(380.0) + 22.0, 298.0);
    sketch.leaders(labels, column, TOP - 22.0, BOTTOM + 6.0);
    sketch.scale_bar(left, px_per_nm, 110.0);
    sketch.finish(description(results))
}

/// Films and silicon below the resist, and their labels.
fn below(
    sketch: &mut Sketch,
    results: &DevelopmentResults,
    frame: &Frame,
    cut: bool,
) -> Vec<Leader> {
    let x = [frame.left, frame.right];
    let bottom = frame.films + SILICON;
    sketch.block(x, [frame.films, bottom], "silicon");
    let whole: f64 = results.stack.iter().map(|film| film.thickness_nm).sum();
    let scale = if whole > 0.0 { (frame.films - frame.foot) / whole } else { 0.0 };
    let mut top = frame.foot;
    let mut labels = Vec::new();
    for film in &results.stack {
        let low = top + film.thickness_nm * scale;
        sketch.block(x, [top, low], material_word(film.material));
        let mut words =
            format!("{} {}", film.material.label(), length_words(film.thickness_nm));
        if cut {
            words += " (not to scale)";
        }
        labels.push(leader([frame.right, 0.5 * (top + low)], words));
        top = low;
    }
    labels.push(leader([frame.right, 0.5 * (frame.films + bottom)], "silicon"));
    labels
}

/// The resist that is left as closed shapes: the line from left to right, parted where it runs
/// along the foot.
fn pieces(line: &[[f64; 2]], frame: &Frame) -> Vec<Vec<[f64; 2]>> {
    let down = |point: &[f64; 2]| frame.foot - 0.05 <= point[1];
    let mut pieces: Vec<Vec<[f64; 2]>> = Vec::new();
    let mut open: Vec<[f64; 2]> = Vec::new();
    let close = |open: &mut Vec<[f64; 2]>, pieces: &mut Vec<Vec<[f64; 2]>>| {
        let piece = std::mem::take(open);
        if let (Some(&[first, _]), Some(&[last, _])) = (piece.first(), piece.last())
            && piece.iter().any(|point| !down(point))
        {
            let mut piece = piece;
            piece.extend([[last, frame.foot], [first, frame.foot]]);
            pieces.push(piece);
        }
    };
    for (i, point) in line.iter().enumerate() {
        open.push(*point);
        if down(point) && line.get(i + 1).is_some_and(down) {
            close(&mut open, &mut pieces);
        }
    }
    close(&mut open, &mut pieces);
    pieces
}

/// Times below the deepest point of each earlier front, where there is room for them: what lies
/// there is gone by the end.
fn front_times(
    sketch: &mut Sketch,
    results: &DevelopmentResults,
    fronts: &[Vec<[f64; 2]>],
    last: &[[f64; 2]],
) {
    let deepest = |front: &[[f64; 2]]| front.iter().map(|p| p[1]).fold(TOP, f64::max);
    for (i, (contour, front)) in results.contours.iter().zip(fronts).enumerate() {
        let (here, next) =
            (deepest(front), deepest(fronts.get(i + 1).map_or(last, |f| f)));
        if next < here + 1.25 * TEXT {
            continue;
        }
        // The first of the places that are deepest.
        let level = front.iter().filter(|p| here - 0.5 < p[1]).map(|p| p[0]);
        let left = level.clone().fold(f64::INFINITY, f64::min);
        let near: Vec<f64> = level.filter(|x| x - left < 60.0).collect();
        let right = near.iter().copied().fold(left, f64::max);
        let words = format!("{} s", short(contour.time_s));
        let half = 0.5 * text_width(&words, TEXT) + 2.0;
        let x = (0.5 * (left + right)).clamp(half, sketch.width() - half);
        sketch.text([x, here + 0.66 * TEXT], &words, "middle", "soft");
    }
}

/// The widths that are measured, as lines across the feature at their heights.
fn widths(
    sketch: &mut Sketch,
    results: &DevelopmentResults,
    frame: &Frame,
) -> Vec<Leader> {
    let Some(center_um) = results.center_um else { return Vec::new() };
    let left_nm = results.remaining_nm;
    let rows = [
        ("top", 0.1, results.cd_top_um),
        ("middle", 0.5, results.cd_middle_um),
        ("bottom", 1.0, results.cd_bottom_um),
    ];
    let line = is_line(results);
    let mut labels = Vec::new();
    for (name, share, width_um) in rows {
        let Some(width_um) = width_um else { continue };
        let depth_nm = results.loss_nm + share * left_nm;
        // The lowest one stands a little above the foot, to be seen.
        let lift = if share < 1.0 { 0.0 } else { 3.0 };
        let ends = [-0.5, 0.5].map(|half| {
            let [x, y] = frame.at(center_um + half * width_um, depth_nm);
            [x, y - lift]
        });
        if 6.0 < ends[1][0] - ends[0][0] {
            let style = if line { "mark" } else { "hairline" };
            sketch.line(&ends, style);
            sketch.head(ends[0], ends[1], style);
            sketch.head(ends[1], ends[0], style);
        }
        let mut words = format!("{name} {} µm", three(width_um));
        if name == "middle"
            && let Some(deg) = results.sidewall_deg
        {
            words += &format!(", walls {}°", digits(deg, 3));
        }
        let from = [frame.right, ends[0][1]];
        labels.push(if share < 1.0 { leader(from, words) } else { strong(from, words) });
    }
    labels
}

fn state(results: &DevelopmentResults, frame: &Frame) -> Leader {
    let from = [frame.right, TOP];
    if results.remaining_nm <= 1.0 {
        return strong(from, "no resist is left");
    }
    match (results.cleared, results.over_develop_percent) {
        (true, Some(percent)) => leader(
            from,
            format!("clear, {} % past clearing", digits(percent.max(0.0), 2)),
        ),
        _ => {
            strong(from, format!("not clear: {} left", length_words(results.residue_nm)))
        }
    }
}

fn description(results: &DevelopmentResults) -> String {
    let name = if is_line(results) { "line" } else { "opening" };
    let widths = match (results.cd_top_um, results.cd_bottom_um) {
        (Some(top), Some(low)) => format!(
            " The {name} is {} µm wide near its top and {} µm at the bottom.",
            three(top),
            three(low)
        ),
        (None, Some(low)) => {
            format!(" The {name} is {} µm wide at the bottom.", three(low))
        }
        _ => results.edge_shift_um.map_or_else(
            || format!(" There is no {name} down to the bottom."),
            |um| format!(" The wall stands {} µm right of the drawn edge.", three(um)),
        ),
    };
    let wall = results
        .sidewall_deg
        .map_or_else(String::new, |deg| format!(" Its walls have {}°.", digits(deg, 3)));
    let clear = if results.cleared {
        "The opening is clear.".to_owned()
    } else {
        format!("{} of resist are left in the opening.", length_words(results.residue_nm))
    };
    format!(
        "Section through resist of {} after {} s in the developer. {clear}{widths}{wall} {} nm are lost where the resist stays. Thin lines are the front at earlier times.",
        length_words(results.thickness_nm),
        short(results.time_s),
        three(results.loss_nm),
    )
}
