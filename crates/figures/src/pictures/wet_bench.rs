//! Wet bench: mask, film and what the bath left of it, with the circular undercut.

use barewafer_process::etching::WetEtchResults;
use barewafer_process::num::{linspace, sin, tan};

use super::material_word;
use super::sketch::{HEIGHT, Leader, Sketch, TEXT, leader, length_words, strong};
use crate::axis::nice_above;
use crate::numbers::{digits, short};
use crate::scene::Scene;
use crate::text_width::text_width;

const FILM_TOP: f64 = 132.0;
const MASK_TOP: f64 = 104.0;
const BOTTOM: f64 = 318.0;
/// Height that the round number above the film thickness takes.
const TALL: f64 = 130.0;

/// The section in px.
struct Section {
    left: f64,
    right: f64,
    middle: f64,
    /// Film thickness.
    film: f64,
    /// How far the film is gone sideways at its top.
    reach: f64,
    /// How deep the bath has come at the mask's edge, in the film or beyond.
    depth: f64,
    /// Slope of the walls if crystal planes set it; without it they are round.
    slope: Option<f64>,
    /// Half the mask opening or line, as drawn.
    half: f64,
    /// Whether the middle is cut out because it is too wide to draw.
    broken: bool,
}

enum Kind {
    Opening(f64),
    Line(f64),
    Blanket,
}

pub(super) fn picture(results: &WetEtchResults, mut sketch: Sketch) -> Scene {
    let [left, right] = sketch.frame.pick([24.0, 440.0], [6.0, 278.0]);
    let middle = 0.5 * (left + right);
    let masked = results.mask_opening_um.is_some() || results.mask_line_um.is_some();
    // The undercut must fit beside the edge too; steps of 1, 2, 5 keep the scale still while
    // a slider moves.
    let beside = if masked { nice_above(results.undercut_nm.max(1.0)) } else { 1.0 };
    let px_per_nm = (TALL / nice_above(results.thickness_nm.max(1.0)))
        .min(sketch.frame.pick(150.0, 86.0) / beside);
    let kind = match (results.mask_opening_um, results.mask_line_um) {
        (Some(um), _) => Kind::Opening(um),
        (None, Some(um)) => Kind::Line(um),
        (None, None) => Kind::Blanket,
    };
    let reach = results.undercut_nm * px_per_nm;
    let (half, broken) = match kind {
        Kind::Opening(um) => {
            let least = sketch.frame.pick(60.0, 46.0);
            let limit = (middle - left - reach - 24.0).max(least);
            cut(0.5 * um * 1000.0 * px_per_nm, limit)
        }
        Kind::Line(um) => {
            let limit = sketch.frame.pick(
                (reach + 60.0).clamp(110.0, 186.0),
                (reach + 40.0).clamp(72.0, 124.0),
            );
            cut(0.5 * um * 1000.0 * px_per_nm, limit)
        }
        Kind::Blanket => (0.0, false),
    };
    let slope = results.wall_deg.map(|deg| tan(deg.to_radians())).filter(|&t| 0.0 < t);
    let depth = if slope.is_some() { results.etched_nm * px_per_nm } else { reach };
    let film = results.thickness_nm * px_per_nm;
    let section =
        Section { left, right, middle, film, reach, depth, slope, half, broken };
    let film_bottom = FILM_TOP + section.film;
    sketch.block([left, right], [film_bottom, BOTTOM], "silicon");
    let mut labels = match kind {
        Kind::Opening(um) => opening(&mut sketch, results, &section, um),
        Kind::Line(um) => line(&mut sketch, results, &section, um),
        Kind::Blanket => blanket(&mut sketch, results, &section),
    };
    labels.push(leader([right, 0.5 * (film_bottom + BOTTOM)], "silicon"));
    labels.push(state(results, [right, film_bottom - 2.0]));
    let column = sketch.frame.pick(462.0, 298.0);
    sketch.leaders(labels, column, 60.0, HEIGHT - 12.0);
    sketch.scale_bar(left, px_per_nm, 110.0);
    sketch.finish(description(results))
}

/// A half width as drawn, and whether its middle is cut out.
pub(super) fn cut(half: f64, limit: f64) -> (f64, bool) {
    if half <= limit { (half, false) } else { (limit, true) }
}

/// How far sideways the film is gone at a depth below its top, from the mask's edge;
/// negative where a sloping wall stands inside the opening.
fn side(section: &Section, depth: f64) -> f64 {
    if let Some(slope) = section.slope {
        return section.reach - depth / slope;
    }
    let square = section.reach * section.reach - depth * depth;
    if 0.0 < square { square.sqrt() } else { 0.0 }
}

/// The wall of the film from its top down to where the bath has come.
fn wall(section: &Section) -> Vec<[f64; 2]> {
    let deepest = section.depth.min(section.film);
    linspace(0.0, deepest, 48)
        .into_iter()
        .map(|z| [side(section, z), FILM_TOP + z])
        // Sloping walls that meet leave a groove.
        .take_while(|p| -section.half < p[0])
        .collect()
}

