//! Measured beside predicted.

use crate::figure::{Axis, Figure, Ink, Interval, Layer, Marker};
use whorl_core::analysis::ObjectOutcome;
use whorl_core::lab::{Configuration, Lab};
use whorl_core::measured::Measured;
use whorl_core::measured::coverage::Probability;
use whorl_core::measured::shown::DisplayUnit;
use whorl_core::quantity::{KilogramMeters2, Quantity};
use whorl_words as words;

/// 95 % coverage intervals of every object's moment of inertia, measured and predicted.
pub fn comparison(lab: &Lab, objects: &[ObjectOutcome]) -> Figure {
    let measured =
        |object: &ObjectOutcome| object.measured.as_ref().ok().map(|found| found.moment_of_inertia.total);
    let predicted =
        |object: &ObjectOutcome| object.predicted.as_ref().ok().map(|found| found.moment_of_inertia);
    let largest = objects
        .iter()
        .flat_map(|object| [measured(object), predicted(object)])
        .flatten()
        .fold(0.0_f64, |largest, found| largest.max(found.value().0.abs()));
    let unit = DisplayUnit::engineering(KilogramMeters2(largest));
    let layer =
        |label: &str, ink, marker, value: &dyn Fn(&ObjectOutcome) -> Option<Measured<KilogramMeters2>>| {
            let row = |object: &ObjectOutcome| {
                let found = value(object)?;
                let interval = found.coverage_interval(Probability::P95);
                Some(Interval {
                    name: lab.configuration_name(Configuration::Loaded(object.id)),
                    low: unit.number(interval.low.si()),
                    mark: unit.number(found.value().si()),
                    high: unit.number(interval.high.si()),
                })
            };
            Layer::Intervals {
                label: label.to_owned(),
                ink,
                marker,
                rows: objects.iter().filter_map(row).collect(),
            }
        };
    Figure {
        name: words::charts::comparison().to_owned(),
        x: Axis::new(words::charts::moment_of_inertia(), unit.caption()),
        y: Axis::new("", ""),
        layers: vec![
            layer(words::charts::measured(), Ink::First, Marker::Dot, &measured),
            layer(words::charts::predicted(), Ink::Accent, Marker::Diamond, &predicted),
        ],
    }
}
