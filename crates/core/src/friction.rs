//! The bearing's friction torque by three routes, and a fall with its rise.
//!
//! ```text
//! intercept   where the inertia line meets α = 0
//! balance     τ_f = m_b g Rₑ     a hanging mass that just keeps the turning table turning
//! coast-down  τ_f = −I α         the table slows down by itself once the string is slack
//! ```
//!
//! All three are the friction at (nearly) no speed: where drag was found, the coasting table's deceleration is
//! freed of it as the runs' accelerations are. Source: Newton's second law for the table, τ − τ_f = I α,
//! with α = 0, and with τ = 0.
//!
//! A run that winds back up gives two points of the line, one while the mass falls and one while it rises;
//! a line through two points is I = Δτ/Δα and τ_f = τ − I α.

use crate::analysis::{LineOutcomes, RunOutcome};
use crate::apparatus::{Apparatus, Rig, SharedInput};
use crate::inertia::Inertia;
use crate::lab::{Configuration, Lab, RunEntry, RunId};
use crate::measured::{Combined, DegreesOfFreedom, Measured, MeasuredError, quadrature};
use crate::quantity::{KilogramMeters2, Kilograms, NewtonMeters};
use crate::torque::{Drag, FittedRun, Motion, TorquePoint, torque_point};
use whorl_words as words;

/// How a friction torque was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Route {
    /// Intercept of the inertia line.
    Intercept,
    /// Balancing mass.
    Balance,
    /// Deceleration of the coasting table; how many runs.
    CoastDown(usize),
}

impl Route {
    /// Name in results.
    pub fn key(self) -> &'static str {
        match self {
            Self::Intercept => "intercept",
            Self::Balance => "balance",
            Self::CoastDown(_) => "coast-down",
        }
    }

    /// Plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Intercept => words::chain::intercept(),
            Self::Balance => words::chain::balancing_mass(),
            Self::CoastDown(_) => words::chain::coasting_to_rest(),
        }
    }
}

/// A friction torque by one route.
#[derive(Clone, Debug, PartialEq)]
pub struct FrictionTorque {
    /// The route.
    pub route: Route,
    /// τ_f with both kinds of uncertainty.
    pub torque: Combined<NewtonMeters>,
    /// Difference from the intercept in standard uncertainties of the difference; `None` for the
    /// intercept itself and where nothing is uncertain. What both share is left out of it.
    pub from_intercept: Option<f64>,
}

/// I and τ_f from one fall and the rise after it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FallAndRise {
    /// The run while the mass falls.
    pub fall: RunId,
    /// The run while it rises.
    pub rise: RunId,
    /// I, with the scatter of the readings.
    pub moment_of_inertia: Measured<KilogramMeters2>,
    /// τ_f, with the scatter of the readings.
    pub friction_torque: Measured<NewtonMeters>,
}

/// The routes open for a configuration, the intercept first; empty without a line.
pub fn friction_routes(
    lab: &Lab,
    apparatus: &Apparatus,
    outcomes: &[RunOutcome],
    lines: &LineOutcomes,
    configuration: Configuration,
) -> Vec<FrictionTorque> {
    let Some(inertia) = lines.inertia(configuration) else { return Vec::new() };
    let intercept = &inertia.friction_torque;
    let mut routes =
        vec![FrictionTorque { route: Route::Intercept, torque: intercept.clone(), from_intercept: None }];
    let mut add = |route: Route, torque: Result<Combined<NewtonMeters>, MeasuredError>| {
        if let Ok(torque) = torque {
            let random = [&torque, intercept].map(|part| part.random.standard_uncertainty().0);
            let difference = torque.random.value().0 - intercept.random.value().0;
            let in_uncertainties = difference / quadrature(random);
            let from_intercept = in_uncertainties.is_finite().then_some(in_uncertainties);
            routes.push(FrictionTorque { route, torque, from_intercept });
        }
    };
    if let Some(mass) = lab.balancing_mass(configuration) {
        add(Route::Balance, balance(&mass, apparatus));
    }
    let b = lines.together.and_then(|together| together.drag).filter(|drag| drag.corrected);
    let drag = Drag {
        coefficient: b.map_or_else(Default::default, |drag| drag.coefficient),
        moment_of_inertia: inertia.moment_of_inertia.total.value(),
    };
    let coasting: Vec<FittedRun> = runs_with(lab, outcomes, configuration, Motion::Coasting)
        .filter_map(|(_, outcome)| {
            Some(FittedRun::new(Kilograms(0.0), Motion::Coasting, outcome.fit.as_ref().ok()?))
        })
        .collect();
    if !coasting.is_empty() {
        add(Route::CoastDown(coasting.len()), coast_down(&coasting, inertia, apparatus, &drag));
    }
    routes
}

