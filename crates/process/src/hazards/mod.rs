//! Hazards of chemicals and tools, and which step shows which.
//!
//! The table itself is `tests/reference/hazards.csv`: classification, limits and first aid of
//! each substance with its source and how it is known. Tests hold its inner logic (a code
//! that calls for a pictogram has it, registry numbers have a right check digit, every HF row
//! names the gel).
//!
//! Nothing here replaces a supplier's safety data sheet; [`NOTICE`] says so beside every row.

mod advice;
mod callout;
mod chemistry;
mod codes;
pub mod handbook;
mod sequence;
mod severity;
mod sheet;
mod step;
mod table;

pub use advice::NOTICE;
pub use callout::Callout;
pub use chemistry::of_request;
pub use codes::{HazardCode, meaning};
pub use sequence::{Finding, Grade, Rule, furnace_setting, rules, sequence, setting};
pub use severity::sort_worst_first;
pub use sheet::{Sheet, SheetStep, sheet};
pub use step::for_step;
pub(crate) use table::known_id;
pub use table::{HazardRow, Limit, Limits, SourceNote, row, rows};

/// Id shown for a chemical that is not in the table: treat it as HF (common practice).
pub const UNKNOWN: &str = "UNKNOWN";
