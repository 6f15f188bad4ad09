//! Numbers that carry their unit: one newtype per quantity, always in SI base units.
//!
//! Conversion happens once, where text comes in or goes out; inside, mixing up a linear and an
//! angular acceleration does not compile. Torque and energy are both kg·m²/s², and stay apart:
//! only torque exists here.

mod products;

/// What every unit newtype offers, so that [`crate::measured::Measured`] can be generic.
pub trait Quantity: Copy + PartialEq + PartialOrd + core::fmt::Debug {
    /// Symbol of the SI unit, for example `kg·m²`.
    const UNIT: &'static str;

    /// Wraps a number given in the SI unit.
    fn from_si(value: f64) -> Self;

    /// The number in the SI unit.
    fn si(self) -> f64;
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
        pub struct $name(pub f64);

        impl Quantity for $name {
            const UNIT: &'static str = $unit;

            fn from_si(value: f64) -> Self {
                Self(value)
            }

            fn si(self) -> f64 {
                self.0
            }
        }

        impl core::ops::Add for $name {
            type Output = Self;

            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl core::ops::Sub for $name {
            type Output = Self;

            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl core::ops::Mul<f64> for $name {
            type Output = Self;

            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
    };
}

quantity!(
    /// Time.
    Seconds,
    "s"
);
quantity!(
    /// Length.
    Meters,
    "m"
);
quantity!(
    /// Linear velocity of the string.
    MetersPerSecond,
    "m/s"
);
quantity!(
    /// Linear acceleration.
    MetersPerSecond2,
    "m/s²"
);
quantity!(
    /// Angle.
    Radians,
    "rad"
);
quantity!(
    /// Angular velocity.
    RadiansPerSecond,
    "rad/s"
);
quantity!(
    /// Angular acceleration.
    RadiansPerSecond2,
    "rad/s²"
);
quantity!(
    /// Mass.
    Kilograms,
    "kg"
);
quantity!(
    /// Force.
    Newtons,
    "N"
);
quantity!(
    /// Torque.
    NewtonMeters,
    "N·m"
);
quantity!(
    /// Torque of viscous friction per angular velocity.
    NewtonMeterSeconds,
    "N·m·s"
);
quantity!(
    /// Moment of inertia.
    KilogramMeters2,
    "kg·m²"
);
quantity!(
    /// A pure number: a ratio, a scale factor.
    Ratio,
    ""
);
