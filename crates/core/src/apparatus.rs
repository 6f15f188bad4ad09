//! Drum, string, pulley and gravity: what all runs of a lab share.

use crate::acceleration::Scale;
use crate::measured::{Measured, MeasuredError, quadrature};
use crate::quantity::{KilogramMeters2, Kilograms, Meters, MetersPerSecond2, Ratio};
use whorl_words as words;

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
    hanging_mass_uncertainty: Kilograms,
    /// Moment of inertia and radius at the string.
    pulley: Option<(Measured<KilogramMeters2>, Meters)>,
    drop_height: Option<Measured<Meters>>,
}

/// What is wrong or missing at the apparatus.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ApparatusError {
    /// Not entered, zero or negative.
    #[error("{}", words::chain::enter_drum_radius())]
    DrumRadius,
    /// Not entered or negative.
    #[error("{}", words::chain::enter_string_diameter())]
    StringDiameter,
    /// Not entered, zero or negative.
    #[error("{}", words::chain::enter_gravity())]
    Gravity,
    /// Zero or negative.
    #[error("{}", words::chain::travel_above_zero())]
    TravelPerSpoke,
    /// Negative or not a number.
    #[error("{}", words::chain::mass_scale_not_negative())]
    MassScale,
    /// Negative or not a number.
    #[error("{}", words::chain::hanging_mass_not_negative())]
    HangingMass,
    /// Negative.
    #[error("{}", words::chain::pulley_inertia_not_negative())]
    PulleyInertia,
    /// Nothing to tell its radius from.
    #[error("{}", words::chain::pulley_radius_missing())]
    PulleyRadius,
    /// Zero or negative.
    #[error("{}", words::chain::drop_height_above_zero())]
    DropHeight,
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
            hanging_mass_uncertainty: Kilograms(0.0),
            pulley: None,
            drop_height: None,
        })
    }

    /// With a standard uncertainty that each hanging mass has on its own.
    ///
    /// # Errors
    /// When it is negative or not finite.
    pub fn with_hanging_mass_uncertainty(mut self, u: Kilograms) -> Result<Self, ApparatusError> {
        if !(u.0.is_finite() && u.0 >= 0.0) {
            return Err(ApparatusError::HangingMass);
        }
        self.hanging_mass_uncertainty = u;
        Ok(self)
    }

    /// With a pulley whose moment of inertia counts; `radius` is where the string runs on it.
    ///
    /// # Errors
    /// When the moment of inertia is negative or the radius missing.
    pub fn with_pulley(
        mut self,
        inertia: Option<Measured<KilogramMeters2>>,
        radius: Option<Meters>,
    ) -> Result<Self, ApparatusError> {
        self.pulley = match inertia {
            None => None,
            Some(inertia) if inertia.value().0 < 0.0 => return Err(ApparatusError::PulleyInertia),
            Some(inertia) => {
                let radius = radius.filter(|radius| radius.0 > 0.0).ok_or(ApparatusError::PulleyRadius)?;
                Some((inertia, radius))
            }
        };
        Ok(self)
    }

    /// With a height that the mass falls in stopwatch runs.
    ///
    /// # Errors
    /// When it is not above zero.
    pub fn with_drop_height(mut self, height: Option<Measured<Meters>>) -> Result<Self, ApparatusError> {
        if height.is_some_and(|height| height.value().0 <= 0.0) {
            return Err(ApparatusError::DropHeight);
        }
        self.drop_height = height;
        Ok(self)
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

    /// Standard uncertainty of each hanging mass on its own.
    pub fn hanging_mass_uncertainty(&self) -> Kilograms {
        self.hanging_mass_uncertainty
    }

    /// Height the mass falls in stopwatch runs.
    pub fn drop_height(&self) -> Option<&Measured<Meters>> {
        self.drop_height.as_ref()
    }

    /// Moment of inertia of the pulley, if it counts, and its radius at the string.
    pub fn pulley(&self) -> Option<(Measured<KilogramMeters2>, Meters)> {
        self.pulley
    }

    /// Relative standard uncertainty shared by all hanging masses.
    pub fn mass_scale_uncertainty(&self) -> Ratio {
        self.mass_scale_uncertainty
    }

    /// The best estimates alone.
    pub fn rig(&self) -> Rig {
        Rig {
            drum_radius: self.drum_radius.value(),
            string_diameter: self.string_diameter.value(),
            gravity: self.gravity.value(),
            travel_ratio: Ratio(1.0),
            mass_ratio: Ratio(1.0),
            height_ratio: Ratio(1.0),
            radius_written: self.drum_radius.value() + self.string_diameter.value() * 0.5,
            pulley_inertia: self.pulley.map_or(KilogramMeters2(0.0), |pulley| pulley.0.value()),
            pulley_radius: self.pulley.map_or(Meters(1.0), |pulley| pulley.1),
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
                // The pulley's radius is told from the travel: N s/2π.
                rig.pulley_radius = rig.pulley_radius * rig.travel_ratio.0;
            }
            SharedInput::MassScale => rig.mass_ratio = Ratio(1.0 + steps * self.mass_scale_uncertainty.0),
            SharedInput::DropHeight => {
                let relative = self.drop_height.as_ref().and_then(Measured::relative_uncertainty);
                rig.height_ratio = Ratio(1.0 + steps * relative.unwrap_or(0.0));
            }
            SharedInput::PulleyInertia => {
                let u = self.pulley.map_or(KilogramMeters2(0.0), |pulley| pulley.0.standard_uncertainty());
                rig.pulley_inertia = rig.pulley_inertia + u * steps;
            }
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
    /// h, the height of stopwatch falls.
    DropHeight,
    /// I of the pulley.
    PulleyInertia,
}

impl SharedInput {
    /// All of them, in the order a budget lists them.
    pub const ALL: [Self; 7] = [
        Self::DrumRadius,
        Self::StringDiameter,
        Self::TravelPerSpoke,
        Self::Gravity,
        Self::MassScale,
        Self::DropHeight,
        Self::PulleyInertia,
    ];

    /// Plain words for a budget.
    pub fn words(self) -> &'static str {
        match self {
            Self::DrumRadius => words::chain::drum_radius(),
            Self::StringDiameter => words::chain::string_diameter(),
            Self::TravelPerSpoke => words::chain::travel_per_spoke(),
            Self::Gravity => words::chain::gravity(),
            Self::MassScale => words::chain::mass_scale(),
            Self::DropHeight => words::chain::drop_height(),
            Self::PulleyInertia => words::chain::pulley_inertia(),
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
    /// Accelerations from stopwatch times are multiplied by this: they are proportional to h.
    pub height_ratio: Ratio,
    /// Rₑ as written down, with which angles were turned into lengths.
    pub radius_written: Meters,
    /// Moment of inertia of the pulley; zero where it is neglected.
    pub pulley_inertia: KilogramMeters2,
    /// Radius of the pulley at the string.
    pub pulley_radius: Meters,
}

impl Rig {
    /// Rₑ = R + d/2.
    pub fn effective_radius(&self) -> Meters {
        self.drum_radius + self.string_diameter * 0.5
    }

    /// I_p/r_p²: the mass that would be as hard to start on the string as the pulley is, in kg.
    pub fn pulley_mass(&self) -> f64 {
        self.pulley_inertia.0 / (self.pulley_radius.0 * self.pulley_radius.0)
    }

    /// What an acceleration of this scale becomes on this rig, as a factor.
    pub fn ratio(&self, scale: Scale) -> f64 {
        match scale {
            Scale::Travel => self.travel_ratio.0,
            Scale::Radius => self.effective_radius().0 / self.radius_written.0,
            Scale::Height => self.height_ratio.0,
            Scale::Itself => 1.0,
        }
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
