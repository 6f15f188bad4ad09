//! What a seed draws from the settings.

use super::fault::Fault;
use super::seed::Seed;
use super::settings::{BenchSettings, ObjectSettings, PartSettings};
use super::spread::Spread;
use super::wish::Load;
use crate::bodies::{Body, Shape};
use crate::measured::Measured;
use crate::quantity::{Kilograms, Meters};
use crate::simulation::gate::{Bounced, Clock, Gate, Missed, Rounding, spoke_offsets};
use crate::simulation::random::Random;
use crate::simulation::rig::{Friction, Pulley, Rig};
use crate::simulation::sine::sine;

/// One student's apparatus as it is.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Truth {
    /// Empty, with friction as it is on average, without mass on the string.
    rig: Rig,
    table: OnAxis,
    tilt_rad: f64,
    /// Standard deviation of a run's friction, as a part of it.
    scatter: f64,
    pub(super) drop_m: f64,
    pub(super) objects: Vec<TrueObject>,
    pub(super) masses_kg: Vec<f64>,
    pub(super) gate: Gate,
}

/// What stands on the axis, or beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
struct OnAxis {
    mass_kg: f64,
    /// Mass times distance of the center of mass from the axis, kg·m.
    unbalance_kg_m: f64,
}

/// An object as it is.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct TrueObject {
    /// About the table's axis, where it stands.
    pub(super) inertia_kg_m2: f64,
    on_axis: OnAxis,
    /// What a student measures of it, part by part.
    pub(super) parts: Vec<TruePart>,
}

/// A part of it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct TruePart {
    pub(super) mass_kg: f64,
    pub(super) dimensions_m: Vec<f64>,
    pub(super) offset_m: Option<f64>,
}

/// The false edge of one that is seen twice comes later by this, s (value from memory: contacts and comparators
/// settle within a millisecond or two).
const BOUNCE_S: (f64, f64) = (1e-4, 2e-3);

impl Truth {
    pub(super) fn draw(settings: &BenchSettings, seed: Seed) -> Self {
        let draw = |name: &str, spread: Spread| spread.draw(&mut seed.stream(name));
        let mut rig = Rig {
            drum_radius_m: draw("drum.radius_m", settings.drum.radius_m),
            string_diameter_m: draw("drum.string_diameter_m", settings.drum.string_diameter_m),
            growth_per_turn_m: draw("drum.growth_per_turn_m", settings.drum.growth_per_turn_m),
            wound_m: draw("drum.string_m", settings.drum.string_m),
            gravity_m_per_s2: draw("gravity_m_per_s2", settings.gravity_m_per_s2),
            inertia_kg_m2: draw("table.inertia_kg_m2", settings.table.inertia_kg_m2),
            friction: Friction {
                constant_n_m: draw("friction.constant_n_m", settings.friction.constant_n_m),
                viscous_n_m_s: draw("friction.viscous_n_m_s", settings.friction.viscous_n_m_s),
                quadratic_n_m_s2: draw("friction.quadratic_n_m_s2", settings.friction.quadratic_n_m_s2),
                bearing_arm_m: draw("friction.bearing_arm_m", settings.friction.bearing_arm_m),
                ..Friction::default()
            },
            pulley: Pulley {
                spokes: usize::try_from(settings.pulley.spokes.get()).unwrap_or(1),
                travel_per_spoke_m: draw("pulley.travel_per_spoke_m", settings.pulley.travel_per_spoke_m),
                inertia_kg_m2: draw("pulley.inertia_kg_m2", settings.pulley.inertia_kg_m2),
                friction_n_m: draw("pulley.friction_n_m", settings.pulley.friction_n_m),
            },
            mass_kg: 0.0,
        };
        let mut tilt_rad = draw("table.tilt_rad", settings.table.tilt_rad);
        let mut off_mark_m = 0.0;
        let mut masses_kg = true_masses(settings, seed);
        for fault in &settings.faults {
            match *fault {
                Fault::NotLevel { tilt_rad: more } => tilt_rad += more,
                Fault::LoadOffMark { by_m } => off_mark_m += by_m,
                Fault::WrongStamp { mass, by_kg } => {
                    masses_kg.iter_mut().skip(mass).take(1).for_each(|mass| *mass += by_kg);
                }
                Fault::StringInLayers { growth_per_turn_m } => rig.growth_per_turn_m += growth_per_turn_m,
                Fault::DragVane { quadratic_n_m_s2 } => rig.friction.quadratic_n_m_s2 += quadratic_n_m_s2,
                // These are made run by run, or at the gate.
                Fault::StringSlips { .. }
                | Fault::PushedRelease { .. }
                | Fault::UnevenSpokes { .. }
                | Fault::MissedEdges { .. }
                | Fault::BouncedEdges { .. } => {}
            }
        }
        let table_mass_kg = draw("table.mass_kg", settings.table.mass_kg);
        let off_center_m = draw("table.off_center_m", settings.table.off_center_m);
        Self {
            table: OnAxis { mass_kg: table_mass_kg, unbalance_kg_m: table_mass_kg * off_center_m },
            tilt_rad,
            scatter: draw("friction.scatter", settings.friction.scatter),
            drop_m: draw("drop_height_m", settings.drop_height_m),
            objects: (0..)
                .zip(&settings.objects)
                .map(|(index, object)| TrueObject::draw(object, index, off_mark_m, seed))
                .collect(),
            masses_kg,
            gate: gate(settings, &rig.pulley, seed),
            rig,
        }
    }

