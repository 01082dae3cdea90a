//! Design rules, and the check of a layout against them.

use serde::{Deserialize, Serialize};

use super::polygon::Polygon;
use super::{Layout, Mask};
use crate::error::RequestError;
use crate::flow::bounds::RULE_UM;
use crate::num::show;
use crate::vocabulary::words;

words!(
    /// What a design rule asks for.
    RuleKind {
        /// No figure of the level is narrower.
        Width = "width", "least width";
        /// No two figures of the level (or of two levels) that do not touch are closer.
        Spacing = "spacing", "least spacing";
        /// Every figure of the level that touches one of the other level lies inside it by at least
        /// this.
        Enclosure = "enclosure", "least enclosure";
        /// Where a figure of the level crosses one of the other level it reaches beyond its
        /// edge by at least this.
        Overlap = "overlap", "least reach beyond";
    }
);

/// One design rule.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rule {
    /// What it asks for.
    pub kind: RuleKind,
    /// The level whose figures are checked.
    pub level: String,
    /// The other level; none for a rule within one level.
    pub other: Option<String>,
    /// The least distance in um.
    pub least_um: f64,
}

/// A rule as it stands in JSON.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::flow) struct RuleFields {
    kind: RuleKind,
    level: String,
    other: Option<String>,
    least_um: f64,
}

impl RuleFields {
    /// Checks the rule against the layout.
    pub(in crate::flow) fn check(self, layout: &Layout) -> Result<Rule, RequestError> {
        for (field, level) in
            [("level", Some(&self.level)), ("other", self.other.as_ref())]
        {
            if let Some(level) = level
                && layout.mask(level).is_none()
            {
                return Err(super::super::unknown_level(field, level, layout));
            }
        }
        let needs_other = matches!(self.kind, RuleKind::Enclosure | RuleKind::Overlap);
        if needs_other && self.other.is_none() {
            return Err(RequestError::missing(
                "other",
                "a level of the layout",
                &format!("name the other level of the {}", self.kind.label()),
            ));
        }
        if self.kind == RuleKind::Width && self.other.is_some() {
            return Err(RequestError::conflict(
                "other",
                self.other.as_deref().unwrap_or_default(),
                "none",
                "other: a width concerns one level only",
                "leave other out",
            ));
        }
        Ok(Rule {
            kind: self.kind,
            level: self.level,
            other: self.other,
            least_um: RULE_UM.check(self.least_um)?,
        })
    }
}

/// Rules that any layout should keep: a contact lies inside metal, figures of a level are not
/// closer than the narrowest one is wide (model choice: a fair layout is not finer in its spaces
/// than in its lines by more than a half).
#[must_use]
pub fn built_in_rules(layout: &Layout) -> Vec<Rule> {
    let mut rules = Vec::new();
    let find = |words: &[&str]| {
        layout.masks.iter().find(|mask| {
            words.iter().any(|word| mask.level.to_ascii_uppercase().contains(word))
        })
    };
    let rule = |kind, level: &Mask, other: Option<&Mask>, least_um| Rule {
        kind,
        level: level.level.clone(),
        other: other.map(|mask| mask.level.clone()),
        least_um,
    };
    for mask in &layout.masks {
        rules.push(rule(RuleKind::Width, mask, None, 0.5));
        if let Some(narrowest_um) =
            mask.figures.iter().map(width_um).min_by(f64::total_cmp)
        {
            rules.push(rule(RuleKind::Spacing, mask, None, 0.5 * narrowest_um));
        }
    }
    if let (Some(contact), Some(metal)) = (find(&["CONT"]), find(&["METAL"])) {
        rules.push(rule(RuleKind::Enclosure, contact, Some(metal), 0.0));
    }
    rules
}

/// A place where a rule is broken.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RuleBreak {
    /// The rule.
    pub rule: Rule,
    /// What is there instead, in um.
    pub found_um: f64,
    /// Where, in um.
    pub at_um: [f64; 2],
    /// What is wrong, in words.
    pub message: String,
}

/// Checks a layout against rules.
///
/// Figures that touch or overlap belong together. Distances are those between the drawn sides;
/// a mask's bias is not in them.
#[must_use]
pub fn check(layout: &Layout, rules: &[Rule]) -> Vec<RuleBreak> {
    let mut broken = Vec::new();
    for rule in rules {
        let Some(mask) = layout.mask(&rule.level) else { continue };
        let other = rule.other.as_deref().and_then(|level| layout.mask(level));
        match rule.kind {
            RuleKind::Width => widths(rule, mask, &mut broken),
            RuleKind::Spacing => spacings(rule, mask, other, &mut broken),
            RuleKind::Enclosure => {
                if let Some(other) = other {
                    enclosures(rule, mask, other, &mut broken);
                }
            }
            RuleKind::Overlap => {
                if let Some(other) = other {
                    overlaps(rule, mask, other, &mut broken);
                }
            }
        }
    }
    broken
}