fn runs_with<'a>(
    lab: &'a Lab,
    outcomes: &'a [RunOutcome],
    configuration: Configuration,
    motion: Motion,
) -> impl Iterator<Item = (&'a RunEntry, &'a RunOutcome)> {
    let wanted = move |run: &RunEntry| run.configuration == configuration && run.motion == motion;
    lab.runs().iter().zip(outcomes).filter(move |pair| wanted(pair.0))
}

/// Half the change of `result` when each shared input is moved up and down by its uncertainty.
fn shared_parts(apparatus: &Apparatus, result: &dyn Fn(SharedInput, f64, &Rig) -> f64) -> Vec<f64> {
    let part = |input| {
        let at = |steps| result(input, steps, &apparatus.rig_shifted(input, steps));
        0.5 * (at(1.0) - at(-1.0))
    };
    SharedInput::ALL.into_iter().map(part).collect()
}

/// τ_f = m_b g Rₑ.
fn balance(
    mass: &Measured<Kilograms>,
    apparatus: &Apparatus,
) -> Result<Combined<NewtonMeters>, MeasuredError> {
    let torque = |mass: Kilograms, rig: &Rig| (mass * rig.gravity * rig.effective_radius()).0;
    let rig = apparatus.rig();
    let random = Measured::with_degrees_of_freedom(
        NewtonMeters(torque(mass.value(), &rig)),
        NewtonMeters(torque(mass.standard_uncertainty(), &rig)),
        mass.degrees_of_freedom(),
    )?;
    Combined::new(random, shared_parts(apparatus, &|_, _, rig| torque(rig.mass(mass.value()), rig)))
}

/// τ_f = −I α, mean over the coasting runs.
fn coast_down(
    runs: &[FittedRun],
    inertia: &Inertia,
    apparatus: &Apparatus,
    drag: &Drag,
) -> Result<Combined<NewtonMeters>, MeasuredError> {
    let moment = &inertia.moment_of_inertia;
    let slowing = |rig: &Rig| {
        let alpha = |run: &FittedRun| {
            torque_point(run, rig, drag).map_or(f64::NAN, |point| -point.angular_acceleration.value().0)
        };
        runs.iter().map(alpha).sum::<f64>() / runs.len() as f64
    };
    let rig = apparatus.rig();
    let (mean, i) = (slowing(&rig), moment.total.value().0);
    let radius = rig.effective_radius().0;
    let n = runs.len() as f64;
    // The scatter of the readings, or that of the runs where it is larger.
    let own = quadrature(runs.iter().map(|run| run.acceleration.standard_uncertainty().0 / radius)) / n;
    let spread: f64 = runs
        .iter()
        .filter_map(|run| torque_point(run, &rig, drag).ok())
        .map(|point| (point.angular_acceleration.value().0 + mean).powi(2))
        .sum();
    let between = if runs.len() > 1 { (spread / (n - 1.0) / n).sqrt() } else { 0.0 };
    let freedom = if between > own {
        DegreesOfFreedom::from_count(runs.len() - 1)
    } else {
        runs.first().map_or(DegreesOfFreedom::INFINITE, |run| run.acceleration.degrees_of_freedom())
    };
    let parts = [
        (i * own.max(between), freedom),
        (mean * moment.random.standard_uncertainty().0, moment.random.degrees_of_freedom()),
    ];
    let random = Measured::with_degrees_of_freedom(
        NewtonMeters(i * mean),
        NewtonMeters(quadrature(parts.map(|part| part.0))),
        DegreesOfFreedom::welch_satterthwaite(&parts),
    )?;
    let moved = |input: SharedInput, steps: f64, rig: &Rig| {
        let of_input = inertia.contributions.iter().find(|part| part.input == input);
        (i + steps * of_input.map_or(0.0, |part| part.moment_of_inertia.0)) * slowing(rig)
    };
    Combined::new(random, shared_parts(apparatus, &moved))
}

