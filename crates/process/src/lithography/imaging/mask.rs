//! What is drawn on the mask, as clear intervals along the section.

use crate::vocabulary::words;

words!(
    /// A test pattern of a mask.
    Pattern {
        /// Clear spaces between dark lines.
        LineSpace = "line_space", "lines and spaces";
        /// One dark line in a clear field.
        IsolatedLine = "isolated_line", "single dark line";
        /// One clear space in a dark field.
        IsolatedSpace = "isolated_space", "single clear space";
        /// Clear on the right of zero, dark on the left.
        Edge = "edge", "single edge";
        /// Clear squares in a dark field, the section through their middle.
        ContactArray = "contact_array", "array of square holes";
        /// Clear intervals in a dark field, each by its two ends.
        Openings = "openings", "openings by their ends";
    }
);

words!(
    /// Whether what is listed is clear or chrome.
    Polarity {
        /// Clear openings in chrome.
        DarkField = "dark_field", "dark field: listed parts clear";
        /// Chrome on clear glass.
        ClearField = "clear_field", "clear field: listed parts chrome";
    }
);

impl Default for Mask {
    fn default() -> Self {
        Self {
            pattern: Pattern::LineSpace,
            polarity: Polarity::DarkField,
            pitch_um: 1.0,
            opening_um: 0.5,
            openings_um: Vec::new(),
        }
    }
}

/// A mask by its drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Mask {
    /// What is drawn.
    pub pattern: Pattern,
    /// For [`Pattern::Openings`]: whether the intervals are clear, or chrome.
    pub polarity: Polarity,
    /// Distance from one opening to the next in um.
    pub pitch_um: f64,
    /// Width of a clear opening in um.
    pub opening_um: f64,
    /// The ends of every opening (or chrome part) in um, for [`Pattern::Openings`], from left to
    /// right.
    pub openings_um: Vec<[f64; 2]>,
}

/// The part of a mask that is computed.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Clear intervals, from left to right; the outer ones may be infinite.
    pub clear_um: Vec<[f64; 2]>,
    /// Period of the mask, or one long enough to stand alone.
    pub period_um: f64,
    /// Whether the drawing itself repeats with that period.
    pub repeats: bool,
    /// Whether the openings are squares that repeat in the other direction too.
    pub squares: bool,
    /// Ends of the section in um.
    pub section_um: [f64; 2],
    /// Whether left and right are mirror images about 0.
    pub symmetric: bool,
}

/// Mean distance of single features, in units of the length over which light spreads: their
/// neighbors then change the image by less than 2e-4 (measured against twice the distance).
const ALONE: f64 = 24.0;

/// Field shown on both sides of a single feature, in the same units.
const MARGIN: f64 = 2.1;

impl Mask {
    /// Width of the dark line in um.
    #[must_use]
    pub fn line_um(&self) -> f64 {
        self.pitch_um - self.opening_um
    }

    /// Width of what is measured in um: the line of lines, else the opening.
    #[must_use]
    pub fn nominal_um(&self) -> f64 {
        match self.pattern {
            Pattern::LineSpace | Pattern::IsolatedLine => self.line_um(),
            Pattern::Openings => {
                self.openings_um.first().map_or(self.opening_um, |[a, b]| b - a)
            }
            _ => self.opening_um,
        }
    }

    /// Whether what is measured is dark on the mask.
    #[must_use]
    pub fn is_dark(&self) -> bool {
        match self.pattern {
            Pattern::IsolatedLine => true,
            Pattern::Openings => self.polarity == Polarity::ClearField,
            _ => false,
        }
    }

    /// Place of an edge of the drawing in um, the one whose slope is judged.
    #[must_use]
    pub fn edge_um(&self) -> f64 {
        match self.pattern {
            Pattern::LineSpace | Pattern::IsolatedSpace | Pattern::ContactArray => {
                0.5 * self.opening_um
            }
            Pattern::IsolatedLine => 0.5 * self.line_um(),
            Pattern::Edge => 0.0,
            Pattern::Openings => self.openings_um.first().map_or(0.0, |[_, b]| *b),
        }
    }

    /// What is computed, for light that spreads over `spread_um`.
    #[must_use]
    pub fn window(&self, spread_um: f64) -> Window {
        let half = 0.5 * self.opening_um;
        let (alone_um, margin_um) = (ALONE * spread_um, MARGIN * spread_um);
        let around = |half_um: f64| [-half_um - margin_um, half_um + margin_um];
        let one = Window {
            clear_um: vec![[-half, half]],
            period_um: self.pitch_um,
            repeats: true,
            squares: self.pattern == Pattern::ContactArray,
            section_um: [-0.5 * self.pitch_um, 0.5 * self.pitch_um],
            symmetric: true,
        };
        let alone = Window {
            period_um: self.nominal_um() + alone_um,
            repeats: false,
            section_um: around(0.5 * self.nominal_um()),
            ..one.clone()
        };
        match self.pattern {
            Pattern::LineSpace | Pattern::ContactArray => one,
            Pattern::IsolatedSpace => alone,
            Pattern::IsolatedLine => {
                let half = 0.5 * self.line_um();
                Window {
                    clear_um: vec![[f64::NEG_INFINITY, -half], [half, f64::INFINITY]],
                    ..alone
                }
            }
            Pattern::Edge => Window {
                clear_um: vec![[0.0, f64::INFINITY]],
                period_um: 1.5 * alone_um,
                section_um: [-margin_um, margin_um],
                symmetric: false,
                ..alone
            },
            Pattern::Openings => {
                let first = self.openings_um.first().map_or(0.0, |ends| ends[0]);
                let last = self.openings_um.last().map_or(0.0, |ends| ends[1]);
                Window {
                    clear_um: match self.polarity {
                        Polarity::DarkField => self.openings_um.clone(),
                        Polarity::ClearField => between(&self.openings_um),
                    },
                    period_um: last - first + alone_um,
                    section_um: [first - margin_um, last + margin_um],
                    symmetric: false,
                    ..alone
                }
            }
        }
    }
}

/// What lies between and beside intervals.
fn between(intervals_um: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let ends = intervals_um.iter().map(|[a, _]| *a).chain([f64::INFINITY]);
    let starts =
        [f64::NEG_INFINITY].into_iter().chain(intervals_um.iter().map(|[_, b]| *b));
    starts.zip(ends).map(|(a, b)| [a, b]).collect()
}

impl Window {
    /// The clear intervals that lie in the section, cut at its ends; those of a mask that repeats
    /// again and again.
    #[must_use]
    pub fn clear_in_section(&self) -> Vec<[f64; 2]> {
        let [left, right] = self.section_um;
        let cut = self.clear_um.iter().map(|[a, b]| [a.max(left), b.min(right)]);
        cut.filter(|[a, b]| a < b).collect()
    }

    /// The clear intervals of one period, cut at its ends.
    pub(super) fn one_period(&self) -> impl Iterator<Item = [f64; 2]> + '_ {
        let center = 0.5 * (self.section_um[0] + self.section_um[1]);
        let ends = [center - 0.5 * self.period_um, center + 0.5 * self.period_um];
        self.clear_um.iter().map(move |[a, b]| [a.max(ends[0]), b.min(ends[1])])
    }
}
