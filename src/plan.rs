//! PLAN: pages as plain data.
//!
//! It computes what stands on paper and says nothing about how it looks.

pub mod figure;
