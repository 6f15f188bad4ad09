//! Labs as a group would enter them, with one fault each or none.

use core::num::NonZeroU32;
use whorl_core::bodies::Shape;
use whorl_core::diagnosis::{Fix, apply};
use whorl_core::lab::{Configuration, Lab, PartEntry, Record, RunEntry, RunId};
use whorl_core::measured::Measured;
use whorl_core::quantity::{Kilograms, Meters, MetersPerSecond, MetersPerSecond2, Ratio, Seconds};
use whorl_core::readings::{Readings, Series};
use whorl_core::runs::{Motion, Stretch};
use whorl_core::simulation::gate::{Clock, Gate};
use whorl_core::simulation::lab::{
    Configuration as Table, ConfigurationPlan, Fault, LabPlan, SharedUncertainties, SimulatedLab,
    evenly_spaced, lab,
};
use whorl_core::simulation::random::Random;

/// What is planted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Planted {
    /// Nothing.
    Nothing,
    /// Viscous drag of 3 to 20 µN·m·s.
    Drag,
    /// Air drag of 0.1 to 1 µN·m·s².
    AirDrag,
    /// Spokes off by 0.5 %.
    UnequalSpokes,
    /// The same, and another number entered.
    SpokeCount,
    /// The same, and no number entered.
    SpokesNotEntered,
    /// A tilt of 0.3 to 2 mN·m under the load.
    NotLevel,
    /// A slip of 2 to 30 mm.
    Slip,
    /// The floor after 40 to 80 cm.
    Floor,
    /// Two runs of one configuration.
    Exchanged,
    /// A run of each configuration.
    ExchangedAcross,
    /// A mass in grams.
    Grams,
    /// R twice too large.
    DiameterAsRadius,
    /// The object's diameter entered as its radius.
    ObjectDiameter,
    /// One mass written 10 % off.
    Outlier,
    /// Three masses on the empty table.
    FewMasses,
    /// Loaded, 100 to 150 g.
    NarrowRange,
    /// R uncertain by 0.3 mm.
    Dominating,
    /// String noise of 0.3 mm.
    StringNoise,
    /// A clock of 5 ms.
    CoarseClock,
    /// Files of velocities made with a travel 10 % off.
    LoggerTravel,
    /// A hanger of 10 g not counted.
    Hanger,
    /// d entered as 0.
    StringForgotten,
}

impl Planted {
    /// All of them.
    pub const ALL: [Self; 23] = [
        Self::Nothing,
        Self::Drag,
        Self::AirDrag,
        Self::UnequalSpokes,
        Self::SpokeCount,
        Self::SpokesNotEntered,
        Self::NotLevel,
        Self::Slip,
        Self::Floor,
        Self::Exchanged,
        Self::ExchangedAcross,
        Self::Grams,
        Self::DiameterAsRadius,
        Self::ObjectDiameter,
        Self::Outlier,
        Self::FewMasses,
        Self::NarrowRange,
        Self::Dominating,
        Self::StringNoise,
        Self::CoarseClock,
        Self::LoggerTravel,
        Self::Hanger,
        Self::StringForgotten,
    ];
}

/// A lab with a fault, and what should be said of it.
pub struct Trial {
    /// The lab as written down.
    pub lab: Lab,
    /// What is true.
    pub truth: SimulatedLab,
    /// The cause that should be named; `None` for none at all.
    pub expected: Option<&'static str>,
    /// The runs that should be named with it; empty where all are concerned.
    pub runs: Vec<RunId>,
}

fn length(value: f64, u: f64) -> Option<Measured<Meters>> {
    Measured::new(Meters(value), Meters(u)).ok()
}

