//! What a whole run sheet uses: the cautions of every step, and the mistakes between them.

use serde::Serialize;
use serde_json::Value;

use super::chemistry::of_request;
use super::sequence::{Finding, sequence};
use super::sort_worst_first;
use crate::error::RequestError;

/// Most steps of a run sheet that are read.
const MOST_STEPS: usize = 1000;

/// The safety sheet of a flow.
#[derive(Clone, Debug, Serialize)]
pub struct Sheet {
    /// Title of the flow, or empty.
    pub title: String,
    /// Step by step.
    pub steps: Vec<SheetStep>,
    /// Ids of everything used, worst first.
    pub hazards: Vec<&'static str>,
    /// Known mistakes between the steps.
    pub findings: Vec<Finding>,
}

/// A step of a safety sheet.
#[derive(Clone, Debug, Serialize)]
pub struct SheetStep {
    /// Its id, or its number from 1.
    pub id: String,
    /// Its operation, or empty.
    pub operation: String,
    /// What it is for, or empty.
    pub purpose: String,
    /// Ids of its hazards, worst first.
    pub hazards: Vec<&'static str>,
}

/// The sheet of a flow `{"title", "steps": [...]}`, of a list of steps, or of one request.
///
/// # Errors
/// [`RequestError`] if it is none of these, or has too many steps.
pub fn sheet(value: &Value) -> Result<Sheet, RequestError> {
    let refuse = |found: &str| {
        RequestError::new(
            "wrong_type",
            "steps",
            found,
            "a flow with steps, a list of steps, or one request",
            &format!("steps: {found} is no run sheet"),
            "give a flow file, or the request of one step",
        )
    };
    let one;
    let values = match value {
        Value::Array(list) => list.as_slice(),
        Value::Object(object) => match object.get("steps") {
            Some(Value::Array(list)) => list.as_slice(),
            Some(_) => return Err(refuse("what stands in steps")),
            None if object.contains_key("operation") => {
                one = [value.clone()];
                &one
            }
            None => return Err(refuse("an object without steps and operation")),
        },
        _ => return Err(refuse("this")),
    };
    if values.is_empty() {
        return Err(refuse("an empty list"));
    }
    if MOST_STEPS < values.len() {
        return Err(refuse(&format!(
            "a list of {} steps (at most {MOST_STEPS})",
            values.len()
        )));
    }
    let mut hazards = Vec::new();
    let mut steps = Vec::with_capacity(values.len());
    for (idx, value) in values.iter().enumerate() {
        let outer =
            value.as_object().ok_or_else(|| refuse("a step that is no object"))?;
        let request = outer.get("step").and_then(Value::as_object).unwrap_or(outer);
        let text = |field: &str| {
            let found = outer.get(field).or_else(|| request.get(field));
            found.and_then(Value::as_str).unwrap_or_default().to_owned()
        };
        let own = of_request(request);
        hazards.extend_from_slice(&own);
        steps.push(SheetStep {
            id: match outer.get("id") {
                Some(Value::String(id)) => id.clone(),
                Some(Value::Number(id)) => id.to_string(),
                _ => (idx + 1).to_string(),
            },
            operation: text("operation"),
            purpose: text("purpose"),
            hazards: own,
        });
    }
    sort_worst_first(&mut hazards);
    let title = value.get("title").and_then(Value::as_str).unwrap_or_default().to_owned();
    Ok(Sheet { title, steps, hazards, findings: sequence(values) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_flow_a_list_and_one_request_are_read() {
        let steps = json!([
            {"id": "a", "purpose": "Clean.", "step": {"operation": "clean", "recipe": "sc2"}},
            {"operation": "clean", "recipe": "sc1"}
        ]);
        let flow = sheet(&json!({"title": "T", "steps": steps})).unwrap();
        assert_eq!((flow.title.as_str(), flow.steps.len()), ("T", 2));
        assert_eq!(flow.steps[0].purpose, "Clean.");
        assert_eq!(
            (flow.steps[0].operation.as_str(), flow.steps[1].id.as_str()),
            ("clean", "2")
        );
        assert_eq!(flow.hazards, ["SC1", "NH4OH", "HCL", "SC2", "H2O2"]);
        assert_eq!(flow.findings[0].steps, ["a", "2"]);
        assert_eq!(sheet(&steps).unwrap().hazards, flow.hazards);
        let one = sheet(&json!({"operation": "development"})).unwrap();
        assert_eq!(one.hazards, ["TMAH238"]);
    }

    #[test]
    fn what_is_no_run_sheet_is_refused_by_name() {
        for value in [
            json!(7),
            json!([]),
            json!({}),
            json!({"steps": 7}),
            json!([7]),
            json!(vec![json!({}); MOST_STEPS + 1]),
        ] {
            let error = sheet(&value).unwrap_err();
            assert_eq!(error.field, "steps");
            assert!(error.message.contains("run sheet"), "{}", error.message);
        }
    }

    #[test]
    fn a_step_that_nobody_knows_is_treated_as_hf() {
        let flow = sheet(&json!([{"operation": "lift_off"}, {}])).unwrap();
        assert_eq!(flow.steps[0].hazards, ["UNKNOWN"]);
        assert_eq!(flow.steps[1].hazards, ["UNKNOWN"]);
    }
}
