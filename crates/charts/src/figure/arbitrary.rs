//! Figures no one would draw on purpose, for tests that nothing panics.

use proptest::prelude::*;

use super::{Axis, Dash, Figure, Ink, Interval, Layer, Marker, Point, Reach};

/// Any number a broken file or an unfinished calculation can bring.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![3 => -10.0..10.0_f64, 1 => prop::num::f64::ANY, 1 => Just(0.0), 1 => Just(1e9)]
}

fn ink() -> impl Strategy<Value = Ink> {
    prop::sample::select(vec![Ink::First, Ink::Second, Ink::Third, Ink::Fourth, Ink::Muted, Ink::Accent])
}

fn marker_shape() -> impl Strategy<Value = Marker> {
    let all =
        vec![Marker::Dot, Marker::Ring, Marker::Square, Marker::Triangle, Marker::Diamond, Marker::Cross];
    prop::sample::select(all)
}

fn dash_kind() -> impl Strategy<Value = Dash> {
    prop::sample::select(vec![Dash::Solid, Dash::Dashed, Dash::Dotted])
}

fn reach() -> impl Strategy<Value = Reach> {
    prop_oneof![
        Just(Reach::Data),
        Just(Reach::WithZero),
        (number(), number()).prop_map(|(low, high)| Reach::Fixed { low, high })
    ]
}

fn any_layer() -> impl Strategy<Value = Layer> {
    let label = || "\\PC{0,20}";
    let half = || prop::option::of(number());
    let point = (number(), number(), half(), half()).prop_map(|(x, y, ux, uy)| Point { x, y, ux, uy });
    let interval = ("[a-c]{0,2}", number(), number(), number())
        .prop_map(|(name, low, mark, high)| Interval { name, low, mark, high });
    prop_oneof![
        4 => (label(), ink(), marker_shape(), prop::collection::vec(point, 0..40)).prop_map(|(label, ink, marker, points)| Layer::Points { label, ink, marker, points }),
        4 => (label(), ink(), dash_kind(), prop::collection::vec((number(), number()), 0..40)).prop_map(|(label, ink, dash, points)| Layer::Line { label, ink, dash, points }),
        2 => (label(), ink(), prop::collection::vec((number(), number(), number()), 0..20)).prop_map(|(label, ink, points)| Layer::Band { label, ink, points }),
        2 => (label(), ink(), number(), number()).prop_map(|(label, ink, from_x, to_x)| Layer::Stretch { label, ink, from_x, to_x }),
        2 => (label(), ink(), dash_kind(), number()).prop_map(|(label, ink, dash, y)| Layer::Level { label, ink, dash, y }),
        1 => (label(), ink(), marker_shape(), prop::collection::vec(interval, 0..6)).prop_map(|(label, ink, marker, rows)| Layer::Intervals { label, ink, marker, rows }),
    ]
}

fn any_axis() -> impl Strategy<Value = Axis> {
    ("\\PC{0,40}", "\\PC{0,10}", reach()).prop_map(|(quantity, unit, reach)| Axis { quantity, unit, reach })
}

pub(crate) fn any_figure() -> impl Strategy<Value = Figure> {
    ("\\PC{0,30}", any_axis(), any_axis(), prop::collection::vec(any_layer(), 0..5))
        .prop_map(|(name, x, y, layers)| Figure { name, x, y, layers })
}
