//! Drum, string, pulley and gravity: what all runs of a lab share.

use crate::measured::{Measured, MeasuredError, quadrature};
use crate::quantity::{Kilograms, Meters, MetersPerSecond2, Ratio};

/// The apparatus as measured.
///
/// Invariant: drum radius and gravity are positive, the string's diameter is not negative, the
/// travel per spoke is positive.
#[derive(Clone, Debug, PartialEq)]
pub struct Apparatus {
    drum_radius: Measured<Meters>,
    string_diameter: Measured<Meters>,
    gravity: Measured<MetersPerSecond2>,
    travel_per_spoke: Option<Measured<Meters>>,
    mass_scale_uncertainty: Ratio,
}

/// What is wrong or missing at the apparatus.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ApparatusError {
    /// Not entered, zero or negative.
    #[error("enter the drum's radius R at the apparatus; it must be above zero")]
    DrumRadius,
    /// Not entered or negative.
    #[error("enter the string's diameter d at the apparatus (0 only for a string of no thickness)")]
    StringDiameter,
    /// Not entered, zero or negative.
    #[error("enter the local gravity g at the apparatus; it must be above zero")]
    Gravity,
    /// Zero or negative.
    #[error("the travel per spoke at the apparatus must be above zero")]
    TravelPerSpoke,
    /// Negative or not a number.
    #[error("the uncertainty of the mass scale at the apparatus must be 0 or more")]
    MassScale,
}

impl Apparatus {
    /// Checks what was entered.
    ///
    /// `mass_scale_uncertainty` is the relative standard uncertainty shared by all hanging masses.
    ///
    /// # Errors
    /// Names the first entry that is missing or impossible.
    pub fn new(
        drum_radius: Option<Measured<Meters>>,
        string_diameter: Option<Measured<Meters>>,
        gravity: Option<Measured<MetersPerSecond2>>,
        travel_per_spoke: Option<Measured<Meters>>,
        mass_scale_uncertainty: Ratio,
    ) -> Result<Self, ApparatusError> {
        let positive = |length: &Measured<Meters>| length.value().0 > 0.0;
        if travel_per_spoke.as_ref().is_some_and(|travel| !positive(travel)) {
            return Err(ApparatusError::TravelPerSpoke);
        }
        if !(mass_scale_uncertainty.0.is_finite() && mass_scale_uncertainty.0 >= 0.0) {
            return Err(ApparatusError::MassScale);
        }
        Ok(Self {
            drum_radius: drum_radius.filter(positive).ok_or(ApparatusError::DrumRadius)?,
            string_diameter: string_diameter
                .filter(|diameter| diameter.value().0 >= 0.0)
                .ok_or(ApparatusError::StringDiameter)?,
            gravity: gravity.filter(|g| g.value().0 > 0.0).ok_or(ApparatusError::Gravity)?,
            travel_per_spoke,
            mass_scale_uncertainty,
        })
    }

    /// Distance from the axis to the middle of the string, where its force acts: Rₑ = R + d/2.
    ///
    /// # Errors
    /// When the numbers are too large to add.
    pub fn effective_radius(&self) -> Result<Measured<Meters>, MeasuredError> {
        let u = quadrature([
            self.drum_radius.standard_uncertainty().0,
            0.5 * self.string_diameter.standard_uncertainty().0,
        ]);
        Measured::new(self.rig().effective_radius(), Meters(u))
    }

    /// Radius of the drum's surface.
    pub fn drum_radius(&self) -> &Measured<Meters> {
        &self.drum_radius
    }

    /// Diameter of the string.
    pub fn string_diameter(&self) -> &Measured<Meters> {
        &self.string_diameter
    }

    /// Local gravity.
    pub fn gravity(&self) -> &Measured<MetersPerSecond2> {
        &self.gravity
    }

    /// Travel of the string from one spoke to the next.
    pub fn travel_per_spoke(&self) -> Option<&Measured<Meters>> {
        self.travel_per_spoke.as_ref()
    }

    /// The best estimates alone.
    pub fn rig(&self) -> Rig {
        Rig {
            drum_radius: self.drum_radius.value(),
            string_diameter: self.string_diameter.value(),
            gravity: self.gravity.value(),
            travel_ratio: Ratio(1.0),
            mass_ratio: Ratio(1.0),
        }
    }

