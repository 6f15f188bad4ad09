//! Benches, runs and answers.

use super::*;
use crate::lab::{Configuration, Provenance, Record};
use crate::quantity::KilogramMeters2;
use crate::readings::{Choices, ReadingKind, Readings, parse, read};
use crate::simulation::gate::EdgesSeen;

fn bench(seed: u64) -> Bench {
    Bench::new(&BenchSettings::default(), Seed::new(seed)).unwrap()
}

fn with(change: impl Fn(&mut BenchSettings)) -> BenchSettings {
    let mut settings = BenchSettings::default();
    change(&mut settings);
    settings
}

fn kinds(run: &TakenRun) -> Vec<PhaseKind> {
    run.phases.iter().map(|phase| phase.kind).collect()
}

#[test]
fn the_same_seed_number_and_wish_give_the_same_run_and_others_another() {
    let wish = Wish::usual(Load::Object(0), 8);
    let run = bench(5).take(&wish, 3).unwrap();
    assert_eq!(run, bench(5).take(&wish, 3).unwrap());
    for other in
        [bench(6).take(&wish, 3), bench(5).take(&wish, 4), bench(5).take(&Wish { mass: 9, ..wish }, 3)]
    {
        assert_ne!(run.fingerprint(), other.unwrap().fingerprint());
    }
    assert_eq!(bench(5).take(&Wish { mass: 99, ..wish }, 3), None);
    assert_eq!(bench(5).take(&Wish { load: Load::Object(4), ..wish }, 3), None);
}

#[test]
fn every_run_of_a_seed_is_what_it_was_when_this_was_written() {
    // Frozen: whoever changes these numbers takes everyone's apparatus away.
    let bench = bench(12_345_678);
    let wish = Wish::usual(Load::Object(3), 7);
    let plain = bench.take(&wish, 1).unwrap();
    let jumping = Wish {
        load: Load::Empty,
        mass: 2,
        start: Start::Softly,
        grip: Grip::Slips,
        ending: Ending::OnFloor,
        winding: true,
    };
    let jumping = bench.take(&jumping, 2).unwrap();
    assert_eq!(bench.seed().code(), "FDE-QQT");
    let prints = [plain.fingerprint(), jumping.fingerprint()].map(|print| format!("{print:016x}"));
    assert_eq!(prints, ["470a2abd2bacaafb", "b67415e01def41a2"]);
}

#[test]
fn what_is_fixed_is_so_for_everyone_and_what_is_drawn_fills_its_range() {
    let settings = with(|settings| settings.drum.radius_m = Spread::Fixed(0.025));
    let rigs: Vec<_> = (0..200)
        .map(|seed| {
            let bench = Bench::new(&settings, Seed::new(seed)).unwrap();
            bench.take(&Wish::usual(Load::Empty, 5), 1).unwrap().truth.rig
        })
        .collect();
    assert!(rigs.iter().all(|rig| rig.drum_radius_m.to_bits() == 0.025_f64.to_bits()));
    let inertias: Vec<f64> = rigs.iter().map(|rig| rig.inertia_kg_m2).collect();
    let least = inertias.iter().copied().fold(f64::INFINITY, f64::min);
    let most = inertias.iter().copied().fold(0.0, f64::max);
    // 200 even draws leave a fiftieth of the range free at an end once in fifty-odd tries; this seed list does not.
    assert!((1.2e-3..1.22e-3).contains(&least) && (1.98e-3..2e-3).contains(&most), "{least} {most}");
}

#[test]
fn the_log_is_read_without_a_question_and_gives_the_same_bits() {
    for edges in [EdgesSeen::Blocked, EdgesSeen::Both] {
        for step in [0.0, 1e-6, 1e-5, 1e-4, 1.0 / 1024.0] {
            let settings = with(|settings| {
                settings.gate.edges = edges;
                settings.gate.clock_step_s = Spread::Fixed(step);
            });
            let bench = Bench::new(&settings, Seed::new(11)).unwrap();
            for (load, mass) in [(Load::Empty, 3), (Load::Object(1), 9)] {
                let run = bench.take(&Wish::usual(load, mass), 7).unwrap();
                let csv = run.csv();
                let understood = read(csv.as_bytes(), &Choices::default(), &mut |_| {}).unwrap();
                assert!(understood.layout.questions.is_empty(), "{:?}", understood.layout.questions);
                let readings: Readings = parse(csv.as_bytes(), None).unwrap();
                let kind =
                    if edges == EdgesSeen::Both { ReadingKind::BothEdges } else { ReadingKind::GateTimes };
                assert_eq!(readings.kind(), kind);
                let times: Vec<u64> = readings.pairs().iter().map(|pair| pair.0.to_bits()).collect();
                let taken: Vec<u64> = run.gate_times_s().iter().map(|time| time.to_bits()).collect();
                assert_eq!(times, taken, "{edges:?} {step}");
                assert_eq!(run.readings(), Some(readings));
                assert!(taken.len() > 100);
            }
        }
    }
}

