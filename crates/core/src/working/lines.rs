//! The line of one configuration, and coverage intervals.

use super::{Working, bound, bound_number, working};
use crate::formula::{Formula, Symbol, symbol, symbol_of};
use crate::inertia::Inertia;
use crate::measured::coverage::Probability;
use crate::measured::{Combined, Measured};
use crate::quantity::{KilogramMeters2, NewtonMeters, Quantity, RadiansPerSecond2, Ratio};
use whorl_words as words;

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
            words::working::slope_why(),
            I,
            w_at / w_aa,
            vec![
                bound_number(w_at, words::working::weighted_sum_alpha_tau(), fit.sum_xy, "kg⁻¹·m⁻²"),
                bound_number(w_aa, words::working::weighted_sum_alpha_squared(), fit.sum_xx, "kg⁻²·m⁻⁴"),
            ],
            fit.slope,
            KilogramMeters2::UNIT,
        ),
        working(
            words::working::intercept_why(),
            FRICTION,
            tau - I * alpha,
            vec![
                bound(tau, words::working::weighted_mean_torque(), NewtonMeters(fit.mean_y)),
                bound(I, words::working::slope(), KilogramMeters2(fit.slope)),
                bound(alpha, words::working::weighted_mean_alpha(), RadiansPerSecond2(fit.mean_x)),
            ],
            fit.intercept,
            NewtonMeters::UNIT,
        ),
    ];
    if spread.is_finite() {
        workings.push(working(
            words::working::spread_why(),
            symbol_of("u", "scatter"),
            Formula::from(1) / Formula::from(w_bb).root(),
            vec![bound_number(w_bb, words::working::weighted_spread_alpha(), spread, "kg⁻²·m⁻⁴")],
            fit.slope_uncertainty,
            KilogramMeters2::UNIT,
        ));
    }
    workings.push(combined(&inertia.moment_of_inertia));
    workings.push(working(
        words::working::drawn_line_why(),
        symbol_of("I", "drawn"),
        s_at / s_aa,
        vec![
            bound_number(s_at, words::working::sum_alpha_tau(), drawn.sum_xy, "N·m/s²"),
            bound_number(s_aa, words::working::sum_alpha_squared(), drawn.sum_xx, "rad²/s⁴"),
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
        words::working::combined_why(),
        symbol_of("u", "c"),
        (random.squared() + shared.squared()).root(),
        vec![
            bound(random, words::working::from_scatter(), parts.random.standard_uncertainty()),
            bound(shared, words::working::from_shared(), parts.shared),
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
        words::working::expanded_why(),
        symbol("U"),
        k * u,
        vec![
            bound(k, words::working::coverage_factor(), Ratio(interval.coverage_factor)),
            bound(u, words::working::combined_u(), measured.standard_uncertainty()),
        ],
        interval.expanded_uncertainty.0,
        KilogramMeters2::UNIT,
    )
}
