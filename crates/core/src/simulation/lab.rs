//! All runs of a lab, with what the group wrote down and what is true.

use core::ops::Range;

use super::course::{Course, Release};
use super::gate::{Gate, edges_within, spoke_offsets};
use super::landing::Landing;
use super::log::times_s;
use super::random::Random;
use super::rig::Rig;

/// What a lab is drawn from. [`LabPlan::default`] is the study's plain lab.
#[derive(Clone, Debug, PartialEq)]
pub struct LabPlan {
    /// The rig as it is meant: what the group writes down is this, what is true differs by `shared`.
    /// Inertia, constant friction and mass are those of the configurations.
    pub rig: Rig,
    /// What everything that the runs share may be off by.
    pub shared: SharedUncertainties,
    /// The empty table's moment of inertia, kg·m².
    pub table_inertia_kg_m2: f64,
    /// The object's, kg·m².
    pub object_inertia_kg_m2: f64,
    /// Runs of the empty table.
    pub empty: ConfigurationPlan,
    /// Runs of the table with the object on it.
    pub loaded: ConfigurationPlan,
    /// Standard deviation of a run's friction from that of its configuration, as a share of it.
    pub friction_scatter: f64,
    /// The gate with its clock; the phase of its first edge is drawn for each run.
    pub gate: Gate,
    /// Standard deviation of a spoke's place, as a share of the travel from spoke to spoke.
    pub spoke_error: f64,
    /// Where a run's first edge lies, m; `None` draws it evenly within one spoke's travel.
    pub first_edge_m: Option<f64>,
    /// Speed at the start, m/s.
    pub start_speed_m_per_s: f64,
    /// How far the mass falls before the record stops, m.
    pub drop_m: f64,
    /// What is wrong in this lab.
    pub faults: Vec<Fault>,
}

/// The masses on the string, and the friction, of one configuration.
#[derive(Clone, Debug, PartialEq)]
pub struct ConfigurationPlan {
    /// Mean of the runs' friction torque, N·m.
    pub friction_n_m: f64,
    /// The mass written down for each run, kg.
    pub masses_kg: Vec<f64>,
}

/// Standard uncertainties of what all runs share.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct SharedUncertainties {
    /// u(R), m.
    pub drum_radius_m: f64,
    /// u(d), m.
    pub string_diameter_m: f64,
    /// u(s) of the travel per spoke, m.
    pub travel_per_spoke_m: f64,
    /// u(g), m/s².
    pub gravity_m_per_s2: f64,
    /// Of the balance, as a share of each mass.
    pub mass_scale: f64,
}

/// Something wrong with a lab. Runs are counted through the lab from 0, those of the empty table first.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// Air drag c on the table in all runs, N·m·s².
    Drag {
        /// c.
        quadratic_n_m_s2: f64,
    },
    /// The table is not level and the object off its axis: in the loaded runs a torque A sin(θ + φ), φ
    /// drawn for each run.
    NotLevel {
        /// A, N·m.
        tilt_n_m: f64,
    },
    /// In this run the string slips on the drum half-way down.
    StringSlip {
        /// The run.
        run: usize,
        /// By how much, m.
        length_m: f64,
    },
    /// In this run the mass reaches the floor and the record goes on.
    FloorInRecord {
        /// The run.
        run: usize,
        /// After this fall, m.
        fall_m: f64,
    },
    /// Two runs' masses are written down for each other.
    ExchangedMasses {
        /// One of them.
        first: usize,
        /// The other.
        second: usize,
    },
    /// This run's mass is written in grams where kilograms are asked for.
    GramsAsKilograms {
        /// The run.
        run: usize,
    },
    /// The drum's diameter is written down as its radius.
    DiameterAsRadius,
}

/// Which of the two tables a run was made with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Configuration {
    /// The empty table.
    Empty,
    /// The table with the object.
    Loaded,
}

/// What the group wrote down about its apparatus.
#[derive(Clone, Debug, PartialEq)]
pub struct WrittenApparatus {
    /// R, m.
    pub drum_radius_m: f64,
    /// d, m.
    pub string_diameter_m: f64,
    /// Travel per spoke, m.
    pub travel_per_spoke_m: f64,
    /// g, m/s².
    pub gravity_m_per_s2: f64,
    /// Standard uncertainties of all.
    pub uncertainties: SharedUncertainties,
}

/// One run of a lab.
#[derive(Clone, Debug, PartialEq)]
pub struct SimulatedRun {
    /// The table it was made with.
    pub configuration: Configuration,
    /// The mass as written down, kg.
    pub written_mass_kg: f64,
    /// The gate times written by the logger, s.
    pub gate_times_s: Vec<f64>,
    /// Those of them that lie in the fall, before a slip or the floor.
    pub fall: Range<usize>,
    /// True acceleration of the mass in the fall, m/s²; its mean where it changes.
    pub true_acceleration_m_per_s2: f64,
    /// The rig as it truly was in this run.
    pub rig: Rig,
}