/// Where a layout breaks given rules or the built-in ones.
#[must_use]
pub fn breaks(layout: &Layout, given: &[Rule]) -> Vec<RuleBreak> {
    let mut rules = given.to_vec();
    rules.extend(built_in_rules(layout));
    check(layout, &rules)
}

/// Two numbers of a drawing that are the same, in um.
const SAME_UM: f64 = 1e-6;

fn center_um(figure: &Polygon) -> [f64; 2] {
    let [x0, y0, x1, y1] = figure.bounds_um();
    [0.5 * (x0 + x1), 0.5 * (y0 + y1)]
}

/// Narrowest width of a figure in um: the least distance between two of its sides that face
/// each other with the figure between them.
fn width_um(figure: &Polygon) -> f64 {
    let turn = if figure.signed_area_um2() < 0.0 { -1.0 } else { 1.0 };
    let sides: Vec<[[f64; 2]; 2]> = figure.sides().collect();
    let mut least = f64::INFINITY;
    for (i, [a, b]) in sides.iter().enumerate() {
        let along = [b[0] - a[0], b[1] - a[1]];
        let length = (along[0] * along[0] + along[1] * along[1]).sqrt();
        if length <= 0.0 {
            continue;
        }
        // The inside lies to the left of a side that goes round counterclockwise.
        let inward = [-turn * along[1] / length, turn * along[0] / length];
        for [c, d] in sides.iter().skip(i + 1) {
            let across = [d[0] - c[0], d[1] - c[1]];
            let facing = along[0] * across[0] + along[1] * across[1] < 0.0;
            let height =
                |p: &[f64; 2]| (p[0] - a[0]) * inward[0] + (p[1] - a[1]) * inward[1];
            if facing && SAME_UM < height(c).max(height(d)) && overlap_along(a, b, c, d) {
                least = least.min(segment_distance_um(*a, *b, *c, *d));
            }
        }
    }
    least
}

/// Whether two sides lie beside each other over some length.
fn overlap_along(a: &[f64; 2], b: &[f64; 2], c: &[f64; 2], d: &[f64; 2]) -> bool {
    let along = [b[0] - a[0], b[1] - a[1]];
    let place = |p: &[f64; 2]| (p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1];
    let length = along[0] * along[0] + along[1] * along[1];
    let (from, to) = (place(c).min(place(d)), place(c).max(place(d)));
    from.max(0.0) + SAME_UM < to.min(length)
}

fn segment_distance_um(a: [f64; 2], b: [f64; 2], c: [f64; 2], d: [f64; 2]) -> f64 {
    if segments_cross(a, b, c, d) {
        return 0.0;
    }
    [
        point_distance_um(a, c, d),
        point_distance_um(b, c, d),
        point_distance_um(c, a, b),
        point_distance_um(d, a, b),
    ]
    .into_iter()
    .fold(f64::INFINITY, f64::min)
}

