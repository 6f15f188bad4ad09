//! The good stretch of whole records: usable in at least 98 % of each kind, silently wrong in at most
//! 0.5 % of all.

use whorl_core::simulation::raw_run::Kind;
use whorl_study::stretches::{HEAD, Tally, trial};

/// The table for this many records of each kind.
fn table(records: u32) {
    println!("{HEAD}");
    let (mut silently, mut all) = (0, 0);
    let mut short = Vec::new();
    for kind in Kind::ALL {
        let tally = Tally::of(kind, records);
        println!("{}", tally.line(kind));
        silently += tally.silently_wrong;
        all += tally.records;
        if tally.percent(tally.usable) < 98.0 {
            short.push(tally.line(kind));
        }
    }
    assert!(short.is_empty(), "below 98 %:\n{HEAD}\n{}", short.join("\n"));
    assert!(f64::from(silently) <= 0.005 * f64::from(all), "{silently} of {all} wrong without a word");
}

#[test]
fn the_fall_is_found_in_every_kind_of_record() {
    table(100);
}

#[test]
fn the_climb_after_a_fall_is_found_where_there_is_one() {
    // Constant friction, so that the climb has a closed form: (m g + τ₀/Rₑ)/(m + I/Rₑ² + I_p/r_p²) downwards.
    let mut found = 0;
    for number in 0..100 {
        let trial = trial(Kind::Rewind, number);
        let Some(rise) = trial.found.rise else { continue };
        let rig = &trial.record.rig;
        let radius = rig.effective_radius_m();
        let mass = rig.mass_kg + rig.inertia_kg_m2 / (radius * radius) + rig.pulley.effective_mass_kg();
        let force = rig.mass_kg * rig.gravity_m_per_s2 + rig.friction.constant_n_m / radius;
        let error = rise.acceleration_roughly * mass / force + 1.0;
        assert!(error.abs() < 0.01, "record {number}: off by {error}");
        found += 1;
    }
    assert!(found >= 95, "{found} of 100");
    for kind in [Kind::Clean, Kind::CaughtByHand, Kind::FloorLanding, Kind::FloorBounce, Kind::Everything] {
        let false_ones = (0..100).filter(|&number| trial(kind, number).found.rise.is_some()).count();
        assert!(false_ones <= 1, "{false_ones} of 100 in {}", kind.words());
    }
}

#[test]
fn what_cannot_be_sure_is_said() {
    for (kind, least) in [(Kind::TwoDrops, 95), (Kind::StringSlip, 90)] {
        let doubted = Tally::of(kind, 100).doubted;
        assert!(doubted >= least, "{doubted} of 100 in {}", kind.words());
    }
    // And not said where nothing is in doubt.
    for kind in [Kind::Clean, Kind::SmoothWinding, Kind::FloorLanding, Kind::CoarseClock, Kind::Everything] {
        let doubted = Tally::of(kind, 100).doubted;
        assert!(doubted <= 3, "{doubted} of 100 in {}", kind.words());
    }
}
