//! Doped silicon in section: tint and marks that grow with the logarithm of the net doping.

use barewafer_process::num::{linspace, log10};
use barewafer_process::profile::Profile;
use barewafer_process::vocabulary::DopingType;

use super::sketch::Sketch;
use crate::chart::Axis;
use crate::charts::doping::substrate;
use crate::palette::{hex, material};

/// Heights of a depth scale: px at depth 0 and px per um.
#[derive(Clone, Copy, Debug)]
pub(super) struct DepthScale {
    /// Height of the surface of the axis.
    pub(super) top: f64,
    /// px per um.
    pub(super) px_per_um: f64,
}

impl DepthScale {
    pub(super) fn down(&self, depth_um: f64) -> f64 {
        self.top + depth_um * self.px_per_um
    }
}

/// Net donors per cm3 at each depth of a profile; without a net list the first dopant and
/// the wafer that its junctions tell of.
fn net(profile: &Profile, junctions_um: &[f64]) -> Vec<f64> {
    if !profile.net_cm3.is_empty() {
        return profile.net_cm3.clone();
    }
    let wafer =
        substrate(profile, junctions_um).map_or(0.0, |(level, kind)| match kind {
            DopingType::N => level,
            DopingType::P => -level,
        });
    profile.dopants.first().map_or_else(Vec::new, |(dopant, values)| {
        values.iter().map(|v| dopant.charge() * v + wafer).collect()
    })
}

/// Tints the silicon from `surface_um` on the scale down to `bottom` px.
pub(super) fn tint_silicon(
    sketch: &mut Sketch,
    profile: &Profile,
    junctions_um: &[f64],
    scale: DepthScale,
    surface_um: f64,
    across: [f64; 2],
    bottom: f64,
) {
    let net = net(profile, junctions_um);
    let surface = scale.down(surface_um);
    sketch.tint(across, [surface, bottom], "#ffffff", 1.0);
    let deepest_um = (bottom - surface) / scale.px_per_um;
    let mut cuts = linspace(0.0, deepest_um, 73);
    cuts.extend(junctions_um.iter().copied().filter(|&j| 0.0 < j && j < deepest_um));
    barewafer_process::num::sort_increasing(&mut cuts);
    let mut bands: Vec<(f64, f64, DopingType, f64)> = Vec::new();
    for pair in cuts.windows(2) {
        let middle = 0.5 * (pair[0] + pair[1]);
        let value = between(&profile.depth_um, &net, middle);
        let kind = if 0.0 <= value { DopingType::N } else { DopingType::P };
        let opacity = (strength(value) * 20.0).round() / 20.0;
        match bands.last_mut() {
            Some(last) if last.2 == kind && (last.3 - opacity).abs() < 1e-9 => {
                last.1 = pair[1]
            }
            _ => bands.push((pair[0], pair[1], kind, opacity)),
        }
    }
    for (from, to, kind, opacity) in bands {
        let color = hex(material(doped_word(kind)).fill);
        let rows = [scale.down(surface_um + from), scale.down(surface_um + to)];
        sketch.tint(across, rows, &color, opacity);
    }
    let frame = [
        [across[0], bottom],
        [across[0], surface],
        [across[1], surface],
        [across[1], bottom],
    ];
    sketch.line(&frame, "section");
}

/// Level dashes for n-type, upright ticks for p-type, closer where the doping is higher.
pub(super) fn marks(
    sketch: &mut Sketch,
    profile: &Profile,
    junctions_um: &[f64],
    scale: DepthScale,
    across: [f64; 2],
    bottom: f64,
) {
    let (depth, net) = (&profile.depth_um, &net(profile, junctions_um));
    let mut drawn = Vec::new();
    let mut y = scale.top + 9.0;
    let mut row = 0_u32;
    while y < bottom - 5.0 && row < 40 {
        let at = |y: f64| between(depth, net, (y - scale.top) / scale.px_per_um);
        let value = at(y);
        if at(y - 5.0) * at(y + 5.0) < 0.0 {
            // A mark would lie on the junction line.
            y += 17.0;
            row += 1;
            continue;
        }
        let gap = 66.0 - 52.0 * strength(value);
        let mut x = across[0] + if row.is_multiple_of(2) { 0.5 * gap } else { gap };
        while x < across[1] - 5.0 {
            drawn.push(if 0.0 <= value {
                vec![[x - 3.0, y], [x + 3.0, y]]
            } else {
                vec![[x, y - 3.0], [x, y + 3.0]]
            });
            x += gap;
        }
        y += 17.0;
        row += 1;
    }
    sketch.strokes(drawn, "mark");
}

/// Ticks of a depth axis left of a section.
pub(super) fn depth_axis(sketch: &mut Sketch, axis: &Axis, scale: DepthScale, left: f64) {
    sketch
        .line(&[[left - 8.0, scale.top], [left - 8.0, scale.down(axis.max)]], "hairline");
    for tick in axis.ticks(7.0) {
        let y = scale.down(tick.value);
        let reach = if tick.label.is_empty() { 11.0 } else { 14.0 };
        sketch.line(&[[left - reach, y], [left - 8.0, y]], "hairline");
        if !tick.label.is_empty() {
            sketch.text([left - 18.0, y], &tick.label, "end", "soft");
        }
    }
    sketch.text([left - 18.0, scale.top - 18.0], &axis.unit, "end", "soft");
}

/// The material word of doped silicon.
pub(crate) const fn doped_word(kind: DopingType) -> &'static str {
    match kind {
        DopingType::N => "n_silicon",
        DopingType::P => "p_silicon",
    }
}

/// 0 at 1e13 per cm3 and below, 1 at 1e21 and above.
fn strength(net: f64) -> f64 {
    ((log10(net.abs().max(1.0)) - 13.0) / 8.0).clamp(0.0, 1.0)
}

/// A signed list read between its points on a straight line; the last value goes on.
pub(super) fn between(x: &[f64], y: &[f64], at: f64) -> f64 {
    let upper = x.partition_point(|&v| v < at);
    let value = |i: usize| y.get(i).copied();
    match (upper.checked_sub(1), x.get(upper)) {
        (Some(lower), Some(&right)) => {
            let left = x.get(lower).copied().unwrap_or(right);
            let (a, b) = (value(lower).unwrap_or(0.0), value(upper).unwrap_or(0.0));
            if left < right { a + (b - a) * (at - left) / (right - left) } else { b }
        }
        (None, Some(_)) => value(0).unwrap_or(0.0),
        _ => y.last().copied().unwrap_or(0.0),
    }
}