fn segments_cross(a: [f64; 2], b: [f64; 2], c: [f64; 2], d: [f64; 2]) -> bool {
    let side = |p: [f64; 2], q: [f64; 2], r: [f64; 2]| {
        (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
    };
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

fn point_distance_um(p: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let along = [b[0] - a[0], b[1] - a[1]];
    let length2 = along[0] * along[0] + along[1] * along[1];
    let share = if 0.0 < length2 {
        (((p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1]) / length2).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let [dx, dy] = [p[0] - a[0] - share * along[0], p[1] - a[1] - share * along[1]];
    (dx * dx + dy * dy).sqrt()
}

fn holds_point(figure: &Polygon, [x, y]: [f64; 2]) -> bool {
    let mut inside = false;
    for [a, b] in figure.sides() {
        if (a[1] <= y) != (b[1] <= y)
            && x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        {
            inside = !inside;
        }
    }
    inside
}

/// Distance between two figures in um; 0 if they touch or one lies in the other.
fn distance_um(a: &Polygon, b: &Polygon) -> f64 {
    let inside = a.corners_um().first().is_some_and(|&p| holds_point(b, p))
        || b.corners_um().first().is_some_and(|&p| holds_point(a, p));
    if inside {
        return 0.0;
    }
    let mut least = f64::INFINITY;
    for [p, q] in a.sides() {
        for [r, s] in b.sides() {
            least = least.min(segment_distance_um(p, q, r, s));
        }
    }
    least
}

fn widths(rule: &Rule, mask: &Mask, broken: &mut Vec<RuleBreak>) {
    for figure in &mask.figures {
        let found_um = width_um(figure);
        if found_um < rule.least_um - SAME_UM {
            report(rule, found_um, center_um(figure), "is", "wide", broken);
        }
    }
}

fn spacings(rule: &Rule, mask: &Mask, other: Option<&Mask>, broken: &mut Vec<RuleBreak>) {
    for (i, figure) in mask.figures.iter().enumerate() {
        let (list, from) = match other {
            Some(other) => (&other.figures, 0),
            None => (&mask.figures, i + 1),
        };
        for neighbor in list.iter().skip(from) {
            let found_um = distance_um(figure, neighbor);
            if SAME_UM < found_um && found_um < rule.least_um - SAME_UM {
                let ([ax, ay], [bx, by]) = (center_um(figure), center_um(neighbor));
                let middle = [0.5 * (ax + bx), 0.5 * (ay + by)];
                report(rule, found_um, middle, "is", "from the next", broken);
            }
        }
    }
}

/// Least distance from a figure out to the edge of figures that hold it, in um; negative if it
/// reaches out of them.
fn enclosed_um(figure: &Polygon, around: &[Polygon]) -> f64 {
    let [x0, y0, x1, y1] = figure.bounds_um();
    // How far the figures together reach in each of the four directions from the bounds.
    let (x, y) = (0.5 * (x0 + x1), 0.5 * (y0 + y1));
    let sides = [
        ([x0, y], [-1.0, 0.0]),
        ([x1, y], [1.0, 0.0]),
        ([x, y0], [0.0, -1.0]),
        ([x, y1], [0.0, 1.0]),
    ];
    sides
        .into_iter()
        .map(|(start, direction)| reach_um(start, direction, around))
        .fold(f64::INFINITY, f64::min)
}

/// How far figures reach from a point in a direction in um; negative if the point is outside.
fn reach_um(start: [f64; 2], direction: [f64; 2], around: &[Polygon]) -> f64 {
    let line = super::Line {
        from_um: start,
        to_um: [start[0] + direction[0], start[1] + direction[1]],
    };
    let cuts = super::union(around.iter().flat_map(|f| f.cut_um(&line)).collect());
    let mut outside = f64::INFINITY;
    for [from, to] in cuts {
        if from <= SAME_UM && -SAME_UM <= to {
            return to.max(0.0);
        }
        if to < 0.0 {
            outside = outside.min(-to);
        }
    }
    if outside.is_finite() { -outside } else { f64::NEG_INFINITY }
}

fn enclosures(rule: &Rule, mask: &Mask, other: &Mask, broken: &mut Vec<RuleBreak>) {
    for figure in &mask.figures {
        let touched =
            other.figures.iter().any(|around| distance_um(figure, around) <= SAME_UM);
        // A contact on another layer is not of this rule, unless it must lie inside.
        if !touched {
            continue;
        }
        let found_um = enclosed_um(figure, &other.figures);
        if found_um < rule.least_um - SAME_UM {
            report(rule, found_um, center_um(figure), "is enclosed by", "", broken);
        }
    }
}

fn overlaps(rule: &Rule, mask: &Mask, other: &Mask, broken: &mut Vec<RuleBreak>) {
    for figure in &mask.figures {
        let [x0, y0, x1, y1] = figure.bounds_um();
        for crossed in &other.figures {
            let [u0, v0, u1, v1] = crossed.bounds_um();
            let meets = x0 < u1 && u0 < x1 && y0 < v1 && v0 < y1;
            if !meets {
                continue;
            }
            // The figure crosses from one side to the other: in y if it is narrower in x.
            let inside_x = u0 - SAME_UM <= x0 && x1 <= u1 + SAME_UM;
            let inside_y = v0 - SAME_UM <= y0 && y1 <= v1 + SAME_UM;
            let found_um = match (inside_x, inside_y) {
                (true, false) => (v0 - y0).min(y1 - v1),
                (false, true) => (u0 - x0).min(x1 - u1),
                _ => continue,
            };
            if found_um < rule.least_um - SAME_UM {
                report(rule, found_um, center_um(crossed), "reaches", "beyond", broken);
            }
        }
    }
}

fn report(
    rule: &Rule,
    found_um: f64,
    at_um: [f64; 2],
    verb: &str,
    rest: &str,
    broken: &mut Vec<RuleBreak>,
) {
    let other = rule.other.as_deref();
    let found = if found_um.is_finite() {
        format!("{} µm", show(found_um))
    } else {
        "nothing".to_owned()
    };
    let what = match (rule.kind, other) {
        (RuleKind::Enclosure, Some(other)) => {
            format!("a figure of {} {verb} {other} by {found}", rule.level)
        }
        (RuleKind::Overlap, Some(other)) => {
            format!("a figure of {} {verb} {found} {rest} {other}", rule.level)
        }
        (RuleKind::Spacing, Some(other)) => {
            format!("a figure of {} is {found} from one of {other}", rule.level)
        }
        (RuleKind::Spacing, None) => {
            format!("a figure of {} {verb} {found} {rest}", rule.level)
        }
        _ => format!("a figure of {} {verb} {found} {rest}", rule.level),
    };
    let message = format!(
        "at ({}, {}) µm {what}; the rule asks for {} µm ({})",
        show(at_um[0]),
        show(at_um[1]),
        show(rule.least_um),
        rule.kind.label()
    );
    broken.push(RuleBreak { rule: rule.clone(), found_um, at_um, message });
}