fn opening(
    sketch: &mut Sketch,
    results: &WetEtchResults,
    section: &Section,
    mask_um: f64,
) -> Vec<Leader> {
    let &Section { left, right, middle, .. } = section;
    let film = material_word(results.material);
    let bottom = FILM_TOP + section.film;
    let edges = [middle - section.half, middle + section.half];
    if section.depth < section.film {
        // Not through: the floor of the opening lies inside the film.
        let mut outline = vec![[left, FILM_TOP]];
        let wall_points = wall(section);
        outline.extend(
            wall_points.iter().map(|p| [(edges[0] - p[0]).clamp(left, middle), p[1]]),
        );
        outline.extend(
            wall_points
                .iter()
                .rev()
                .map(|p| [(edges[1] + p[0]).clamp(middle, right), p[1]]),
        );
        outline.extend([[right, FILM_TOP], [right, bottom], [left, bottom]]);
        sketch.area(outline, film);
    } else {
        for (edge, sign, outer) in [(edges[0], -1.0, left), (edges[1], 1.0, right)] {
            let inside = |x: f64| x.clamp(left, right);
            let mut outline: Vec<[f64; 2]> = wall(section)
                .iter()
                .map(|p| [inside(edge + sign * p[0]), p[1]])
                .collect();
            outline.extend([[outer, bottom], [outer, FILM_TOP]]);
            sketch.area(outline, film);
        }
    }
    sketch.block([left, edges[0]], [MASK_TOP, FILM_TOP], mask_of(results).0);
    sketch.block([edges[1], right], [MASK_TOP, FILM_TOP], mask_of(results).0);
    if section.broken {
        let floor = FILM_TOP + section.depth.min(section.film);
        break_marks(sketch, middle, [MASK_TOP - 6.0, floor], "outline");
        break_marks(sketch, middle, [floor, bottom + 16.0], "section");
    }
    widths(
        sketch,
        [left, right],
        [MASK_TOP, FILM_TOP],
        edges,
        &format!("mask opening {}", length_words(1000.0 * mask_um)),
        results.opening_um.map(|um| {
            (section.reach, format!("opening in the film {}", length_words(1000.0 * um)))
        }),
    );
    vec![
        leader([right, 0.5 * (MASK_TOP + FILM_TOP)], mask_of(results).1),
        leader([right, FILM_TOP + 0.35 * section.film], film_label(results)),
    ]
}

fn line(
    sketch: &mut Sketch,
    results: &WetEtchResults,
    section: &Section,
    mask_um: f64,
) -> Vec<Leader> {
    let &Section { left, right, middle, .. } = section;
    let film = material_word(results.material);
    let bottom = FILM_TOP + section.film;
    let edges = [middle - section.half, middle + section.half];
    // The bath comes from both sides; where the two fronts have met nothing is left.
    let sides: Vec<[f64; 2]> =
        wall(section).into_iter().filter(|p| p[0] < section.half).collect();
    let mut outline: Vec<[f64; 2]> = Vec::new();
    if section.depth < section.film {
        outline.extend(sides.iter().map(|p| [edges[0] + p[0], p[1]]));
        let floor = FILM_TOP + section.depth;
        outline.extend([[left, floor], [left, bottom], [right, bottom], [right, floor]]);
        outline.extend(sides.iter().rev().map(|p| [edges[1] - p[0], p[1]]));
    } else if !sides.is_empty() {
        outline.extend(sides.iter().map(|p| [edges[0] + p[0], p[1]]));
        outline.extend(sides.iter().rev().map(|p| [edges[1] - p[0], p[1]]));
    }
    if 2 < outline.len() {
        sketch.area(outline, film);
    }
    sketch.block(edges, [MASK_TOP, FILM_TOP], mask_of(results).0);
    if section.broken {
        break_marks(sketch, middle, [MASK_TOP, bottom + 16.0], "section");
    }
    widths(
        sketch,
        [left, right],
        [MASK_TOP, FILM_TOP],
        edges,
        &format!("mask line {}", length_words(1000.0 * mask_um)),
        results.line_um.filter(|&um| 0.0 < um).map(|um| {
            (
                -section.reach,
                format!("film line {} at its top", length_words(1000.0 * um)),
            )
        }),
    );
    let gone = results.line_um.is_some_and(|um| um <= 0.0);
    let mask = if gone {
        "mask, lifted off: no film left to hold it"
    } else {
        mask_of(results).1
    };
    let mut labels = vec![leader([edges[1], 0.5 * (MASK_TOP + FILM_TOP)], mask)];
    if !gone {
        let z = 0.7 * section.film;
        let x = edges[1] - side(section, z);
        labels.push(leader([x, FILM_TOP + z], film_label(results)));
    }
    labels
}

