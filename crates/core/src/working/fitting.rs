//! From the readings to a point on the torque graph.

use super::{Working, bound, bound_number, working};
use crate::acceleration::{AccelerationFit, ByHandFit, Curve, EdgeFit, Sampled, SampledFit};
use crate::apparatus::Apparatus;
use crate::formula::{Formula, Symbol, symbol, symbol_of};
use crate::quantity::{
    Kilograms, Meters, MetersPerSecond2, NewtonMeters, Newtons, Quantity, RadiansPerSecond2, Seconds,
};
use crate::torque::{Motion, TorquePoint};

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

/// a and u(a) from the fitted curve, and the line you would draw beside it.
pub fn acceleration(fit: &AccelerationFit) -> Vec<Working> {
    let a = fit.acceleration.value();
    let u = fit.acceleration.standard_uncertainty();
    let mut workings = match &fit.curve {
        Curve::Edges(edges) => edge_times(edges, u),
        Curve::Sampled(sampled) => sampled_curve(sampled, a, u),
        Curve::ByHand(by_hand) => stopwatch(by_hand, u),
        Curve::Entered => Vec::new(),
    };
    if let Some(line) = &fit.drawn {
        let (s_tv, s_tt) = (symbol_of("S", "tv"), symbol_of("S", "tt"));
        workings.push(working(
            "The line you would draw through v against t, for comparison: its slope leaves the smallest sum of squared residuals.",
            symbol_of("a", "drawn"),
            s_tv / s_tt,
            vec![
                bound_number(s_tv, "sum of (t − t̄)(v − v̄)", line.sum_xy, "m"),
                bound_number(s_tt, "sum of (t − t̄)²", line.sum_xx, "s²"),
            ],
            line.slope,
            MetersPerSecond2::UNIT,
        ));
    }
    workings
}

/// u(a) = factor × scatter.
fn from_scatter(
    words: &'static str,
    scatter: f64,
    scatter_words: &'static str,
    unit: &'static str,
    u: MetersPerSecond2,
) -> Working {
    let (s, c) = (symbol("s"), symbol("c"));
    working(
        words,
        symbol_of("u", "a"),
        c * s,
        vec![
            bound_number(c, "factor from the least-squares equations", u.0 / scatter, ""),
            bound_number(s, scatter_words, scatter, unit),
        ],
        u.0,
        MetersPerSecond2::UNIT,
    )
}

fn edge_times(fit: &EdgeFit, u: MetersPerSecond2) -> Vec<Working> {
    let (v0, t0, x) = (symbol_of("v", "0"), symbol_of("t", "0"), symbol("x"));
    let position = fit.last_number * fit.pitch.0;
    let last = working(
        "At constant acceleration the string has run x at this time. t₀, v₀, a and a small offset for each spoke are chosen so that the times of all edges fit best; here the last edge.",
        symbol_of("t", "last"),
        t0 + Formula::from(2) * x / ((v0.squared() + Formula::from(2) * A * x).root() + v0),
        vec![
            bound(t0, "time at the first edge", fit.first_time),
            bound(x, "travel from the first edge to the last", Meters(position)),
            bound(v0, "velocity at the first edge", fit.first_velocity),
            bound(A, "acceleration", MetersPerSecond2(fit.acceleration)),
        ],
        fit.time_at(position),
        Seconds::UNIT,
    );
    let mut workings = vec![last];
    if fit.clock_noise.0 > 0.0 && u.0 > 0.0 {
        workings.push(from_scatter(
            "The scatter of the edges about the fit gives the standard uncertainty of a. Slow edges count less, since the string’s own position noise takes longer to pass.",
            fit.clock_noise.0,
            "scatter of a fast edge",
            Seconds::UNIT,
            u,
        ));
    }
    workings
}

