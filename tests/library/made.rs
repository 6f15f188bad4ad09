//! The three labs, from seeds.

use whorl_core::bodies::Shape;
use whorl_core::lab::dataset::Picture;
use whorl_core::lab::{Configuration, Dataset, Lab, PartEntry, Provenance, Record, RunEntry, RunId};
use whorl_core::lab_file::recorded;
use whorl_core::measured::Measured;
use whorl_core::quantity::{Kilograms, Meters, Seconds};
use whorl_core::readings::Readings;
use whorl_core::runs::Stretch;
use whorl_core::simulation::lab::{
    Configuration as Carried, ConfigurationPlan, Fault, LabPlan, SharedUncertainties, SimulatedLab,
    evenly_spaced, lab,
};
use whorl_core::simulation::random::Random;
use whorl_core::torque::Motion;
use whorl_study::labs::apparatus;

/// What one may do with our own.
pub(crate) const LICENCE: &str = "CC0 1.0";

/// The run in which the bar's string slips, counted from 0.
pub(crate) const SLIPPED: usize = 9;

/// A lab with a story.
pub(crate) struct Story {
    /// The file's name without its ending.
    pub(crate) name: &'static str,
    /// Title and what can be found out, in English and in Spanish.
    pub(crate) listed: [(&'static str, &'static str); 2],
    /// The seed of its readings.
    pub(crate) seed: u64,
    /// The object's true moment of inertia.
    pub truth_kg_m2: f64,
    /// The lab as it is saved.
    pub(crate) lab: Lab,
}

impl Story {
    /// Who recorded it.
    pub(crate) fn recorded_by(&self) -> String {
        recorded_by(self.seed)
    }
}

fn recorded_by(seed: u64) -> String {
    format!("Whorl’s own simulator, from seed {seed}")
}

/// All three.
pub(crate) fn stories() -> Vec<Story> {
    vec![ring(), bar(), clay()]
}

/// ½ M (r₁² + r₂²).
fn ring() -> Story {
    let (mass_kg, inner_m, outer_m) = (1.2, 0.07, 0.09);
    let mut part = PartEntry::new(Shape::Ring);
    part.mass = Measured::new(Kilograms(mass_kg), Kilograms(2e-4)).ok();
    part.dimensions = vec![
        Measured::new(Meters(inner_m), Meters(5e-5)).ok(),
        Measured::new(Meters(outer_m), Meters(5e-5)).ok(),
    ];
    story(
        "brass-ring",
        1405,
        0.5 * mass_kg * (inner_m * inner_m + outer_m * outer_m),
        Vec::new(),
        Load {
            name: "brass ring",
            parts: vec![part],
            picture: (
                include_bytes!("brass-ring.png"),
                "Sketch from above: a round wheel with a drum at its center, a flat ring around the same center, and the string that leaves the drum to the right.",
            ),
            told: "A brass ring lies centered on the wheel. Its mass and radii were measured with balance and calipers.",
        },
        [
            (
                "Brass ring on a banding wheel",
                "Twelve clean runs. Does the ring's moment of inertia agree with its mass and radii?",
            ),
            (
                "Anillo de latón en un torno de decorar",
                "Doce ensayos limpios. ¿Concuerda el momento de inercia del anillo con su masa y sus radios?",
            ),
        ],
    )
}

/// M L²/12 + M w²/12.
fn bar() -> Story {
    let (mass_kg, length_m, width_m) = (0.8, 0.42, 0.04);
    story(
        "oak-bar",
        2718,
        mass_kg * (length_m * length_m + width_m * width_m) / 12.0,
        vec![Fault::StringSlip { run: SLIPPED, length_m: 0.02 }],
        Load {
            name: "oak bar",
            parts: Vec::new(),
            picture: (
                include_bytes!("oak-bar.png"),
                "Sketch from above: a round wheel with a drum at its center, a long bar across it through the center, and the string that leaves the drum to the right.",
            ),
            told: "An oak bar lies across the wheel, its middle on the axis: mass 800.0 g (u = 0.2 g), length 420 mm and width 40 mm (u = 0.5 mm each). Describe it yourself at the last station. Every run is fitted over its whole record, and one did not go well. Which, and what happened?",
        },
        [
            (
                "Oak bar across a banding wheel",
                "One of twelve runs went wrong. Find it, say what happened, and decide what to do about it.",
            ),
            (
                "Barra de roble sobre un torno de decorar",
                "Uno de los doce ensayos salió mal. Encuéntralo, di qué pasó y decide qué hacer.",
            ),
        ],
    )
}

