//! Exported tables, read back by an outside reader (the `csv` crate) and compared with the lab and with its
//! results as JSON; and readings by our own reader.

use proptest::prelude::*;
use serde_json::Value;
use std::path::{Path, PathBuf};
use whorl_core::analysis::analyze;
use whorl_core::csv_text::unguard;
use whorl_core::export::{Table, accelerations, line_points, readings, results};
use whorl_core::lab::{Configuration, Lab, Record, RunEntry, RunId, Source};
use whorl_core::quantity::{Kilograms, Seconds};
use whorl_core::readings::{Choices, ReadingKind, Readings, read};
use whorl_core::torque::Motion;
use whorl_core::{lab_file, report};

/// A table as the outside reader sees it, the guard taken off; it refuses rows of different lengths.
struct Seen {
    headings: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Seen {
    fn of(text: &str) -> Self {
        assert!(text.ends_with("\r\n") && text.is_char_boundary(text.len()));
        let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
        let row = |record: csv::Result<csv::StringRecord>| -> Vec<String> {
            record.unwrap().iter().map(|cell| unguard(cell).to_owned()).collect()
        };
        let mut rows: Vec<Vec<String>> = reader.records().map(row).collect();
        Self { headings: rows.remove(0), rows }
    }

    /// The cells of a column, found by its heading.
    fn column(&self, heading: &str) -> Vec<&str> {
        let place = self.headings.iter().position(|found| found == heading).unwrap();
        self.rows.iter().map(|row| row[place].as_str()).collect()
    }
}

fn labs() -> Vec<(PathBuf, Lab)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut paths = vec![root.join("labs/twelve/lab.json"), root.join("../web/samples/banding-wheel.json")];
    let corners = std::fs::read_dir(root.join("labs/corners")).unwrap().map(|entry| entry.unwrap().path());
    paths.extend(corners.filter(|path| path.extension().is_some_and(|ending| ending == "json")));
    paths.sort();
    assert!(paths.len() > 8);
    paths
        .into_iter()
        .map(|path| {
            let text = std::fs::read_to_string(&path).unwrap();
            let folder = path.parent().unwrap().to_owned();
            let mut read_file = |file: &lab_file::OpenedPath<'_>| {
                std::fs::read(folder.join(file.as_str())).map_err(|error| error.to_string())
            };
            let lab = lab_file::open(&text, &mut read_file).unwrap();
            (path, lab)
        })
        .collect()
}

/// The cell that a JSON number, text or `null` must have become.
#[track_caller]
fn same(cell: &str, value: &Value, place: &str) {
    match value {
        Value::Null => assert_eq!(cell, "", "{place}"),
        Value::Number(number) => {
            let found = cell.parse::<f64>().unwrap();
            assert_eq!(found.to_bits(), number.as_f64().unwrap().to_bits(), "{place}");
        }
        Value::String(text) => assert_eq!(cell, text, "{place}"),
        other => assert_eq!(cell, other.to_string(), "{place}"),
    }
}

const VALUE_COLUMNS: [(ReadingKind, &str); 6] = [
    (ReadingKind::BothEdges, "gate (1 = blocked)"),
    (ReadingKind::Position, "position (m)"),
    (ReadingKind::Velocity, "velocity (m/s)"),
    (ReadingKind::Acceleration, "acceleration (m/s²)"),
    (ReadingKind::Angle, "table angle (rad)"),
    (ReadingKind::AngularVelocity, "table angular velocity (rad/s)"),
];

#[test]
fn readings_keep_their_bits_and_say_whose_they_are() {
    for (path, lab) in labs() {
        let seen = Seen::of(&readings(&lab));
        let columns: Vec<(ReadingKind, Vec<&str>)> = VALUE_COLUMNS
            .into_iter()
            .filter(|(_, heading)| seen.headings.iter().any(|found| found == heading))
            .map(|(kind, heading)| (kind, seen.column(heading)))
            .collect();
        let (names, times) = (seen.column("run"), seen.column("time (s)"));
        let (carries, masses, motions) =
            (seen.column("table carries"), seen.column("hanging mass (kg)"), seen.column("motion"));
        let mut row = 0;
        for run in lab.runs() {
            let Some(readings) = run.record.readings() else { continue };
            for (index, (time, value)) in readings.pairs().into_iter().enumerate() {
                let place = format!("{}, {}, reading {index}", path.display(), run.name);
                assert_eq!(names[row], run.name, "{place}");
                assert_eq!(carries[row], lab.configuration_name(run.configuration), "{place}");
                assert_eq!(masses[row].parse().ok(), run.hanging_mass.map(|mass| mass.0), "{place}");
                assert_eq!(motions[row], run.motion.key(), "{place}");
                same(times[row], &time.into(), &place);
                for (kind, cells) in &columns {
                    let expected = match readings.kind() {
                        ReadingKind::BothEdges => f64::from(u8::from(index % 2 == 0)),
                        _ => value,
                    };
                    let expected = if *kind == readings.kind() { expected.into() } else { Value::Null };
                    same(cells[row], &expected, &place);
                }
                row += 1;
            }
        }
        assert_eq!(row, seen.rows.len(), "{}", path.display());
    }
}

