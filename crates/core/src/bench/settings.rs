//! What a teacher sets.

use super::fault::Fault;
use super::instruments::Instruments;
use super::spread::Spread;
use crate::bodies::Shape;
use crate::simulation::gate::EdgesSeen;
use core::num::NonZeroU32;

/// A bench: what every student's apparatus is drawn from. SI units throughout.
///
/// Every number is checked by [`BenchSettings::check`], which [`super::Bench::new`] and [`super::open`] call.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchSettings {
    /// What the teacher calls it.
    pub title: String,
    /// What students are told about it.
    pub about: String,
    /// Drum and string.
    pub drum: DrumSettings,
    /// The pulley with its gate.
    pub pulley: PulleySettings,
    /// The empty table.
    pub table: TableSettings,
    /// What resists the table.
    pub friction: FrictionSettings,
    /// Light gate, string and the logger's clock.
    pub gate: GateSettings,
    /// How far the mass can fall, m.
    pub drop_height_m: Spread,
    /// Local gravity g, m/s².
    pub gravity_m_per_s2: Spread,
    /// What can be put on the table.
    pub objects: Vec<ObjectSettings>,
    /// What can be hung, as stamped, kg.
    pub masses_kg: Vec<f64>,
    /// How well the student's instruments read.
    pub instruments: Instruments,
    /// What is wrong without being told.
    pub faults: Vec<Fault>,
}

/// Drum and string.
#[derive(Clone, Debug, PartialEq)]
pub struct DrumSettings {
    /// R, m.
    pub radius_m: Spread,
    /// d, m.
    pub string_diameter_m: Spread,
    /// How much further out the string lies for every turn, m: 0 when it is wound side by side.
    pub growth_per_turn_m: Spread,
    /// String on the drum, m. When it is shorter than the drop, it runs out and is wound up again.
    pub string_m: Spread,
}

/// The pulley.
#[derive(Clone, Debug, PartialEq)]
pub struct PulleySettings {
    /// Spokes.
    pub spokes: NonZeroU32,
    /// Travel of the string from spoke to spoke, m.
    pub travel_per_spoke_m: Spread,
    /// Moment of inertia, kg·m².
    pub inertia_kg_m2: Spread,
    /// Friction torque of its bearing, N·m.
    pub friction_n_m: Spread,
}

/// The empty table.
#[derive(Clone, Debug, PartialEq)]
pub struct TableSettings {
    /// Moment of inertia of all that turns with the drum, kg·m².
    pub inertia_kg_m2: Spread,
    /// Its mass, which the bearing carries, kg.
    pub mass_kg: Spread,
    /// Distance of its center of mass from the axis, m.
    pub off_center_m: Spread,
    /// Angle of the axis from the vertical, rad.
    pub tilt_rad: Spread,
}

/// What resists the table, τ = τ₀ + b ω + c ω² + r √(W² + T²): see [`crate::simulation::rig::Friction`].
#[derive(Clone, Debug, PartialEq)]
pub struct FrictionSettings {
    /// τ₀, N·m.
    pub constant_n_m: Spread,
    /// b, N·m·s.
    pub viscous_n_m_s: Spread,
    /// c, N·m·s².
    pub quadratic_n_m_s2: Spread,
    /// r, m: torque per newton that the bearing carries, of table and object (W) and of the string's pull (T).
    pub bearing_arm_m: Spread,
    /// Standard deviation of a run's τ₀ and r from those of the apparatus, as a part of them.
    pub scatter: Spread,
}

/// Light gate, string and clock.
#[derive(Clone, Debug, PartialEq)]
pub struct GateSettings {
    /// One time for each spoke, or both edges.
    pub edges: EdgesSeen,
    /// Standard deviation of a spoke's place, as a part of the travel from spoke to spoke.
    pub spoke_error: Spread,
    /// Standard deviation of the string's place at each edge, m.
    pub string_noise_m: Spread,
    /// Step of the logger's clock, s; 0 for none.
    pub clock_step_s: Spread,
    /// Standard deviation of each time, s.
    pub clock_jitter_s: Spread,
    /// Share of the edges that are missed.
    pub missed: Spread,
    /// Share of the edges that are seen twice.
    pub bounced: Spread,
}

