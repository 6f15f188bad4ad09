//! Each planted fault does what it says, and nothing else.

use super::*;

fn planted(fault: Fault, wish: &Wish) -> (TakenRun, TakenRun) {
    let settings = with(|settings| settings.table.off_center_m = Spread::Fixed(0.01));
    let sound = Bench::new(&settings, Seed::new(21)).unwrap();
    let faulty = Bench::new(&BenchSettings { faults: vec![fault], ..settings }, Seed::new(21)).unwrap();
    // What the student reads and is told does not change.
    assert_eq!(sound.lab(), faulty.lab());
    assert_eq!(sound.masses_kg(), faulty.masses_kg());
    (sound.take(wish, 1).unwrap(), faulty.take(wish, 1).unwrap())
}

/// The faulty rig with one thing made as the sound one's is the sound rig.
fn differs_only(
    fault: Fault,
    wish: &Wish,
    mend: impl Fn(&mut crate::simulation::rig::Rig, &crate::simulation::rig::Rig),
) {
    let (sound, faulty) = planted(fault, wish);
    let mut mended = faulty.truth.rig.clone();
    assert_ne!(mended, sound.truth.rig, "{fault:?}");
    mend(&mut mended, &sound.truth.rig);
    assert_eq!(mended, sound.truth.rig, "{fault:?}");
    assert_ne!(faulty.fingerprint(), sound.fingerprint());
}

#[test]
fn faults_of_the_rig_change_what_they_name() {
    let wish = Wish::usual(Load::Object(0), 6);
    let layers = Fault::StringInLayers { growth_per_turn_m: 0.001 };
    differs_only(layers, &wish, |rig, sound| rig.growth_per_turn_m = sound.growth_per_turn_m);
    let vane = Fault::DragVane { quadratic_n_m_s2: 1e-6 };
    differs_only(vane, &wish, |rig, sound| rig.friction.quadratic_n_m_s2 = sound.friction.quadratic_n_m_s2);
    let stamp = Fault::WrongStamp { mass: 6, by_kg: 0.01 };
    differs_only(stamp, &wish, |rig, sound| {
        assert!((rig.mass_kg - sound.mass_kg - 0.01).abs() < 1e-15);
        rig.mass_kg = sound.mass_kg;
    });
    let level = Fault::NotLevel { tilt_rad: 0.02 };
    differs_only(level, &wish, |rig, sound| {
        // Half a kilogram, 1 cm off: m g e sin 0.02 rad is about 1 mN·m.
        let table = 0.5 * 9.81 * 0.01 * 0.02_f64.sin();
        assert!((rig.friction.tilt_n_m / table - 1.0).abs() < 0.21, "{}", rig.friction.tilt_n_m);
        rig.friction.tilt_n_m = sound.friction.tilt_n_m;
    });
    let off = Fault::LoadOffMark { by_m: 0.01 };
    differs_only(off, &wish, |rig, sound| {
        // 1.2 to 1.5 kg by 1 cm: M e².
        let added = rig.inertia_kg_m2 - sound.inertia_kg_m2;
        assert!((1.2e-4..1.5e-4).contains(&added), "{added}");
        rig.inertia_kg_m2 = sound.inertia_kg_m2;
    });
}

#[test]
fn faults_of_gate_and_hand_show_in_the_run() {
    let wish = Wish { winding: false, ..Wish::usual(Load::Empty, 4) };
    let (sound, faulty) = planted(Fault::StringSlips { length_m: 0.03, share: 1.0 }, &wish);
    assert!(!kinds(&sound).contains(&PhaseKind::Slipping) && kinds(&faulty).contains(&PhaseKind::Slipping));
    let (sound, faulty) = planted(Fault::PushedRelease { speed_m_per_s: 0.12, share: 1.0 }, &wish);
    let start = |run: &TakenRun| run.path.moment(run.truth.falls[0].from_s + 1e-9).unwrap().string_m_per_s;
    assert!(start(&sound) < 1e-6 && (start(&faulty) - 0.12).abs() < 1e-6);
    let (sound, faulty) = planted(Fault::MissedEdges { share: 0.2 }, &wish);
    let count = |run: &TakenRun| run.edges.len() as f64;
    // Of 50 to 80 edges, a fifth; four standard deviations of the count are 0.18 of it.
    assert!((0.6..0.98).contains(&(count(&faulty) / count(&sound))), "{} {}", count(&faulty), count(&sound));
    let (sound, faulty) = planted(Fault::BouncedEdges { share: 0.2 }, &wish);
    assert!(sound.edges.iter().all(|edge| edge.genuine) && faulty.edges.iter().any(|edge| !edge.genuine));
    let (sound, faulty) = planted(Fault::UnevenSpokes { spoke_error: 0.02 }, &wish);
    assert_eq!(sound.truth, faulty.truth);
    assert_ne!(sound.fingerprint(), faulty.fingerprint());
}

#[test]
fn a_share_of_the_runs_is_that_share() {
    let settings = with(|settings| settings.faults = vec![Fault::StringSlips { length_m: 0.02, share: 0.3 }]);
    let bench = Bench::new(&settings, Seed::new(1)).unwrap();
    let wish = Wish::usual(Load::Empty, 4);
    let slips = (0..400).filter(|&number| bench.take(&wish, number).unwrap().truth.falls.len() == 2).count();
    // Four standard deviations of 400 · 0.3: 37.
    assert!((83..=157).contains(&slips), "{slips}");
}

#[test]
fn a_cylinder_off_axis_shows_the_parallel_axes() {
    // One of 0.5 kg, radius 3 cm, 8 cm off, then moved 1 cm further: ½ M r² + M D².
    let part = PartSettings {
        shape: crate::bodies::Shape::Disc,
        count: core::num::NonZeroU32::MIN,
        mass_kg: Spread::Fixed(0.5),
        dimensions_m: vec![Spread::Fixed(0.03)],
        offset_m: Some(Spread::Fixed(0.08)),
    };
    let of = |faults: Vec<Fault>| {
        let object = ObjectSettings { name: "clay".to_owned(), parts: vec![part.clone()] };
        let settings = with(|settings| {
            settings.objects = vec![object.clone()];
            settings.faults.clone_from(&faults);
            settings.table.tilt_rad = Spread::Fixed(0.01);
        });
        let run = Bench::new(&settings, Seed::new(1)).unwrap();
        let inertia = |load| run.take(&Wish::usual(load, 8), 1).unwrap().truth.rig;
        let (empty, loaded) = (inertia(Load::Empty), inertia(Load::Object(0)));
        (loaded.inertia_kg_m2 - empty.inertia_kg_m2, loaded.friction.tilt_n_m)
    };
    let (inertia, tilt) = of(Vec::new());
    assert!((inertia - (0.5 * 0.5 * 0.000_9 + 0.5 * 0.006_4)).abs() < 1e-15, "{inertia}");
    assert!((tilt - 0.5 * 9.81 * 0.08 * 0.01_f64.sin()).abs() < 1e-15);
    let (inertia, tilt) = of(vec![Fault::LoadOffMark { by_m: 0.01 }]);
    assert!((inertia - (0.5 * 0.5 * 0.000_9 + 0.5 * 0.008_1)).abs() < 1e-15, "{inertia}");
    assert!((tilt - 0.5 * 9.81 * 0.09 * 0.01_f64.sin()).abs() < 1e-15);
}
