//! From the readings to a point on the torque graph.

use super::{Working, bound, bound_number, working};
use crate::acceleration::{AccelerationFit, ByHandFit, Curve, EdgeFit, Sampled, SampledFit};
use crate::apparatus::Apparatus;
use crate::formula::{Formula, Symbol, symbol, symbol_of};
use crate::quantity::{
    Kilograms, Meters, MetersPerSecond2, NewtonMeters, Newtons, Quantity, RadiansPerSecond2, Seconds,
};
use crate::torque::{Motion, TorquePoint};
use whorl_words as words;

const A: Symbol = symbol("a");
const RE: Symbol = symbol_of("R", "e");

/// Rₑ = R + d/2.
pub fn effective_radius(apparatus: &Apparatus) -> Working {
    let (radius, diameter) = (symbol("R"), symbol("d"));
    working(
        words::working::effective_radius_why(),
        RE,
        radius + diameter / 2,
        vec![
            bound(radius, words::working::drum_radius(), apparatus.drum_radius().value()),
            bound(diameter, words::working::string_diameter(), apparatus.string_diameter().value()),
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
            words::working::drawn_velocities_why(),
            symbol_of("a", "drawn"),
            s_tv / s_tt,
            vec![
                bound_number(s_tv, words::working::sum_time_velocity(), line.sum_xy, "m"),
                bound_number(s_tt, words::working::sum_time_squared(), line.sum_xx, "s²"),
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
            bound_number(c, words::working::factor_of_scatter(), u.0 / scatter, ""),
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
        words::working::edge_times_why(),
        symbol_of("t", "last"),
        t0 + Formula::from(2) * x / ((v0.squared() + Formula::from(2) * A * x).root() + v0),
        vec![
            bound(t0, words::working::time_at_first_edge(), fit.first_time),
            bound(x, words::working::travel_first_to_last(), Meters(position)),
            bound(v0, words::working::velocity_at_first_edge(), fit.first_velocity),
            bound(A, words::working::acceleration(), MetersPerSecond2(fit.acceleration)),
        ],
        fit.time_at(position),
        Seconds::UNIT,
    );
    let mut workings = vec![last];
    if fit.clock_noise.0 > 0.0 && u.0 > 0.0 {
        workings.push(from_scatter(
            words::working::scatter_of_edges_why(),
            fit.clock_noise.0,
            words::working::scatter_of_fast_edge(),
            Seconds::UNIT,
            u,
        ));
    }
    workings
}

fn sampled_curve(fit: &SampledFit, a: MetersPerSecond2, u: MetersPerSecond2) -> Vec<Working> {
    let (words, factor, power, unit) = match fit.quantity {
        Sampled::Velocity => (words::working::velocities_why(), 1, "1", "m/s"),
        Sampled::Position => (words::working::positions_why(), 2, "2", "m"),
        Sampled::Acceleration => (words::working::accelerations_why(), 1, "0", "m/s²"),
    };
    let c = symbol_of("c", power);
    let fitted = MetersPerSecond2(a.0 / f64::from(factor));
    let mut workings = vec![working(
        words,
        A,
        Formula::from(factor) * c,
        vec![bound(c, words::working::fitted_coefficient(), fitted)],
        a.0,
        MetersPerSecond2::UNIT,
    )];
    if fit.standard_deviation > 0.0 && u.0 > 0.0 {
        workings.push(from_scatter(
            words::working::scatter_of_readings_why(),
            fit.standard_deviation,
            words::working::scatter_of_one_reading(),
            unit,
            u,
        ));
    }
    workings
}

fn stopwatch(fit: &ByHandFit, u: MetersPerSecond2) -> Vec<Working> {
    let (h, t, u_t) = (symbol("h"), symbol("t̄"), symbol_of("u", "t̄"));
    let mean = || bound(t, words::working::mean_of_times(), fit.mean);
    vec![
        working(
            words::working::stopwatch_why(),
            A,
            Formula::from(2) * h / t.squared(),
            vec![bound(h, words::working::drop_height(), fit.height), mean()],
            fit.acceleration,
            MetersPerSecond2::UNIT,
        ),
        working(
            words::working::stopwatch_u_why(),
            symbol_of("u", "a"),
            Formula::from(2) * A * u_t / t,
            vec![
                bound(A, words::working::acceleration(), MetersPerSecond2(fit.acceleration)),
                bound(u_t, words::working::mean_of_times_u(), fit.mean_uncertainty),
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
    let a = || bound(A, words::working::acceleration(), point.acceleration.value());
    let radius = || bound(RE, words::working::effective_radius(), point.effective_radius);
    let no_slip = working(
        words::working::no_slip_why(),
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
        bound::<Kilograms>(m, words::working::hanging_mass(), point.hanging_mass),
        bound(g, words::working::gravity(), apparatus.gravity().value()),
        a(),
    ];
    let weight = if rising { m * (g + A) } else { m * (g - A) };
    let pull = match apparatus.pulley() {
        None => weight,
        Some((inertia, radius)) => {
            values.push(bound(i_p, words::working::pulley_inertia(), inertia.value()));
            values.push(bound(r_p, words::working::pulley_radius(), radius));
            let taken = i_p * A / r_p.squared();
            if rising { weight + taken } else { weight - taken }
        }
    };
    let words = match (rising, apparatus.pulley().is_some()) {
        (false, false) => words::working::tension_why(),
        (false, true) => words::working::tension_with_pulley_why(),
        (true, _) => words::working::tension_rising_why(),
    };
    let turning = if rising { Formula::from(0) - tension * RE } else { tension * RE };
    vec![
        working(words, tension, pull, values, point.tension.0, Newtons::UNIT),
        working(
            if rising { words::working::torque_rising_why() } else { words::working::torque_why() },
            tau,
            turning,
            vec![bound(tension, words::working::tension(), point.tension), radius()],
            point.torque.value().0,
            NewtonMeters::UNIT,
        ),
        no_slip,
    ]
}
