//! The products and quotients the lab uses, and no others.

use super::{KilogramMeters2, Kilograms, Meters, MetersPerSecond2, NewtonMeters, Newtons, RadiansPerSecond2};

macro_rules! product {
    ($left:ident * $right:ident = $result:ident) => {
        impl core::ops::Mul<$right> for $left {
            type Output = $result;

            fn mul(self, other: $right) -> $result {
                $result(self.0 * other.0)
            }
        }
    };
}

product!(Kilograms * MetersPerSecond2 = Newtons);
product!(Newtons * Meters = NewtonMeters);
product!(KilogramMeters2 * RadiansPerSecond2 = NewtonMeters);

impl core::ops::Div<Meters> for MetersPerSecond2 {
    type Output = RadiansPerSecond2;

    /// The no-slip relation α = a/R.
    fn div(self, radius: Meters) -> RadiansPerSecond2 {
        RadiansPerSecond2(self.0 / radius.0)
    }
}
