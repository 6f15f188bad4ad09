//! `whorl bench`: the practice bench, headless.

use crate::read_text;
use serde_json::{Value, json};
use std::path::Path;
use whorl_core::bench::{
    Bench, BenchSettings, Ending, Grip, Load, Phase, Seed, Start, TakenRun, Wish, open, save,
};
use whorl_core::entry::{EntryUnit, parse};
use whorl_core::lab_file;
use whorl_core::simulation::course::Fall;
use whorl_core::simulation::energy::Energy;
use whorl_core::simulation::gate::{Edge, EdgesSeen};
use whorl_core::simulation::rig::Rig;

/// Runs of each table, when it is not said how many.
const USUAL_RUNS: usize = 6;

/// What is asked for.
#[derive(Clone, Copy, PartialEq)]
enum Output {
    Run,
    Log,
    Lab { runs: usize },
}

/// What the words behind the file's name say.
struct Request<'a> {
    seed: Seed,
    load: Option<&'a str>,
    mass: Option<&'a str>,
    wish: Wish,
    number: u32,
    truth: bool,
    output: Output,
}

/// What is printed: `words` behind `bench`, the file first.
pub(crate) fn answer(words: &[&str]) -> Result<String, String> {
    let [path, options @ ..] = words else { return Err("bench: name a bench file".to_owned()) };
    if *path == "--settings" {
        return Ok(save(&BenchSettings::default()));
    }
    let text = read_text(Path::new(path), "save the bench as UTF-8")?;
    let settings = open(&text).map_err(|problem| format!("{path}, {problem}"))?;
    let request = Request::from_words(options)?;
    let bench = Bench::new(&settings, request.seed).map_err(|problem| format!("{path}, {problem}"))?;
    let load = request.load.map_or(Ok(Load::Empty), |name| load_of(&bench, name))?;
    if let Output::Lab { runs } = request.output {
        let Load::Object(object) = load else {
            return Err("--lab: say with --load which object is measured".to_owned());
        };
        return Ok(lab_file::save(&bench.whole_lab(object, runs)) + "\n");
    }
    let mass = match request.mass {
        Some(text) => mass_of(&bench, text)?,
        None => bench.masses_kg().len() / 2,
    };
    let wish = Wish { load, mass, ..request.wish };
    let run = bench.take(&wish, request.number).ok_or("there is no such load or mass")?;
    Ok(match request.output {
        Output::Log => run.csv(),
        _ => format!("{:#}\n", told(&bench, &run, request.truth)),
    })
}

