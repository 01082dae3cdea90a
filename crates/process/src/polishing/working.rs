//! The derivation of a planarization with the reader's numbers, and what may go wrong.

use super::PlanarizationResults;
use super::request::{PRESSURE_KPA, Planarization, SPEED_M_S, TIME_S};
use crate::num::show;
use crate::report::{Warning, WorkingLine};

const PRESTON: &str = "F. W. Preston, J. Soc. Glass Technol. 11, 214 (1927) (memory); coefficient of oxide from 100-300 nm/min (common practice, derived)";
const LEVELING: &str = "B. E. Stine et al., Proc. CMP-MIC (1997) (memory): high places bear the whole load until the step is gone";

pub(super) fn working(
    polish: &Planarization,
    results: &PlanarizationResults,
) -> Vec<WorkingLine> {
    let mut lines = Vec::new();
    let mut line = |equation: &str, substituted: String, value, unit, source: &str| {
        lines.push(WorkingLine::new(equation, substituted, value, unit, source));
    };
    let rate = results.rate_nm_min;
    let (d, h) = (results.thickness_nm, results.initial_step_height_nm);
    let rho = results.dense_fraction;
    line(
        "R = K P V",
        format!(
            "R = {} · {} kPa · {} m/s",
            show(polish.preston_per_pa),
            show(polish.pressure_kpa),
            show(polish.speed_m_s)
        ),
        rate,
        "nm/min",
        PRESTON,
    );
    if 0.0 < h {
        line(
            "R_high = R / ρ, while there is a step",
            format!("R_high = {} / {}", show(rate), show(rho)),
            results.high_rate_nm_min,
            "nm/min",
            LEVELING,
        );
        if let Some(level_s) = results.time_to_level_s {
            line(
                "t_level = 60 ρ h / R",
                format!("t_level = 60 · {} · {} / {}", show(rho), show(h), show(rate)),
                level_s,
                "s",
                LEVELING,
            );
        }
    }
    let high = h.min(d);
    line(
        "t_clear = 60 [ρ min(h, d) + d − min(h, d)] / R",
        format!(
            "t_clear = 60 · [{} · {} + {} − {}] / {}",
            show(rho),
            show(high),
            show(d),
            show(high),
            show(rate)
        ),
        results.time_to_clear_s,
        "s",
        "high places first, then all alike (derived)",
    );
    if let Some(target_nm) = polish.target_nm {
        line(
            "t, so that the film to be left stays on the high places",
            format!("t({} nm left of {})", show(target_nm), show(d)),
            results.time_s,
            "s",
            "the same two rates, solved for the time (derived)",
        );
    }
    line(
        "step left = h − removed on the high places, at least 0",
        format!(
            "{} − {}",
            show(h),
            show(results.removed_nm + results.stop_layer_loss_nm.unwrap_or(0.0))
        ),
        results.step_height_nm,
        "nm",
        LEVELING,
    );
    line(
        "mean film = ρ d_high + (1 − ρ) d_low",
        format!(
            "{} · {} + {} · {}",
            show(rho),
            show(results.remaining_nm),
            show(1.0 - rho),
            show(results.low_remaining_nm)
        ),
        results.mean_thickness_nm,
        "nm",
        "mean over the area",
    );
    if let (Some(loss_nm), Some(selectivity)) =
        (results.stop_layer_loss_nm, results.selectivity)
    {
        line(
            "stop loss = R (t − t_clear) / (60 S), on the share ρ while there is a step",
            format!(
                "{} · ({} − {}) / (60 · {}), at least 0",
                show(rate),
                show(results.time_s),
                show(results.time_to_clear_s),
                show(selectivity)
            ),
            loss_nm,
            "nm",
            "oxide over nitride 3-5 in silica slurry (common practice), or as given",
        );
    }
    lines
}

pub(super) fn warnings(
    polish: &Planarization,
    results: &PlanarizationResults,
) -> Vec<Warning> {
    let mut list = Vec::new();
    PRESSURE_KPA.warn_outside(polish.pressure_kpa, "use of polishers", &mut list);
    SPEED_M_S.warn_outside(polish.speed_m_s, "use of polishers", &mut list);
    let mut warn = |code: &'static str, field: &str, message: String, hint: &str| {
        list.push(Warning::new(code, field, &message, hint));
    };
    let cleared = results.remaining_nm <= 0.0;
    if TIME_S.max < results.time_s {
        warn(
            "too_slow",
            "time_s",
            format!("it would take {} h", show(results.time_s / 3600.0)),
            "raise pressure or speed, or leave more film",
        );
    }
    if 0.0 < results.step_height_nm {
        warn(
            "not_level",
            "time_s",
            match results.time_to_level_s {
                Some(level_s) => format!(
                    "a step of {} nm is left; it is gone after {} s",
                    show(results.step_height_nm),
                    show(level_s)
                ),
                None => format!(
                    "the film of {} nm is thinner than the step of {} nm: it is gone on the high places before the wafer is level",
                    show(results.thickness_nm),
                    show(results.initial_step_height_nm)
                ),
            },
            if results.time_to_level_s.is_some() {
                "polish longer"
            } else {
                "deposit more film than the step is high"
            },
        );
    }
    if cleared && polish.stop.is_none() {
        warn(
            "film_gone",
            "time_s",
            "the film over the high places is gone, and what lies below is polished"
                .to_owned(),
            "polish shorter, start from a thicker film, or add a stop layer",
        );
    }
    if cleared && polish.stop.is_some() && results.time_to_clear_s < results.time_s {
        warn(
            "dishing",
            "time_s",
            "past the stop layer the pad hollows out wide filled places by 20 to 100 nm, which is not computed"
                .to_owned(),
            "stop soon after the stop layer is bare; split wide places with dummy features",
        );
    }
    if 0.0 < results.initial_step_height_nm {
        warn(
            "one_density",
            "dense_fraction",
            "one share of high area is taken for the whole wafer: neighbors within 3 to 10 mm share the load, and denser blocks end up thicker"
                .to_owned(),
            "read it as the mean over the planarization length",
        );
    }
    if !polish.preston_given
        && polish.material != crate::vocabulary::Material::DepositedOxide
    {
        warn(
            "estimated_rate",
            "material",
            format!(
                "the Preston coefficient of deposited oxide is taken for {}; glass goes faster",
                polish.material.label()
            ),
            "give preston_per_pa from a test wafer",
        );
    }
    list
}
