//! Forecasts against what came, and what is refused.

use super::*;
use crate::acceleration::{Setup, estimate};
use crate::quantity::{MetersPerSecond2, Seconds};
use crate::readings::{ReadingKind, Readings};
use crate::runs::Run;

/// The fit of a run of constant acceleration, its velocity read to ± 1 mm/s in turn.
fn fit(acceleration: f64, kind: ReadingKind) -> AccelerationFit {
    let times: Vec<Seconds> = (0..40).map(|k| Seconds(0.05 * f64::from(k))).collect();
    let wobble = |k: usize| if k.is_multiple_of(2) { 1e-3 } else { -1e-3 };
    let values: Vec<f64> =
        times.iter().enumerate().map(|(k, time)| 0.1 + acceleration * time.0 + wobble(k)).collect();
    let readings = Readings::from_columns(kind, &times, &values).unwrap();
    estimate(&Run::new(&readings, None).unwrap(), &Setup::default()).unwrap()
}

fn said(slope: Slope, factor: Option<f64>) -> Result<Forecast, ForecastProblem> {
    Forecast::new(RunId(1), About::NextAfter(RunId(1)), slope, factor, " more mass pulls ")
}

#[test]
fn the_ratio_is_that_of_the_slopes_with_the_scatter_of_both() {
    let (first, second) = (fit(0.2, ReadingKind::Velocity), fit(0.5, ReadingKind::Velocity));
    let observed = Observed::of(&first, &second).unwrap();
    assert!((observed.ratio.value().0 - 2.5).abs() < 0.01);
    // Both readings scatter alike, so both slopes have one u: by hand u(r) = u √(1 + r²)/a₁, JCGM 100:2008, 5.1.2.
    let u = first.acceleration.standard_uncertainty().0;
    assert!((u / second.acceleration.standard_uncertainty().0 - 1.0).abs() < 1e-6);
    let (a, r) = (first.acceleration.value().0, observed.ratio.value().0);
    let by_hand = u * (1.0 + r * r).sqrt() / a;
    assert!((observed.ratio.standard_uncertainty().0 / by_hand - 1.0).abs() < 1e-6);
}

#[test]
fn slopes_are_told_apart_when_an_eye_and_the_uncertainty_can() {
    let slope =
        |ratio: f64, u: f64| Observed { ratio: Measured::new(Ratio(ratio), Ratio(u)).unwrap() }.slope();
    assert_eq!(slope(1.06, 0.001), Slope::Steeper);
    assert_eq!(slope(1.04, 0.001), Slope::Same);
    assert_eq!(slope(1.2, 0.11), Slope::Same);
    assert_eq!(slope(0.8, 0.05), Slope::Shallower);
    assert_eq!(slope(-2.0, 0.1), Slope::Shallower);
}

#[test]
fn a_forecast_is_held_against_what_came() {
    let observed = |ratio: f64| Observed { ratio: Measured::new(Ratio(ratio), Ratio(0.01)).unwrap() };
    let outcome = |slope, factor, ratio| said(slope, factor).unwrap().outcome(&observed(ratio));
    assert_eq!(outcome(Slope::Steeper, None, 1.9), Outcome::AsSaid);
    assert_eq!(outcome(Slope::Steeper, Some(2.0), 1.9), Outcome::AsSaid);
    assert_eq!(outcome(Slope::Steeper, Some(2.0), 1.5), Outcome::OtherFactor);
    assert_eq!(outcome(Slope::Shallower, Some(0.5), 0.48), Outcome::AsSaid);
    assert_eq!(outcome(Slope::Same, None, 1.9), Outcome::OtherSlope);
    assert_eq!(outcome(Slope::Shallower, Some(0.5), 1.9), Outcome::OtherSlope);
    assert_eq!(outcome(Slope::Same, None, 1.02), Outcome::AsSaid);
}

#[test]
fn what_contradicts_itself_is_named() {
    let problem = |slope, factor| said(slope, Some(factor)).unwrap_err();
    assert_eq!(problem(Slope::Steeper, 0.5), ForecastProblem::FactorUnlike(Slope::Steeper));
    assert_eq!(problem(Slope::Shallower, 2.0), ForecastProblem::FactorUnlike(Slope::Shallower));
    assert_eq!(problem(Slope::Same, 1.0), ForecastProblem::FactorUnlike(Slope::Same));
    for factor in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(problem(Slope::Steeper, factor), ForecastProblem::FactorNotPositive);
    }
    let about = |id, reason| Forecast::new(RunId(1), About::Run(RunId(id)), Slope::Same, None, reason);
    assert_eq!(about(1, "why").unwrap_err(), ForecastProblem::AgainstItself);
    assert_eq!(about(2, " \n").unwrap_err(), ForecastProblem::NoReason);
}

#[test]
fn forecasts_come_back_from_their_text() {
    let mut first = said(Slope::Steeper, Some(1.8)).unwrap();
    assert_eq!(first.reason(), "more mass pulls");
    first.explanation = "the pulley, too, \"turns\"\n".to_owned();
    let second = Forecast::new(RunId(3), About::Run(RunId(2)), Slope::Same, None, "same mass").unwrap();
    let all = [first, second];
    assert_eq!(open(&save(&all)).unwrap(), all);
    for text in [
        "",
        "{}",
        "[1]",
        "[{}]",
        "[{\"against\":1,\"run\":1,\"slope\":\"same\",\"reason\":\"x\",\"explanation\":\"\"}]",
    ] {
        assert_eq!(open(text), Err(Damaged), "{text}");
    }
}

#[test]
fn an_acceleration_of_zero_makes_no_ratio() {
    let mut still = fit(0.2, ReadingKind::Velocity);
    still.acceleration = Measured::new(MetersPerSecond2(0.0), MetersPerSecond2(0.001)).unwrap();
    assert_eq!(Observed::of(&still, &fit(0.5, ReadingKind::Velocity)), None);
}
