//! Every number of the settings once: its name in a file, its words, its limits; and what cannot be.

use super::fault::Fault;
use super::instruments::Instrument;
use super::settings::{BenchSettings, PartSettings};
use super::spread::Spread;
use crate::bodies::Shape;
use whorl_words as words;

/// One quantity of the settings.
pub struct Field {
    /// Its group in a file, empty at the top.
    pub group: &'static str,
    /// Its name in the group; it ends in the unit.
    pub key: &'static str,
    /// What it is, for people.
    pub words: fn() -> &'static str,
    /// SI unit; empty for a pure number.
    pub unit: &'static str,
    /// The least it may be.
    pub least: f64,
    /// The most it may be. Beyond, a run would be out of all proportion.
    pub most: f64,
    /// Its place in the settings.
    pub place: fn(&mut BenchSettings) -> &mut Spread,
    /// The same, to look at.
    pub of: fn(&BenchSettings) -> Spread,
}

/// A setting that cannot be.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::bench::wrong_setting(.place, .problem))]
pub struct SettingsProblem {
    /// Where, as in a bench file: `drum.radius_m`.
    pub place: String,
    /// Why not, and what would do.
    pub problem: String,
}

macro_rules! field {
    ($group:literal, $key:literal, $words:ident, $unit:literal, $least:literal, $most:literal, $($path:ident).+) => {
        Field {
            group: $group,
            key: $key,
            words: words::bench::$words,
            unit: $unit,
            least: $least,
            most: $most,
            place: |settings| &mut settings.$($path).+,
            of: |settings| settings.$($path).+,
        }
    };
}

/// All of them, in the order of a file.
#[rustfmt::skip]
pub const FIELDS: [Field; 24] = [
    field!("drum", "radius_m", drum_radius, "m", 1e-3, 1.0, drum.radius_m),
    field!("drum", "string_diameter_m", string_diameter, "m", 0.0, 0.02, drum.string_diameter_m),
    field!("drum", "growth_per_turn_m", growth_per_turn, "m", 0.0, 0.02, drum.growth_per_turn_m),
    field!("drum", "string_m", string_length, "m", 0.1, 10.0, drum.string_m),
    field!("pulley", "travel_per_spoke_m", travel_per_spoke, "m", 1e-3, 0.2, pulley.travel_per_spoke_m),
    field!("pulley", "inertia_kg_m2", pulley_inertia, "kg·m²", 0.0, 0.01, pulley.inertia_kg_m2),
    field!("pulley", "friction_n_m", pulley_friction, "N·m", 0.0, 0.01, pulley.friction_n_m),
    field!("table", "inertia_kg_m2", table_inertia, "kg·m²", 1e-5, 10.0, table.inertia_kg_m2),
    field!("table", "mass_kg", table_mass, "kg", 0.0, 200.0, table.mass_kg),
    field!("table", "off_center_m", off_center, "m", 0.0, 0.5, table.off_center_m),
    field!("table", "tilt_rad", tilt, "rad", 0.0, 0.2, table.tilt_rad),
    field!("friction", "constant_n_m", friction_constant, "N·m", 0.0, 1.0, friction.constant_n_m),
    field!("friction", "viscous_n_m_s", friction_viscous, "N·m·s", 0.0, 0.1, friction.viscous_n_m_s),
    field!("friction", "quadratic_n_m_s2", friction_quadratic, "N·m·s²", 0.0, 0.1, friction.quadratic_n_m_s2),
    field!("friction", "bearing_arm_m", bearing_arm, "m", 0.0, 5e-4, friction.bearing_arm_m),
    field!("friction", "scatter", friction_scatter, "", 0.0, 0.15, friction.scatter),
    field!("gate", "spoke_error", spoke_error, "", 0.0, 0.05, gate.spoke_error),
    field!("gate", "string_noise_m", string_noise, "m", 0.0, 1e-3, gate.string_noise_m),
    field!("gate", "clock_step_s", clock_step, "s", 0.0, 0.01, gate.clock_step_s),
    field!("gate", "clock_jitter_s", clock_jitter, "s", 0.0, 0.01, gate.clock_jitter_s),
    field!("gate", "missed", missed, "", 0.0, 0.2, gate.missed),
    field!("gate", "bounced", bounced, "", 0.0, 0.2, gate.bounced),
    field!("", "drop_height_m", drop_height, "m", 0.1, 5.0, drop_height_m),
    field!("", "gravity_m_per_s2", gravity, "m/s²", 0.5, 50.0, gravity_m_per_s2),
];

/// No object has more parts, and no bench more objects or masses: a guard, far above what a table holds.
const MOST_LISTED: usize = 60;