    /// The empty table's moment of inertia, kg·m².
    pub(super) fn table_inertia_kg_m2(&self) -> f64 {
        self.rig.inertia_kg_m2
    }

    /// The rig as it is on average, nothing on string and table.
    pub(super) fn rig(&self) -> &Rig {
        &self.rig
    }

    /// The rig of one run. `None` where the bench has no such object or mass.
    pub(super) fn run_rig(&self, load: Load, mass: usize, random: &mut Random) -> Option<Rig> {
        let loaded = match load {
            Load::Empty => None,
            Load::Object(index) => Some(self.objects.get(index)?),
        };
        let mut rig = Rig { mass_kg: *self.masses_kg.get(mass)?, ..self.rig.clone() };
        let carried = loaded.map_or(OnAxis { mass_kg: 0.0, unbalance_kg_m: 0.0 }, |object| object.on_axis);
        rig.inertia_kg_m2 += loaded.map_or(0.0, |object| object.inertia_kg_m2);
        let friction = &mut rig.friction;
        friction.bearing_weight_n = (self.table.mass_kg + carried.mass_kg) * rig.gravity_m_per_s2;
        let unbalance_kg_m = self.table.unbalance_kg_m + carried.unbalance_kg_m;
        friction.tilt_n_m = unbalance_kg_m * rig.gravity_m_per_s2 * sine(self.tilt_rad);
        let of_usual = random.normal_about(1.0, self.scatter).max(0.0);
        friction.constant_n_m *= of_usual;
        friction.bearing_arm_m *= of_usual;
        // Winding never ends at quite the same angle.
        friction.tilt_phase_rad = random.between(0.0, core::f64::consts::TAU);
        Some(rig)
    }
}

/// The masses as they are: what is stamped, by a balance that all share, each within its tolerance.
fn true_masses(settings: &BenchSettings, seed: Seed) -> Vec<f64> {
    let instruments = &settings.instruments;
    let scale = seed.stream("hanging scale").normal_about(1.0, instruments.hanging_scale_u);
    let mut random = seed.stream("hanging masses");
    let tolerance_kg = instruments.hanging_tolerance_kg;
    let truth = |stamped: &f64| stamped * scale + random.between(-tolerance_kg, tolerance_kg);
    // A tolerance above the mass itself would leave nothing to hang.
    settings.masses_kg.iter().map(truth).map(|mass| mass.max(1e-6)).collect()
}

