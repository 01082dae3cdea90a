//! The model choices of whole flows as a list to read.

use super::questions::listed as questions;
use super::run::listed as run;
use crate::sourced::List;

pub(crate) fn list(list: &mut List) {
    run::list(list);
    questions::list(list);
}
