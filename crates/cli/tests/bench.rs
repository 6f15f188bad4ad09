//! `whorl bench` as it is called.

#![expect(
    clippy::unwrap_used,
    reason = "clippy.toml allows it in test functions; the functions they share are tests too"
)]

use serde_json::Value;
use std::fs;
use std::path::PathBuf;
use std::process::Command;
use whorl_core::analysis::analyze;
use whorl_core::bench::{BenchSettings, open};
use whorl_core::lab::Provenance;
use whorl_core::lab_file::open_alone;
use whorl_core::measured::coverage::Probability;
use whorl_core::readings::parse;

/// What the program prints, and what it complains about.
fn whorl(words: &[&str]) -> (String, String, i32) {
    let output = Command::new(env!("CARGO_BIN_EXE_whorl")).args(words).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (text(output.stdout), text(output.stderr), output.status.code().unwrap())
}

/// The standard bench in a file of this name.
fn spec(name: &str) -> PathBuf {
    let (text, complaints, code) = whorl(&["bench", "--settings"]);
    assert_eq!((complaints.as_str(), code), ("", 0));
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::write(&path, text).unwrap();
    path
}

#[test]
fn the_settings_are_those_to_start_from() {
    let path = spec("settings.json");
    assert_eq!(open(&fs::read_to_string(path).unwrap()), Ok(BenchSettings::default()));
}

#[test]
fn a_run_is_told_and_told_again_and_its_log_is_the_same() {
    let path = spec("run.json");
    let path = path.to_str().unwrap();
    let call = ["bench", path, "--seed", "fde qqt", "--load", "brass ring", "--mass", "0.2 kg", "--run", "4"];
    let (plain, _, code) = whorl(&call);
    assert_eq!(code, 0);
    assert_eq!(plain, whorl(&call).0);
    let run: Value = serde_json::from_str(&plain).unwrap();
    assert_eq!((run["seed"].as_str(), run["load"].as_str()), (Some("FDE-QQT"), Some("brass ring")));
    assert!(run.get("truth").is_none());
    let phases: Vec<&str> =
        run["phases"].as_array().unwrap().iter().map(|phase| phase["phase"].as_str().unwrap()).collect();
    assert_eq!(phases, ["held", "wound-up", "held", "falling", "landed", "slack"]);
    let (log, ..) = whorl(&[&call[..], &["--csv"]].concat());
    let times: Vec<f64> = parse(log.as_bytes(), None).unwrap().pairs().iter().map(|pair| pair.0).collect();
    let told: Vec<f64> =
        run["time_s"].as_array().unwrap().iter().map(|time| time.as_f64().unwrap()).collect();
    assert_eq!(
        times.iter().map(|time| time.to_bits()).collect::<Vec<_>>(),
        told.iter().map(|time| time.to_bits()).collect::<Vec<_>>()
    );
    let (open, ..) = whorl(&[&call[..], &["--truth"]].concat());
    let truth = serde_json::from_str::<Value>(&open).unwrap()["truth"].clone();
    let number = |value: &Value| value.as_f64().unwrap();
    // T = m (g − a) − I_p a/r_p² − τ_p/r_p, worked from what is printed.
    let (apparatus, a) = (&truth["apparatus"], number(&truth["acceleration_m_per_s2"]));
    let pulley = &apparatus["pulley"];
    let radius = number(&pulley["spokes"]) * number(&pulley["travel_per_spoke_m"]) / core::f64::consts::TAU;
    let tension = number(&apparatus["mass_kg"]) * (number(&apparatus["gravity_m_per_s2"]) - a)
        - number(&pulley["inertia_kg_m2"]) * a / (radius * radius)
        - number(&pulley["friction_n_m"]) / radius;
    assert!((tension - number(&truth["tension_N"])).abs() < 1e-12);
    assert_eq!(truth["edges"].as_array().unwrap().len(), told.len());
}

#[test]
fn a_whole_lab_opens_and_finds_the_object_it_was_made_with() {
    let path = spec("lab.json");
    let (text, complaints, code) =
        whorl(&["bench", path.to_str().unwrap(), "--lab", "--load", "slate disc", "--student", "3"]);
    assert_eq!((complaints.as_str(), code), ("", 0));
    let lab = open_alone(&text).unwrap();
    assert_eq!((lab.provenance, lab.runs().len()), (Provenance::Simulated, 12));
    let analysis = analyze(&lab);
    let object = &analysis.objects[0];
    let measured = object.measured.as_ref().unwrap().moment_of_inertia.total;
    let predicted = object.predicted.as_ref().unwrap().moment_of_inertia.value();
    let interval = measured.coverage_interval(Probability::P95);
    // Slate of 1.2 to 1.5 kg and 95 to 105 mm: 5.4 to 8.3 g·m²; predicted from a ruler, within some percent.
    assert!((0.005_4..0.008_3).contains(&measured.value().0));
    assert!((interval.low.0 * 0.97..interval.high.0 * 1.03).contains(&predicted.0));
}

#[test]
fn wrong_calls_say_what_would_do() {
    let path = spec("wrong.json");
    let path = path.to_str().unwrap();
    for (words, said) in [
        (vec!["--mass", "55 g"], "--mass: there is no such mass; there are: 20 g, 40 g"),
        (vec!["--load", "anvil"], "--load: there is no “anvil”; there are: empty, slate disc, brass ring"),
        (vec!["--seed", "K7M-4Q0"], "--seed: codes have no “0”"),
        (vec!["--start", "gently"], "--start: “gently” is not one of rest, softly, pushed"),
        (vec!["--run"], "--run: a value is missing"),
        (vec!["--lab"], "--lab: say with --load"),
        (vec!["--loud", "yes"], "there is no option --loud"),
    ] {
        let (printed, complaint, code) = whorl(&[&["bench", path], &words[..]].concat());
        assert_eq!((printed.as_str(), code), ("", 1), "{words:?}");
        assert!(complaint.contains(said), "{complaint}");
    }
    let broken = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("broken.json");
    fs::write(&broken, "{\"format\": \"whorl-bench\",\n \"version\": 1, \"drum\": 3 4}").unwrap();
    let (_, complaint, code) = whorl(&["bench", broken.to_str().unwrap()]);
    assert!(code == 1 && complaint.contains("broken.json, line 2, column 26"), "{complaint}");
}
