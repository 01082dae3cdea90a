//! What a reader should know before trusting a profile.

use super::request::{Development, NORMALITY, TEMPERATURE_C};
use super::results::DevelopmentResults;
use crate::lithography::imaging::Pattern;
use crate::num::show;
use crate::report::Warning;

/// Share of the thickness that may be lost before the mask gets thin (common practice).
const SMALL_LOSS: f64 = 0.1;

pub(super) fn warnings(
    development: &Development,
    results: &DevelopmentResults,
) -> Vec<Warning> {
    let mut list = Vec::new();
    TEMPERATURE_C.warn_outside(development.temperature_c, "common practice", &mut list);
    NORMALITY.warn_outside(development.normality, "common practice", &mut list);
    let thickness_nm = development.exposure.thickness_nm;
    if !results.cleared {
        let needed = results.time_to_clear_s.map_or_else(
            || "more than 20 times as long".to_owned(),
            |time_s| format!("{} s", show(time_s)),
        );
        list.push(Warning::new(
            "not_cleared",
            "time_s",
            &format!(
                "resist is left in the opening after {} s; it would take {needed}",
                show(results.time_s)
            ),
            "expose more or develop longer",
        ));
    }
    if thickness_nm <= results.loss_nm + 1e-9 {
        list.push(Warning::new(
            "nothing_left",
            "exposure.dose_mj_cm2",
            "no resist is left where it should stay",
            "check the dose, the time and the tone of the resist",
        ));
    } else if SMALL_LOSS * thickness_nm < results.loss_nm {
        list.push(Warning::new(
            "resist_loss",
            "time_s",
            &format!(
                "{} nm of {} nm are lost where the resist should stay",
                show(results.loss_nm),
                show(thickness_nm)
            ),
            "develop more briefly, focus, or take a mask with more contrast",
        ));
    } else if results.cleared
        && development.exposure.mask.pattern != Pattern::Edge
        && results.cd_bottom_um.is_none()
    {
        list.push(Warning::new(
            "feature_gone",
            "exposure.dose_mj_cm2",
            "the drawn feature is not in the resist: lines fell away or openings stayed closed",
            "change the dose toward its size, or widen the drawing",
        ));
    }
    if development.exposure.mask.pattern == Pattern::ContactArray {
        list.push(Warning::new(
            "section_only",
            "exposure.mask.pattern",
            "the developer is followed in the section through the middle of the hole only: a round hole opens more slowly than a slit of its width",
            "take the width as an upper estimate",
        ));
    }
    list
}