#[test]
fn accelerations_are_those_of_the_results() {
    for (path, lab) in labs() {
        let analysis = analyze(&lab);
        let (seen, json) = (Seen::of(&accelerations(&lab, &analysis)), report::to_json(&lab, &analysis));
        let runs = json["runs"].as_array().unwrap();
        assert_eq!(seen.rows.len(), runs.len());
        for (heading, pointer) in [
            ("run", "/name"),
            ("hanging mass (kg)", "/hanging_mass_kg"),
            ("motion", "/motion"),
            ("known by", "/record_kind"),
            ("acceleration a (m/s²)", "/acceleration_m_per_s2/value"),
            ("u(a) of this run (m/s²)", "/acceleration_m_per_s2/u"),
            ("degrees of freedom of u(a)", "/acceleration_m_per_s2/degrees_of_freedom"),
            ("u(a) shared by all runs (m/s²)", "/acceleration_u_shared"),
            ("angular acceleration α (rad/s²)", "/angular_acceleration_rad_per_s2/value"),
            ("u(α) of this run (rad/s²)", "/angular_acceleration_rad_per_s2/u"),
            ("degrees of freedom of u(α)", "/angular_acceleration_rad_per_s2/degrees_of_freedom"),
            ("u(α) shared by all runs (rad/s²)", "/angular_acceleration_u_shared"),
            ("stretch from (s)", "/stretch_used_s/0"),
            ("stretch to (s)", "/stretch_used_s/1"),
            ("readings used", "/readings_fitted"),
            ("source file", "/source/file"),
            ("run in the source file", "/source/run"),
            ("source bytes", "/source/bytes"),
            ("source SHA-256", "/source/sha256"),
            ("problem", "/problem"),
        ] {
            for (cell, run) in seen.column(heading).into_iter().zip(runs) {
                let place = format!("{}, {}, {heading}", path.display(), run["name"]);
                same(cell, run.pointer(pointer).unwrap_or(&Value::Null), &place);
            }
        }
    }
}

#[test]
fn points_are_those_of_the_lines() {
    for (path, lab) in labs() {
        let analysis = analyze(&lab);
        let (seen, json) = (Seen::of(&line_points(&lab, &analysis)), report::to_json(&lab, &analysis));
        let residuals = seen.column("residual of τ (N·m)");
        let on_lines: Vec<usize> = (0..seen.rows.len()).filter(|&row| !residuals[row].is_empty()).collect();
        let lines = json["lines"].as_array().unwrap();
        let points: Vec<(&Value, &Value)> = lines
            .iter()
            .flat_map(|line| line["points"].as_array().into_iter().flatten().map(move |point| (line, point)))
            .collect();
        assert_eq!(on_lines.len(), points.len(), "{}", path.display());
        for (heading, field) in [
            ("run", "run"),
            ("angular acceleration α (rad/s²)", "angular_acceleration_rad_per_s2"),
            ("torque τ (N·m)", "torque_N_m"),
            ("residual of τ (N·m)", "residual_N_m"),
            ("u expected of the residual (N·m)", "residual_u_N_m"),
        ] {
            let cells = seen.column(heading);
            for (&row, (_, point)) in on_lines.iter().zip(&points) {
                same(cells[row], &point[field], &format!("{}, {heading}", path.display()));
            }
        }
        let carries = seen.column("table carries");
        for (&row, (line, _)) in on_lines.iter().zip(&points) {
            same(carries[row], &line["name"], &path.display().to_string());
        }
    }
}