fn sampled_curve(fit: &SampledFit, a: MetersPerSecond2, u: MetersPerSecond2) -> Vec<Working> {
    let (words, factor, power, unit) = match fit.quantity {
        Sampled::Velocity => (
            "Velocity follows v = c₀ + c₁ w, with w the time from the middle of the stretch; least squares that allow for errors shared by neighbors give c₁, the acceleration.",
            1,
            "1",
            "m/s",
        ),
        Sampled::Position => (
            "Position follows x = c₀ + c₁ w + c₂ w², with w the time from the middle of the stretch; least squares that allow for errors shared by neighbors give c₂, and the acceleration is twice that.",
            2,
            "2",
            "m",
        ),
        Sampled::Acceleration => (
            "The acceleration stays at one level c₀; its mean, with allowance for errors shared by neighbors, is the acceleration of the run.",
            1,
            "0",
            "m/s²",
        ),
    };
    let c = symbol_of("c", power);
    let fitted = MetersPerSecond2(a.0 / f64::from(factor));
    let mut workings = vec![working(
        words,
        A,
        Formula::from(factor) * c,
        vec![bound(c, "fitted coefficient", fitted)],
        a.0,
        MetersPerSecond2::UNIT,
    )];
    if fit.standard_deviation > 0.0 && u.0 > 0.0 {
        workings.push(from_scatter(
            "The scatter about the curve gives the standard uncertainty of a.",
            fit.standard_deviation,
            "scatter of one reading",
            unit,
            u,
        ));
    }
    workings
}

fn stopwatch(fit: &ByHandFit, u: MetersPerSecond2) -> Vec<Working> {
    let (h, t, u_t) = (symbol("h"), symbol("t̄"), symbol_of("u", "t̄"));
    let mean = || bound(t, "mean of the times", fit.mean);
    vec![
        working(
            "From rest the mass falls h = ½ a t², so the mean time gives the acceleration.",
            A,
            Formula::from(2) * h / t.squared(),
            vec![bound(h, "drop height", fit.height), mean()],
            fit.acceleration,
            MetersPerSecond2::UNIT,
        ),
        working(
            "The time counts twice: its relative uncertainty doubles on the way to a.",
            symbol_of("u", "a"),
            Formula::from(2) * A * u_t / t,
            vec![
                bound(A, "acceleration", MetersPerSecond2(fit.acceleration)),
                bound(
                    u_t,
                    "standard deviation of the times over the root of their number",
                    fit.mean_uncertainty,
                ),
                mean(),
            ],
            u.0,
            MetersPerSecond2::UNIT,
        ),
    ]
}

/// T, τ and α of one run.
pub fn torque_point(point: &TorquePoint, apparatus: &Apparatus) -> Vec<Working> {
    let (m, g, tension, tau, alpha) = (symbol("m"), symbol("g"), symbol("T"), symbol("τ"), symbol("α"));
    let (i_p, r_p) = (symbol_of("I", "p"), symbol_of("r", "p"));
    let a = || bound(A, "acceleration", point.acceleration.value());
    let radius = || bound(RE, "effective radius", point.effective_radius);
    let no_slip = working(
        "The string does not slip, so drum and string share the motion at the rim.",
        alpha,
        A / RE,
        vec![a(), radius()],
        point.angular_acceleration.value().0,
        RadiansPerSecond2::UNIT,
    );
    if point.motion == Motion::Coasting {
        return vec![no_slip];
    }
    let rising = point.motion == Motion::Rising;
    let mut values = vec![
        bound::<Kilograms>(m, "hanging mass", point.hanging_mass),
        bound(g, "gravity", apparatus.gravity().value()),
        a(),
    ];
    let weight = if rising { m * (g + A) } else { m * (g - A) };
    let pull = match apparatus.pulley() {
        None => weight,
        Some((inertia, radius)) => {
            values.push(bound(i_p, "moment of inertia of the pulley", inertia.value()));
            values.push(bound(r_p, "radius of the pulley at the string", radius));
            let taken = i_p * A / r_p.squared();
            if rising { weight + taken } else { weight - taken }
        }
    };
    let words = match (rising, apparatus.pulley().is_some()) {
        (false, false) => {
            "Weight pulls the mass down, the string’s tension T holds it back, and the rest accelerates it: m g − T = m a."
        }
        (false, true) => {
            "Weight pulls the mass down, the string’s tension holds it back, and the rest accelerates it: m g − T = m a. The pulley takes I_p a/r_p² of the tension."
        }
        (true, _) => {
            "The mass rises and slows down (a is negative): its weight is m g − T = −m a, the tension what is left."
        }
    };
    let turning = if rising { Formula::from(0) - tension * RE } else { tension * RE };
    vec![
        working(words, tension, pull, values, point.tension.0, Newtons::UNIT),
        working(
            if rising {
                "The string holds the drum back along its rim: tension times effective radius, against the motion."
            } else {
                "The string pulls the drum along its rim, so the torque is tension times effective radius."
            },
            tau,
            turning,
            vec![bound(tension, "tension", point.tension), radius()],
            point.torque.value().0,
            NewtonMeters::UNIT,
        ),
        no_slip,
    ]
}
