//! The line of one configuration, and coverage intervals.

use super::{Working, bound, bound_number, working};
use crate::formula::{Formula, Symbol, symbol, symbol_of};
use crate::inertia::Inertia;
use crate::measured::coverage::Probability;
use crate::measured::{Combined, Measured};
use crate::quantity::{KilogramMeters2, NewtonMeters, Quantity, RadiansPerSecond2, Ratio};

const I: Symbol = symbol("I");
const FRICTION: Symbol = symbol_of("τ", "f");

/// Slope, intercept and their uncertainties, and the line you would draw beside them.
pub fn line(inertia: &Inertia) -> Vec<Working> {
    let (fit, drawn) = (&inertia.line.fit, &inertia.line.drawn);
    let (s_at, s_aa) = (symbol_of("S", "ατ"), symbol_of("S", "αα"));
    let (w_at, w_aa, w_bb) = (symbol_of("W", "ατ"), symbol_of("W", "αα"), symbol_of("W", "ββ"));
    let (tau, alpha) = (symbol("τ̄"), symbol("ᾱ"));
    let spread = fit.slope_uncertainty.powi(-2);
    let mut workings = vec![
        working(
            "Newton’s second law for the table, τ − τ_f = I α, is a straight line in α; its slope is the moment of inertia. Each point counts with the weight 1/u² of its distance from the line.",
            I,
            w_at / w_aa,
            vec![
                bound_number(w_at, "weighted sum of (α − ᾱ)(τ − τ̄)", fit.sum_xy, "kg⁻¹·m⁻²"),
                bound_number(w_aa, "weighted sum of (α − ᾱ)²", fit.sum_xx, "kg⁻²·m⁻⁴"),
            ],
            fit.slope,
            KilogramMeters2::UNIT,
        ),
        working(
            "Where the line meets α = 0, the string’s torque only balances friction: the intercept.",
            FRICTION,
            tau - I * alpha,
            vec![
                bound(tau, "weighted mean torque", NewtonMeters(fit.mean_y)),
                bound(I, "slope", KilogramMeters2(fit.slope)),
                bound(alpha, "weighted mean angular acceleration", RadiansPerSecond2(fit.mean_x)),
            ],
            fit.intercept,
            NewtonMeters::UNIT,
        ),
    ];
    if spread.is_finite() {
        workings.push(working(
            "The wider the weighted points spread along α, the better the slope is fixed.",
            symbol_of("u", "scatter"),
            Formula::from(1) / Formula::from(w_bb).root(),
            vec![bound_number(w_bb, "weighted spread of α", spread, "kg⁻²·m⁻⁴")],
            fit.slope_uncertainty,
            KilogramMeters2::UNIT,
        ));
    }
    workings.push(combined(&inertia.moment_of_inertia));
    workings.push(working(
        "The line you would draw through the same points, each counting alike, for comparison.",
        symbol_of("I", "drawn"),
        s_at / s_aa,
        vec![
            bound_number(s_at, "sum of (α − ᾱ)(τ − τ̄)", drawn.sum_xy, "N·m/s²"),
            bound_number(s_aa, "sum of (α − ᾱ)²", drawn.sum_xx, "rad²/s⁴"),
        ],
        drawn.slope,
        KilogramMeters2::UNIT,
    ));
    workings
}

/// u_c from the random and the shared part.
pub(super) fn combined(parts: &Combined<KilogramMeters2>) -> Working {
    let (random, shared) = (symbol_of("u", "random"), symbol_of("u", "shared"));
    working(
        "What all runs share (radius, string, travel per spoke, g, mass scale) adds its own part; independent parts add as squares.",
        symbol_of("u", "c"),
        (random.squared() + shared.squared()).root(),
        vec![
            bound(random, "from the scatter of the runs", parts.random.standard_uncertainty()),
            bound(shared, "from what all runs share", parts.shared),
        ],
        parts.total.standard_uncertainty().0,
        KilogramMeters2::UNIT,
    )
}

/// U = k u_c.
pub fn expanded(measured: &Measured<KilogramMeters2>) -> Working {
    let interval = measured.coverage_interval(Probability::P95);
    let (k, u) = (symbol("k"), symbol_of("u", "c"));
    working(
        "Student's t for the degrees of freedom at hand gives the factor k, so that value ± U covers the true value in 95 of 100 such labs.",
        symbol("U"),
        k * u,
        vec![
            bound(k, "coverage factor", Ratio(interval.coverage_factor)),
            bound(u, "combined standard uncertainty", measured.standard_uncertainty()),
        ],
        interval.expanded_uncertainty.0,
        KilogramMeters2::UNIT,
    )
}
