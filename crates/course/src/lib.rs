//! Placeholder of the skeleton.
