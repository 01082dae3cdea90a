//! Published thicknesses that belong to a request, to be drawn on its curve.

use super::law::{Conditions, Surface};
use crate::report::PublishedPoint;
use crate::units::{Length, Temperature};
use crate::vocabulary::{Ambient, WetParameterSet};

/// The same table that the tests hold the kernel against.
const TABLE: &str = include_str!("../../../../tests/reference/oxidation_checks.csv");

/// Temperatures that differ by no more than this (C) are the same.
const SAME_TEMPERATURE_C: f64 = 0.5;

/// The published points for one step at constant temperature, up to a longest time in minutes.
///
/// Only a lightly doped wafer without chloride at 1 atm that starts bare has any; x is the time
/// in min, y the oxide in nm.
pub(super) fn published_points(
    conditions: &Conditions,
    ambient: Ambient,
    temperature: Temperature,
    initial: Length,
    longest_min: f64,
) -> Vec<PublishedPoint> {
    let plain = conditions.doping.is_none()
        && conditions.hcl_percent <= 0.0
        && (conditions.pressure_atm - 1.0).abs() < 1e-9
        && initial.to_um() <= 0.0;
    let Surface::Crystal(orientation) = conditions.surface else { return Vec::new() };
    if !plain {
        return Vec::new();
    }
    let gas = match (ambient, conditions.parameter_set) {
        (Ambient::Wet, WetParameterSet::Wet1988) => "wet_1988",
        _ => ambient.word(),
    };
    let mut lines = TABLE.lines().filter(|line| !line.starts_with('#'));
    let header = fields(lines.next().unwrap_or_default());
    lines
        .filter(|line| line.contains(",thickness"))
        .filter_map(|line| {
            let row = fields(line);
            let text = |name: &str| {
                let column = header.iter().position(|head| head == name)?;
                row.get(column).map(String::as_str)
            };
            let number = |name: &str| text(name)?.parse::<f64>().ok();
            let same = text("ambient")? == gas
                && text("orientation")? == orientation.word()
                && (number("temperature_c")? - temperature.to_celsius()).abs()
                    < SAME_TEMPERATURE_C
                // The thin-oxide rows start from the native nanometer of a bare wafer.
                && number("initial_um")? <= super::data::NATIVE_OXIDE_UM;
            let x = 60.0 * number("time_h")?;
            if !same || longest_min < x {
                return None;
            }
            let to_nm = match text("unit")? {
                "um" => 1e3,
                "nm" => 1.0,
                _ => return None,
            };
            Some(PublishedPoint {
                id: text("id")?.to_owned(),
                curve: "curve",
                x,
                y: to_nm * number("expected")?,
                tolerance: number("tol_rel")?,
                source: text("source")?.to_owned(),
            })
        })
        .collect()
}

/// The fields of one line of comma-separated values; a quoted field may hold commas.
fn fields(line: &str) -> Vec<String> {
    let mut out = vec![String::new()];
    let mut is_quoted = false;
    for c in line.chars() {
        match c {
            '"' => is_quoted = !is_quoted,
            ',' if !is_quoted => out.push(String::new()),
            other => {
                if let Some(last) = out.last_mut() {
                    last.push(other);
                }
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vocabulary::Orientation;

    fn ids(
        orientation: Orientation,
        ambient: Ambient,
        t_c: f64,
        min: f64,
    ) -> Vec<String> {
        let conditions = Conditions {
            surface: Surface::Crystal(orientation),
            ..Conditions::default()
        };
        let temperature = Temperature::celsius(t_c);
        published_points(&conditions, ambient, temperature, Length::nm(0.0), min)
            .into_iter()
            .map(|point| point.id)
            .collect()
    }

    #[test]
    fn points_belong_to_the_same_gas_face_temperature_and_span() {
        let found = ids(Orientation::Face111, Ambient::Wet, 1000.3, 300.0);
        assert_eq!(found, ["OX07", "OX08"]);
        assert_eq!(ids(Orientation::Face111, Ambient::Wet, 1000.3, 90.0), ["OX07"]);
        assert_eq!(
            ids(Orientation::Face100, Ambient::Dry, 1000.0, 60.0),
            ["OX50", "OX51"]
        );
        assert!(ids(Orientation::Face111, Ambient::Wet, 1001.0, 300.0).is_empty());
        assert!(ids(Orientation::Face110, Ambient::Wet, 1000.0, 300.0).is_empty());
    }

    #[test]
    fn a_wafer_with_oxide_or_another_pressure_has_none() {
        let conditions = Conditions { pressure_atm: 2.0, ..Conditions::default() };
        let at = Temperature::celsius(1000.0);
        let bare = Length::nm(0.0);
        assert!(published_points(&conditions, Ambient::Dry, at, bare, 1e3).is_empty());
        let covered = Length::nm(30.0);
        let plain = Conditions::default();
        assert!(published_points(&plain, Ambient::Dry, at, covered, 1e3).is_empty());
    }

    #[test]
    fn quoted_fields_keep_their_commas() {
        assert_eq!(fields(r#"a,"b, c",,d"#), ["a", "b, c", "", "d"]);
    }
}