/// A lab as a group would enter it. `raw`: runs of which all readings are taken for the fall.
pub fn entered(truth: &SimulatedLab, raw: &[usize], random: &mut Random) -> Lab {
    let written = &truth.written;
    let mut lab = Lab::default();
    let u = &written.uncertainties;
    lab.apparatus.drum_radius = length(written.drum_radius_m, u.drum_radius_m);
    lab.apparatus.string_diameter = length(written.string_diameter_m, u.string_diameter_m);
    lab.apparatus.travel_per_spoke = length(written.travel_per_spoke_m, u.travel_per_spoke_m);
    lab.apparatus.gravity =
        Measured::new(MetersPerSecond2(written.gravity_m_per_s2), MetersPerSecond2(u.gravity_m_per_s2)).ok();
    lab.apparatus.mass_scale_uncertainty = Ratio(u.mass_scale);
    lab.apparatus.spokes = u32::try_from(truth.runs[0].rig.pulley.spokes).ok().and_then(NonZeroU32::new);
    // A disc of ½ M r², its radius measured to 0.2 %.
    let mass = 1.4;
    let radius = (2.0 * truth.object_inertia_kg_m2 / mass).sqrt();
    let mut disc = PartEntry::new(Shape::Disc);
    disc.mass = Measured::new(Kilograms(mass), Kilograms(1e-4)).ok();
    disc.dimensions[0] = length(random.normal_about(radius, 2e-3 * radius), 2e-3 * radius);
    let object = lab.add_object("disc".to_owned(), vec![disc]);
    for (number, run) in truth.runs.iter().enumerate() {
        let times: Vec<Seconds> = run.gate_times_s.iter().map(|time| Seconds(*time)).collect();
        let fall = if raw.contains(&number) { 0..times.len() } else { run.fall.clone() };
        let ends = times[fall.clone()].first().zip(times[fall].last());
        let stretch = ends.and_then(|(from, to)| Stretch::new(*from, *to));
        lab.add_run(RunEntry {
            id: RunId(0),
            name: format!("run {}", number + 1),
            configuration: match run.configuration {
                Table::Empty => Configuration::EmptyTable,
                Table::Loaded => Configuration::Loaded(object),
            },
            hanging_mass: Some(Kilograms(run.written_mass_kg)),
            motion: Motion::Falling,
            stretch,
            record: Record::Readings(Readings::from_gate_times(&times).unwrap()),
            source: None,
        });
    }
    lab
}

/// A clean plan as labs go: uncertainties of which none dominates.
pub fn clean() -> LabPlan {
    let shared = SharedUncertainties {
        drum_radius_m: 2.5e-5,
        string_diameter_m: 5e-5,
        travel_per_spoke_m: 2.5e-5,
        gravity_m_per_s2: 2e-3,
        mass_scale: 1e-4,
    };
    LabPlan { shared, ..LabPlan::default() }
}

/// Lab `number` with a fault.
pub fn trial(planted: Planted, number: u64) -> Trial {
    trial_in(clean(), planted, number)
}

/// The same in a lab of another kind.
pub(super) fn trial_in(mut plan: LabPlan, planted: Planted, number: u64) -> Trial {
    let mut random = Random::new(20_260_721).fork(planted as u64).fork(number);
    let (run, raw, mut runs) = plant(&mut plan, planted, &mut random);
    let truth = lab(&plan, &mut random);
    let mut entry = entered(&truth, &raw, &mut random);
    let ids: Vec<RunId> = entry.runs().iter().map(|run| run.id).collect();
    let expected = match planted {
        Planted::Nothing => None,
        Planted::Drag | Planted::AirDrag => Some("drag"),
        Planted::UnequalSpokes => Some("unequal-spokes"),
        Planted::SpokeCount => {
            entry.apparatus.spokes = NonZeroU32::new([8, 9, 11, 12, 20][random.index(5)]);
            Some("spoke-count")
        }
        Planted::SpokesNotEntered => {
            entry.apparatus.spokes = None;
            Some("spoke-count")
        }
        Planted::NotLevel => Some("not-level"),
        Planted::Slip => Some("string-slip"),
        Planted::Floor => Some("floor-inside"),
        Planted::Exchanged => Some("exchanged-labels"),
        Planted::ExchangedAcross => {
            let (one, other) = (random.index(6), 6 + random.index(6));
            apply(&Fix::ExchangeLabels(ids[one], ids[other]), &mut entry);
            runs.extend([one, other]);
            Some("exchanged-labels")
        }
        Planted::Grams => Some("grams-as-kilograms"),
        Planted::DiameterAsRadius => Some("diameter-as-radius"),
        Planted::ObjectDiameter => {
            let id = entry.objects()[0].id;
            apply(&Fix::ScaleDimensions(id, 2.0), &mut entry);
            Some("object-diameter-as-radius")
        }
        Planted::Outlier => {
            let wrong = entry.run_mut(ids[run]).unwrap();
            let factor = if random.uniform() < 0.5 { 1.1 } else { 0.9 };
            wrong.hanging_mass = wrong.hanging_mass.map(|mass| mass * factor);
            Some("outlying-run")
        }
        Planted::FewMasses => Some("too-few-masses"),
        Planted::NarrowRange => Some("narrow-range"),
        Planted::Dominating => Some("dominating-input"),
        Planted::StringNoise => Some("string-noise"),
        Planted::CoarseClock => Some("coarse-clock"),
        Planted::LoggerTravel => {
            for id in &ids {
                as_velocities(entry.run_mut(*id).unwrap(), 0.9 * truth.written.travel_per_spoke_m);
            }
            Some("logger-travel-differs")
        }
        Planted::Hanger => {
            for id in &ids {
                let run = entry.run_mut(*id).unwrap();
                run.hanging_mass = run.hanging_mass.map(|mass| mass - Kilograms(0.01));
            }
            Some("negative-friction")
        }
        Planted::StringForgotten => {
            entry.apparatus.string_diameter = length(0.0, 0.0);
            Some("string-forgotten")
        }
    };
    let mut runs: Vec<RunId> = runs.iter().map(|run| ids[*run]).collect();
    runs.sort_unstable();
    Trial { lab: entry, truth, expected, runs }
}

