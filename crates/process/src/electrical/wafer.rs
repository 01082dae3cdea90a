//! A wafer as it is ordered: by the concentration of its dopant, or by its resistivity.

use serde::Deserialize;

use super::resistivity::{f723_concentration_cm3, f723_ohm_cm};
use crate::num::show;
use crate::vocabulary::{DopingType, Substrate};

/// A wafer of a request, before its concentration is known.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct GivenWafer {
    #[serde(rename = "type")]
    pub(crate) doping_type: DopingType,
    concentration_cm3: Option<f64>,
    resistivity_ohm_cm: Option<f64>,
}

impl GivenWafer {
    /// The concentration per cm3; `None` if neither it nor a resistivity is given.
    ///
    /// # Model
    /// [`f723_ohm_cm`] inverted: boron in p-type, phosphorus in n-type silicon at 23 C.
    ///
    /// # Errors
    /// What is allowed, in words.
    pub(crate) fn concentration_cm3(self) -> Result<Option<f64>, String> {
        let Some(ohm_cm) = self.resistivity_ohm_cm else {
            return Ok(self.concentration_cm3);
        };
        if self.concentration_cm3.is_some() {
            return Err("concentration_cm3 or resistivity_ohm_cm, not both".to_owned());
        }
        let found = f723_concentration_cm3(self.doping_type, ohm_cm);
        found.map(Some).ok_or_else(|| {
            let ends = [1e20, 1e13].map(|n| show(f723_ohm_cm(self.doping_type, n)));
            let [least, most] = ends;
            format!(
                "a resistivity_ohm_cm of {least} to {most} ohm cm for {} silicon",
                self.doping_type.label()
            )
        })
    }
}

impl TryFrom<GivenWafer> for Substrate {
    type Error = String;

    fn try_from(given: GivenWafer) -> Result<Self, String> {
        // The words of serde itself, from which the one line of an error is made.
        let expected = |allowed: String| format!("expected {allowed}");
        let concentration = given.concentration_cm3().map_err(expected)?;
        Ok(Self {
            doping_type: given.doping_type,
            concentration_cm3: concentration
                .ok_or_else(|| "missing field `concentration_cm3`".to_owned())?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::request::decode;
    use serde_json::json;

    #[test]
    fn ten_ohm_cm_of_p_silicon_hold_1_3e15_boron() {
        let wafer: Substrate =
            decode(&json!({"type": "p", "resistivity_ohm_cm": 10})).unwrap();
        assert!((wafer.concentration_cm3 / 1.34e15 - 1.0).abs() < 0.01);
        for (wrong, words) in [
            (json!({"type": "p", "resistivity_ohm_cm": 1e9}), "for p-type silicon"),
            (json!({"type": "n", "resistivity_ohm_cm": -1}), "for n-type silicon"),
            (
                json!({"type": "n", "resistivity_ohm_cm": 1, "concentration_cm3": 1e15}),
                "not both",
            ),
            (json!({"type": "n"}), "missing field `concentration_cm3`"),
        ] {
            let error = decode::<Substrate>(&wrong).unwrap_err();
            assert!(error.message.contains(words), "{error}");
        }
    }
}