    /// The best estimates with one of them moved by `steps` standard uncertainties.
    pub fn rig_shifted(&self, input: SharedInput, steps: f64) -> Rig {
        let mut rig = self.rig();
        match input {
            SharedInput::DrumRadius => {
                rig.drum_radius = rig.drum_radius + self.drum_radius.standard_uncertainty() * steps;
            }
            SharedInput::StringDiameter => {
                rig.string_diameter =
                    rig.string_diameter + self.string_diameter.standard_uncertainty() * steps;
            }
            SharedInput::Gravity => rig.gravity = rig.gravity + self.gravity.standard_uncertainty() * steps,
            SharedInput::TravelPerSpoke => {
                let relative = self.travel_per_spoke.as_ref().and_then(Measured::relative_uncertainty);
                rig.travel_ratio = Ratio(1.0 + steps * relative.unwrap_or(0.0));
            }
            SharedInput::MassScale => rig.mass_ratio = Ratio(1.0 + steps * self.mass_scale_uncertainty.0),
        }
        rig
    }
}

/// An input whose error is the same in every run, so that more runs cannot average it out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SharedInput {
    /// R.
    DrumRadius,
    /// d.
    StringDiameter,
    /// s, the travel per spoke.
    TravelPerSpoke,
    /// g.
    Gravity,
    /// The balance the hanging masses were weighed on.
    MassScale,
}

impl SharedInput {
    /// All of them, in the order a budget lists them.
    pub const ALL: [Self; 5] =
        [Self::DrumRadius, Self::StringDiameter, Self::TravelPerSpoke, Self::Gravity, Self::MassScale];

    /// Plain words for a budget.
    pub fn words(self) -> &'static str {
        match self {
            Self::DrumRadius => "drum radius R",
            Self::StringDiameter => "string diameter d",
            Self::TravelPerSpoke => "travel per spoke s",
            Self::Gravity => "gravity g",
            Self::MassScale => "mass scale",
        }
    }
}

/// Plain values of the apparatus, for one pass through the chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rig {
    /// R.
    pub drum_radius: Meters,
    /// d.
    pub string_diameter: Meters,
    /// g.
    pub gravity: MetersPerSecond2,
    /// Accelerations from gate times are multiplied by this: they are proportional to s.
    pub travel_ratio: Ratio,
    /// Hanging masses are multiplied by this.
    pub mass_ratio: Ratio,
}

impl Rig {
    /// Rₑ = R + d/2.
    pub fn effective_radius(&self) -> Meters {
        self.drum_radius + self.string_diameter * 0.5
    }

    /// A hanging mass on this rig's balance.
    pub fn mass(&self, nominal: Kilograms) -> Kilograms {
        nominal * self.mass_ratio.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(millimeters: f64, u: f64) -> Option<Measured<Meters>> {
        Measured::new(Meters(millimeters / 1e3), Meters(u / 1e3)).ok()
    }

    #[test]
    fn the_string_adds_half_its_diameter_to_the_radius() {
        let gravity = Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.0)).ok();
        let apparatus =
            Apparatus::new(length(25.0, 0.03), length(1.0, 0.08), gravity, None, Ratio(0.0)).unwrap();
        let radius = apparatus.effective_radius().unwrap();
        assert!((radius.value().0 - 0.0255).abs() < 1e-15);
        // √(0.03² + 0.04²) mm.
        assert!((radius.standard_uncertainty().0 - 5e-5).abs() < 1e-15);
    }

    #[test]
    fn what_is_missing_or_impossible_is_named() {
        let gravity = Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.0)).ok();
        let check = |drum, string, gravity, travel| {
            Apparatus::new(drum, string, gravity, travel, Ratio(0.0)).unwrap_err()
        };
        assert_eq!(check(None, length(1.0, 0.0), gravity, None), ApparatusError::DrumRadius);
        assert_eq!(check(length(0.0, 0.0), length(1.0, 0.0), gravity, None), ApparatusError::DrumRadius);
        assert_eq!(
            check(length(25.0, 0.0), length(-1.0, 0.0), gravity, None),
            ApparatusError::StringDiameter
        );
        assert_eq!(check(length(25.0, 0.0), length(1.0, 0.0), None, None), ApparatusError::Gravity);
        assert_eq!(
            check(length(25.0, 0.0), length(1.0, 0.0), gravity, length(0.0, 0.0)),
            ApparatusError::TravelPerSpoke
        );
    }
}
