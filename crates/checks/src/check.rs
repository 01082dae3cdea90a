//! One check: a published value and the request that must come to it.

use barewafer_process::RequestError;
use serde::{Serialize, Serializer};
use serde_json::{Map, Value};

/// A published value and how the kernel is asked for it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Check {
    /// Table and row: `oxidation_checks OX07`.
    pub id: String,
    /// The bench of the page that answers it.
    pub bench: String,
    /// The quantity in words.
    pub what: String,
    /// The settings in words.
    pub conditions: String,
    /// The request, as the page and the command send it.
    pub request: Map<String, Value>,
    /// Where in the results the value stands; see [`crate::reading`].
    pub read: String,
    /// What the reading is multiplied with to be in the published unit.
    pub factor: f64,
    /// The published value.
    pub expected: Expected,
    /// Its unit, empty for a plain number.
    pub unit: String,
    /// How far the kernel may be away.
    pub tolerance: f64,
    /// What the tolerance is measured in.
    pub allowed: Allowed,
    /// Where it was published.
    pub source: String,
    /// How it is known, in the words of the table.
    pub known_by: String,
    /// The same as one of `read`, `memory`, `common practice`, `derived`, `computed`.
    pub kind: String,
    /// What else the table says.
    pub note: String,
    /// Why the kernel is known to be further away than the tolerance, or empty.
    pub known_deviation: String,
}

/// A published value.
#[derive(Clone, Debug, PartialEq)]
pub enum Expected {
    /// A number in the unit of the check.
    Number(f64),
    /// A color as `#rrggbb`.
    Color(String),
}

impl Serialize for Expected {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Number(number) => serializer.serialize_f64(*number),
            Self::Color(color) => serializer.serialize_str(color),
        }
    }
}

/// What a tolerance is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Allowed {
    /// A part of the published value.
    Relative,
    /// The unit of the check.
    Absolute,
    /// Steps of a color channel, of 255.
    Channel,
}

impl Check {
    /// Reads a check as [`Check`] is written.
    ///
    /// # Errors
    /// [`RequestError`] naming the first field that is missing or of another kind.
    pub fn from_json(mut fields: Map<String, Value>) -> Result<Self, RequestError> {
        let request = match fields.remove("request") {
            Some(Value::Object(request)) => request,
            _ => return Err(wrong("request", "an object")),
        };
        let text = |name: &'static str| match fields.get(name) {
            Some(Value::String(text)) => Ok(text.clone()),
            _ => Err(wrong(name, "a text")),
        };
        let number = |name: &'static str| {
            fields
                .get(name)
                .and_then(Value::as_f64)
                .ok_or_else(|| wrong(name, "a number"))
        };
        let expected = match fields.get("expected") {
            Some(Value::String(color)) => Expected::Color(color.clone()),
            _ => Expected::Number(number("expected")?),
        };
        let allowed = match text("allowed")?.as_str() {
            "relative" => Allowed::Relative,
            "absolute" => Allowed::Absolute,
            "channel" => Allowed::Channel,
            _ => return Err(wrong("allowed", "relative, absolute, channel")),
        };
        Ok(Self {
            id: text("id")?,
            bench: text("bench")?,
            what: text("what")?,
            conditions: text("conditions")?,
            request,
            read: text("read")?,
            factor: number("factor")?,
            expected,
            unit: text("unit")?,
            tolerance: number("tolerance")?,
            allowed,
            source: text("source")?,
            known_by: text("known_by")?,
            kind: text("kind")?,
            note: text("note")?,
            known_deviation: text("known_deviation")?,
        })
    }
}

fn wrong(field: &str, allowed: &str) -> RequestError {
    RequestError::new(
        "wrong_check",
        field,
        "",
        allowed,
        &format!("the check's field {field} is not {allowed}"),
        "give a check as `barewafer checks --rows` prints it",
    )
}
