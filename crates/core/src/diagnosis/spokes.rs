//! Are the spokes equal, and how many are there?
//!
//! The F test of the offsets, after drag, has weights as they would be if the spokes were equal: with those of
//! the fit, which come from what its offsets leave over, 1 % would be 2 to 4 %. The runs are put together
//! (Fisher), since all have the same pulley.
//!
//! How many spokes there are: for none and for 3 … 20, the Bayesian information criterion of each run,
//! K ln(RSS/K) + (N − 1) ln K (G. Schwarz, Ann. Stat. 6 (1978) 461), is added over the runs; the phase
//! is free in each. The least wins. Since every run pays for offsets of its own though the pulley is one,
//! weak patterns come out as a part of themselves, 5 for 10: the winner gives way to its multiples where
//! they explain more (F test, Fisher), and a part of the number entered is believed only where it is
//! plain in every run.

use super::probe::together;
use super::{ALARM, Cause, Evidence, Finding, Fix, Look, Probe, Severity, percent, turns};
use crate::acceleration::EDGES_BEYOND_OFFSETS;
use crate::measured::coverage::f_tail;
use crate::readings::ReadingKind;
use core::num::NonZeroU32;
use whorl_words as words;

/// Numbers of spokes that are tried.
const COUNTS: core::ops::RangeInclusive<u32> = 3..=20;

/// What the runs say of the number of spokes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpokeCount {
    /// The best number; `None` where equal spokes are best.
    pub best: Option<u32>,
    /// By how much the criterion is better than for the number entered.
    pub over_entered: f64,
    /// By how much it is better than for equal spokes.
    pub over_none: f64,
    /// Runs that were asked.
    pub runs: usize,
}

/// The number of spokes that suits all runs best. `edges_per_spoke` is 2 where both edges are logged.
///
/// `None` without runs of enough edges.
pub fn spoke_count(probes: &[&Probe], entered: Option<u32>, edges_per_spoke: u32) -> Option<SpokeCount> {
    let longest = probes.iter().map(|probe| probe.times.len()).max()?;
    // The same runs for every number, so that their criteria can be compared.
    let largest = COUNTS
        .rev()
        .find(|count| (count * edges_per_spoke) as usize + 2 * EDGES_BEYOND_OFFSETS <= longest)?;
    let enough = (largest * edges_per_spoke) as usize + EDGES_BEYOND_OFFSETS;
    let mut criteria = vec![0.0; COUNTS.count()];
    // Of spokes that are alike. Where both edges are logged, these have a place each: a spoke is as wide as
    // the gap after it only by chance.
    let mut alike = 0.0;
    for probe in probes.iter().filter(|probe| probe.times.len() >= enough) {
        let left = &probe.equal;
        let edges = left.count() as f64;
        let of_period = |period: u32| {
            let sum = left.with_spokes(period as usize)?;
            Some(edges * (sum / left.sum_of_squares()).ln() + f64::from(period - 1) * edges.ln())
        };
        alike += of_period(edges_per_spoke).unwrap_or(0.0);
        for (criterion, spokes) in criteria.iter_mut().zip(COUNTS) {
            if spokes > largest {
                break;
            }
            *criterion += of_period(spokes * edges_per_spoke).unwrap_or(0.0);
        }
    }
    let of =
        |spokes: u32| COUNTS.zip(&criteria).find(|entry| entry.0 == spokes).map_or(alike, |entry| *entry.1);
    let (mut best, mut least) = (None, alike);
    for (spokes, criterion) in COUNTS.zip(&criteria) {
        if *criterion < least {
            (best, least) = (Some(spokes), *criterion);
        }
    }
    for times in 2..=6 {
        let many = best.map_or(0, |best| best * times);
        if many <= largest
            && best.is_some_and(|best| more(probes, best * edges_per_spoke, many * edges_per_spoke))
        {
            best = Some(many);
            least = of(many);
        }
    }
    let runs = probes.iter().filter(|probe| probe.times.len() >= enough).count();
    Some(SpokeCount { best, over_entered: entered.map_or(alike, of) - least, over_none: alike - least, runs })
}

/// Whether a multiple of a period explains more than the period does.
fn more(probes: &[&Probe], few: u32, many: u32) -> bool {
    let numerator = many.saturating_sub(few) as usize;
    let mut ps = Vec::with_capacity(probes.len());
    for probe in probes {
        let sums = probe.equal.with_spokes(few as usize).zip(probe.equal.with_spokes(many as usize));
        let freedom = (probe.equal.degrees_of_freedom() + 1).checked_sub(many as usize);
        if let (Some((few, many)), Some(freedom)) = (sums, freedom) {
            let f = (few - many) / numerator as f64 / (many / freedom as f64);
            ps.push(f_tail(f, numerator, freedom));
        }
    }
    numerator > 0 && together(&ps) < ALARM
}

/// By how much the criterion must be better to speak of another number: odds of e^10 : 1.
const PLAIN: f64 = 20.0;

