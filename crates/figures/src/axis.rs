//! Axis limits and ticks on round numbers.

use barewafer_process::num::{log10, pow};

use crate::chart::Axis;
use crate::numbers::{exponent_of, power_of_ten, tick};

/// A tick: where, and its text (empty for a minor tick).
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// Value on the axis.
    pub value: f64,
    /// Label; empty for a minor tick.
    pub label: String,
}

/// The smallest of 1, 2, 5 times a power of ten that is not below the value.
#[must_use]
pub fn nice_above(value: f64) -> f64 {
    if !value.is_finite() || value <= 0.0 {
        return 1.0;
    }
    let decade = pow(10.0, f64::from(exponent_of(value)));
    let ratio = value / decade;
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .find(|&step| ratio <= step * (1.0 + 1e-9))
        .unwrap_or(10.0);
    step * decade
}

/// The largest of 1, 2, 5 times a power of ten that is not above the value.
#[must_use]
pub fn nice_below(value: f64) -> f64 {
    if !value.is_finite() || value <= 0.0 {
        return 1.0;
    }
    let decade = pow(10.0, f64::from(exponent_of(value)));
    let ratio = value / decade;
    let step = [5.0, 2.0, 1.0]
        .into_iter()
        .find(|&step| step <= ratio * (1.0 + 1e-9))
        .unwrap_or(1.0);
    step * decade
}

/// A linear axis from 0 (or below) that holds all values, its ends on round numbers.
#[must_use]
pub fn linear(label: &str, unit: &str, values: impl Iterator<Item = f64>) -> Axis {
    let (low, high) = extent(values.chain([0.0]));
    let span = if low < high { high - low } else { 1.0 };
    let step = nice_above(span / 5.0) / 2.0;
    Axis {
        label: label.to_owned(),
        unit: unit.to_owned(),
        log: false,
        min: (low / step).floor() * step,
        max: ((low + span) / step * (1.0 - 1e-12)).ceil() * step,
    }
}

/// A logarithmic axis with ends on 1, 2 or 5 that holds all positive values, but shows no less
/// than the floor and at least half a decade.
#[must_use]
pub fn log(
    label: &str,
    unit: &str,
    values: impl Iterator<Item = f64>,
    floor: f64,
) -> Axis {
    let (low, high) = extent(values.filter(|&v| 0.0 < v));
    let (low, high) =
        if 0.0 < low && low <= high { (low, high) } else { (floor, 10.0 * floor) };
    let high = nice_above(high.max(3.2 * floor));
    let low = nice_below(low.max(floor).min(high / 3.2));
    Axis {
        label: label.to_owned(),
        unit: unit.to_owned(),
        log: true,
        min: low,
        max: high,
    }
}

/// A logarithmic axis whose ends are whole decades.
#[must_use]
pub fn decades(label: &str, unit: &str, lowest: i32, highest: i32) -> Axis {
    Axis {
        label: label.to_owned(),
        unit: unit.to_owned(),
        log: true,
        min: pow(10.0, f64::from(lowest)),
        max: pow(10.0, f64::from(highest.max(lowest + 1))),
    }
}

/// The smallest and the largest finite value; `(inf, -inf)` if there is none.
#[must_use]
pub fn extent(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values
        .filter(|v| v.is_finite())
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| {
            (low.min(v), high.max(v))
        })
}

impl Axis {
    /// Where a value lies on the axis: 0 at the lower end, 1 at the upper; no value for what
    /// the axis cannot show.
    #[must_use]
    pub fn place(&self, value: f64) -> Option<f64> {
        if self.log {
            (0.0 < value).then(|| {
                (log10(value) - log10(self.min)) / (log10(self.max) - log10(self.min))
            })
        } else {
            Some((value - self.min) / (self.max - self.min))
        }
        .filter(|place| place.is_finite())
    }

    /// The value at a place, the inverse of [`Self::place`].
    #[must_use]
    pub fn value_at(&self, place: f64) -> f64 {
        if self.log {
            pow(10.0, log10(self.min) + place * (log10(self.max) - log10(self.min)))
        } else {
            self.min + place * (self.max - self.min)
        }
    }