/// A lab: what is written down, and what is true.
#[derive(Clone, Debug, PartialEq)]
pub struct SimulatedLab {
    /// The apparatus as written down.
    pub written: WrittenApparatus,
    /// The runs, those of the empty table first.
    pub runs: Vec<SimulatedRun>,
    /// True moment of inertia of the empty table, kg·m².
    pub table_inertia_kg_m2: f64,
    /// True moment of inertia of the object, kg·m².
    pub object_inertia_kg_m2: f64,
    /// Mean friction torque of the empty table, N·m.
    pub empty_friction_n_m: f64,
    /// Mean friction torque with the object, N·m.
    pub loaded_friction_n_m: f64,
}

/// `count` masses evenly from `first` to `last`, kg.
pub fn evenly_spaced(first: f64, last: f64, count: usize) -> Vec<f64> {
    let steps = count.saturating_sub(1).max(1) as f64;
    (0..count).map(|k| first + (last - first) * (k as f64 / steps)).collect()
}

impl Default for LabPlan {
    /// Table 1.5 g·m² with 1.0 mN·m, object 7.0 g·m² with 1.4 mN·m, drum 25 mm, string 1 mm, ten spokes
    /// of 15 mm, a fall of 0.85 m; six masses of 20 g to 140 g and six of 50 g to 300 g; the string's place at each
    /// edge uncertain by 20 µm; friction that varies by 3 % from run to run; nothing shared is off.
    fn default() -> Self {
        Self {
            rig: Rig { wound_m: 2.0, ..Rig::default() },
            shared: SharedUncertainties::default(),
            table_inertia_kg_m2: 1.5e-3,
            object_inertia_kg_m2: 7e-3,
            empty: ConfigurationPlan { friction_n_m: 1e-3, masses_kg: evenly_spaced(0.02, 0.14, 6) },
            loaded: ConfigurationPlan { friction_n_m: 1.4e-3, masses_kg: evenly_spaced(0.05, 0.3, 6) },
            friction_scatter: 0.03,
            gate: Gate { position_noise_m: 2e-5, ..Gate::default() },
            spoke_error: 0.0,
            first_edge_m: None,
            start_speed_m_per_s: 0.0,
            drop_m: 0.85,
            faults: Vec::new(),
        }
    }
}

/// A lab drawn from the plan.
///
/// Each run draws from a stream of its own, so that a plan with one more fault or another clock gives the
/// same labs but for that.
pub fn lab(plan: &LabPlan, random: &mut Random) -> SimulatedLab {
    let shared = Random::new(random.bits());
    let rig = true_rig(plan, &mut shared.fork(0));
    let mass_scale = shared.fork(1).normal_about(1.0, plan.shared.mass_scale);
    let mut gate = plan.gate.clone();
    if plan.spoke_error > 0.0 {
        let standard_deviation_m = plan.spoke_error * plan.rig.pulley.travel_per_spoke_m;
        gate.spoke_offsets_m = spoke_offsets(rig.pulley.spokes, standard_deviation_m, &mut shared.fork(2));
    }
    let of_empty = plan.empty.masses_kg.iter().map(|mass| (Configuration::Empty, *mass));
    let of_loaded = plan.loaded.masses_kg.iter().map(|mass| (Configuration::Loaded, *mass));
    let mut runs: Vec<SimulatedRun> = of_empty
        .chain(of_loaded)
        .enumerate()
        .map(|(number, (configuration, mass_kg))| {
            let mut own = shared.fork(3 + number as u64);
            let rig = run_rig(plan, &rig, configuration, mass_kg * mass_scale, &mut own);
            simulate(plan, &gate, number, Written { configuration, mass_kg }, rig, &mut own)
        })
        .collect();
    mislabel(&plan.faults, &mut runs);
    SimulatedLab {
        written: written(plan),
        runs,
        table_inertia_kg_m2: plan.table_inertia_kg_m2,
        object_inertia_kg_m2: plan.object_inertia_kg_m2,
        empty_friction_n_m: plan.empty.friction_n_m,
        loaded_friction_n_m: plan.loaded.friction_n_m,
    }
}

/// What all runs share, as it truly is.
fn true_rig(plan: &LabPlan, random: &mut Random) -> Rig {
    let (nominal, u) = (&plan.rig, &plan.shared);
    let mut rig = nominal.clone();
    rig.drum_radius_m = random.normal_about(nominal.drum_radius_m, u.drum_radius_m);
    rig.string_diameter_m = random.normal_about(nominal.string_diameter_m, u.string_diameter_m);
    rig.pulley.travel_per_spoke_m =
        random.normal_about(nominal.pulley.travel_per_spoke_m, u.travel_per_spoke_m);
    rig.gravity_m_per_s2 = random.normal_about(nominal.gravity_m_per_s2, u.gravity_m_per_s2);
    rig
}

