//! Liquids that find their level: spun films, and glass that is made to flow.

use super::super::{DOPANTS, Layer, Matter, Section};
use super::deposition::Added;
use super::paint::{Stroke, paint};
use super::spans::open_space;
use crate::num::{atan, bisect, solve_tridiagonal};
use crate::vocabulary::Material;

/// A liquid film is nowhere thinner than this in nm: it wets (model choice).
pub(super) const WETTING_NM: f64 = 2.0;

/// Beyond this many flow lengths glass is not asked for: 0.5 % of its weight on either side.
pub(super) const FARTHEST: f64 = 60.0;

/// Spins a film on that would be `flat_thickness_nm` thick on flat ground.
///
/// # Model
/// The liquid runs into undercuts. Its surface is the old one smoothed over the flow length
/// (`s - L^2 s'' = h`, which keeps the area), at the height at which the area of the film is
/// that of the flat one; it wets even what stands higher.
pub fn coat(
    section: &mut Section,
    matter: Matter,
    flat_thickness_nm: f64,
    flow_length_nm: f64,
) -> Added {
    if !(flat_thickness_nm.is_finite() && 0.0 < flat_thickness_nm) || matter.is_open() {
        return Added::default();
    }
    let (gas, _) = open_space(section).split_by_sky();
    let columns = section.columns();
    let widths_nm: Vec<f64> = (0..columns).map(|i| section.width_nm(i)).collect();
    let whole_nm: f64 = widths_nm.iter().sum();
    let cavities_nm2: f64 = (0..columns)
        .map(|i| {
            let below = gas.of(i).iter().filter(|[_, high]| high.is_finite());
            widths_nm[i] * below.map(|[low, high]| high - low).sum::<f64>()
        })
        .sum();
    // Undercuts that would swallow most of the film keep their gas.
    let all_nm2 = flat_thickness_nm * whole_nm;
    let fills = cavities_nm2 < 0.5 * all_nm2;
    let film_nm2 = if fills { all_nm2 - cavities_nm2 } else { all_nm2 };
    let wetting_nm = WETTING_NM.min(0.5 * film_nm2 / whole_nm);
    let floors_nm: Vec<f64> = (0..columns).map(|i| section.top_nm(i)).collect();
    let smooth_nm = smoothed(section, &floors_nm, flow_length_nm);
    let least_nm: Vec<f64> = floors_nm.iter().map(|z| z + wetting_nm).collect();
    let floor_nm2: f64 = floors_nm.iter().zip(&widths_nm).map(|(z, w)| z * w).sum();
    let tops_nm = leveled(&smooth_nm, &least_nm, &widths_nm, floor_nm2 + film_nm2);
    let dopants_cm3 = [0.0; DOPANTS];
    let mut added = Added::default();
    for i in 0..columns {
        let mut strokes = Vec::new();
        for &[from_nm, high_nm] in gas.of(i) {
            let is_top = high_nm == f64::INFINITY;
            if !is_top && !fills {
                continue;
            }
            let to_nm = if is_top { tops_nm[i] } else { high_nm };
            added.area_nm2 += (to_nm - from_nm) * widths_nm[i];
            strokes.push(Stroke { from_nm, to_nm, matter, dopants_cm3 });
        }
        paint(section, i, &strokes);
    }
    added
}

/// Lets a material that lies on top flow until surface tension has evened it out over
/// `flow_length_nm`; wherever something else lies on top, its line stays.
///
/// # Model
/// Overhangs and voids sink down first, each column keeps its glass. Every ripple of wavenumber
/// `k` of the surface loses `exp(-k L)` (the kernel `L / (pi (x^2 + L^2))`); each piece of glass
/// keeps its area.
pub fn reflow(section: &mut Section, material: Material, flow_length_nm: f64) {
    let columns = section.columns();
    if !(flow_length_nm.is_finite() && 0.0 < flow_length_nm) {
        return;
    }
    let glass: Vec<Option<Glass>> =
        (0..columns).map(|i| Glass::on_top(section, i, material)).collect();
    let heights_nm: Vec<f64> = (0..columns)
        .map(|i| {
            glass[i].as_ref().map_or(section.top_nm(i), |g| g.floor_nm + g.thickness_nm)
        })
        .collect();
    let smooth_nm = evened(section, &heights_nm, flow_length_nm);
    let mut from = 0;
    while from < columns {
        if glass[from].is_none() {
            from += 1;
            continue;
        }
        let run: Vec<&Glass> = glass[from..].iter().map_while(Option::as_ref).collect();
        let to = from + run.len();
        let widths_nm: Vec<f64> = (from..to).map(|i| section.width_nm(i)).collect();
        let least_nm: Vec<f64> =
            run.iter().map(|g| g.floor_nm + g.thickness_nm.min(WETTING_NM)).collect();
        let area_nm2: f64 =
            heights_nm[from..to].iter().zip(&widths_nm).map(|(z, w)| z * w).sum();
        let tops_nm = leveled(&smooth_nm[from..to], &least_nm, &widths_nm, area_nm2);
        // The run's dopants become even in it, as glass that flows mixes.
        let mut dopants_cm3 = [0.0; DOPANTS];
        let glass_nm2: f64 =
            run.iter().zip(&widths_nm).map(|(g, w)| g.thickness_nm * w).sum();
        for (sum, d) in dopants_cm3.iter_mut().zip(0..) {
            let amount: f64 =
                run.iter().zip(&widths_nm).map(|(g, w)| g.amounts[d] * w).sum();
            *sum = amount / glass_nm2;
        }
        for (i, g) in (from..to).zip(&run) {
            let mut layers: Vec<Layer> = section.layers(i)[..g.kept].to_vec();
            let top_nm = tops_nm[i - from];
            layers.push(Layer { matter: g.matter, top_nm, dopants_cm3 });
            section.set_layers(i, &layers);
        }
        from = to;
    }
}