/// Plants the fault in the plan, if it is one of the apparatus or the runs: the run drawn, the runs of which all
/// readings are taken for the fall, the runs concerned.
fn plant(plan: &mut LabPlan, planted: Planted, random: &mut Random) -> (usize, Vec<usize>, Vec<usize>) {
    let mut raw: Vec<usize> = Vec::new();
    let mut runs: Vec<usize> = Vec::new();
    let run = random.index(12);
    match planted {
        Planted::Drag => plan.rig.friction.viscous_n_m_s = random.between(3e-6, 2e-5),
        Planted::AirDrag => {
            plan.faults.push(Fault::Drag { quadratic_n_m_s2: random.between(1e-7, 1e-6) });
        }
        Planted::UnequalSpokes | Planted::SpokeCount | Planted::SpokesNotEntered => plan.spoke_error = 5e-3,
        Planted::NotLevel => plan.faults.push(Fault::NotLevel { tilt_n_m: random.between(3e-4, 2e-3) }),
        Planted::Slip => {
            plan.faults.push(Fault::StringSlip { run, length_m: random.between(2e-3, 3e-2) });
            raw.push(run);
            runs.push(run);
        }
        Planted::Floor => {
            plan.faults.push(Fault::FloorInRecord { run, fall_m: random.between(0.4, 0.8) });
            raw.push(run);
            runs.push(run);
        }
        Planted::Exchanged => {
            let (first, second) = (run, (run / 6) * 6 + (run + 1 + random.index(5)) % 6);
            plan.faults.push(Fault::ExchangedMasses { first, second });
            runs.extend([first.min(second), first.max(second)]);
        }
        Planted::Grams => {
            plan.faults.push(Fault::GramsAsKilograms { run });
            runs.push(run);
        }
        Planted::DiameterAsRadius => plan.faults.push(Fault::DiameterAsRadius),
        Planted::Outlier => runs.push(run),
        Planted::FewMasses => plan.empty.masses_kg = vec![0.02, 0.06, 0.06, 0.14],
        Planted::NarrowRange => plan.loaded.masses_kg = evenly_spaced(0.1, 0.15, 6),
        Planted::Dominating => plan.shared.drum_radius_m = 3e-4,
        Planted::StringNoise => plan.gate.position_noise_m = 3e-4,
        Planted::CoarseClock => plan.gate.clock.step_s = 5e-3,
        _ => {}
    }
    (run, raw, runs)
}

/// The file of a logger that prints velocities between spokes at mid-time.
fn as_velocities(run: &mut RunEntry, travel: f64) {
    let Record::Readings(readings) = &run.record else { return };
    let times: Vec<f64> = readings.pairs().iter().map(|pair| pair.0).collect();
    let rows = times.windows(2).map(|pair| {
        let velocity = MetersPerSecond(travel / (pair[1] - pair[0]));
        (Seconds(f64::midpoint(pair[0], pair[1])), velocity)
    });
    run.record = Record::Readings(Readings::Velocity(Series::new(rows.collect()).unwrap()));
    run.stretch = None;
}

/// Kinds of [`other_clean`].
pub const KINDS: u64 = 5;

/// A clean plan of another kind: 0 as the study's, 1 with a clock of 0.1 ms and no string noise, 2 with
/// 50 µm of string noise, 3 with four masses each and the same friction in all runs, 4 with short falls and
/// friction that differs by a tenth.
pub fn other_clean(kind: u64) -> LabPlan {
    let plan = clean();
    match kind {
        0 => plan,
        1 => {
            let clock = Clock { step_s: 1e-4, ..plan.gate.clock.clone() };
            LabPlan { gate: Gate { position_noise_m: 0.0, clock, ..plan.gate.clone() }, ..plan }
        }
        2 => LabPlan { gate: Gate { position_noise_m: 5e-5, ..plan.gate.clone() }, ..plan },
        3 => LabPlan {
            empty: ConfigurationPlan { masses_kg: evenly_spaced(0.02, 0.14, 4), ..plan.empty.clone() },
            loaded: ConfigurationPlan { masses_kg: evenly_spaced(0.05, 0.3, 4), ..plan.loaded.clone() },
            friction_scatter: 0.0,
            ..plan
        },
        _ => LabPlan { drop_m: 0.5, friction_scatter: 0.1, ..plan },
    }
}

/// A pulley whose spokes are off by 0.5 %.
pub fn spokes_off() -> LabPlan {
    LabPlan { spoke_error: 5e-3, ..clean() }
}

/// The study's lab with drag of 3 µN·m·s.
pub fn dragged() -> LabPlan {
    let mut plan = clean();
    plan.rig.friction.viscous_n_m_s = 3e-6;
    plan
}