impl BenchSettings {
    /// Sees that every number can be.
    ///
    /// # Errors
    /// Names the first that cannot, by its place in a bench file.
    pub fn check(&self) -> Result<(), SettingsProblem> {
        for field in &FIELDS {
            let dot = if field.group.is_empty() { "" } else { "." };
            let place = format!("{}{dot}{}", field.group, field.key);
            within((field.of)(self), &place, (field.least, field.most))?;
        }
        if self.pulley.spokes.get() > 200 {
            return Err(wrong("pulley.spokes", outside(1.0, 200.0)));
        }
        listed(self.masses_kg.len(), "masses_kg")?;
        for (index, mass) in self.masses_kg.iter().enumerate() {
            within(Spread::Fixed(*mass), &format!("masses_kg[{index}]"), (1e-4, 20.0))?;
        }
        listed(self.objects.len(), "objects")?;
        for (index, object) in self.objects.iter().enumerate() {
            let place = format!("objects[{index}].parts");
            listed(object.parts.len(), &place)?;
            for (number, part) in object.parts.iter().enumerate() {
                check_part(part, &format!("{place}[{number}]"))?;
            }
        }
        self.check_instruments()?;
        self.check_faults()
    }

    fn check_instruments(&self) -> Result<(), SettingsProblem> {
        let mut instruments = self.instruments.clone();
        for (key, Instrument { step, u }) in instruments.all() {
            // A step or error as large as what is read tells nothing; nothing read here is above 50.
            for (name, value) in [("step", *step), ("u", *u)] {
                within(Spread::Fixed(value), &format!("instruments.{key}.{name}"), (0.0, 50.0))?;
            }
        }
        for (key, value, most) in instruments.hanging() {
            within(Spread::Fixed(*value), &format!("instruments.{key}"), (0.0, most))?;
        }
        Ok(())
    }

    fn check_faults(&self) -> Result<(), SettingsProblem> {
        for (index, fault) in self.faults.iter().enumerate() {
            let mut fault = *fault;
            if let Fault::WrongStamp { mass, by_kg } = fault {
                let place = format!("faults[{index}]");
                let Some(stamped) = self.masses_kg.get(mass) else {
                    return Err(wrong(&format!("{place}.mass"), words::bench::no_such_mass().to_owned()));
                };
                if stamped + by_kg <= 0.0 {
                    return Err(wrong(
                        &format!("{place}.by_kg"),
                        words::bench::mass_below_nothing().to_owned(),
                    ));
                }
            }
            for (size, value) in fault.sizes() {
                within(
                    Spread::Fixed(*value),
                    &format!("faults[{index}].{}", size.key),
                    (size.least, size.most),
                )?;
            }
        }
        Ok(())
    }
}

fn check_part(part: &PartSettings, place: &str) -> Result<(), SettingsProblem> {
    within(part.mass_kg, &format!("{place}.mass_kg"), (1e-4, 100.0))?;
    let lengths = format!("{place}.dimensions_m");
    let needed = part.shape.dimensions().len();
    if part.dimensions_m.len() != needed {
        return Err(wrong(
            &lengths,
            words::lab_file::other_number_of_dimensions(&part.shape.words(), &needed),
        ));
    }
    for (index, length) in part.dimensions_m.iter().enumerate() {
        // A hole and a distance may be nothing.
        let may_be_zero = (part.shape == Shape::Ring && index == 0) || part.shape == Shape::PointMass;
        let least = if may_be_zero { 0.0 } else { 1e-4 };
        within(*length, &format!("{lengths}[{index}]"), (least, 5.0))?;
    }
    if let (Shape::Ring, [inner, outer]) = (part.shape, part.dimensions_m.as_slice())
        && inner.most() > outer.least()
    {
        return Err(wrong(&lengths, words::bodies::ring_inside_out().to_owned()));
    }
    if let Some(offset) = part.offset_m {
        let place = format!("{place}.offset_m");
        within(offset, &place, (0.0, 5.0))?;
        if !part.shape.may_sit_off_axis() {
            return Err(wrong(&place, words::bodies::not_off_axis(&part.shape.words())));
        }
    }
    Ok(())
}

fn wrong(place: &str, problem: String) -> SettingsProblem {
    SettingsProblem { place: place.to_owned(), problem }
}

fn outside(least: f64, most: f64) -> String {
    words::bench::outside(&words::with_mark(&least.to_string()), &words::with_mark(&most.to_string()))
}

fn within(value: Spread, place: &str, (least, most): (f64, f64)) -> Result<(), SettingsProblem> {
    if value.is_within(least, most) {
        return Ok(());
    }
    let backwards = value.least() > value.most();
    let problem = if backwards { words::bench::backwards().to_owned() } else { outside(least, most) };
    Err(wrong(place, problem))
}

fn listed(count: usize, place: &str) -> Result<(), SettingsProblem> {
    if (1..=MOST_LISTED).contains(&count) {
        return Ok(());
    }
    Err(wrong(place, words::bench::list_length(&MOST_LISTED)))
}
