//! Reading the reference tables that the kernel is held against.
