//! Bench files: there and back, and what is refused.

use super::*;
use proptest::prelude::*;

#[test]
fn settings_come_back_as_they_went() {
    let mut settings = with(|settings| {
        settings.title = "Turntable \"B\"\n2".to_owned();
        settings.gate.edges = EdgesSeen::Both;
        settings.faults = Fault::ALL.to_vec();
        settings.drum.radius_m = Spread::Fixed(0.1 + 0.2);
        settings.pulley.inertia_kg_m2 = Spread::Between { from: 1.0 / 3e6, to: 2e-6 };
    });
    assert_eq!(open(&save(&settings)), Ok(settings.clone()));
    settings = BenchSettings::default();
    assert_eq!(open(&save(&settings)), Ok(settings));
}

proptest! {
    #[test]
    fn any_quantity_comes_back_to_the_same_bits(index in 0..FIELDS.len(), a in 0.0..1.0_f64, b in 0.0..1.0_f64) {
        let field = &FIELDS[index];
        let value = |share: f64| field.least + share * (field.most - field.least);
        for spread in [Spread::Fixed(value(a)), Spread::Between { from: value(a.min(b)), to: value(a.max(b)) }] {
            let mut settings = BenchSettings::default();
            *(field.place)(&mut settings) = spread;
            prop_assert_eq!((field.of)(&settings), spread);
            prop_assert_eq!(open(&save(&settings)), Ok(settings));
        }
    }
}

#[test]
fn what_is_left_out_is_as_usual() {
    let text = r#"{"format": "whorl-bench", "version": 1, "table": {"tilt_rad": 0.01}}"#;
    let expected = with(|settings| {
        settings.title.clear();
        settings.about.clear();
        settings.table.tilt_rad = Spread::Fixed(0.01);
    });
    assert_eq!(open(text), Ok(expected));
}

#[test]
fn complaints_say_where_and_what_to_do() {
    let complaint = |inside: &str| {
        let text = format!("{{\"format\": \"whorl-bench\", \"version\": 1, {inside}}}");
        open(&text).unwrap_err().to_string()
    };
    for (inside, said) in [
        ("\"drum\": {\"radius\": 0.02}", "at drum.radius: there is no such field; known are radius_m"),
        ("\"drum\": {\"radius_m\": \"2 cm\"}", "at drum.radius_m: expected a number"),
        ("\"drum\": {\"radius_m\": {\"from\": 0.02}}", "at drum.radius_m: write a number, or a range like"),
        (
            "\"drum\": {\"radius_m\": {\"from\": 0.03, \"to\": 0.02}}",
            "at drum.radius_m: the range runs backwards",
        ),
        ("\"drum\": {\"radius_m\": 25}", "at drum.radius_m: this must be a number from 0.001 to 1"),
        ("\"dorm\": 1", "at dorm: there is no such field"),
        ("\"gate\": {\"edges\": \"all\"}", "at gate.edges: say “blocked”"),
        ("\"pulley\": {\"spokes\": 0}", "at pulley.spokes: this must be 1 or more"),
        ("\"masses_kg\": []", "at masses_kg: give one at least"),
        ("\"masses_kg\": [0.02, 50]", "at masses_kg[1]: this must be a number from 0.0001 to 20"),
        ("\"objects\": [{\"parts\": []}]", "at objects[0].name: text is missing"),
        ("\"objects\": [{\"name\": \"a\"}]", "at objects[0].parts: give one at least"),
        (
            "\"objects\": [{\"name\": \"a\", \"parts\": [{\"shape\": \"ring\", \"mass_kg\": 1, \"dimensions_m\": [0.2, 0.1]}]}]",
            "at objects[0].parts[0].dimensions_m: the ring’s inner radius",
        ),
        (
            "\"objects\": [{\"name\": \"a\", \"parts\": [{\"shape\": \"disc\", \"dimensions_m\": [0.1]}]}]",
            "at objects[0].parts[0].mass_kg: write a number",
        ),
        (
            "\"instruments\": {\"drum_radius_m\": {\"steps\": 1}}",
            "at instruments.drum_radius_m.steps: there is no",
        ),
        (
            "\"faults\": [{\"fault\": \"gremlin\"}]",
            "at faults[0].fault: “gremlin” is not one of string-slips",
        ),
        (
            "\"faults\": [{\"fault\": \"not-level\", \"tilt\": 1}]",
            "at faults[0].tilt: there is no such field",
        ),
        (
            "\"faults\": [{\"fault\": \"wrong-stamp\", \"mass\": 99}]",
            "at faults[0].mass: there is no such mass",
        ),
        ("\"faults\": [{\"fault\": \"missed-edges\", \"share\": 0.5}]", "at faults[0].share: this must be"),
    ] {
        let found = complaint(inside);
        assert!(
            found.starts_with(said) && found.ends_with("Mend this place in the file"),
            "{inside}: {found}"
        );
    }
    let said = |text: &str| open(text).unwrap_err().to_string();
    assert!(
        said("{\"format\": \"whorl-bench\",\n \"version\": }")
            .starts_with("line 2, column 13: expected value. Open")
    );
    assert!(said("{\"format\": \"whorl-lab\"}").starts_with("line 1, column 1: this is not a bench"));
    assert!(said("{\"format\": \"whorl-bench\", \"version\": 2}").contains("newer Whorl (version 2;"));
    assert!(said("{\"format\": \"whorl-bench\"}").starts_with("at version: there is no such version"));
}

#[test]
fn impossible_settings_draw_no_bench() {
    let settings = with(|settings| settings.table.inertia_kg_m2 = Spread::Fixed(f64::NAN));
    let problem = Bench::new(&settings, Seed::new(1)).unwrap_err();
    assert_eq!(problem.place, "table.inertia_kg_m2");
    for (index, fault) in Fault::ALL.into_iter().enumerate() {
        // Each of the usual sizes is allowed; one far out is not.
        assert_eq!(with(|settings| settings.faults = vec![fault]).check(), Ok(()), "{index}");
    }
}
