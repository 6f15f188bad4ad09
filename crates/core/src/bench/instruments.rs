//! How well the student's instruments read.
//!
//! An instrument errs by its calibration, normally with standard deviation u, and shows the nearest mark of a
//! scale. What a student may state is then √(u² + step²/12): the calibration, and a rectangle as wide as one step
//! (JCGM 100:2008, 4.3.7 and F.2.2.1).

use crate::measured::Measured;
use crate::quantity::Quantity;
use crate::simulation::random::Random;

/// One instrument, in the unit of what it reads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instrument {
    /// Step of its scale; 0 for none.
    pub step: f64,
    /// Standard uncertainty of its calibration.
    pub u: f64,
}

/// All that a student reads with. SI units.
#[derive(Clone, Debug, PartialEq)]
pub struct Instruments {
    /// For the drum's radius, m.
    pub drum_radius_m: Instrument,
    /// For the string's diameter, m.
    pub string_diameter_m: Instrument,
    /// For the travel per spoke, m.
    pub travel_per_spoke_m: Instrument,
    /// For the pulley's moment of inertia, kg·m².
    pub pulley_inertia_kg_m2: Instrument,
    /// For local gravity, m/s².
    pub gravity_m_per_s2: Instrument,
    /// For the drop height, m.
    pub drop_height_m: Instrument,
    /// For the mass of objects, kg.
    pub object_mass_kg: Instrument,
    /// For the lengths of objects and their distances from the axis, m.
    pub object_length_m: Instrument,
    /// Relative standard uncertainty that all hanging masses share: of the balance they were adjusted on.
    pub hanging_scale_u: f64,
    /// What is stamped on a hanging mass is true within ± this, evenly, kg.
    pub hanging_tolerance_kg: f64,
}

impl Default for Instruments {
    /// A caliper with marks of 0.05 mm, a ruler, a kitchen balance, a tape; the pulley as its maker tells.
    fn default() -> Self {
        Self {
            drum_radius_m: Instrument { step: 2.5e-5, u: 2e-5 },
            string_diameter_m: Instrument { step: 5e-5, u: 2e-5 },
            travel_per_spoke_m: Instrument { step: 1e-5, u: 1.5e-5 },
            pulley_inertia_kg_m2: Instrument { step: 1e-7, u: 2e-7 },
            gravity_m_per_s2: Instrument { step: 0.001, u: 0.003 },
            drop_height_m: Instrument { step: 0.001, u: 0.001 },
            object_mass_kg: Instrument { step: 0.001, u: 0.001 },
            object_length_m: Instrument { step: 0.001, u: 2e-4 },
            hanging_scale_u: 3e-4,
            hanging_tolerance_kg: 5e-5,
        }
    }
}

impl Instruments {
    /// Each instrument with its name in a file.
    pub(super) fn all(&mut self) -> [(&'static str, &mut Instrument); 8] {
        [
            ("drum_radius_m", &mut self.drum_radius_m),
            ("string_diameter_m", &mut self.string_diameter_m),
            ("travel_per_spoke_m", &mut self.travel_per_spoke_m),
            ("pulley_inertia_kg_m2", &mut self.pulley_inertia_kg_m2),
            ("gravity_m_per_s2", &mut self.gravity_m_per_s2),
            ("drop_height_m", &mut self.drop_height_m),
            ("object_mass_kg", &mut self.object_mass_kg),
            ("object_length_m", &mut self.object_length_m),
        ]
    }

    /// What is said of the hanging masses, with its name in a file and the most it may be.
    pub(super) fn hanging(&mut self) -> [(&'static str, &mut f64, f64); 2] {
        [
            ("hanging_scale_u", &mut self.hanging_scale_u, 0.05),
            ("hanging_tolerance_kg", &mut self.hanging_tolerance_kg, 0.05),
        ]
    }
}

impl Instrument {
    /// What may be stated of a reading.
    pub fn standard_uncertainty(self) -> f64 {
        (self.u * self.u + self.step * self.step / 12.0).sqrt()
    }

    /// A reading of something that is truly this large. What is not nothing is not read as nothing.
    pub(super) fn read<Q: Quantity>(self, truth: f64, random: &mut Random) -> Option<Measured<Q>> {
        let near = random.normal_about(truth, self.u);
        let mark =
            if self.step > 0.0 { to_step(near, self.step).max(to_step(self.step, self.step)) } else { near };
        let reading = if truth == 0.0 { 0.0 } else { mark };
        Measured::new(Q::from_si(reading), Q::from_si(self.standard_uncertainty())).ok()
    }
}

/// The nearest multiple of a step, as the shortest decimal where steps are decimal.
pub(super) fn to_step(value: f64, step: f64) -> f64 {
    let per_unit = 1.0 / step;
    let whole = (value / step).round();
    // 0.02505 rather than 0.025050000000000003: divided by 20000, not multiplied by 0.00005.
    if (per_unit - per_unit.round()).abs() < 1e-9 * per_unit {
        whole / per_unit.round()
    } else {
        whole * step
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Meters;

    #[test]
    fn readings_scatter_as_their_uncertainty_says_and_stand_on_marks() {
        let caliper = Instrument { step: 5e-5, u: 2e-5 };
        let mut random = Random::new(3);
        let n = 40_000;
        let mut square = 0.0;
        for _ in 0..n {
            // The truth lies anywhere between two marks.
            let truth = random.between(0.024, 0.026);
            let read: Measured<Meters> = caliper.read(truth, &mut random).unwrap();
            square += (read.value().0 - truth).powi(2);
            let marks = read.value().0 * 20_000.0;
            assert!((marks - marks.round()).abs() < 1e-9);
            assert!(read.value().0.to_string().len() <= 7, "{}", read.value().0);
        }
        // Five standard deviations of a variance from 40000 normal errors: 3.5 %.
        let ratio = square / f64::from(n) / caliper.standard_uncertainty().powi(2);
        assert!((ratio - 1.0).abs() < 0.035, "{ratio}");
    }

    #[test]
    fn nothing_is_read_as_nothing_and_something_as_something() {
        let ruler = Instrument { step: 0.001, u: 0.0 };
        let read = |truth| ruler.read::<Meters>(truth, &mut Random::new(1)).unwrap().value().0;
        assert_eq!(
            [read(0.0), read(0.000_2), read(0.012_4)].map(f64::to_bits),
            [0.0, 0.001, 0.012].map(f64::to_bits)
        );
    }
}