#[test]
fn phases_follow_each_other_from_the_record_s_start_to_its_end() {
    let bench = bench(3);
    for start in [Start::FromRest, Start::Softly, Start::Pushed] {
        for grip in [Grip::Holds, Grip::Slips] {
            for ending in [Ending::OnPad, Ending::OnFloor, Ending::Caught] {
                for winding in [true, false] {
                    let wish = Wish { load: Load::Empty, mass: 4, start, grip, ending, winding };
                    let run = bench.take(&wish, 1).unwrap();
                    let mut end_s = 0.0;
                    for phase in &run.phases {
                        assert!((phase.from_s - end_s).abs() < 1e-12, "{wish:?}: {:?}", run.phases);
                        assert!(phase.to_s >= phase.from_s);
                        end_s = phase.to_s;
                    }
                    assert!((end_s - run.end_s()).abs() < 1e-12, "{wish:?}: {:?}", run.phases);
                    let kinds = kinds(&run);
                    let has = |kind| kinds.contains(&kind);
                    assert_eq!(has(PhaseKind::WoundUp), winding);
                    assert_eq!(has(PhaseKind::Released), start == Start::Softly);
                    assert_eq!(has(PhaseKind::Pushed), start == Start::Pushed);
                    assert_eq!(has(PhaseKind::Slipping), grip == Grip::Slips);
                    assert_eq!(has(PhaseKind::Caught), ending == Ending::Caught);
                    assert_eq!(has(PhaseKind::Landed), ending != Ending::Caught);
                    assert_eq!(has(PhaseKind::Rebounded), ending == Ending::OnFloor);
                    assert_eq!(run.account().len(), kinds.len());
                    assert_eq!(run.truth.falls.len(), if grip == Grip::Slips { 2 } else { 1 });
                }
            }
        }
    }
}

#[test]
fn a_short_string_runs_out_and_is_wound_up_again() {
    let settings = with(|settings| settings.drum.string_m = Spread::Fixed(0.6));
    let run = Bench::new(&settings, Seed::new(2)).unwrap().take(&Wish::usual(Load::Empty, 5), 1).unwrap();
    let tail = &kinds(&run)[3..];
    assert_eq!(tail[..3], [PhaseKind::Falling, PhaseKind::Falling, PhaseKind::Rewinding], "{tail:?}");
    let rewinding = run.phases.iter().find(|phase| phase.kind == PhaseKind::Rewinding).unwrap();
    let (low, high) = (run.mass_below_m(rewinding.from_s), run.mass_below_m(rewinding.to_s));
    // All string and the drum's radius below at the turn; above that afterwards.
    assert!((low - 0.6 - run.truth.rig.effective_radius_m()).abs() < 1e-6 && high < 0.5, "{low} {high}");
}

#[test]
fn a_mass_on_the_floor_jumps_no_higher_than_it_fell_and_stays_at_last() {
    let wish = Wish { ending: Ending::OnFloor, ..Wish::usual(Load::Empty, 8) };
    let run = bench(4).take(&wish, 1).unwrap();
    let jumps: Vec<_> = run.phases.iter().filter(|phase| phase.kind == PhaseKind::Rebounded).collect();
    assert!(jumps.len() >= 2);
    let floor = run.mass_below_m(run.truth.falls[0].to_s);
    let heights: Vec<f64> =
        jumps.iter().map(|jump| floor - run.mass_below_m(f64::midpoint(jump.from_s, jump.to_s))).collect();
    assert!(heights.windows(2).all(|pair| pair[1] < pair[0]) && heights[0] < 0.5 * floor, "{heights:?}");
    assert!((run.mass_below_m(run.end_s()) - floor).abs() < 1e-12);
    // ½ g (t/2)² with the restitution drawn: v₁ = e v₀.
    let speed = run.path.moment(run.truth.falls[0].to_s - 1e-9).unwrap().string_m_per_s;
    let restitution = 0.5 * 9.81 * (jumps[0].to_s - jumps[0].from_s) / speed;
    assert!((0.4..0.7).contains(&restitution), "{restitution}");
}

