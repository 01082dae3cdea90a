//! Lists that snapshots share until one of them changes them.

use std::ops::{Deref, DerefMut};
use std::sync::Arc;

/// A list that is copied only when it is changed while another section still has it: most steps
/// of a flow leave most dopants as they are, some leave all columns, and a snapshot is kept of
/// every step.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Shared<T>(Arc<Vec<T>>);

impl<T> Shared<T> {
    /// Whether neither list was changed since one was copied from the other.
    pub(super) fn is_still(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<T> From<Vec<T>> for Shared<T> {
    fn from(list: Vec<T>) -> Self {
        Self(Arc::new(list))
    }
}

impl<T> Deref for Shared<T> {
    type Target = Vec<T>;

    fn deref(&self) -> &Vec<T> {
        &self.0
    }
}

impl<T: Clone> DerefMut for Shared<T> {
    fn deref_mut(&mut self) -> &mut Vec<T> {
        Arc::make_mut(&mut self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_is_shared_until_it_changes() {
        let first = Shared::from(vec![1.0, 2.0]);
        let mut second = first.clone();
        assert!(first.is_still(&second));
        second[1] = 3.0;
        assert!(!first.is_still(&second));
        assert_eq!((first[1], second[1]), (2.0, 3.0));
    }
}
