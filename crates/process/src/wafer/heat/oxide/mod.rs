//! Oxide on the section: on silicon, under masks, on polysilicon.

mod column;
mod local;
mod polysilicon;
#[cfg(test)]
mod tests;

pub(super) use column::{Grown, Growth};
pub(super) use local::reached_by_gas;
pub(super) use polysilicon::Polysilicon;