fn blanket(
    sketch: &mut Sketch,
    results: &WetEtchResults,
    section: &Section,
) -> Vec<Leader> {
    let &Section { left, right, .. } = section;
    let film = results.remaining_nm * section.film / results.thickness_nm;
    let bottom = FILM_TOP + section.film;
    sketch.block([left, right], [bottom - film, bottom], material_word(results.material));
    sketch.line(
        &[
            [left, bottom - film],
            [left, FILM_TOP],
            [right, FILM_TOP],
            [right, bottom - film],
        ],
        "dashed",
    );
    for x in [0.2, 0.4, 0.6, 0.8] {
        let x = left + x * (right - left);
        if 12.0 < section.film - film {
            sketch.arrow([x, FILM_TOP], [x, bottom - film], "hairline");
        }
    }
    vec![
        leader(
            [right, FILM_TOP],
            format!("film before, {}", length_words(results.thickness_nm)),
        ),
        leader([right, bottom - 0.5 * film], film_label(results)),
    ]
}

/// Material and words of the mask: resist, or nitride in baths that dissolve resist.
fn mask_of(results: &WetEtchResults) -> (&'static str, &'static str) {
    if results.wall_deg.is_some() {
        ("nitride", "nitride mask: resist dissolves here (height not to scale)")
    } else {
        ("resist", "resist mask (height not to scale)")
    }
}

fn film_label(results: &WetEtchResults) -> String {
    results.material.label().to_owned()
}

/// Dimension lines of the mask and of the film's top, the wider one above.
///
/// `tops` are the heights of the mask's and the film's top.
pub(super) fn widths(
    sketch: &mut Sketch,
    [left, right]: [f64; 2],
    tops: [f64; 2],
    edges: [f64; 2],
    mask: &str,
    film: Option<(f64, String)>,
) {
    let middle = 0.5 * (left + right);
    let mut rows = vec![(edges, mask.to_owned(), "label", tops[0])];
    if let Some((beyond, words)) = film {
        let ends = [(edges[0] - beyond).max(left), (edges[1] + beyond).min(right)];
        for x in ends {
            sketch.line(&[[x, tops[0]], [x, tops[1]]], "section_dashed");
        }
        rows.push((ends, words, "strong", tops[0] - 1.0));
    }
    rows.sort_by(|a, b| (a.0[1] - a.0[0]).total_cmp(&(b.0[1] - b.0[0])));
    let outer = rows.last().map_or(edges, |row| row.0);
    for ((ends, words, style, foot), y) in rows.iter().zip([84.0, 44.0]) {
        for &x in ends {
            sketch.line(&[[x, y - 5.0], [x, *foot]], "hairline");
        }
        if 6.0 < ends[1] - ends[0] {
            sketch.dimension([ends[0], y], [ends[1], y]);
        }
        let words = &sketch.keyed(words, style);
        // Words wider than the lines that come down from the row above stand beside them.
        if text_width(words, TEXT) + 10.0 < outer[1] - outer[0] {
            sketch.text([middle, y - 12.0], words, "middle", style);
        } else {
            sketch.text([outer[1] + 10.0, y], words, "start", style);
        }
    }
}

/// Two wavy lines that say: the middle is left out.
pub(super) fn break_marks(
    sketch: &mut Sketch,
    middle: f64,
    [top, bottom]: [f64; 2],
    style: &str,
) {
    for x in [middle - 5.0, middle + 5.0] {
        let points: Vec<[f64; 2]> = linspace(top, bottom, 40)
            .into_iter()
            .map(|y| [x + 3.0 * sin(y * 0.22), y])
            .collect();
        sketch.line(&points, style);
    }
}

fn state(results: &WetEtchResults, from: [f64; 2]) -> Leader {
    match results.over_etch_percent {
        Some(percent) if 0.0 < percent => {
            strong(from, format!("cleared; over-etch {} %", digits(percent, 2)))
        }
        Some(_) => strong(from, "cleared just now"),
        None if results.opening_bottom_um.is_some_and(|um| um <= 0.0)
            && results.wall_deg.is_some() =>
        {
            strong(
                from,
                format!(
                    "the walls have met at {}: stopped",
                    length_words(results.etched_nm)
                ),
            )
        }
        None => strong(
            from,
            format!("not cleared: {} left", length_words(results.remaining_nm)),
        ),
    }
}

fn description(results: &WetEtchResults) -> String {
    let film = results.material.label();
    let mask = match (results.mask_opening_um, results.opening_um) {
        (Some(mask), Some(open)) => format!(
            " The mask is open over {}; at its top the film is open over {}.",
            length_words(1000.0 * mask),
            length_words(1000.0 * open)
        ),
        _ => match (results.mask_line_um, results.line_um) {
            (Some(mask), Some(left)) if 0.0 < left => format!(
                " The mask line is {} wide; of the film a line of {} is left at the top.",
                length_words(1000.0 * mask),
                length_words(1000.0 * left)
            ),
            (Some(mask), Some(_)) => format!(
                " The mask line is {} wide; the film below it is gone and the mask lifts off.",
                length_words(1000.0 * mask)
            ),
            _ => String::new(),
        },
    };
    format!(
        "Section after {} s in the bath: {} of {} of {film} are etched, {} left; the undercut is {}.{mask}",
        short(results.time_s),
        length_words(results.etched_nm),
        length_words(results.thickness_nm),
        length_words(results.remaining_nm),
        length_words(results.undercut_nm),
    )
}
