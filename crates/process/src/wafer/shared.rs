//! Numbers that snapshots share until one of them changes them.

use std::ops::{Deref, DerefMut};
use std::sync::Arc;

/// A list that is copied only when it is changed while another section still has it: most steps
/// of a flow leave most dopants as they are, and a snapshot is kept of every step.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Shared(Arc<Vec<f64>>);

impl Deref for Shared {
    type Target = Vec<f64>;

    fn deref(&self) -> &Vec<f64> {
        &self.0
    }
}

impl DerefMut for Shared {
    fn deref_mut(&mut self) -> &mut Vec<f64> {
        Arc::make_mut(&mut self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_is_shared_until_it_changes() {
        let first = Shared(Arc::new(vec![1.0, 2.0]));
        let mut second = first.clone();
        assert!(Arc::ptr_eq(&first.0, &second.0));
        second[1] = 3.0;
        assert_eq!((first[1], second[1]), (2.0, 3.0));
    }
}