/// Every fall of a configuration whose record also holds the rise after it.
pub fn falls_and_rises(lab: &Lab, outcomes: &[RunOutcome], configuration: Configuration) -> Vec<FallAndRise> {
    let mut pairs = Vec::new();
    for (rise, up) in runs_with(lab, outcomes, configuration, Motion::Rising) {
        let same = |(fall, _): &(&RunEntry, &RunOutcome)| {
            fall.hanging_mass == rise.hanging_mass && fall.record == rise.record
        };
        let Some((fall, down)) = runs_with(lab, outcomes, configuration, Motion::Falling).find(same) else {
            continue;
        };
        if let (Ok(down), Ok(up)) = (&down.point, &up.point)
            && let Ok((moment_of_inertia, friction_torque)) = through(&down.point, &up.point)
        {
            pairs.push(FallAndRise { fall: fall.id, rise: rise.id, moment_of_inertia, friction_torque });
        }
    }
    pairs
}

/// Line through two points, each uncertain by its own acceleration.
fn through(
    down: &TorquePoint,
    up: &TorquePoint,
) -> Result<(Measured<KilogramMeters2>, Measured<NewtonMeters>), MeasuredError> {
    let place = |point: &TorquePoint| (point.angular_acceleration.value().0, point.torque.value().0);
    let ((alpha_down, tau_down), (alpha_up, tau_up)) = (place(down), place(up));
    let span = alpha_down - alpha_up;
    let i = (tau_down - tau_up) / span;
    // A point's distance from the line moves by this much per error of its acceleration.
    let off = |point: &TorquePoint| {
        let per_acceleration = point.torque_per_acceleration + i / point.effective_radius.0;
        per_acceleration * point.acceleration.standard_uncertainty().0
    };
    let (off_down, off_up) = (off(down), off(up));
    let freedoms = [down, up].map(|point| point.acceleration.degrees_of_freedom());
    let measured = |parts: [f64; 2]| {
        let weighted: Vec<_> = parts.into_iter().zip(freedoms).collect();
        (quadrature(parts), DegreesOfFreedom::welch_satterthwaite(&weighted))
    };
    let (u_i, freedom_i) = measured([off_down / span, off_up / span]);
    let (u_f, freedom_f) = measured([alpha_up * off_down / span, alpha_down * off_up / span]);
    Ok((
        Measured::with_degrees_of_freedom(KilogramMeters2(i), KilogramMeters2(u_i), freedom_i)?,
        Measured::with_degrees_of_freedom(
            NewtonMeters(tau_down - i * alpha_down),
            NewtonMeters(u_f),
            freedom_f,
        )?,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::analyze;
    use crate::lab::Record;
    use crate::quantity::{Meters, MetersPerSecond2};

    const TABLE: f64 = 1.5e-3;
    const FRICTION: f64 = 1e-3;
    const RADIUS: f64 = 0.0255;

    /// A lab of typed accelerations that obey Newton's second law, with a little scatter of friction.
    fn lab() -> Lab {
        let mut lab = Lab::default();
        let length = |value: f64, u: f64| Measured::new(Meters(value), Meters(u)).ok();
        lab.apparatus.drum_radius = length(0.025, 2e-5);
        lab.apparatus.string_diameter = length(0.001, 0.0);
        lab.apparatus.gravity = Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.0)).ok();
        let mut add = |motion: Motion, mass: f64, a: f64| {
            lab.add_run(RunEntry {
                id: RunId(0),
                name: String::new(),
                configuration: Configuration::EmptyTable,
                hanging_mass: Some(Kilograms(mass)),
                motion,
                stretch: None,
                record: Record::Acceleration(Measured::new(MetersPerSecond2(a), MetersPerSecond2(1e-5)).ok()),
                source: None,
            });
        };
        for (mass, scatter) in [(0.03, 1.02), (0.06, 0.98), (0.09, 1.01), (0.12, 0.99)] {
            let torque = mass * 9.81 * RADIUS - FRICTION * scatter;
            add(Motion::Falling, mass, torque * RADIUS / (TABLE + mass * RADIUS * RADIUS));
        }
        add(Motion::Coasting, 0.0, -FRICTION * RADIUS / TABLE);
        let balance = FRICTION / (9.81 * RADIUS);
        let mass = Measured::new(Kilograms(balance), Kilograms(1e-4)).ok();
        lab.set_balancing_mass(Configuration::EmptyTable, mass);
        lab
    }

    #[test]
    fn three_routes_lead_to_one_friction_torque() {
        let lab = lab();
        let analysis = analyze(&lab);
        let apparatus = lab.apparatus.check().unwrap();
        let empty = Configuration::EmptyTable;
        let routes = friction_routes(&lab, &apparatus, &analysis.runs, &analysis.lines, empty);
        let keys: Vec<_> = routes.iter().map(|found| found.route.key()).collect();
        assert_eq!(keys, ["intercept", "balance", "coast-down"]);
        for found in &routes {
            let torque = &found.torque.total;
            let (value, u) = (torque.value().0, torque.standard_uncertainty().0);
            assert!((value - FRICTION).abs() < 3.0 * u && u < 0.05 * FRICTION, "{found:?}");
        }
        // u(m_b) g Rₑ = 0.1 g · 9.81 · 25.5 mm = 25 µN·m; u(R)/Rₑ = 0.078 %.
        assert!((routes[1].torque.random.standard_uncertainty().0 - 2.5016e-5).abs() < 1e-8);
        assert!((routes[1].torque.shared.0 / FRICTION - 2e-5 / RADIUS).abs() < 1e-7);
        assert!(routes[2].from_intercept.unwrap().abs() < 2.0);
    }

    #[test]
    fn a_fall_and_its_rise_give_inertia_and_friction_alone() {
        let rig = lab().apparatus.check().unwrap().rig();
        let mass = 0.06;
        let total = TABLE + mass * RADIUS * RADIUS;
        let point = |motion, friction: f64| {
            let a = (mass * 9.81 * RADIUS * if motion == Motion::Rising { -1.0 } else { 1.0 } - friction)
                * RADIUS
                / total;
            let run = FittedRun {
                hanging_mass: Kilograms(mass),
                motion,
                acceleration: Measured::new(MetersPerSecond2(a), MetersPerSecond2(1e-5)).unwrap(),
                scale: crate::acceleration::Scale::Itself,
                slowing: None,
            };
            torque_point(&run, &rig, &Drag::default()).unwrap()
        };
        let (down, up) = (point(Motion::Falling, FRICTION), point(Motion::Rising, FRICTION));
        let (moment, friction) = through(&down, &up).unwrap();
        assert!((moment.value().0 / TABLE - 1.0).abs() < 1e-12);
        assert!((friction.value().0 / FRICTION - 1.0).abs() < 1e-10);
        // (m Rₑ + I/Rₑ) u(a) √2/Δα.
        let span = (down.angular_acceleration.value().0 - up.angular_acceleration.value().0).abs();
        let u = (mass * RADIUS + TABLE / RADIUS) * 1e-5 * 2.0_f64.sqrt() / span;
        assert!((moment.standard_uncertainty().0 / u - 1.0).abs() < 1e-9);
    }
}
