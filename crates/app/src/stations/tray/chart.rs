//! The small chart of a run: its speed over time, the stretch that was found shaded.

use crate::dom::{El, svg};
use whorl_core::intake::FirstLook;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_words as words;

/// Its size in CSS pixels, and the room around the curve.
const WIDTH: f64 = 120.0;
const HEIGHT: f64 = 36.0;
const EDGE: f64 = 2.0;

/// The chart; `None` where there is no curve.
pub(super) fn chart(name: &str, look: &FirstLook) -> Option<El> {
    let [from, to] = ends(look.curve.iter().map(|point| point.0))?;
    let [least, most] = ends(look.curve.iter().map(|point| point.1))?;
    // The axis of speeds holds zero: a curve that hardly changes looks flat.
    let (low, high) = (least.min(0.0), most.max(0.0));
    let x = |time: f64| EDGE + (WIDTH - 2.0 * EDGE) * share(time, from, to);
    let y = |speed: f64| HEIGHT - EDGE - (HEIGHT - 2.0 * EDGE) * share(speed, low, high);
    let corners: Vec<String> =
        look.curve.iter().map(|point| format!("{:.1},{:.1}", x(point.0), y(point.1))).collect();
    let shade = look.stretch.map(|stretch| {
        let (left, right) = (x(stretch.from().0), x(stretch.to().0));
        svg("rect")
            .attr("x", &format!("{left:.1}"))
            .attr("y", "0")
            .attr("width", &format!("{:.1}", (right - left).max(1.0)))
            .attr("height", &HEIGHT.to_string())
    });
    let number = |value: f64, symbol| show_number(value, DisplayUnit::prefixed(symbol, 0), 3);
    let unit = look.curve_unit.as_str();
    let told = if unit == "m/s²" { words::tray::acceleration_chart } else { words::tray::speed_chart };
    let (least, most) = (number(least, ""), number(most, ""));
    let words = told(&name, &least, &most, &unit, &number(from, ""), &number(to, "s"));
    let words = match look.stretch {
        Some(stretch) => {
            words::tray::chart_shaded(&words, &number(stretch.from().0, ""), &number(stretch.to().0, "s"))
        }
        None => words,
    };
    Some(
        svg("svg")
            .attr("viewBox", &format!("0 0 {WIDTH} {HEIGHT}"))
            .attr("class", "speed")
            .attr("role", "img")
            .attr("aria-label", &words)
            .with(shade)
            .with(svg("path").attr("d", &format!("M0 {0:.1} H{WIDTH}", y(0.0))))
            .with(svg("polyline").attr("points", &corners.join(" "))),
    )
}

/// Smallest and largest; `None` where one is not a finite number, or there is none.
fn ends(values: impl Iterator<Item = f64>) -> Option<[f64; 2]> {
    let mut ends: Option<[f64; 2]> = None;
    for value in values {
        if !value.is_finite() {
            return None;
        }
        ends = Some(ends.map_or([value, value], |[low, high]| [low.min(value), high.max(value)]));
    }
    ends
}

/// Where a value lies between two ends, from 0 to 1.
fn share(value: f64, low: f64, high: f64) -> f64 {
    if high > low { ((value - low) / (high - low)).clamp(0.0, 1.0) } else { 0.5 }
}
