//! The derivation of an oxidation, line by line.

mod constants;

use super::data::{
    DEAL_GROVE_SOURCE, DRY_EFFECTIVE_START_UM, MASSOUD_SOURCE, NATIVE_OXIDE_UM,
};
use super::law::{Conditions, GrowthLaw};
use crate::constants::SILICON_PER_OXIDE;
use crate::num::show;
use crate::report::WorkingLine;
use crate::units::{Length, Temperature, Time};
use crate::vocabulary::{Ambient, OxidationModel};

const DEFINITION: &str = "definition";
const INTEGRATION: &str = "fourth-order Runge-Kutta steps (textbook standard)";

/// Collects lines; in a recipe each equation carries the name of its segment.
pub(super) struct Working {
    lines: Vec<WorkingLine>,
    prefix: String,
}

/// One step at constant temperature, as the working shows it.
pub(super) struct Step {
    pub(super) conditions: Conditions,
    pub(super) ambient: Ambient,
    pub(super) temperature: Temperature,
    /// Oxide on the wafer before the step.
    pub(super) initial: Length,
    /// Oxide after it.
    pub(super) oxide: Length,
    pub(super) duration: Time,
    /// Whether the time was asked for, not the oxide.
    pub(super) asks_time: bool,
}

impl Working {
    pub(super) const fn new() -> Self {
        Self { lines: Vec::new(), prefix: String::new() }
    }

    pub(super) fn into_lines(self) -> Vec<WorkingLine> {
        self.lines
    }

    pub(super) fn begin_segment(&mut self, number: usize) {
        self.prefix = format!("segment {number}: ");
    }

    pub(super) fn end_segments(&mut self) {
        self.prefix.clear();
    }

    fn line(
        &mut self,
        equation: &str,
        substituted: String,
        result: f64,
        unit: &'static str,
        source: &str,
    ) {
        let equation = format!("{}{equation}", self.prefix);
        self.lines.push(WorkingLine::new(&equation, substituted, result, unit, source));
    }

    /// The whole derivation of one step.
    pub(super) fn step(&mut self, step: &Step) {
        self.constants(&step.conditions, step.ambient, step.temperature);
        let law = step.conditions.law(step.ambient, step.temperature);
        if law.thin.is_some() {
            self.integrated(step, &law);
        } else {
            self.closed(step, &law);
        }
        self.ending(step.initial, step.oxide, &law);
    }

    fn closed(&mut self, step: &Step, law: &GrowthLaw) {
        let (a, b, l) = (law.a_um(), law.parabolic_um2_h, law.linear_um_h);
        let xi = step.conditions.effective_start(step.ambient, step.initial).to_um();
        let is_effective = step.initial.to_um() < xi;
        let note = if is_effective {
            format!(
                "{} (stands for the fast first stage of dry growth; no real oxide)",
                show(DRY_EFFECTIVE_START_UM)
            )
        } else {
            show(xi)
        };
        self.line("X_i = oxide at the start", note, xi, "µm", DEAL_GROVE_SOURCE);
        let x = step.oxide.to_um();
        if step.asks_time {
            self.line(
                "t = (X² - X_i²)/B + (X - X_i)/(B/A)",
                format!(
                    "({}² - {}²)/{} + ({} - {})/{}",
                    show(x),
                    show(xi),
                    show(b),
                    show(x),
                    show(xi),
                    show(l)
                ),
                step.duration.to_h(),
                "h",
                DEAL_GROVE_SOURCE,
            );
            self.minutes(step.duration);
            return;
        }
        let tau = (xi * xi + a * xi) / b;
        self.line(
            "tau = (X_i² + A X_i)/B",
            format!("({}² + {} · {})/{}", show(xi), show(a), show(xi), show(b)),
            tau,
            "h",
            DEAL_GROVE_SOURCE,
        );
        self.line(
            "t = time in hours",
            format!("{} / 60", show(step.duration.to_min())),
            step.duration.to_h(),
            "h",
            DEFINITION,
        );
        self.line(
            "X = (A/2) [sqrt(1 + 4 B (t + tau)/A²) - 1]",
            format!(
                "({}/2) [sqrt(1 + 4 · {} ({} + {})/{}²) - 1]",
                show(a),
                show(b),
                show(step.duration.to_h()),
                show(tau),
                show(a)
            ),
            x,
            "µm",
            DEAL_GROVE_SOURCE,
        );
    }