/// The p of a run's spokes all being in their places, and as wide as each other where both edges are logged
/// (2 edges a spoke); `None` where the fit has no offsets.
pub fn test(probe: &Probe, edges_per_spoke: usize) -> Option<f64> {
    let period = probe.fit.offsets.len();
    let equal = probe.equal.with_spokes(edges_per_spoke).unwrap_or(probe.equal.sum_of_squares());
    let (before, left) = (equal, probe.equal.with_spokes(period)?);
    let numerator = period.checked_sub(edges_per_spoke).filter(|&numerator| numerator > 0)?;
    let denominator = probe.equal.degrees_of_freedom().checked_sub(period - 1)?;
    let f = (before - left) / numerator as f64 / (left / denominator as f64);
    Some(f_tail(f, numerator, denominator))
}

/// Runs that can be asked together, and how many edges a spoke has in them.
fn alike<'a>(look: &'a Look<'_>) -> (Vec<&'a Probe>, u32) {
    // Runs with both edges and runs with one would need tests of their own; a lab has one kind.
    let both = |probe: &&Probe| {
        let kind = look.lab.run(probe.run).and_then(|run| run.record.kind());
        kind == Some(ReadingKind::BothEdges)
    };
    let sound = || look.probes.iter().filter(|probe| !probe.spoiled);
    let with_both = sound().any(|probe| both(&probe));
    (sound().filter(|probe| both(probe) == with_both).collect(), if with_both { 2 } else { 1 })
}

/// Finds numbers of spokes that are not those entered.
pub(super) fn count(look: &mut Look<'_>) {
    let entered = look.lab.apparatus.spokes.map(NonZeroU32::get);
    let (probes, edges_per_spoke) = alike(look);
    let finding = wrong_count(&probes, entered, edges_per_spoke);
    look.found.extend(finding);
}

/// Finds unequal spokes.
pub(super) fn check(look: &mut Look<'_>) {
    if look.has(|cause| matches!(cause, Cause::SpokeCount { .. })) {
        return;
    }
    let (mut probes, edges_per_spoke) = alike(look);
    // A turn of the table is nearly one of the pulley.
    probes.retain(|probe| !turns::known(look, probe));
    let finding = unequal(&probes, edges_per_spoke as usize);
    look.found.extend(finding);
}

fn wrong_count(probes: &[&Probe], entered: Option<u32>, edges_per_spoke: u32) -> Option<Finding> {
    let count = spoke_count(probes, entered, edges_per_spoke)?;
    let likely = count.best.filter(|likely| Some(*likely) != entered)?;
    let part = entered.is_some_and(|entered| entered % likely == 0);
    let needed = if part { PLAIN * count.runs as f64 } else { PLAIN };
    if count.over_entered < PLAIN || count.over_none < needed {
        return None;
    }
    let words = match entered {
        Some(entered) => words::diagnosis::other_number_of_spokes(&likely, &entered),
        None => words::diagnosis::spokes_repeat(&likely),
    };
    let remedy = words::diagnosis::count_the_spokes();
    let mut finding = Finding::new(Cause::SpokeCount { likely }, Severity::Look, words, remedy);
    finding.evidence.push(Evidence::plain(words::diagnosis::better_than_entry(), count.over_entered, ""));
    finding.evidence.push(Evidence::plain(words::diagnosis::better_than_equal_spokes(), count.over_none, ""));
    finding.fix = NonZeroU32::new(likely).map(Fix::SetSpokes);
    Some(finding)
}

fn unequal(probes: &[&Probe], edges_per_spoke: usize) -> Option<Finding> {
    let (mut ps, mut squares, mut places) = (Vec::new(), 0.0, 0.0);
    for probe in probes {
        if let Some(p) = test(probe, edges_per_spoke) {
            ps.push(p);
            let travel = probe.fit.pitch.0 * edges_per_spoke as f64;
            let offsets = &probe.fit.offsets;
            for edge in 0..edges_per_spoke {
                let same =
                    || offsets.iter().skip(edge).step_by(edges_per_spoke).map(|offset| offset.0 / travel);
                let mean = same().sum::<f64>() / same().count() as f64;
                squares += same().map(|off| (off - mean).powi(2)).sum::<f64>();
            }
            places += offsets.len() as f64;
        }
    }
    let p = together(&ps);
    if ps.is_empty() || p >= ALARM {
        return None;
    }
    let size = (squares / places).sqrt();
    let words = words::diagnosis::unequal_spokes(&percent(size));
    let remedy = words::diagnosis::mind_no_zigzag();
    let mut finding = Finding::new(Cause::UnequalSpokes, Severity::Note, words, remedy);
    let sum = -2.0 * ps.iter().map(|p| p.max(1e-300).ln()).sum::<f64>();
    let statistic = words::diagnosis::spoke_offsets();
    finding.evidence.push(Evidence::test(statistic, sum, vec![2.0 * ps.len() as f64], p));
    finding.evidence.push(Evidence::plain(words::diagnosis::spokes_off_by(), 100.0 * size, "%"));
    Some(finding)
}