/// Two of ½ M r² + M D².
fn clay() -> Story {
    let (mass_kg, radius_m, offset_m) = (0.5, 0.03, 0.11);
    story(
        "clay-cylinders",
        3141,
        2.0 * mass_kg * (0.5 * radius_m * radius_m + offset_m * offset_m),
        Vec::new(),
        Load {
            name: "two clay cylinders",
            parts: Vec::new(),
            picture: (
                include_bytes!("clay-cylinders.png"),
                "Sketch from above: a round wheel with a drum at its center, two cylinders on opposite sides of it, both far from the center, and the string that leaves the drum to the right.",
            ),
            told: "Two cylinders of clay stand upright on opposite sides of the axis: each 500.0 g (u = 0.2 g), radius 30 mm (u = 0.2 mm), its center 110 mm from the axis (u = 0.5 mm). Describe them yourself at the last station: how much would be missing without the theorem of parallel axes?",
        },
        [
            (
                "Two clay cylinders off axis",
                "Predict with the theorem of parallel axes, and see whether the runs agree. What if the cylinders stood on the axis?",
            ),
            (
                "Dos cilindros de arcilla fuera del eje",
                "Predice con el teorema de los ejes paralelos y mira si los ensayos concuerdan. ¿Y si los cilindros estuvieran en el eje?",
            ),
        ],
    )
}

/// What the wheel carries.
struct Load {
    name: &'static str,
    parts: Vec<PartEntry>,
    picture: (&'static [u8], &'static str),
    told: &'static str,
}

fn story(
    name: &'static str,
    seed: u64,
    truth_kg_m2: f64,
    faults: Vec<Fault>,
    load: Load,
    listed: [(&'static str, &'static str); 2],
) -> Story {
    let plan = LabPlan {
        shared: SharedUncertainties {
            drum_radius_m: 2e-5,
            string_diameter_m: 2e-5,
            travel_per_spoke_m: 1e-5,
            gravity_m_per_s2: 3e-4,
            mass_scale: 5e-4,
        },
        object_inertia_kg_m2: truth_kg_m2,
        loaded: ConfigurationPlan { friction_n_m: 1.4e-3, masses_kg: evenly_spaced(0.05, 0.3, 6) },
        spoke_error: 1e-3,
        faults,
        ..LabPlan::default()
    };
    let made = lab(&plan, &mut Random::new(seed));
    let (bytes, alternative) = load.picture;
    let dataset = Dataset {
        title: listed[0].0.to_owned(),
        recorded_by: recorded_by(seed),
        recorded_on: "2026-11".to_owned(),
        licence: LICENCE.to_owned(),
        apparatus_notes: format!(
            "A computer made these readings; nobody took them on an apparatus.\n{}\nThe wheel's drum is wound with waxed string in one layer. The string runs over a light pulley of ten spokes, and a light gate notes when each spoke passes, to 1 µs.",
            load.told
        ),
        origin: "Whorl’s own library".to_owned(),
        picture: Some(
            Picture::new(format!("data:image/png;base64,{}", base64(bytes)), alternative.to_owned()).unwrap(),
        ),
        to_predict: Vec::new(),
    };
    let mut lab = entered(&made, plan.rig.pulley.spokes, listed[0].0, load.name, load.parts);
    if !plan.faults.is_empty() {
        fit_whole_records(&mut lab);
    }
    let lab = recorded(lab, dataset);
    Story { name, listed, seed, truth_kg_m2, lab }
}

/// A simulated lab as a group would enter it, without stretches: finding them is part of the work.
fn entered(made: &SimulatedLab, spokes: usize, title: &str, object: &str, parts: Vec<PartEntry>) -> Lab {
    let mut lab = Lab::default();
    title.clone_into(&mut lab.title);
    lab.provenance = Provenance::Simulated;
    lab.apparatus = apparatus(made, spokes);
    let loaded = lab.add_object(object.to_owned(), parts);
    for run in &made.runs {
        let (configuration, carried) = match run.configuration {
            Carried::Empty => (Configuration::EmptyTable, "empty"),
            Carried::Loaded => (Configuration::Loaded(loaded), object),
        };
        // A logger that counts microseconds.
        let times: Vec<Seconds> =
            run.gate_times_s.iter().map(|time| Seconds((time * 1e6).round() / 1e6)).collect();
        let mass_kg = (run.written_mass_kg * 1e4).round() / 1e4;
        lab.add_run(RunEntry {
            id: RunId(0),
            name: format!("{carried}, {:.0} g", mass_kg * 1e3),
            configuration,
            hanging_mass: Some(Kilograms(mass_kg)),
            motion: Motion::Falling,
            stretch: None,
            record: Record::Readings(Readings::from_gate_times(&times).unwrap()),
            source: None,
        });
    }
    lab
}

/// Fits every run from its second reading to the last but one, whatever happens between: a choice that can be undone.
fn fit_whole_records(lab: &mut Lab) {
    let spans: Vec<_> =
        lab.runs().iter().map(|run| (run.id, run.record.readings().unwrap().pairs())).collect();
    for (id, times) in spans {
        let ends = (Seconds(times[1].0), Seconds(times[times.len() - 2].0));
        lab.set_stretch(id, Stretch::new(ends.0, ends.1));
    }
}

/// RFC 4648, 4.
fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for group in bytes.chunks(3) {
        let bits =
            group.iter().fold(0_u32, |all, byte| all << 8 | u32::from(*byte)) << (8 * (3 - group.len()));
        for place in 0..4 {
            let digit = DIGITS[(bits >> (18 - 6 * place) & 63) as usize];
            text.push(if place <= group.len() { char::from(digit) } else { '=' });
        }
    }
    text
}
