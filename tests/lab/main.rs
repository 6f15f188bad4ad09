//! Whole-lab tests.
