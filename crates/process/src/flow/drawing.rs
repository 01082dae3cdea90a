//! The drawing of a flow without its steps: masks, section line, rules and which step prints
//! which mask. It is read while a figure is being dragged, when nothing can run yet.

use serde_json::{Map, Value};

use super::file::{SectionFields, rules};
use super::layout::{Layout, LayoutFields, Line, Rule, RuleBreak, breaks};
use super::task::PrintingFields;
use crate::error::RequestError;
use crate::request::{parse, read_fields};

/// What is drawn, and when it is printed.
#[derive(Clone, Debug)]
pub struct Drawing {
    /// The masks.
    pub layout: Layout,
    /// Where the wafer is cut.
    pub section: Line,
    /// Design rules of the file; the built-in ones hold beside them.
    pub rules: Vec<Rule>,
    /// Every exposure, in order.
    pub prints: Vec<Print>,
}

/// One exposure of a mask.
#[derive(Clone, Debug, PartialEq)]
pub struct Print {
    /// Its step, from 0.
    pub step: usize,
    /// The level of the mask.
    pub level: String,
    /// How far off its place the mask is printed, in um.
    pub overlay_um: [f64; 2],
}

impl Drawing {
    /// Reads `layout`, `section`, `rules` and the exposures of a flow; anything else of it may
    /// be missing or wrong.
    ///
    /// # Errors
    /// [`RequestError`] for a drawing, a section line, a rule or an overlay error that is none.
    pub fn from_text(text: &[u8]) -> Result<Self, RequestError> {
        let mut fields = parse(text)?;
        let mut part = |field: &str| match fields.remove(field) {
            Some(Value::Object(part)) => Ok(part),
            _ => Err(RequestError::missing(field, "an object", &format!("add {field}"))),
        };
        let inside = |error: RequestError, field: &str| error.inside(field);
        let layout: LayoutFields =
            read_fields(part("layout")?).map_err(|error| inside(error, "layout"))?;
        let layout = layout.check().map_err(|error| inside(error, "layout"))?;
        let section: SectionFields =
            read_fields(part("section")?).map_err(|error| inside(error, "section"))?;
        let section = section.check().map_err(|error| inside(error, "section"))?;
        let given = match fields.remove("rules") {
            Some(Value::Array(list)) => list,
            _ => Vec::new(),
        };
        let mut read = Vec::with_capacity(given.len());
        for (i, rule) in given.into_iter().enumerate() {
            let object = rule.as_object().cloned().unwrap_or_default();
            read.push(
                read_fields(object)
                    .map_err(|error| inside(error, &format!("rules[{i}]")))?,
            );
        }
        let rules = rules(read, &layout)?;
        let steps = match fields.remove("steps") {
            Some(Value::Array(list)) => list,
            _ => Vec::new(),
        };
        let mut prints = Vec::new();
        for (step, object) in steps.iter().enumerate() {
            if let Some(fields) = object.get("step").and_then(Value::as_object) {
                prints.extend(Print::of(step, fields, &layout)?);
            }
        }
        Ok(Self { layout, section, rules, prints })
    }

    /// Where the layout breaks its rules, as [`super::Flow::rule_breaks`] has it.
    #[must_use]
    pub fn rule_breaks(&self) -> Vec<RuleBreak> {
        breaks(&self.layout, &self.rules)
    }

    /// The last print of each level in the first so many steps, with its overlay error in um.
    #[must_use]
    pub fn printed(&self, steps: usize) -> Vec<(String, [f64; 2])> {
        let mut printed: Vec<(String, [f64; 2])> = Vec::new();
        for print in self.prints.iter().take_while(|print| print.step < steps) {
            printed.retain(|(level, _)| *level != print.level);
            printed.push((print.level.clone(), print.overlay_um));
        }
        printed
    }
}

