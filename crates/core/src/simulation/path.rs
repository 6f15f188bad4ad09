//! A motion: where string and table are at every moment of a record.

/// Motion from the start of a record to its end, as polynomials in time that follow each other.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Path {}