/// The rig of one run: its table, its mass, and friction of its own.
fn run_rig(
    plan: &LabPlan,
    shared: &Rig,
    configuration: Configuration,
    mass_kg: f64,
    random: &mut Random,
) -> Rig {
    let mut rig = shared.clone();
    rig.mass_kg = mass_kg;
    let friction_n_m = match configuration {
        Configuration::Empty => {
            rig.inertia_kg_m2 = plan.table_inertia_kg_m2;
            plan.empty.friction_n_m
        }
        Configuration::Loaded => {
            rig.inertia_kg_m2 = plan.table_inertia_kg_m2 + plan.object_inertia_kg_m2;
            plan.loaded.friction_n_m
        }
    };
    rig.friction.constant_n_m = friction_n_m * random.normal_about(1.0, plan.friction_scatter);
    // Drawn whether or not it is used, so that a fault changes nothing else.
    let phase_rad = random.between(0.0, core::f64::consts::TAU);
    for fault in &plan.faults {
        match fault {
            Fault::Drag { quadratic_n_m_s2 } => rig.friction.quadratic_n_m_s2 += quadratic_n_m_s2,
            Fault::NotLevel { tilt_n_m } if configuration == Configuration::Loaded => {
                rig.friction.tilt_n_m = *tilt_n_m;
                rig.friction.tilt_phase_rad = phase_rad;
            }
            _ => {}
        }
    }
    rig
}

/// What is written at a run.
#[derive(Clone, Copy)]
struct Written {
    configuration: Configuration,
    mass_kg: f64,
}

fn simulate(
    plan: &LabPlan,
    gate: &Gate,
    number: usize,
    written: Written,
    rig: Rig,
    random: &mut Random,
) -> SimulatedRun {
    let travel_m = rig.pulley.travel_per_spoke_m;
    let drawn_m = random.between(0.0, travel_m);
    let mut gate = gate.clone();
    gate.first_edge_m = plan.first_edge_m.unwrap_or(drawn_m);
    gate.first_spoke = random.index(rig.pulley.spokes);
    let mut course = Course::new(&rig, 0.0);
    let floor_m = plan.faults.iter().find_map(|fault| match fault {
        Fault::FloorInRecord { run, fall_m } if *run == number => Some(*fall_m),
        _ => None,
    });
    let slip_m = plan.faults.iter().find_map(|fault| match fault {
        Fault::StringSlip { run, length_m } if *run == number => Some(*length_m),
        _ => None,
    });
    let end_m = floor_m.unwrap_or(plan.drop_m);
    let until_m = if slip_m.is_some() { 0.5 * end_m } else { end_m };
    let fall = course.fall(Release::Moving(plan.start_speed_m_per_s), until_m);
    if let Some(length_m) = slip_m {
        course.slip(length_m, SLIP_GRIP);
        course.fall(Release::GoOn, end_m);
    }
    if floor_m.is_some() {
        course.land(&Landing::default());
    }
    let edges = gate.record(&course.finish(), &rig.pulley, random);
    SimulatedRun {
        configuration: written.configuration,
        written_mass_kg: written.mass_kg,
        fall: edges_within(&edges, fall.from_s, fall.to_s),
        gate_times_s: times_s(&edges),
        true_acceleration_m_per_s2: fall.acceleration_m_per_s2,
        rig,
    }
}

/// Share of the weight with which a slipping string still pulls.
const SLIP_GRIP: f64 = 0.4;

/// The faults that are made with the pen.
fn mislabel(faults: &[Fault], runs: &mut [SimulatedRun]) {
    for fault in faults {
        match *fault {
            Fault::ExchangedMasses { first, second } => {
                let masses = [first, second].map(|run| runs.get(run).map(|run| run.written_mass_kg));
                if let [Some(one), Some(other)] = masses {
                    write_mass(runs, first, other);
                    write_mass(runs, second, one);
                }
            }
            Fault::GramsAsKilograms { run } => {
                if let Some(mass_kg) = runs.get(run).map(|run| run.written_mass_kg) {
                    write_mass(runs, run, 1e3 * mass_kg);
                }
            }
            _ => {}
        }
    }
}

fn write_mass(runs: &mut [SimulatedRun], run: usize, mass_kg: f64) {
    if let Some(run) = runs.get_mut(run) {
        run.written_mass_kg = mass_kg;
    }
}

fn written(plan: &LabPlan) -> WrittenApparatus {
    let doubled = plan.faults.contains(&Fault::DiameterAsRadius);
    WrittenApparatus {
        drum_radius_m: if doubled { 2.0 } else { 1.0 } * plan.rig.drum_radius_m,
        string_diameter_m: plan.rig.string_diameter_m,
        travel_per_spoke_m: plan.rig.pulley.travel_per_spoke_m,
        gravity_m_per_s2: plan.rig.gravity_m_per_s2,
        uncertainties: plan.shared.clone(),
    }
}

#[cfg(test)]
mod tests;
