//! The picture of a section.

use barewafer_process::num::{larger, smaller};
use barewafer_process::vocabulary::Material;
use barewafer_process::wafer::{Matter, Section};

use super::anchors::anchors;
use super::change::changes;
use super::contour::{Loop, with_holes};
use super::doping::{Net, types};
use super::order::upper_first;
use super::outline::{outline, thinned};
use super::spans::{Pile, films};
use super::strands::strands;
use super::view::{Scale, View};
use crate::axis::nice_below;
use crate::numbers::digits;
use crate::palette::{hex, material};
use crate::pictures::sketch::{Leader, Sketch, leader, length_words};
use crate::pictures::{Frame, material_word};
use crate::scene::Scene;

/// Room at the right for labels in px.
const LABELS: f64 = 172.0;

/// Room for their numbers where the picture is narrow: the words stand below it.
const NUMBERS: f64 = 34.0;

/// A picture narrower than this has no room for words beside it, in px.
const NARROW: f64 = 520.0;

/// Room at the left and above in px.
const MARGIN: f64 = 12.0;

/// Room below for scale bars in px.
const BARS: f64 = 46.0;

/// Points nearer than this to a line in px are left out.
const FINE: f64 = 0.12;

/// Columns and cells are not told apart over less than this in px.
const GRAIN: f64 = 0.3;

/// The section with labels, scale bars and, if asked for, doping and a plumb line.
#[must_use]
pub fn section(section: &Section, view: &View, description: String) -> Scene {
    changed_section(section, None, view, description)
}

/// Where the section itself lies in the picture of a view, in px: left, top, right, bottom.
#[must_use]
pub fn section_frame(view: &View) -> [f64; 4] {
    [MARGIN, MARGIN, view.width - labels_room(view) - MARGIN, MARGIN + view.height]
}

/// Room at the right of a view for its labels, in px.
fn labels_room(view: &View) -> f64 {
    if view.width < NARROW { NUMBERS } else { LABELS }
}

/// The section, with what differs from the one before outlined.
#[must_use]
pub fn changed_section(
    section: &Section,
    before: Option<&Section>,
    view: &View,
    description: String,
) -> Scene {
    let narrow = view.width < NARROW;
    let below = if narrow { BARS + 18.0 } else { BARS };
    let mut sketch = Sketch::sized(view.width, view.height + MARGIN + below);
    if narrow {
        sketch.frame = Frame::Narrow;
    }
    let room = labels_room(view);
    let scale = Scale::new(
        view,
        [MARGIN, MARGIN],
        [view.width - room - 2.0 * MARGIN, view.height],
    );
    let mut labels = paint(&mut sketch, section, view, scale);
    if let Some(before) = before {
        let lines: Vec<Vec<[f64; 2]>> =
            changes(before, section, view.x_nm, view.z_nm[0], view.doping)
                .into_iter()
                .map(|mut outline| {
                    outline.extend(outline.first().copied());
                    fitted(&outline, view, scale)
                })
                .collect();
        if !lines.is_empty() {
            sketch.strokes(lines.clone(), "halo");
            sketch.strokes(lines, "section");
        }
    }
    if let Some(x_nm) = view.plumb_nm.filter(|x| view.x_nm[0] <= *x && *x <= view.x_nm[1])
    {
        let [top, bottom] =
            [view.z_nm[1], view.z_nm[0]].map(|z_nm| scale.at([x_nm, z_nm]));
        sketch.line(&[top, bottom], "amber");
    }
    let column = view.width - room + 4.0;
    for label in &mut labels {
        label.from[0] = label.from[0].min(column - 22.0);
    }
    sketch.leaders(labels, column, MARGIN, MARGIN + view.height);
    bars(&mut sketch, view, scale, narrow);
    sketch.finish(description)
}

/// A small section without words.
#[must_use]
pub fn thumbnail(section: &Section, view: &View, description: String) -> Scene {
    let mut sketch = Sketch::sized(view.width, view.height);
    let scale = Scale::new(view, [0.0, 0.0], [view.width, view.height]);
    paint(&mut sketch, section, view, scale);
    sketch.finish(description)
}

