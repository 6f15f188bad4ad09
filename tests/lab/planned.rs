//! What a plan promises is what labs report, and what their errors are.
//!
//! Simulated labs from Newton's second law in closed form: unequal spokes, a clock, a string whose place is
//! uncertain, friction of its own in every run, and everything that all runs share off by its own error.

use crate::coverage::Noise;
use core::num::NonZeroU32;
use whorl_core::acceleration::{EdgeNoise, Setup, estimate};
use whorl_core::apparatus::Apparatus;
use whorl_core::inertia::joint;
use whorl_core::measured::Measured;
use whorl_core::object::subtract;
use whorl_core::plan::{Plan, PlanInput, Table, plan, predict_run};
use whorl_core::quantity::{
    KilogramMeters2, Kilograms, Meters, MetersPerSecond2, NewtonMeters, Ratio, Seconds,
};
use whorl_core::readings::Readings;
use whorl_core::runs::Run;
use whorl_core::torque::{FittedRun, Motion};

const RADIUS: (f64, f64) = (0.025, 3e-5);
const STRING: (f64, f64) = (0.001, 2e-5);
const GRAVITY: (f64, f64) = (9.81, 0.003);
/// A coarse pulley: 28 edges in a fall, so that hundreds of labs take seconds.
const TRAVEL: (f64, f64) = (0.03, 1.4e-5);
const MASS_SCALE: f64 = 3e-4;
const SPOKES: usize = 5;

fn input(position: f64, friction_loaded: f64) -> PlanInput {
    let length = |(value, u)| Measured::new(Meters(value), Meters(u)).ok();
    PlanInput {
        apparatus: Apparatus::new(
            length(RADIUS),
            length(STRING),
            Measured::new(MetersPerSecond2(GRAVITY.0), MetersPerSecond2(GRAVITY.1)).ok(),
            length(TRAVEL),
            Ratio(MASS_SCALE),
        )
        .unwrap(),
        spokes: NonZeroU32::new(5),
        drop_height: Meters(0.85),
        table_inertia: KilogramMeters2(1.5e-3),
        object_inertia: KilogramMeters2(7e-3),
        friction_empty: NewtonMeters(1e-3),
        friction_loaded: NewtonMeters(friction_loaded),
        friction_scatter: Ratio(0.03),
        noise: EdgeNoise { clock: Seconds(1e-5), position: Meters(position) },
    }
}

/// What is true in one lab.
struct Truth {
    radius: f64,
    gravity: f64,
    travel: f64,
    mass_scale: f64,
    spokes: Vec<f64>,
}

impl Truth {
    /// `shared`: whether what all runs share is off.
    fn draw(noise: &mut Noise, shared: bool) -> Self {
        let on = if shared { 1.0 } else { 0.0 };
        let mut around = |(value, u): (f64, f64)| value + on * u * noise.normal();
        let (radius, gravity, travel) =
            (around(RADIUS) + 0.5 * around(STRING), around(GRAVITY), around(TRAVEL));
        let mass_scale = around((1.0, MASS_SCALE));
        // Spokes half a percent of the travel from their places.
        let spokes = (0..SPOKES).map(|_| 0.005 * TRAVEL.0 * noise.normal()).collect();
        Self { radius, gravity, travel, mass_scale, spokes }
    }

    /// A run's fit, from its edges.
    fn run(&self, input: &PlanInput, table: Table, written: Kilograms, noise: &mut Noise) -> FittedRun {
        let mass = written.0 * self.mass_scale;
        let friction = input.friction(table).0 * (1.0 + input.friction_scatter.0 * noise.normal());
        let net = mass * self.gravity * self.radius - friction;
        let a = net * self.radius / (input.inertia(table).0 + mass * self.radius * self.radius);
        let first = self.travel * noise.even();
        let mut times = Vec::new();
        for edge in 0_u32.. {
            let place = first + self.travel * f64::from(edge);
            if place > input.drop_height.0 {
                break;
            }
            let spoke = self.spokes[edge as usize % SPOKES];
            // Where the string truly was when the spoke passed; the first millimeter is hardly moving.
            let passed = place + spoke + input.noise.position.0 * noise.normal();
            if passed > 1e-3 {
                times.push(Seconds((2.0 * passed / a).sqrt() + input.noise.clock.0 * noise.normal()));
            }
        }
        let readings = Readings::from_gate_times(&times).unwrap();
        let setup =
            Setup { travel_per_spoke: Some(Meters(TRAVEL.0)), spokes: input.spokes, ..Setup::default() };
        let fit = estimate(&Run::new(&readings, None).unwrap(), &setup).unwrap();
        FittedRun::new(written, Motion::Falling, &fit)
    }
}