/// Something to put on the table.
#[derive(Clone, Debug, PartialEq)]
pub struct ObjectSettings {
    /// Its name for people.
    pub name: String,
    /// Its parts, at least one.
    pub parts: Vec<PartSettings>,
}

/// A part of an object.
#[derive(Clone, Debug, PartialEq)]
pub struct PartSettings {
    /// Its shape.
    pub shape: Shape,
    /// How many alike. More than one stand evenly round the axis.
    pub count: NonZeroU32,
    /// Mass of one, kg.
    pub mass_kg: Spread,
    /// Lengths, in the order of [`Shape::dimensions`], m.
    pub dimensions_m: Vec<Spread>,
    /// Distance of its center from the axis, m; `None` when on axis.
    pub offset_m: Option<Spread>,
}

fn between(from: f64, to: f64) -> Spread {
    Spread::Between { from, to }
}

fn part(shape: Shape, mass_kg: Spread, dimensions_m: &[Spread]) -> PartSettings {
    PartSettings {
        shape,
        count: NonZeroU32::MIN,
        mass_kg,
        dimensions_m: dimensions_m.to_vec(),
        offset_m: None,
    }
}

impl Default for BenchSettings {
    /// A potter's banding wheel on which a slate disc, a brass ring, an oak bar or two clay cylinders are put;
    /// every student's differs by what wheels of one make do.
    fn default() -> Self {
        Self {
            title: whorl_words::bench::default_title().to_owned(),
            about: whorl_words::bench::default_about().to_owned(),
            drum: DrumSettings {
                radius_m: between(0.023, 0.027),
                string_diameter_m: between(0.000_8, 0.001_2),
                growth_per_turn_m: Spread::NONE,
                string_m: Spread::Fixed(1.8),
            },
            pulley: PulleySettings {
                spokes: NonZeroU32::MIN.saturating_add(9),
                travel_per_spoke_m: between(0.014_8, 0.015_2),
                inertia_kg_m2: between(1.5e-6, 3e-6),
                friction_n_m: between(0.0, 2e-5),
            },
            table: TableSettings {
                inertia_kg_m2: between(1.2e-3, 2e-3),
                mass_kg: between(0.4, 0.6),
                off_center_m: Spread::NONE,
                tilt_rad: Spread::NONE,
            },
            friction: FrictionSettings {
                constant_n_m: between(6e-4, 1.2e-3),
                viscous_n_m_s: between(0.0, 5e-6),
                quadratic_n_m_s2: Spread::NONE,
                bearing_arm_m: between(1e-5, 3e-5),
                scatter: between(0.01, 0.03),
            },
            gate: GateSettings {
                edges: EdgesSeen::Blocked,
                spoke_error: between(0.001, 0.005),
                string_noise_m: between(1e-5, 3e-5),
                clock_step_s: Spread::Fixed(1e-5),
                clock_jitter_s: between(0.0, 1e-5),
                missed: Spread::NONE,
                bounced: Spread::NONE,
            },
            drop_height_m: between(0.8, 0.95),
            gravity_m_per_s2: Spread::Fixed(9.81),
            objects: objects(),
            masses_kg: vec![0.02, 0.04, 0.06, 0.08, 0.1, 0.12, 0.14, 0.17, 0.2, 0.23, 0.26, 0.3],
            instruments: Instruments::default(),
            faults: Vec::new(),
        }
    }
}

fn objects() -> Vec<ObjectSettings> {
    let one = |name: &str, part: PartSettings| ObjectSettings { name: name.to_owned(), parts: vec![part] };
    let slate = part(Shape::Disc, between(1.2, 1.5), &[between(0.095, 0.105)]);
    let brass = part(Shape::Ring, between(0.8, 1.0), &[between(0.065, 0.072), between(0.085, 0.095)]);
    let oak = part(Shape::Plate, between(0.3, 0.4), &[between(0.38, 0.42), between(0.035, 0.045)]);
    let clay = PartSettings {
        count: NonZeroU32::MIN.saturating_add(1),
        offset_m: Some(between(0.07, 0.09)),
        ..part(Shape::Disc, between(0.4, 0.5), &[between(0.026, 0.032)])
    };
    vec![
        one(whorl_words::bench::slate_disc(), slate),
        one(whorl_words::bench::brass_ring(), brass),
        one(whorl_words::bench::oak_bar(), oak),
        one(whorl_words::bench::clay_cylinders(), clay),
    ]
}