/// Draws films, doping and junctions; gives the labels of what is seen.
fn paint(
    sketch: &mut Sketch,
    section: &Section,
    view: &View,
    scale: Scale,
) -> Vec<Leader> {
    let bottom_nm = view.z_nm[0];
    let grain_nm = scale.px_per_nm.map(|px| GRAIN / px);
    let piles = films(section, view.x_nm, bottom_nm, grain_nm);
    let strands = strands(&piles);
    let doping = view.doping.then(|| {
        let net = Net::of(section, view.x_nm, bottom_nm, grain_nm);
        let types = types(&net, bottom_nm);
        (net, types)
    });
    let silicon = Matter::of(Material::Silicon);
    for &index in &upper_first(&piles, &strands) {
        let strand = &strands[index];
        if strand.key.is_open() {
            continue;
        }
        if strand.key == silicon && view.doping {
            if let Some((net, _)) = &doping {
                let floor = |column: usize, span: usize| piles[column].floor_of(span);
                doped(sketch, net, view, scale, &outline(&piles, strand, floor));
            }
            continue;
        }
        // The film below is painted later and covers the lower edge.
        let bottom = |column: usize, span: usize| {
            let pile: &Pile<Matter> = &piles[column];
            match span.checked_sub(1) {
                Some(below) if !pile.spans[below].0.is_open() => pile.floor_of(below),
                _ => pile.floor_of(span),
            }
        };
        let points = fitted(&outline(&piles, strand, bottom), view, scale);
        sketch.area(points, strand.key.material().map_or("silicon", material_word));
    }
    let thinnest_nm = 3.0 / scale.px_per_nm[1];
    let mut labels: Vec<Leader> = anchors(&piles, &strands, thinnest_nm, view.z_nm)
        .into_iter()
        .filter(|(matter, ..)| !(view.doping && *matter == silicon))
        .map(|(matter, at, thick_nm)| {
            let name = matter.material().map_or("", Material::label);
            let words = if matter == silicon {
                name.to_owned()
            } else {
                format!("{name} {}", length_words(thick_nm))
            };
            leader(scale.at(at), words)
        })
        .collect();
    if let Some((_, types)) = &doping {
        labels.extend(doping_labels(types, scale));
    }
    labels
}

/// Silicon by its type within its outline, tinted by how much doping there is, with the
/// junctions.
fn doped(
    sketch: &mut Sketch,
    net: &Net,
    view: &View,
    scale: Scale,
    frame_nm: &[[f64; 2]],
) {
    let drawn = net.drawn(view.z_nm[0], true);
    let mut frame = fitted(frame_nm, view, scale);
    sketch.ground(frame.clone(), type_word(drawn.donors_below));
    // The largest regions first: what lies in one is painted on it.
    for region in &drawn.regions {
        let points: Vec<[f64; 2]> = region.points.iter().map(|c| c.at).collect();
        let donors = (0.0 < region.area()) != drawn.donors_below;
        sketch.ground(fitted(&points, view, scale), type_word(donors));
    }
    for (donors, opacity, loops) in &drawn.tints {
        let color = hex(material(type_word(*donors)).outline);
        for outline in with_holes(loops) {
            let points = fitted(&outline, view, scale);
            if 2 < points.len() {
                sketch.shade(points, &color, *opacity);
            }
        }
    }
    let junctions: Vec<Vec<[f64; 2]>> = drawn
        .regions
        .iter()
        .flat_map(Loop::crossings)
        .flat_map(|line| within(&line, view.z_nm))
        .map(|line| fitted(&line, view, scale))
        .collect();
    sketch.strokes(junctions, "section");
    // The surface and the frame, which regions without outlines do not draw.
    frame.extend(frame.first().copied());
    sketch.line(&frame, "mark");
}

/// The parts of a line between two heights.
fn within(line: &[[f64; 2]], [low, high]: [f64; 2]) -> Vec<Vec<[f64; 2]>> {
    let mut parts: Vec<Vec<[f64; 2]>> = Vec::new();
    let mut part: Vec<[f64; 2]> = Vec::new();
    for pair in line.windows(2) {
        let [a, b] = [pair[0], pair[1]];
        let rise = b[1] - a[1];
        // Shares of the way at which it comes in and goes out.
        let (first, last) = if rise == 0.0 {
            let inside = low <= a[1] && a[1] <= high;
            if inside { (0.0, 1.0) } else { (1.0, 0.0) }
        } else {
            let (s, t) = ((low - a[1]) / rise, (high - a[1]) / rise);
            (larger(smaller(s, t), 0.0), smaller(larger(s, t), 1.0))
        };
        if last <= first {
            parts.extend((1 < part.len()).then(|| std::mem::take(&mut part)));
            part.clear();
            continue;
        }
        let at = |share: f64| [0, 1].map(|i| a[i] + share * (b[i] - a[i]));
        if part.is_empty() || 0.0 < first {
            parts.extend((1 < part.len()).then(|| std::mem::take(&mut part)));
            part = vec![at(first)];
        }
        part.push(at(last));
        if last < 1.0 {
            parts.push(std::mem::take(&mut part));
        }
    }
    parts.extend((1 < part.len()).then_some(part));
    parts
}

