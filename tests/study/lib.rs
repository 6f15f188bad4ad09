//! What the estimators reach, measured on simulated runs and labs whose truth is known.
//!
//! The simulator shares no code with the estimators. Each row is a number of seeded runs or labs; the bounds are
//! the Cramér–Rao bound of the same noise (C. R. Rao, *Linear Statistical Inference*, Wiley 1973, 5a.2),
//! with the spokes' places unknown. Limits: 1.10 of the bound, coverage of 95 % intervals 92 to 98 % for
//! one run and 93 to 97 % for a lab, and so on; each row prints its own.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::missing_panics_doc,
    reason = "the study is a test with a table: what cannot happen stops it"
)]

pub mod benches;
pub mod diagnosis;
pub mod labs;
pub mod parallel;
pub mod runs;
pub mod stretches;

/// One number against its limits.
pub struct Check {
    /// What was measured.
    pub what: String,
    /// What came out.
    pub found: f64,
    /// From where to where it may lie.
    pub allowed: (f64, f64),
}

impl Check {
    /// A number that must lie between `low` and `high`.
    pub fn between(what: impl Into<String>, found: f64, low: f64, high: f64) -> Self {
        Self { what: what.into(), found, allowed: (low, high) }
    }

    /// A number that must not be larger.
    pub fn at_most(what: impl Into<String>, found: f64, high: f64) -> Self {
        Self::between(what, found, f64::NEG_INFINITY, high)
    }

    /// Whether it lies there.
    pub fn holds(&self) -> bool {
        self.holds_within(0.0)
    }

    /// Whether it lies there but for the chance of few runs, given as a part of what it may be.
    pub fn holds_within(&self, chance: f64) -> bool {
        let (low, high) = self.allowed;
        // An end that is infinite stays so.
        let wider = |end: f64| if end.is_finite() { chance * end.abs() } else { 0.0 };
        (low - wider(low)..=high + wider(high)).contains(&self.found)
    }

    /// One line of the table.
    pub fn line(&self) -> String {
        let (low, high) = self.allowed;
        let allowed = match (low.is_finite(), high.is_finite()) {
            (false, false) => "(for comparison)".to_owned(),
            (true, true) => format!("{low} to {high}"),
            (true, false) => format!("at least {low}"),
            _ => format!("at most {high}"),
        };
        let mark = if self.holds() { "ok  " } else { "FAIL" };
        format!("{mark} {:<72} {:>10.4}   {allowed}", self.what, self.found)
    }
}

/// Share of `true` in percent.
pub fn percent(of: usize, all: usize) -> f64 {
    100.0 * of as f64 / all as f64
}