#[test]
fn a_mass_that_friction_holds_makes_no_run() {
    let settings = with(|settings| settings.friction.constant_n_m = Spread::Fixed(0.9));
    let bench = Bench::new(&settings, Seed::new(2)).unwrap();
    let run = bench.take(&Wish { winding: false, ..Wish::usual(Load::Empty, 0) }, 1).unwrap();
    assert_eq!(kinds(&run), [PhaseKind::Held, PhaseKind::AtRest]);
    assert!(run.truth.falls.is_empty() && run.edges.is_empty() && run.readings().is_none());
    assert_eq!(run.csv(), "time (s)\n");
    assert!(bench.usual_masses(Load::Empty, 6).is_empty());
}

#[test]
fn the_truth_of_a_run_obeys_newton() {
    for (number, load) in [(1, Load::Empty), (2, Load::Object(2))] {
        let truth = bench(8).take(&Wish::usual(load, 7), number).unwrap().truth;
        let (rig, a) = (&truth.rig, truth.acceleration_m_per_s2);
        let radius = rig.effective_radius_m();
        // I α = T ρ − τ_f for the means, since a viscous torque's mean over time is not its mean over the angle
        // within its own share of 1 %; T = m (g − a) − I_p a/r_p² − τ_p/r_p.
        let miss = truth.tension_n * radius - truth.friction_n_m - rig.inertia_kg_m2 * a / radius;
        let viscous = rig.friction.viscous_n_m_s * a / radius * (truth.falls[0].to_s - truth.falls[0].from_s);
        assert!(miss.abs() <= 0.25 * viscous + 1e-12, "{miss:e} {viscous:e}");
        let pulley = rig.pulley.effective_mass_kg() * a + rig.pulley.friction_n_m / rig.pulley.radius_m();
        assert!((truth.tension_n - rig.mass_kg * (rig.gravity_m_per_s2 - a) + pulley).abs() < 1e-12);
        assert!(truth.energy.miss_j().abs() < 1e-9 * truth.energy.weight_j, "{:?}", truth.energy);
    }
}

#[test]
fn a_whole_lab_is_entered_as_it_was_read_and_marked_as_simulated() {
    let bench = bench(9);
    let lab = bench.whole_lab(0, 6);
    assert_eq!(lab.provenance, Provenance::Simulated);
    assert_eq!((lab.runs().len(), lab.objects().len()), (12, 4));
    assert!(lab.title.contains(&bench.seed().code()));
    assert!(lab.apparatus.check().is_ok());
    assert!(lab.objects().iter().all(|object| object.parts.iter().all(|part| part.check().is_ok())));
    let loaded = Configuration::Loaded(lab.objects()[0].id);
    let carried: Vec<bool> = lab.runs().iter().map(|run| run.configuration == loaded).collect();
    assert_eq!(carried, [[false; 6], [true; 6]].concat());
    let masses = bench.usual_masses(Load::Object(0), 6);
    for (run, mass) in lab.runs()[6..].iter().zip(masses) {
        assert_eq!(run.hanging_mass.unwrap().0.to_bits(), bench.masses_kg()[mass].to_bits());
        assert!(matches!(run.record, Record::Readings(_)));
    }
}

#[test]
fn an_answer_opens_for_a_commitment_and_says_whether_it_was_caught() {
    let bench = bench(10);
    let rig = |load| bench.take(&Wish::usual(load, 9), 1).unwrap().truth.rig.inertia_kg_m2;
    let (table, loaded) = (rig(Load::Empty), rig(Load::Object(1)));
    let commit = |thing, value: f64, half: f64| {
        let interval = (KilogramMeters2(value - half), KilogramMeters2(value + half));
        bench.sealed().open(Commitment::new(thing, KilogramMeters2(value), interval).unwrap())
    };
    let opened = commit(SealedThing::Object(1), 1.01 * (loaded - table), 0.02 * (loaded - table)).unwrap();
    assert!(opened.caught && (opened.truth.0 - (loaded - table)).abs() < 1e-15);
    assert!((opened.error.0 / opened.truth.0 - 0.01).abs() < 1e-12);
    assert!(!commit(SealedThing::Table, 1.01 * table, 0.005 * table).unwrap().caught);
    assert_eq!(commit(SealedThing::Object(4), 1.0, 0.1), None);
    let [one, two] = [1.0, 2.0].map(KilogramMeters2);
    assert_eq!(Commitment::new(SealedThing::Table, two, (one, one)), Err(NotInside));
    assert_eq!(Commitment::new(SealedThing::Table, one, (two, one)), Err(NotInside));
    let nan = KilogramMeters2(f64::NAN);
    assert_eq!(Commitment::new(SealedThing::Table, nan, (one, two)), Err(NotInside));
}

mod faults;
mod files;