#[test]
fn results_are_those_of_the_report() {
    for (path, lab) in labs() {
        let analysis = analyze(&lab);
        let (seen, json) = (Seen::of(&results(&lab, &analysis)), report::to_json(&lab, &analysis));
        let find = |quantity: &str, carries: &str| {
            let row = seen.rows.iter().find(|row| row[0] == quantity && row[1] == carries);
            row.unwrap_or_else(|| panic!("{quantity}, {carries}: {}", path.display()))
        };
        let compare = |row: &[String], value: &Value| {
            let place = format!("{}, {row:?}", path.display());
            for (cell, pointer) in [
                (2, "/value"),
                (3, "/u"),
                (4, "/degrees_of_freedom"),
                (5, "/interval_95/0"),
                (6, "/interval_95/1"),
            ] {
                // Predictions stand in the report without their interval.
                if let Some(expected) = value.pointer(pointer) {
                    same(&row[cell], expected, &place);
                }
            }
        };
        for line in json["lines"].as_array().unwrap() {
            let name = line["name"].as_str().unwrap();
            let moment = find("moment of inertia of table and load", name);
            let friction = find("friction torque", name);
            compare(moment, &line["moment_of_inertia_kg_m2"]);
            compare(friction, &line["friction_torque_N_m"]);
            assert_eq!((moment[7].as_str(), friction[7].as_str()), ("kg·m²", "N·m"));
            same(&moment[9], line.get("problem").unwrap_or(&"".into()), name);
        }
        for object in json["objects"].as_array().unwrap() {
            let name = object["name"].as_str().unwrap();
            compare(find("moment of inertia of the object alone", name), &object["moment_of_inertia_kg_m2"]);
            compare(find("predicted moment of inertia", name), &object["predicted_kg_m2"]);
            if let Some(comparison) = object["comparison"].as_object() {
                compare(find("measured less predicted", name), &comparison["difference_kg_m2"]);
                compare(find("the same, of the prediction", name), &comparison["percent_difference"]);
            }
        }
        let simulated = if json["provenance"] == "simulated" { "simulated" } else { "measured" };
        assert!(seen.column("readings are").iter().all(|cell| *cell == simulated));
    }
}

fn run(name: &str, configuration: Configuration, times: &[f64]) -> RunEntry {
    let times: Vec<Seconds> = times.iter().copied().map(Seconds).collect();
    RunEntry {
        id: RunId(0),
        name: name.to_owned(),
        configuration,
        hanging_mass: Some(Kilograms(0.15)),
        motion: Motion::Falling,
        stretch: None,
        record: Record::Readings(Readings::from_gate_times(&times).unwrap()),
        source: Some(Source { file: name.to_owned(), run: name.to_owned(), ..Source::default() }),
    }
}

fn lab_with(names: &[&str], objects: &[&str]) -> Lab {
    let mut lab = Lab::default();
    for object in objects {
        lab.add_object((*object).to_owned(), Vec::new());
    }
    let configurations = lab.configurations();
    for (place, name) in names.iter().enumerate() {
        lab.add_run(run(name, configurations[place % configurations.len()], &[0.0, 0.1, 0.19]));
    }
    lab
}

const HOSTILE: [&str; 12] = [
    "=HYPERLINK(\"http://example.org\",\"ring\")",
    "+1",
    "-2",
    "@x",
    "'quoted",
    "\ttab",
    "ring, 150 g",
    "the \"new\"\r\nring",
    "🏺 clay",
    "# ring",
    "x;y|z",
    "1,5",
];

#[test]
fn hostile_names_come_back_as_they_are_and_run_nowhere() {
    let lab = lab_with(&HOSTILE, &HOSTILE);
    let analysis = analyze(&lab);
    for table in Table::ALL {
        let text = table.of(&lab, &analysis);
        let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
        for cell in
            reader.records().flat_map(|row| row.unwrap().iter().map(str::to_owned).collect::<Vec<_>>())
        {
            let formula = cell.starts_with(['=', '+', '@', '\t', '\r'])
                || (cell.starts_with('-') && cell.parse::<f64>().is_err());
            assert!(!formula, "{cell}");
        }
    }
    let seen = Seen::of(&accelerations(&lab, &analysis));
    assert_eq!(seen.column("run"), HOSTILE);
    assert_eq!(seen.column("source file"), HOSTILE);
    let seen = Seen::of(&results(&lab, &analysis));
    let objects: Vec<&str> = seen.column("table carries").into_iter().skip(2).step_by(2).take(12).collect();
    assert_eq!(objects, HOSTILE);
}

#[test]
fn runs_of_the_same_name_stay_two() {
    let lab = lab_with(&["ring", "ring", "ring (2)", ""], &["empty table"]);
    let seen = Seen::of(&readings(&lab));
    let mut names = seen.column("run");
    names.dedup();
    assert_eq!(names, ["ring", "ring (2)", "ring (2) (2)", "run 4"]);
    let mut carries = seen.column("table carries");
    carries.dedup();
    assert_eq!(carries, ["empty table", "empty table (2)", "empty table", "empty table (2)"]);
}