impl Print {
    /// The print of a step; none if it is no exposure of a level of the layout.
    fn of(
        step: usize,
        fields: &Map<String, Value>,
        layout: &Layout,
    ) -> Result<Option<Self>, RequestError> {
        if fields.get("operation").and_then(Value::as_str) != Some("exposure") {
            return Ok(None);
        }
        let own: Map<String, Value> = ["mask_level", "overlay_um"]
            .into_iter()
            .filter_map(|field| Some((field.to_owned(), fields.get(field)?.clone())))
            .collect();
        let in_step = |error: RequestError| error.inside(&format!("steps[{step}].step"));
        let own: PrintingFields = read_fields(own).map_err(in_step)?;
        let mask = own.mask_level.as_deref().and_then(|level| layout.mask(level));
        let Some(mask) = mask else { return Ok(None) };
        let overlay_um = match own.overlay_um {
            Some(offset) => offset.check().map_err(in_step)?,
            None => mask.overlay_um,
        };
        Ok(Some(Self { step, level: mask.level.clone(), overlay_um }))
    }
}

#[cfg(test)]
mod tests {
    use super::super::Flow;
    use super::*;

    const CMOS: &[u8] = include_bytes!("../../../../www/flows/full-cmos.json");

    fn cmos(change: impl FnOnce(&mut Value)) -> Vec<u8> {
        let mut value: Value = serde_json::from_slice(CMOS).unwrap();
        change(&mut value);
        value.to_string().into_bytes()
    }

    #[test]
    fn it_is_what_the_whole_flow_has() {
        let (drawing, flow) =
            (Drawing::from_text(CMOS).unwrap(), Flow::from_text(CMOS).unwrap());
        assert_eq!(drawing.layout, flow.layout);
        assert_eq!(drawing.section, flow.section);
        assert_eq!(drawing.rule_breaks(), flow.rule_breaks());
        for steps in 0..=flow.steps.len() {
            assert_eq!(
                drawing.printed(steps),
                super::super::printed_levels(&flow, steps)
            );
        }
        assert_eq!(drawing.prints.len(), 9);
    }

    #[test]
    fn a_wrong_step_does_not_keep_the_drawing_from_being_read() {
        let text = cmos(|v| v["steps"][3]["step"] = "nonsense".into());
        assert!(Flow::from_text(&text).is_err());
        assert_eq!(Drawing::from_text(&text).unwrap().layout.masks.len(), 7);
    }

    #[track_caller]
    fn refused(change: impl FnOnce(&mut Value), words: &[&str]) {
        let error = Drawing::from_text(&cmos(change)).unwrap_err();
        for word in words {
            assert!(error.message.contains(word), "{word} in {}", error.message);
        }
    }

    #[test]
    fn what_is_wrong_with_it_is_named_with_value_and_range() {
        refused(
            |v| v["section"]["from"][1] = 2e5.into(),
            &["section.from[1]", "200000", "-100000 to 100000 µm"],
        );
        refused(
            |v| v["section"]["to"] = v["section"]["from"].clone(),
            &["section.to", "0 µm", "0.1 to 2000 µm"],
        );
        refused(
            |v| v["layout"]["masks"][2]["rectangles"][0][2] = 20.into(),
            &["layout.masks[2].rectangles[0]", "no area"],
        );
        refused(
            |v| v["steps"][4]["step"]["overlay_um"]["y"] = 300.into(),
            &["steps[4].step.overlay_um.y", "300", "-100 to 100 µm"],
        );
    }

    #[test]
    fn a_contact_outside_its_metal_breaks_a_rule_at_once() {
        let text = cmos(|v| {
            v["layout"]["masks"][5]["rectangles"][0] = vec![2, 10, 4, 12].into()
        });
        let drawing = Drawing::from_text(&text).unwrap();
        let before = Drawing::from_text(CMOS).unwrap().rule_breaks().len();
        assert_eq!(drawing.rule_breaks().len(), before, "it touches no metal at all");
        let text = cmos(|v| {
            v["layout"]["masks"][5]["rectangles"][0] = vec![4, 10, 6, 12].into()
        });
        let found = Drawing::from_text(&text).unwrap().rule_breaks();
        assert!(found.iter().any(|b| b.message.contains("CONTACT")), "{found:?}");
    }
}
