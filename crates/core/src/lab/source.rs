//! The file that a run's readings came from.

/// A file, so that results can be traced to the bytes they came from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Source {
    /// Its name.
    pub file: String,
    /// How many bytes it has; `None` where that was not kept.
    pub bytes: Option<usize>,
    /// SHA-256 (FIPS 180-4) of these bytes, in hexadecimal; `None` where that was not kept.
    pub sha256: Option<String>,
    /// What the file calls the run; empty when it says nothing.
    pub run: String,
    /// What was done with the run's rows when they were read.
    pub remarks: Vec<String>,
}