fn gate(settings: &BenchSettings, pulley: &Pulley, seed: Seed) -> Gate {
    let draw = |name: &str, spread: Spread| spread.draw(&mut seed.stream(name));
    let mut spoke_error = draw("gate.spoke_error", settings.gate.spoke_error);
    let mut missed = draw("gate.missed", settings.gate.missed);
    let mut bounced = draw("gate.bounced", settings.gate.bounced);
    for fault in &settings.faults {
        match *fault {
            Fault::UnevenSpokes { spoke_error: more } => {
                spoke_error = (spoke_error * spoke_error + more * more).sqrt();
            }
            Fault::MissedEdges { share } => missed += share,
            Fault::BouncedEdges { share } => bounced += share,
            _ => {}
        }
    }
    let error_m = spoke_error * pulley.travel_per_spoke_m;
    Gate {
        spoke_offsets_m: spoke_offsets(pulley.spokes, error_m, &mut seed.stream("spokes")),
        edges: settings.gate.edges,
        position_noise_m: draw("gate.string_noise_m", settings.gate.string_noise_m),
        clock: Clock {
            start_s: 0.0,
            jitter_s: draw("gate.clock_jitter_s", settings.gate.clock_jitter_s),
            step_s: draw("gate.clock_step_s", settings.gate.clock_step_s),
            rounding: Rounding::Down,
        },
        missed: Missed { probability: missed, places: Vec::new() },
        bounced: Bounced {
            probability: bounced,
            places: Vec::new(),
            least_delay_s: BOUNCE_S.0,
            most_delay_s: BOUNCE_S.1,
        },
        ..Gate::default()
    }
}

impl TrueObject {
    fn draw(object: &ObjectSettings, index: usize, off_mark_m: f64, seed: Seed) -> Self {
        let parts: Vec<TruePart> = (0..)
            .zip(&object.parts)
            .map(|(number, part)| TruePart::draw(part, &format!("objects[{index}].parts[{number}]"), seed))
            .collect();
        let mut whole = OnAxis { mass_kg: 0.0, unbalance_kg_m: 0.0 };
        let mut inertia_kg_m2 = 0.0;
        for (settings, part) in object.parts.iter().zip(&parts) {
            let mass_kg = f64::from(settings.count.get()) * part.mass_kg;
            whole.mass_kg += mass_kg;
            whole.unbalance_kg_m += mass_kg * part.center_m(settings);
            inertia_kg_m2 += part.inertia_kg_m2(settings);
        }
        // Moved by e the way its center of mass lies: Σ M (D + e)² = Σ M D² + 2 e Σ M D + e² Σ M.
        inertia_kg_m2 += off_mark_m * (2.0 * whole.unbalance_kg_m + off_mark_m * whole.mass_kg);
        whole.unbalance_kg_m += off_mark_m * whole.mass_kg;
        Self { inertia_kg_m2, on_axis: whole, parts }
    }
}

impl TruePart {
    fn draw(part: &PartSettings, name: &str, seed: Seed) -> Self {
        let draw = |key: &str, spread: Spread| spread.draw(&mut seed.stream(&format!("{name}.{key}")));
        Self {
            mass_kg: draw("mass_kg", part.mass_kg),
            dimensions_m: (0..)
                .zip(&part.dimensions_m)
                .map(|(index, length): (usize, _)| draw(&format!("dimensions_m[{index}]"), *length))
                .collect(),
            offset_m: part.offset_m.map(|offset| draw("offset_m", offset)),
        }
    }

    /// Distance of the center of mass from the axis, m: none of several that stand evenly round it.
    fn center_m(&self, part: &PartSettings) -> f64 {
        if part.count.get() > 1 {
            return 0.0;
        }
        let first_m = self.dimensions_m.first().copied().unwrap_or(0.0);
        match part.shape {
            Shape::RodEnd => 0.5 * first_m,
            Shape::PointMass => first_m,
            _ => self.offset_m.unwrap_or(0.0),
        }
    }

    /// Of all alike, about the axis, where they should stand.
    fn inertia_kg_m2(&self, part: &PartSettings) -> f64 {
        let exactly = |length: f64| Measured::new(Meters(length), Meters(0.0)).ok();
        let mass = Measured::new(Kilograms(self.mass_kg), Kilograms(0.0)).ok();
        let dimensions: Vec<_> = self.dimensions_m.iter().copied().map(exactly).collect();
        let body = Body::new(part.shape, part.count, mass, &dimensions, self.offset_m.and_then(exactly));
        // The settings were checked, so there is a body, and it has a moment of inertia.
        let moment = body.ok().and_then(|body| body.moment_of_inertia().ok());
        moment.map_or(0.0, |moment| moment.value().0)
    }
}
