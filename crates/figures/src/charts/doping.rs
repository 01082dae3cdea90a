//! What charts and pictures of dopant profiles share: levels, junctions, axes.

use barewafer_process::num::{exp, ln, log10};
use barewafer_process::profile::Profile;
use barewafer_process::vocabulary::{Dopant, DopingType};

use crate::axis::{decades, nice_above};
use crate::chart::{Axis, Role};
use crate::numbers::floor_to_i32;

/// Concentration and type of the wafer below a profile.
///
/// It is what the net doping holds at the deepest point beyond the dopants listed; where a
/// profile has no net doping, a junction tells: there the dopant equals the wafer, and the
/// types are opposite. `None` if neither says anything.
pub(crate) fn substrate(
    profile: &Profile,
    junctions_um: &[f64],
) -> Option<(f64, DopingType)> {
    if profile.net_cm3.is_empty() {
        let (dopant, values) = profile.dopants.first()?;
        let level = value_at(&profile.depth_um, values, *junctions_um.last()?)?;
        return Some((level, dopant.doping_type().opposite()));
    }
    let last = profile.depth_um.len().checked_sub(1)?;
    let net = *profile.net_cm3.get(last)?;
    let listed: f64 = profile
        .dopants
        .iter()
        .filter_map(|(dopant, values)| Some(dopant.charge() * values.get(last)?))
        .sum();
    let rest = net - listed;
    let level = rest.abs();
    // A difference of large numbers is noise, not a wafer.
    if level <= 1e-9 * net.abs().max(listed.abs()) || level < 1e9 {
        return None;
    }
    Some((level, if 0.0 < rest { DopingType::N } else { DopingType::P }))
}

/// The deepest place at which a curve still reaches a level.
pub(crate) fn depth_of(depth: &[f64], values: &[f64], level: f64) -> Option<f64> {
    depth.iter().zip(values).filter(|&(_, &v)| level <= v).map(|(&d, _)| d).next_back()
}

/// The value of a positive curve at an abscissa, on a straight line between the logarithms of
/// its neighbors; `None` outside it.
pub(crate) fn value_at(x: &[f64], y: &[f64], at: f64) -> Option<f64> {
    let n = x.len().min(y.len());
    let (x, y) = (x.get(..n)?, y.get(..n)?);
    let upper = x.partition_point(|&v| v < at);
    if upper == 0 {
        return x.first().filter(|&&first| first <= at).and(y.first().copied());
    }
    let (x0, x1) = (*x.get(upper - 1)?, *x.get(upper)?);
    let (y0, y1) = (*y.get(upper - 1)?, *y.get(upper)?);
    let t = (at - x0) / (x1 - x0);
    Some(if 0.0 < y0 && 0.0 < y1 {
        exp(ln(y0) + t * (ln(y1) - ln(y0)))
    } else {
        y0 + t * (y1 - y0)
    })
}

/// The dopants of a profile with the role of their curves beside the net doping: the one with
/// the highest peak first, for two have a manner of line of their own.
pub(crate) fn ranked(dopants: &[(Dopant, Vec<f64>)]) -> Vec<(Role, Dopant, &[f64])> {
    let peak = |values: &[f64]| values.iter().copied().fold(0.0, f64::max);
    let mut ranked: Vec<&(Dopant, Vec<f64>)> = dopants.iter().collect();
    ranked.sort_by(|a, b| peak(&b.1).total_cmp(&peak(&a.1)));
    let roles =
        [Role::Second, Role::Third].into_iter().chain(core::iter::repeat(Role::Level));
    ranked
        .into_iter()
        .zip(roles)
        .map(|((dopant, values), role)| (role, *dopant, values.as_slice()))
        .collect()
}

/// A depth axis from the surface down to a round number beyond the given depth.
pub(crate) fn depth_axis(deepest_um: f64, label: &str) -> Axis {
    let deepest = deepest_um.max(1e-3);
    let step = nice_above(deepest / 5.0) / 2.0;
    Axis {
        label: label.to_owned(),
        unit: "µm".to_owned(),
        log: false,
        min: 0.0,
        max: (deepest / step * (1.0 - 1e-9)).ceil() * step,
    }
}

/// A concentration axis with whole decades: from one below the wafer's level to the top.
pub(crate) fn concentration_axis(highest: f64, level: Option<f64>) -> Axis {
    let top = floor_to_i32(log10(highest.clamp(1e12, 1e24)) + 0.999);
    let floor = level.map_or(14, |level| floor_to_i32(log10(level.max(1e11)) - 0.3));
    decades("Concentration", "cm⁻³", floor.clamp(11, 17).min(top - 3), top)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_wafer_is_what_the_listed_dopants_do_not_explain() {
        let mut profile = Profile {
            depth_um: vec![0.0, 1.0],
            dopants: vec![(Dopant::Boron, vec![1e18, 1e10])],
            net_cm3: vec![1e15 - 1e18, 1e15 - 1e10],
            active_net_cm3: Vec::new(),
        };
        let (level, kind) = substrate(&profile, &[]).unwrap();
        assert!((level / 1e15 - 1.0).abs() < 1e-9);
        assert_eq!(kind, DopingType::N);
        profile.net_cm3.clear();
        assert_eq!(substrate(&profile, &[]), None);
        // Halfway between 1e18 and 1e10 on the log axis.
        let (level, kind) = substrate(&profile, &[0.5]).unwrap();
        assert!((level / 1e14 - 1.0).abs() < 1e-9);
        assert_eq!(kind, DopingType::N);
    }

    #[test]
    fn values_between_points_are_read_on_the_log_axis() {
        let value = value_at(&[0.0, 2.0], &[1e16, 1e18], 1.0).unwrap();
        assert!((value / 1e17 - 1.0).abs() < 1e-9);
        assert_eq!(value_at(&[0.0, 2.0], &[1e16, 1e18], 3.0), None);
        assert_eq!(value_at(&[], &[], 0.0), None);
    }
}