impl<'a> Request<'a> {
    fn from_words(words: &[&'a str]) -> Result<Self, String> {
        let mut request = Self {
            seed: Seed::new(0),
            load: None,
            mass: None,
            wish: Wish::usual(Load::Empty, 0),
            number: 1,
            truth: false,
            output: Output::Run,
        };
        let mut words = words.iter().copied().peekable();
        while let Some(name) = words.next() {
            match name {
                "--truth" => request.truth = true,
                "--csv" => request.output = Output::Log,
                "--lab" => {
                    let runs = words.next_if(|word| !word.starts_with("--"));
                    let runs = runs.map_or(Ok(USUAL_RUNS), |text| whole(name, text))?;
                    request.output = Output::Lab { runs };
                }
                _ => {
                    let value = words.next().ok_or_else(|| format!("{name}: a value is missing"));
                    request.set(name, value)?;
                }
            }
        }
        Ok(request)
    }

    fn set(&mut self, name: &str, value: Result<&'a str, String>) -> Result<(), String> {
        let wish = &mut self.wish;
        match name {
            "--seed" => {
                self.seed = Seed::from_code(value?).map_err(|problem| format!("--seed: {problem}"))?;
            }
            "--student" => self.seed = Seed::new(whole(name, value?)?),
            "--load" => self.load = Some(value?),
            "--mass" => self.mass = Some(value?),
            "--start" => wish.start = choice(name, value?, &Start::ALL, Start::key)?,
            "--grip" => wish.grip = choice(name, value?, &Grip::ALL, Grip::key)?,
            "--ending" => wish.ending = choice(name, value?, &Ending::ALL, Ending::key)?,
            "--winding" => {
                let key = |yes| if yes { "yes" } else { "no" };
                wish.winding = choice(name, value?, &[true, false], key)?;
            }
            "--run" => self.number = whole(name, value?)?,
            _ => return Err(format!("there is no option {name}; see whorl help")),
        }
        Ok(())
    }
}

fn whole<T: core::str::FromStr>(name: &str, text: &str) -> Result<T, String> {
    text.parse().map_err(|_| format!("{name}: “{text}” is no whole number that would do"))
}

fn choice<T: Copy>(name: &str, text: &str, all: &[T], key: impl Fn(T) -> &'static str) -> Result<T, String> {
    let found = all.iter().copied().find(|each| key(*each) == text);
    found.ok_or_else(|| {
        let known: Vec<&str> = all.iter().map(|each| key(*each)).collect();
        format!("{name}: “{text}” is not one of {}", known.join(", "))
    })
}

fn load_of(bench: &Bench, name: &str) -> Result<Load, String> {
    if name == "empty" {
        return Ok(Load::Empty);
    }
    let objects = &bench.settings().objects;
    let found = objects.iter().position(|object| object.name == name);
    found.map(Load::Object).ok_or_else(|| {
        let names: Vec<&str> = objects.iter().map(|object| object.name.as_str()).collect();
        format!("--load: there is no “{name}”; there are: empty, {}", names.join(", "))
    })
}

fn mass_of(bench: &Bench, text: &str) -> Result<usize, String> {
    let wished = match parse(text, EntryUnit::GRAMS) {
        Ok(Some(mass_kg)) => mass_kg,
        Ok(None) => return Err("--mass: a value is missing".to_owned()),
        Err(problem) => return Err(format!("--mass: {problem}")),
    };
    let masses = bench.masses_kg();
    // The same mass, whatever its last digit became on the way.
    let found = masses.iter().position(|mass| (mass - wished).abs() <= 1e-9 * wished.abs());
    found.ok_or_else(|| {
        let grams: Vec<String> = masses.iter().map(|mass| format!("{} g", shortest(1e3 * mass))).collect();
        format!("--mass: there is no such mass; there are: {}", grams.join(", "))
    })
}

/// Without the digits that a multiplication leaves.
fn shortest(value: f64) -> f64 {
    (value * 1e9).round() / 1e9
}

fn told(bench: &Bench, run: &TakenRun, with_truth: bool) -> Value {
    let load = match run.wish.load {
        Load::Empty => None,
        Load::Object(index) => bench.settings().objects.get(index).map(|object| object.name.as_str()),
    };
    let mut document = json!({
        "format": "whorl-bench-run",
        "simulated": true,
        "seed": bench.seed().code(),
        "run": run.number,
        "load": load,
        "stamped_mass_kg": run.stamped_mass_kg,
        "start": run.wish.start.key(),
        "grip": run.wish.grip.key(),
        "ending": run.wish.ending.key(),
        "time_s": run.gate_times_s(),
        "fingerprint": format!("{:016x}", run.fingerprint()),
        "phases": run.phases.iter().map(phase).collect::<Vec<_>>(),
    });
    let mut add = |name: &str, value: Value| {
        if let Some(fields) = document.as_object_mut() {
            fields.insert(name.to_owned(), value);
        }
    };
    if run.edges_seen == EdgesSeen::Both {
        add("blocked", run.edges.iter().map(|edge| edge.blocked).collect());
    }
    if with_truth {
        add("truth", truth(run));
    }
    document
}

fn phase(phase: &Phase) -> Value {
    json!({"phase": phase.kind.key(), "from_s": phase.from_s, "to_s": phase.to_s})
}

fn truth(run: &TakenRun) -> Value {
    let truth = &run.truth;
    let fall = |fall: &Fall| {
        json!({
            "from_s": fall.from_s,
            "to_s": fall.to_s,
            "acceleration_m_per_s2": fall.acceleration_m_per_s2,
        })
    };
    let edge = |edge: &Edge| {
        let moment = run.path.moment(edge.true_time_s);
        json!({
            "time_s": edge.true_time_s,
            "string_m": moment.map(|moment| moment.string_m),
            "genuine": edge.genuine,
        })
    };
    json!({
        "falls": truth.falls.iter().map(fall).collect::<Vec<_>>(),
        "acceleration_m_per_s2": truth.acceleration_m_per_s2,
        "tension_N": truth.tension_n,
        "friction_torque_N_m": truth.friction_n_m,
        "energy_J": energy(&truth.energy),
        "apparatus": apparatus(&truth.rig),
        "edges": run.edges.iter().map(edge).collect::<Vec<_>>(),
    })
}

fn energy(energy: &Energy) -> Value {
    json!({
        "weight": energy.weight_j,
        "table": energy.table_j,
        "mass": energy.mass_j,
        "pulley": energy.pulley_j,
        "friction": energy.friction_j,
        "pulley_friction": energy.pulley_friction_j,
        "tilt": energy.tilt_j,
    })
}

fn apparatus(rig: &Rig) -> Value {
    let (friction, pulley) = (&rig.friction, &rig.pulley);
    json!({
        "drum_radius_m": rig.drum_radius_m,
        "string_diameter_m": rig.string_diameter_m,
        "growth_per_turn_m": rig.growth_per_turn_m,
        "string_m": rig.wound_m,
        "gravity_m_per_s2": rig.gravity_m_per_s2,
        "inertia_kg_m2": rig.inertia_kg_m2,
        "mass_kg": rig.mass_kg,
        "friction": {
            "constant_n_m": friction.constant_n_m,
            "viscous_n_m_s": friction.viscous_n_m_s,
            "quadratic_n_m_s2": friction.quadratic_n_m_s2,
            "bearing_arm_m": friction.bearing_arm_m,
            "bearing_weight_n": friction.bearing_weight_n,
            "tilt_n_m": friction.tilt_n_m,
            "tilt_phase_rad": friction.tilt_phase_rad,
        },
        "pulley": {
            "spokes": pulley.spokes,
            "travel_per_spoke_m": pulley.travel_per_spoke_m,
            "inertia_kg_m2": pulley.inertia_kg_m2,
            "friction_n_m": pulley.friction_n_m,
        },
    })
}