    fn integrated(&mut self, step: &Step, law: &GrowthLaw) {
        let x0 = step.conditions.effective_start(step.ambient, step.initial).to_um();
        let x = step.oxide.to_um();
        let note = if step.initial.to_um() < NATIVE_OXIDE_UM {
            format!("{} (native oxide of a bare wafer)", show(x0))
        } else {
            show(x0)
        };
        self.line("X_0 = oxide at the start", note, x0, "µm", "common practice");
        let equation = match step.conditions.model {
            OxidationModel::Massoud => {
                "dX/dt = B_M/(2X + A_M) + C2 exp(-X/L2), A_M = B_M/(B/A)_M; at X_0"
            }
            _ => {
                "dX/dt = w B_M/(2X + A_M) + (1 - w) B/(2X + A) + C2 exp(-X/L2), w = w_T (1 - S((X - 0.05)/0.05)), A_M = B_M/(B/A)_M; at X_0"
            }
        };
        self.line(
            equation,
            thin_rate_substituted(law, x0),
            law.rate_um_h(x0),
            "µm/h",
            MASSOUD_SOURCE,
        );
        if step.asks_time {
            self.line(
                "t = integral of dX/(dX/dt) from X_0 to X (no closed form; Simpson's rule)",
                format!("from {} to {} µm", show(x0), show(x)),
                step.duration.to_h(),
                "h",
                "Simpson's rule in ln(X + 1 nm) (textbook standard)",
            );
            self.minutes(step.duration);
        } else {
            self.line(
                "X = X_0 + integral of (dX/dt) dt (no closed form; integrated in small steps)",
                format!(
                    "from {} µm over {} h",
                    show(x0),
                    show(step.duration.to_h())
                ),
                x,
                "µm",
                INTEGRATION,
            );
        }
    }

    fn minutes(&mut self, duration: Time) {
        self.line(
            "t in minutes = 60 t",
            format!("60 · {}", show(duration.to_h())),
            duration.to_min(),
            "min",
            DEFINITION,
        );
    }

    /// The result of one segment of a recipe.
    ///
    /// `from` is the thickness at which its growth law starts.
    pub(super) fn segment_result(&mut self, from: Length, to: Length, duration: Time) {
        self.line(
            "X = X_before + integral of (dX/dt) dt",
            format!(
                "from {} nm over {} min",
                show(from.to_nm()),
                show(duration.to_min())
            ),
            to.to_nm(),
            "nm",
            INTEGRATION,
        );
    }

    /// Silicon consumed and the rate at the end.
    pub(super) fn ending(&mut self, initial: Length, oxide: Length, law: &GrowthLaw) {
        let (x0, x) = (initial.to_nm(), oxide.to_nm());
        self.line(
            "grown = X - oxide on the wafer before",
            format!("{} - {}", show(x), show(x0)),
            x - x0,
            "nm",
            DEFINITION,
        );
        self.line(
            "silicon consumed = 0.44 · grown",
            format!("{SILICON_PER_OXIDE} · {}", show(x - x0)),
            SILICON_PER_OXIDE * (x - x0),
            "nm",
            "densities and molar masses of SiO₂ and Si (0.4415)",
        );
        let rate_um_h = law.rate_um_h(oxide.to_um());
        let (equation, substituted) = if !law.grows() {
            ("rate = 0 in an inert gas", "0".to_owned())
        } else if law.thin.is_some() {
            (
                "rate = dX/dt at X, · 1000/60",
                format!("({}) · 1000/60", thin_rate_substituted(law, oxide.to_um())),
            )
        } else {
            (
                "rate = B/(2X + A), · 1000/60",
                format!(
                    "{}/(2 · {} + {}) · 1000/60",
                    show(law.parabolic_um2_h),
                    show(oxide.to_um()),
                    show(law.a_um())
                ),
            )
        };
        self.line(
            equation,
            substituted,
            rate_um_h * 1000.0 / 60.0,
            "nm/min",
            DEAL_GROVE_SOURCE,
        );
    }
}

/// The growth rate of thin dry oxide with its numbers put in.
fn thin_rate_substituted(law: &GrowthLaw, x_um: f64) -> String {
    let Some(thin) = law.thin else { return String::new() };
    let term = |b_um2_h: f64, l_um_h: f64| {
        format!("{}/(2 · {} + {})", show(b_um2_h), show(x_um), show(b_um2_h / l_um_h))
    };
    let thick = term(law.parabolic_um2_h, law.linear_um_h);
    let weight = law.massoud_weight(x_um);
    let base = if 0.0 < weight {
        let massoud = term(thin.parabolic_um2_h, thin.linear_um_h);
        format!("{} · {massoud} + {} · {thick}", show(weight), show(1.0 - weight))
    } else {
        thick
    };
    format!(
        "{base} + {} exp(-{}/{})",
        show(thin.extra_um_h),
        show(x_um),
        show(thin.decay_um)
    )
}
