//! Exact soap arithmetic.
pub mod exact;
pub mod fault;
pub mod quantity;