const fn type_word(donors: bool) -> &'static str {
    if donors { "n_silicon" } else { "p_silicon" }
}

/// Labels of the types of silicon: each at a region that reaches the right border if one does,
/// otherwise at the right end of the largest one.
fn doping_labels(types: &[Pile<bool>], scale: Scale) -> Vec<Leader> {
    let legible_nm = 14.0 / scale.px_per_nm[1];
    let mut labels = Vec::new();
    for (donors, words) in [(true, "n-type silicon"), (false, "p-type silicon")] {
        // The rightmost column with enough of it, at its thickest there.
        let thickest = |pile: &Pile<bool>| {
            (0..pile.spans.len())
                .filter(|&span| pile.spans[span].0 == donors)
                .map(|span| (pile.top_of(span) - pile.floor_of(span), span))
                .max_by(|a, b| a.0.total_cmp(&b.0))
        };
        let most = types.iter().filter_map(&thickest).map(|(t, _)| t).fold(0.0, f64::max);
        let enough = legible_nm.min(0.8 * most);
        let place = types.iter().rev().find_map(|pile| {
            thickest(pile)
                .filter(|(thick, _)| enough <= *thick)
                .map(|(_, span)| (pile, span))
        });
        if let Some((pile, span)) = place.filter(|_| 0.0 < most) {
            let middle = 0.5 * (pile.top_of(span) + pile.floor_of(span));
            labels.push(leader(scale.at([pile.center_nm(), middle]), words));
        }
    }
    labels
}

/// Points in px, cut at the view's heights and without those that change nothing.
fn fitted(points_nm: &[[f64; 2]], view: &View, scale: Scale) -> Vec<[f64; 2]> {
    let points: Vec<[f64; 2]> = points_nm
        .iter()
        .map(|&[x, z]| scale.at([x, z.clamp(view.z_nm[0], view.z_nm[1])]))
        .collect();
    thinned(&points, FINE)
        .into_iter()
        .map(|point| point.map(|v| (100.0 * v).round() / 100.0))
        .collect()
}

/// Scale bars in both directions and the exaggeration in words.
fn bars(sketch: &mut Sketch, view: &View, scale: Scale, narrow: bool) {
    let y = MARGIN + view.height + 22.0;
    let across_nm = nice_below(if narrow { 70.0 } else { 120.0 } / scale.px_per_nm[0]);
    let length = across_nm * scale.px_per_nm[0];
    sketch.line(&[[MARGIN, y - 4.0], [MARGIN, y + 4.0]], "outline");
    sketch.line(&[[MARGIN, y], [MARGIN + length, y]], "outline");
    sketch.line(&[[MARGIN + length, y - 4.0], [MARGIN + length, y + 4.0]], "outline");
    sketch.text([MARGIN + length + 8.0, y], &length_words(across_nm), "start", "soft");
    let up_nm = nice_below(34.0 / scale.px_per_nm[1]);
    let tall = up_nm * scale.px_per_nm[1];
    let x = MARGIN + if narrow { 170.0 } else { 230.0 };
    let foot = y + 0.5 * tall.min(36.0);
    sketch.line(&[[x - 4.0, foot], [x + 4.0, foot]], "outline");
    sketch.line(&[[x, foot], [x, foot - tall]], "outline");
    sketch.line(&[[x - 4.0, foot - tall], [x + 4.0, foot - tall]], "outline");
    sketch.text([x + 10.0, y], &length_words(up_nm), "start", "soft");
    let times = scale.exaggeration();
    let words = if (times - 1.0).abs() < 0.02 {
        "heights and widths to the same scale".to_owned()
    } else {
        format!("heights drawn {} times as large as widths", digits(times, 2))
    };
    let at = if narrow { [MARGIN, y + 28.0] } else { [x + 90.0, y] };
    sketch.text(at, &words, "start", "soft");
}