/// Gate times in equal steps are no fall: the reader takes them for samples whose values are missing, and
/// leaves the run out with a remark.
fn evenly_spaced(readings: &Readings) -> bool {
    let times: Vec<f64> = readings.pairs().into_iter().map(|pair| pair.0).collect();
    let steps: Vec<f64> = times.windows(2).map(|pair| pair[1] - pair[0]).collect();
    readings.kind() == ReadingKind::GateTimes && steps.iter().all(|step| (step / steps[0] - 1.0).abs() < 1e-3)
}

#[test]
fn readings_come_back_identical_through_our_own_reader() {
    for (path, lab) in labs() {
        let falls = |run: &&RunEntry| run.record.readings().is_some_and(|readings| !evenly_spaced(readings));
        let runs: Vec<&RunEntry> = lab.runs().iter().filter(falls).collect();
        if runs.is_empty() {
            continue;
        }
        let understood = read(readings(&lab).as_bytes(), &Choices::default(), &mut |_| {});
        let understood = understood.unwrap_or_else(|problems| panic!("{}: {problems:?}", path.display()));
        assert!(
            understood.layout.questions.is_empty(),
            "{}: {:?}",
            path.display(),
            understood.layout.questions
        );
        assert_eq!(understood.runs.len(), runs.len(), "{}", path.display());
        for (found, run) in understood.runs.iter().zip(runs) {
            let place = format!("{}, {}", path.display(), run.name);
            assert_eq!(found.label, run.name, "{place}");
            assert_eq!(found.carries, Some(lab.configuration_name(run.configuration)), "{place}");
            // Nothing hangs on nothing: the reader takes a mass of zero for none.
            let mass = run.hanging_mass.filter(|mass| mass.0 > 0.0);
            assert_eq!(found.hanging_mass, mass, "{place}");
            assert_eq!(found.motion, Some(run.motion), "{place}");
            let bits = |readings: &Readings| -> Vec<(u64, u64)> {
                readings.pairs().into_iter().map(|(time, value)| (time.to_bits(), value.to_bits())).collect()
            };
            let whole = run.record.readings().unwrap();
            assert_eq!(found.readings.kind(), whole.kind(), "{place}");
            assert_eq!(bits(&found.readings), bits(whole), "{place}");
        }
    }
}

#[test]
fn hostile_names_come_back_through_our_own_reader() {
    let lab = lab_with(&HOSTILE, &HOSTILE);
    let understood = read(readings(&lab).as_bytes(), &Choices::default(), &mut |_| {}).unwrap();
    // Spaces around a name, and what stands for them, may be trimmed.
    let names: Vec<&str> = understood.runs.iter().map(|run| run.label.trim()).collect();
    assert_eq!(names, HOSTILE.map(str::trim));
}

fn any_name() -> impl Strategy<Value = String> {
    prop_oneof![
        "[-=+@'\t\r\n\",;# a1]{0,6}",
        "\\PC{0,12}",
        proptest::sample::select(HOSTILE.to_vec()).prop_map(str::to_owned),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_names_come_back(names in proptest::collection::vec(any_name(), 1..5), object in any_name()) {
        let borrowed: Vec<&str> = names.iter().map(String::as_str).collect();
        let lab = lab_with(&borrowed, &[&object]);
        let analysis = analyze(&lab);
        for table in Table::ALL {
            let seen = Seen::of(&table.of(&lab, &analysis));
            prop_assert!(!seen.rows.is_empty() || table == Table::Points);
        }
        let (seen, rows) = (Seen::of(&accelerations(&lab, &analysis)), Seen::of(&readings(&lab)));
        prop_assert_eq!(seen.column("source file"), borrowed.clone());
        prop_assert_eq!(seen.column("run in the source file"), borrowed.clone());
        let mut exported = seen.column("run");
        for (name, given) in exported.iter().zip(&borrowed) {
            // A name that another run has, or a blank one, is told apart.
            let unchanged = name == given;
            prop_assert!(unchanged || given.trim().is_empty() || name.starts_with(given), "{name} for {given}");
        }
        let told: Vec<&str> = rows.column("run").into_iter().step_by(3).collect();
        prop_assert_eq!(&told, &exported);
        exported.sort_unstable();
        exported.dedup();
        prop_assert_eq!(exported.len(), names.len());
    }
}
