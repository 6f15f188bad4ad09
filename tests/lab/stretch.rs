//! The good stretch of whole records: usable in at least 98 % of each kind, silently wrong in at most
//! 0.5 % of all.

use crate::stretch_study::{HEAD, Tally};
use whorl_core::simulation::raw_run::Kind;

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
#[ignore = "takes a minute without optimisation: cargo test --release -p whorl-tests --test lab stretch -- --ignored --nocapture"]
fn the_fall_is_found_in_a_thousand_records_of_every_kind() {
    table(1000);
}
#[test]
#[ignore]
fn dbg() {
    let mut rises = (0, 0, 0, 0);
    for kind in Kind::ALL {
        let mut n = 0; let mut silent = 0; let mut rise = 0;
        let mut names = std::collections::BTreeMap::new();
        for number in 0..1000 {
            let t = crate::stretch_study::trial(kind, number);
            for d in &t.found.doubts { *names.entry(format!("{d:?}").split(' ').next().unwrap().to_string()).or_insert(0) += 1; }
            if kind == Kind::StringSlip && t.found.doubts.is_empty() { silent += 1; if silent < 6 {println!("{number} {:?} kept {:?}", t.record.free_falls, t.kept); } }
            if kind == Kind::Rewind && t.found.rise.is_none() { silent += 1; if silent < 8 { println!("{number} norise n {} {:?} best {:?} riv {:?}", t.record.gate_times_s.len(), t.record.free_falls, t.found.best.unwrap(), t.found.rivals.len()); } }
            if let Some(r) = t.found.rise { if kind == Kind::FloorLanding && rise < 8 { println!("landing rise {r:?} {}", t.found.best.unwrap().acceleration_roughly); } rise += 1; if kind == Kind::Rewind {
                let rig = &t.record.rig; let re = rig.effective_radius_m(); let f = rig.friction.constant_n_m / re;
                let mass = rig.mass_kg + rig.inertia_kg_m2 / re / re + rig.pulley.effective_mass_kg();
                let (down, up) = ((rig.mass_kg * 9.81 - f) / mass, (rig.mass_kg * 9.81 + f) / mass);
                if n == 0 { println!("down {} {} up {} {}", down, t.found.best.unwrap().acceleration_roughly, up, r.acceleration_roughly); n += 1; }
                rises.0 += 1; if (r.acceleration_roughly / up + 1.0).abs() > 0.01 { rises.1 += 1; if rises.1 < 5 { println!("rise {number} {r:?} up {up}") } }
            } }
        }
        println!("{kind:?} rise {rise} {rises:?} {names:?}");
    }
}