    /// Whether the axis has a length.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.min.is_finite()
            && self.max.is_finite()
            && self.min < self.max
            && (!self.log || 0.0 < self.min)
    }

    /// The label with its unit: `Oxide thickness (nm)`.
    #[must_use]
    pub fn title(&self) -> String {
        if self.unit.is_empty() {
            self.label.clone()
        } else {
            format!("{} ({})", self.label, self.unit)
        }
    }

    /// The axis that holds this one and another of the same kind.
    #[must_use]
    pub fn joined(&self, other: &Self) -> Self {
        if self.log == other.log && self.unit == other.unit && other.is_sound() {
            Self {
                min: self.min.min(other.min),
                max: self.max.max(other.max),
                ..self.clone()
            }
        } else {
            self.clone()
        }
    }

    /// Ticks for an axis with room for about `room` labels.
    #[must_use]
    pub fn ticks(&self, room: f64) -> Vec<Tick> {
        if !self.is_sound() {
            return Vec::new();
        }
        let room = room.clamp(2.0, 20.0);
        if self.log { self.log_ticks(room) } else { self.linear_ticks(room) }
    }

    fn linear_ticks(&self, room: f64) -> Vec<Tick> {
        let step = nice_above((self.max - self.min) / room);
        let lead = step / pow(10.0, f64::from(exponent_of(step)));
        let parts = if (1.5..3.0).contains(&lead) { 4.0 } else { 5.0 };
        let minor = step / parts;
        let mut ticks = Vec::new();
        let mut i = (self.min / minor - 1e-6).ceil();
        while i * minor <= self.max + 1e-6 * minor && ticks.len() < 300 {
            let major = (i / parts - (i / parts).round()).abs() < 1e-6;
            let value = i * minor;
            ticks.push(Tick {
                value,
                label: if major { tick(value, step) } else { String::new() },
            });
            i += 1.0;
        }
        ticks
    }

    fn log_ticks(&self, room: f64) -> Vec<Tick> {
        let (first, last) = (exponent_of(self.min), exponent_of(self.max));
        let span = log10(self.max / self.min);
        // Few decades of everyday numbers are read more easily as numbers.
        let plain = span < 2.0 && 1e-3 <= self.min && self.max < 1e6;
        let within =
            |v: f64| self.min * (1.0 - 1e-9) <= v && v <= self.max * (1.0 + 1e-9);
        let every = (1..=40).find(|&n| span / f64::from(n) + 1.0 <= room).unwrap_or(40);
        let fine: &[f64] = if 3.0 * span + 1.0 <= room { &[2.0, 5.0] } else { &[5.0] };
        let fine: &[f64] = if plain && 2.0 * span + 1.0 <= room { fine } else { &[] };
        let mut ticks = Vec::new();
        for exponent in first..=last.min(first + 300) {
            let decade = pow(10.0, f64::from(exponent));
            for digit in 1..10_u8 {
                let value = f64::from(digit) * decade;
                if !within(value) || (1 < digit && 2 < every) {
                    continue;
                }
                let label = if digit == 1 && exponent.rem_euclid(every) == 0 {
                    if plain { tick(value, decade) } else { power_of_ten(exponent) }
                } else if fine.iter().any(|&f| (f - f64::from(digit)).abs() < 0.5) {
                    tick(value, decade)
                } else {
                    String::new()
                };
                ticks.push(Tick { value, label });
            }
        }
        ticks
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels(axis: &Axis, room: f64) -> Vec<String> {
        axis.ticks(room).into_iter().map(|t| t.label).filter(|l| !l.is_empty()).collect()
    }

    #[test]
    fn ends_are_round_and_hold_the_values() {
        let axis = linear("Oxide", "nm", [0.0, 434.0].into_iter());
        assert!(axis.min.abs() < 1e-12 && (axis.max - 450.0).abs() < 1e-9, "{axis:?}");
        let axis = log("Film", "nm", [1150.0, 1e5].into_iter(), 1.0);
        assert!((axis.min - 1000.0).abs() < 1e-9 && (axis.max - 1e5).abs() < 1e-6);
        let empty = log("Film", "nm", std::iter::empty(), 1e14);
        assert!(empty.is_sound() && 0.0 < empty.min);
        assert!(linear("", "", [f64::NAN].into_iter()).is_sound());
        assert!(log("", "", [5.0].into_iter(), 1.0).is_sound());
    }

    #[test]
    fn concentration_axes_have_powers_of_ten() {
        let axis = decades("Concentration", "cm⁻³", 14, 21);
        let all = ["10¹⁴", "10¹⁵", "10¹⁶", "10¹⁷", "10¹⁸", "10¹⁹", "10²⁰", "10²¹"];
        assert_eq!(labels(&axis, 12.0), all);
        assert_eq!(labels(&axis, 5.0), ["10¹⁴", "10¹⁶", "10¹⁸", "10²⁰"]);
        assert!(axis.ticks(12.0).iter().filter(|t| t.label.is_empty()).count() == 8 * 7);
    }

    #[test]
    fn short_log_axes_have_numbers() {
        let axis = log("Speed", "rpm", [1000.0, 8000.0].into_iter(), 1.0);
        assert_eq!(labels(&axis, 8.0), ["1000", "2000", "5000", "10\u{202f}000"]);
    }

    #[test]
    fn linear_ticks_are_round_and_few() {
        let axis = linear("Time", "min", [0.0, 60.0].into_iter());
        assert_eq!(labels(&axis, 7.0), ["0", "10", "20", "30", "40", "50", "60"]);
        assert_eq!(labels(&axis, 4.0), ["0", "20", "40", "60"]);
    }

    #[test]
    fn place_and_value_are_inverse() {
        for axis in
            [decades("C", "cm⁻³", 14, 21), linear("x", "um", [0.0, 3.0].into_iter())]
        {
            for place in [0.0, 0.3, 1.0] {
                let back = axis.place(axis.value_at(place)).unwrap();
                assert!((back - place).abs() < 1e-12);
            }
        }
        assert_eq!(decades("C", "", 14, 21).place(0.0), None);
    }
}
