//! From the readings to a point on the torque graph.

use super::{Working, bound, bound_number, working};
use crate::acceleration::{AccelerationFit, Curve};
use crate::apparatus::Apparatus;
use crate::formula::{Formula, Symbol, symbol, symbol_of};
use crate::quantity::{
    Kilograms, Meters, MetersPerSecond2, NewtonMeters, Newtons, Quantity, RadiansPerSecond2,
};
use crate::torque::TorquePoint;

const A: Symbol = symbol("a");
const RE: Symbol = symbol_of("R", "e");

/// Rₑ = R + d/2.
pub fn effective_radius(apparatus: &Apparatus) -> Working {
    let (radius, diameter) = (symbol("R"), symbol("d"));
    working(
        "The string pulls at its middle, half its diameter outside the drum's surface.",
        RE,
        radius + diameter / 2,
        vec![
            bound(radius, "drum radius", apparatus.drum_radius().value()),
            bound(diameter, "string diameter", apparatus.string_diameter().value()),
        ],
        apparatus.rig().effective_radius().0,
        Meters::UNIT,
    )
}

/// a and u(a) from the fitted curve.
pub fn acceleration(fit: &AccelerationFit) -> Vec<Working> {
    let a = fit.acceleration.value().0;
    let u = fit.acceleration.standard_uncertainty().0;
    let u_a = symbol_of("u", "a");
    let s = symbol("s");
    match &fit.curve {
        Curve::VelocityLine(line) => {
            let (s_tv, s_tt) = (symbol_of("S", "tv"), symbol_of("S", "tt"));
            vec![
                working(
                    "The acceleration is the slope of the straight line v = v̄ + a (t − t̄) that leaves the smallest sum of squared residuals.",
                    A,
                    s_tv / s_tt,
                    vec![
                        bound_number(s_tv, "sum of (t − t̄)(v − v̄)", line.sum_xy, "m"),
                        bound_number(s_tt, "sum of (t − t̄)²", line.sum_xx, "s²"),
                    ],
                    a,
                    MetersPerSecond2::UNIT,
                ),
                working(
                    "Its standard uncertainty comes from the scatter about the line.",
                    u_a,
                    s / Formula::from(s_tt).root(),
                    vec![
                        bound_number(
                            s,
                            "standard deviation of the residuals",
                            line.residual_standard_deviation,
                            "m/s",
                        ),
                        bound_number(s_tt, "sum of (t − t̄)²", line.sum_xx, "s²"),
                    ],
                    u,
                    MetersPerSecond2::UNIT,
                ),
            ]
        }
        Curve::PositionParabola(parabola) => {
            let (c, u_c) = (symbol_of("c", "2"), symbol_of("u", "c2"));
            let curvature = parabola.fit.coefficients.get(2).copied().unwrap_or(f64::NAN);
            let curvature_u = parabola.fit.standard_uncertainty(2).unwrap_or(f64::NAN);
            vec![
                working(
                    "Position follows x = c₀ + c₁ w + c₂ w², with w the time from the middle of the stretch; least squares gives c₂, and the acceleration is twice that.",
                    A,
                    Formula::from(2) * c,
                    vec![bound(c, "fitted curvature", MetersPerSecond2(curvature))],
                    a,
                    MetersPerSecond2::UNIT,
                ),
                working(
                    "The scatter about the parabola gives the standard uncertainty of c₂, and twice that is the one of a.",
                    u_a,
                    Formula::from(2) * u_c,
                    vec![bound(u_c, "standard uncertainty of c₂", MetersPerSecond2(curvature_u))],
                    u,
                    MetersPerSecond2::UNIT,
                ),
            ]
        }
    }
}

/// T, τ and α of one run.
pub fn torque_point(point: &TorquePoint, gravity: MetersPerSecond2) -> Vec<Working> {
    let (m, g, tension, tau, alpha) = (symbol("m"), symbol("g"), symbol("T"), symbol("τ"), symbol("α"));
    let a = || bound(A, "acceleration of the mass", point.acceleration.value());
    let radius = || bound(RE, "effective radius", point.effective_radius);
    vec![
        working(
            "Weight pulls the mass down, the string's tension T holds it back, and the rest accelerates it: m g − T = m a.",
            tension,
            m * (g - A),
            vec![
                bound::<Kilograms>(m, "hanging mass", point.hanging_mass),
                bound(g, "gravity", gravity),
                a(),
            ],
            point.tension.0,
            Newtons::UNIT,
        ),
        working(
            "The string pulls the drum along its rim, so the torque is tension times effective radius.",
            tau,
            tension * RE,
            vec![bound(tension, "tension", point.tension), radius()],
            point.torque.value().0,
            NewtonMeters::UNIT,
        ),
        working(
            "The string does not slip, so drum and string share the motion at the rim.",
            alpha,
            A / RE,
            vec![a(), radius()],
            point.angular_acceleration.value().0,
            RadiansPerSecond2::UNIT,
        ),
    ]
}