fn kilograms(grams: &[f64]) -> Vec<Kilograms> {
    grams.iter().map(|grams| Kilograms(grams / 1e3)).collect()
}

#[test]
fn the_expected_uncertainty_of_an_acceleration_is_the_fit_s_own_on_average() {
    const RUNS: u32 = 300;
    for (position, mass) in [(2e-5, 0.05), (5e-5, 0.12)] {
        let input = PlanInput { friction_scatter: Ratio(0.0), ..input(position, 1.4e-3) };
        let planned = predict_run(&input, Table::Empty, Kilograms(mass)).unwrap();
        let expected = planned.point.acceleration.standard_uncertainty().0;
        let truth = planned.point.acceleration.value().0;
        let mut noise = Noise(7);
        let (mut reported, mut errors) = (0.0, 0.0);
        for _ in 0..RUNS {
            let lab = Truth::draw(&mut noise, false);
            let run = lab.run(&input, Table::Empty, Kilograms(mass), &mut noise);
            reported += run.acceleration.standard_uncertainty().0.powi(2);
            errors += (run.acceleration.value().0 - truth).powi(2);
        }
        let [reported, errors] = [reported, errors].map(|sum| (sum / f64::from(RUNS)).sqrt() / expected);
        println!(
            "u(a)/a expected {:.5} %, reported {reported:.3} of it, errors {errors:.3}",
            100.0 * expected / truth
        );
        // An error's root mean square scatters by 1/√600 = 4 %. Of few edges the fit claims a few percent
        // too little, since the v_c it chooses is the one that suits their noise best.
        assert!((reported - 1.0).abs() < 0.09, "{reported}");
        assert!((errors - 1.0).abs() < 0.13, "{errors}");
    }
}

/// Root mean square over labs, as shares of what the plan promised: reported and real, of the table and of
/// the object.
fn shares(input: &PlanInput, planned: &Plan, labs: u32, shared: bool) -> [[f64; 2]; 2] {
    let mut noise = Noise(20_260_301);
    let mut sums = [[0.0; 2]; 2];
    for _ in 0..labs {
        let truth = Truth::draw(&mut noise, shared);
        let mut group = |table, runs: &[whorl_core::plan::PlannedRun]| -> Vec<FittedRun> {
            runs.iter().map(|run| truth.run(input, table, run.mass(), &mut noise)).collect()
        };
        let groups = [group(Table::Empty, &planned.empty), group(Table::Loaded, &planned.loaded)];
        let mut found = joint(&groups, &input.apparatus).inertias.into_iter().map(Result::unwrap);
        let (empty, loaded) = (found.next().unwrap(), found.next().unwrap());
        let object = subtract(&loaded, &empty).unwrap();
        let results = [&empty.moment_of_inertia, &object.moment_of_inertia];
        for (sum, (result, truth)) in
            sums.iter_mut().zip(results.iter().zip([&planned.table, &planned.object]))
        {
            let u = if shared { &result.total } else { &result.random };
            sum[0] += u.standard_uncertainty().0.powi(2);
            sum[1] += (result.total.value().0 - truth.total.value().0).powi(2);
        }
    }
    let promised = [&planned.table, &planned.object]
        .map(|result| if shared { result.total } else { result.random }.standard_uncertainty().0);
    let share = |(sums, promised): ([f64; 2], f64)| sums.map(|sum| (sum / f64::from(labs)).sqrt() / promised);
    [share((sums[0], promised[0])), share((sums[1], promised[1]))]
}

#[test]
fn labs_report_what_the_plan_promises_and_are_off_by_as_much() {
    const LABS: u32 = 300;
    let (empty, loaded) = (kilograms(&[20.0, 40.0, 90.0, 140.0]), kilograms(&[50.0, 100.0, 200.0, 300.0]));
    for shared in [false, true] {
        let input = input(3e-5, 1e-3);
        let planned = plan(&input, &empty, &loaded).unwrap();
        let found = shares(&input, &planned, LABS, shared);
        println!(
            "shared {shared}: of the promise, reported and real: table {:.3?}, object {:.3?}",
            found[0], found[1]
        );
        for [reported, real] in found {
            // s_f² has 4 degrees of freedom and scatters by √(2/4): u² of 300 labs by 4 %, an error's mean
            // square by √(2/300) = 8 %; three standard deviations of their roots.
            assert!((reported - 1.0).abs() < 0.06, "{reported}");
            assert!((real - 1.0).abs() < 0.12, "{real}");
        }
    }
}