/// What a column has of a material on top.
#[derive(Clone, Debug)]
struct Glass {
    matter: Matter,
    /// Layers below it.
    kept: usize,
    floor_nm: f64,
    /// Without gaps.
    thickness_nm: f64,
    /// Dopants times thickness.
    amounts: [f64; DOPANTS],
}

impl Glass {
    fn on_top(section: &Section, column: usize, material: Material) -> Option<Self> {
        let layers = section.layers(column);
        let is_glass = |layer: &Layer| layer.matter.material() == Some(material);
        let matter = layers.last().filter(|layer| is_glass(layer))?.matter;
        let above = layers
            .iter()
            .rev()
            .take_while(|layer| is_glass(layer) || layer.matter.is_open())
            .count();
        let kept = layers.len() - above;
        let floor_nm = section.floor_nm(column, kept);
        let (mut thickness_nm, mut amounts) = (0.0, [0.0; DOPANTS]);
        for (k, layer) in layers.iter().enumerate().skip(kept) {
            if is_glass(layer) {
                let height_nm = layer.top_nm - section.floor_nm(column, k);
                thickness_nm += height_nm;
                for (amount, c) in amounts.iter_mut().zip(layer.dopants_cm3) {
                    *amount += c * height_nm;
                }
            }
        }
        Some(Self { matter, kept, floor_nm, thickness_nm, amounts })
    }
}

/// Tops of a liquid: `smooth_nm` at the height at which the area is `area_nm2`, but nowhere
/// below `least_nm`.
fn leveled(
    smooth_nm: &[f64],
    least_nm: &[f64],
    widths_nm: &[f64],
    area_nm2: f64,
) -> Vec<f64> {
    let tops = |shift_nm: f64| {
        smooth_nm.iter().zip(least_nm).map(move |(s, least)| least.max(s + shift_nm))
    };
    let excess = |shift_nm: f64| {
        let area: f64 = tops(shift_nm).zip(widths_nm).map(|(z, w)| z * w).sum();
        area - area_nm2
    };
    // Low enough that the least is everywhere, high enough that nothing is it.
    let whole_nm: f64 = widths_nm.iter().sum();
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for (s, least) in smooth_nm.iter().zip(least_nm) {
        low = low.min(least - s);
        high = high.max(least - s);
    }
    let mean: f64 =
        smooth_nm.iter().zip(widths_nm).map(|(s, w)| s * w).sum::<f64>() / whole_nm;
    high = high.max(area_nm2 / whole_nm - mean) + 1.0;
    // Where even the least is too much there is nothing to level.
    let shift_nm = bisect(excess, low, high).unwrap_or(low);
    tops(shift_nm).collect()
}

/// A surface smoothed over a length: `s - L^2 s'' = h` without flow through the borders.
fn smoothed(section: &Section, heights_nm: &[f64], length_nm: f64) -> Vec<f64> {
    let n = heights_nm.len();
    let squared = length_nm.max(0.0) * length_nm.max(0.0);
    let between = |i: usize| {
        let away_nm = section.center_nm(i + 1) - section.center_nm(i);
        squared / away_nm
    };
    let mut lower = vec![0.0; n];
    let mut upper = vec![0.0; n];
    let mut diagonal: Vec<f64> = (0..n).map(|i| section.width_nm(i)).collect();
    let mut surface: Vec<f64> =
        heights_nm.iter().zip(&diagonal).map(|(h, w)| h * w).collect();
    for i in 0..n.saturating_sub(1) {
        let coupling = between(i);
        diagonal[i] += coupling;
        diagonal[i + 1] += coupling;
        upper[i] = -coupling;
        lower[i + 1] = -coupling;
    }
    solve_tridiagonal(&lower, &diagonal, &upper, &mut surface, &mut vec![0.0; n]);
    surface
}

/// A surface of which every ripple has lost `exp(-k L)`; its mirror images lie beyond the
/// borders.
fn evened(section: &Section, heights_nm: &[f64], length_nm: f64) -> Vec<f64> {
    let edges_nm = section.edges_nm();
    let (first, last) = (edges_nm[0], edges_nm[edges_nm.len() - 1]);
    let reach_nm = FARTHEST * length_nm;
    (0..heights_nm.len())
        .map(|i| {
            let x_nm = section.center_nm(i);
            let (mut sum, mut weight) = (0.0, 0.0);
            // The surface as it is, mirrored on the left, mirrored on the right.
            for x_nm in [x_nm, 2.0 * first - x_nm, 2.0 * last - x_nm] {
                let from = edges_nm.partition_point(|&e| e < x_nm - reach_nm);
                let to = edges_nm.partition_point(|&e| e <= x_nm + reach_nm);
                let mut before = None;
                for edge in from..to {
                    let angle = atan((edges_nm[edge] - x_nm) / length_nm);
                    if let Some(before) = before {
                        sum += (angle - before) * heights_nm[edge - 1];
                        weight += angle - before;
                    }
                    before = Some(angle);
                }
            }
            if weight <= 0.0 { heights_nm[i] } else { sum / weight }
        })
        .collect()
}
