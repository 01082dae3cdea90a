//! Oxide on the section: on silicon, under masks, on polysilicon.

mod column;
mod local;
mod polysilicon;
#[cfg(test)]
mod tests;

pub(super) use column::{Grown, Growth, LIGHT_CM3, NO_SUPPLY, OWN_FILM_NM};
pub(super) use local::{AS_OPEN, BEAK, CELLS, GROWTH, reached_by_gas};
pub(super) use polysilicon::Polysilicon;
