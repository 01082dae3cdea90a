//! The bell curve: its height and the constants of Pearson's type IV.

use super::{GAUSSIAN, HOFKER};
use crate::implantation::calculation::{Calculation, channeled_of};
use crate::implantation::distribution::{GAUSSIAN_PEAK, Moments};
use crate::implantation::pearson::smallest_kurtosis;
use crate::implantation::request::ImplantationModel;
use crate::num::show;
use crate::report::WorkingLine;

/// Height of the bell and, for a Pearson curve, its constants.
pub(super) fn bell(calculation: &Calculation, lines: &mut Vec<WorkingLine>) {
    let (dose_cm2, moments) = (calculation.settings.dose_cm2, calculation.moments);
    let sigma_cm = 1e-7 * moments.sigma_nm;
    let estimate = match calculation.settings.model {
        ImplantationModel::Gaussian => "Cp = Q/(sqrt(2 pi) dRp') = 0.399 Q/dRp'",
        _ => "Cp of a Gaussian (estimate) = 0.399 Q/dRp'",
    };
    lines.push(WorkingLine::new(
        estimate,
        format!("0.399 * {} cm^-2 / {} cm", show(dose_cm2), show(sigma_cm)),
        GAUSSIAN_PEAK * dose_cm2 / sigma_cm,
        "cm^-3",
        GAUSSIAN,
    ));
    if let Some(shape) = calculation.shape {
        if shape.gaussian {
            lines.push(WorkingLine::new(
                "|g| < 0.05: the curve is drawn as a Gaussian",
                format!("g = {}", show(moments.skewness)),
                moments.skewness,
                "",
                "model choice",
            ));
        } else {
            pearson(calculation, moments, lines);
        }
    }
    if calculation.settings.model == ImplantationModel::DualPearson {
        let (second, share) = channeled_of(calculation);
        lines.push(WorkingLine::new(
            "C = Q [(1 - r) f1 + r f2], r = r0/(1 + Q/Qc), Rp2 = 1.4 Rp + 30 nm, dRp2 = 1.8 dRp",
            format!(
                "Rp2 = {} nm, dRp2 = {} nm, r",
                show(second.mean_nm),
                show(second.sigma_nm)
            ),
            share,
            "",
            "illustrative: form of A. F. Tasch et al., J. Electrochem. Soc. 136, 810 (1989), numbers of this lab",
        ));
    }
}

fn pearson(calculation: &Calculation, moments: Moments, lines: &mut Vec<WorkingLine>) {
    let (Some(shape), Some(curve)) =
        (calculation.shape, calculation.distribution().pearson_curve())
    else {
        return;
    };
    let (sigma_nm, g, beta) = (moments.sigma_nm, shape.skewness, shape.kurtosis);
    let along = calculation.beam_moments;
    let source = match &calculation.statistics {
        Some(_) => "computed: silicon table, linear in ln E",
        None => "the request's moments",
    };
    lines.push(WorkingLine::new(
        "g' = g (dRp cos(tilt)/dRp')^3",
        format!(
            "{} * ({} cos({} deg)/{})^3",
            show(along.skewness),
            show(along.sigma_nm),
            show(calculation.settings.tilt_deg),
            show(sigma_nm)
        ),
        moments.skewness,
        "",
        source,
    ));
    lines.push(WorkingLine::new(
        "beta' = 3 + (beta - 3) (dRp cos(tilt)/dRp')^4",
        format!(
            "3 + ({} - 3) * ({} cos({} deg)/{})^4",
            show(along.kurtosis),
            show(along.sigma_nm),
            show(calculation.settings.tilt_deg),
            show(sigma_nm)
        ),
        moments.kurtosis,
        "",
        source,
    ));
    if 1e-9 < (beta - moments.kurtosis).abs() {
        lines.push(WorkingLine::new(
            "beta = 1.05 (39 g^2 + 48 + 6 (g^2 + 4)^1.5)/(32 - g^2)",
            format!(
                "g = {}: type IV begins at {}, but beta is {}; raised to",
                show(g),
                show(smallest_kurtosis(g)),
                show(moments.kurtosis)
            ),
            beta,
            "",
            "model choice: range, straggle and skewness stay exact",
        ));
    }
    let denominator = 10.0 * beta - 12.0 * g * g - 18.0;
    lines.push(WorkingLine::new(
        "A = 10 beta - 12 g^2 - 18",
        format!("10 * {} - 12 * ({})^2 - 18", show(beta), show(g)),
        denominator,
        "",
        HOFKER,
    ));
    lines.push(WorkingLine::new(
        "a = -dRp' g (beta + 3)/A",
        format!(
            "-{} nm * {} * ({} + 3) / {}",
            show(sigma_nm),
            show(g),
            show(beta),
            show(denominator)
        ),
        curve.a * sigma_nm,
        "nm",
        HOFKER,
    ));
    lines.push(WorkingLine::new(
        "b0 = -dRp'^2 (4 beta - 3 g^2)/A",
        format!(
            "-({} nm)^2 (4 * {} - 3 * ({})^2) / {}",
            show(sigma_nm),
            show(beta),
            show(g),
            show(denominator)
        ),
        curve.b0 * sigma_nm * sigma_nm,
        "nm^2",
        HOFKER,
    ));
    lines.push(WorkingLine::new(
        "b2 = -(2 beta - 3 g^2 - 6)/A",
        format!(
            "-(2 * {} - 3 * ({})^2 - 6) / {}",
            show(beta),
            show(g),
            show(denominator)
        ),
        curve.b2,
        "",
        HOFKER,
    ));
    lines.push(WorkingLine::new(
        "a^2/(4 b0 b2): between 0 and 1 the curve is of type IV",
        format!(
            "({} nm)^2 / (4 * {} nm^2 * {})",
            show(curve.a * sigma_nm),
            show(curve.b0 * sigma_nm * sigma_nm),
            show(curve.b2)
        ),
        curve.criterion(),
        "",
        HOFKER,
    ));
    let height = curve.density(curve.a);
    lines.push(WorkingLine::new(
        "Cp = Q f_max/dRp' at Rp' + a, f_max from the unit area of the curve",
        format!(
            "{} cm^-2 * {} / {} cm at {} nm",
            show(calculation.settings.dose_cm2),
            show(height),
            show(1e-7 * sigma_nm),
            show(moments.mean_nm + curve.a * sigma_nm)
        ),
        height * calculation.settings.dose_cm2 / (1e-7 * sigma_nm),
        "cm^-3",
        HOFKER,
    ));
}
