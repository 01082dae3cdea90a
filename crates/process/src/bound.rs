//! The allowed range of every number a person can set, declared once.
//!
//! The validator, the error text, the page's sliders and the printed tables all read it here.

use crate::error::RequestError;
use crate::report::Warning;

/// How a slider moves over the range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Scale {
    /// Equal steps.
    Linear,
    /// Equal ratios: doses, concentrations, times over decades.
    Log,
}

/// The range of one number field.
#[derive(Clone, Copy, Debug, serde::Serialize)]
pub struct Bound {
    /// The field's name in a request (`temperature_c`).
    pub field: &'static str,
    /// The quantity in the trade's words ("Furnace temperature").
    pub label: &'static str,
    /// The unit in words for a label ("°C", "nm", "cm⁻²"); empty if dimensionless.
    pub unit: &'static str,
    /// Smallest value that is computed.
    pub min: f64,
    /// Largest value that is computed.
    pub max: f64,
    /// Range in which the model is published or calibrated, if narrower; outside it warns.
    pub published: Option<(f64, f64)>,
    /// Default value, if the field may be omitted.
    pub default: Option<f64>,
    /// Step of the slider (for [`Scale::Log`]: significant digits are kept instead).
    pub step: f64,
    /// How a slider moves over the range.
    pub scale: Scale,
}

impl Bound {
    /// The allowed range with its unit: `600 to 1250 °C`.
    #[must_use]
    pub fn allowed(&self) -> String {
        format!("{} to {}{}", plain(self.min), plain(self.max), self.unit_with_space())
    }

    /// The unit with a space before it, or nothing.
    #[must_use]
    pub fn unit_with_space(&self) -> String {
        if self.unit.is_empty() { String::new() } else { format!(" {}", self.unit) }
    }

    /// Gives the value back if it is finite and inside the range.
    ///
    /// # Errors
    /// [`RequestError`] `out_of_range`, naming field, value and range.
    pub fn check(&self, value: f64) -> Result<f64, RequestError> {
        if value.is_finite() && self.min <= value && value <= self.max {
            Ok(value + 0.0)
        } else {
            Err(RequestError::out_of_range(self.field, self, value))
        }
    }

    /// Checks an optional value and falls back to the default.
    ///
    /// # Errors
    /// As [`Self::check`]; `missing_field` if there is neither value nor default.
    pub fn check_or_default(&self, value: Option<f64>) -> Result<f64, RequestError> {
        match (value, self.default) {
            (Some(value), _) => self.check(value),
            (None, Some(default)) => Ok(default),
            (None, None) => Err(RequestError::missing(
                self.field,
                &self.allowed(),
                &format!("add {} to the request", self.field),
            )),
        }
    }

    /// Adds a warning if the value lies outside the published range.
    pub fn warn_outside(&self, value: f64, source: &str, warnings: &mut Vec<Warning>) {
        let Some((low, high)) = self.published else { return };
        if value < low || high < value {
            let unit = self.unit_with_space();
            let label = self.label.to_ascii_lowercase();
            warnings.push(Warning::new(
                "outside_published_range",
                self.field,
                &format!(
                    "{label} of {value}{unit} is outside the published range of {low} to {high}{unit} ({source}); the result is an extrapolation"
                ),
                &format!("stay within {low} to {high}{unit}, or treat the number as a guess"),
            ));
        }
    }
}

/// A limit as a person writes it: powers of ten for very large and very small numbers.
fn plain(value: f64) -> String {
    let size = value.abs();
    if size != 0.0 && !(1e-3..1e6).contains(&size) {
        format!("{value:e}")
    } else {
        value.to_string()
    }
}

/// A field whose value is one of a list of words.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Choice {
    /// The field's name in a request (`ambient`).
    pub field: &'static str,
    /// The quantity in the trade's words.
    pub label: &'static str,
    /// The allowed words, in the order shown, each with the label a person reads.
    pub values: Vec<(&'static str, &'static str)>,
    /// Default, if the field may be omitted.
    pub default: Option<&'static str>,
}
