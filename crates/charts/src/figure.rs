//! What a figure shows, before anything is drawn.
//!
//! A [`Figure`] is plain data in display units (mN·m, not 0.001 N·m). Drawing, the data table and the
//! summary in words all read this one model, so they cannot tell different stories.
//! It holds ready numbers: no uncertainty is computed here.

#[cfg(test)]
pub(crate) mod arbitrary;

use crate::number;

/// One pair of axes and what is drawn between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What the figure shows, in a few words: its title and the caption of its table.
    pub name: String,
    /// The horizontal axis.
    pub x: Axis,
    /// The vertical axis; unused by a figure whose layers are [`Layer::Intervals`].
    pub y: Axis,
    /// What is drawn: tints under the grid, everything else above it, later layers on top.
    pub layers: Vec<Layer>,
}

/// What runs along one axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// Name and symbol, such as `string torque τ`.
    pub quantity: String,
    /// Unit of the numbers, such as `mN·m`; empty for a plain number.
    pub unit: String,
    /// How far the axis runs.
    pub reach: Reach,
}

/// How far an axis runs. Whatever is asked for, [`crate::ranges`] makes a range that can be drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Reach {
    /// As far as the data and their error bars, and a little further.
    #[default]
    Data,
    /// As far as the data, and at least to zero.
    WithZero,
    /// Between two given values; what lies outside is cut off.
    Fixed {
        /// Left or lower end.
        low: f64,
        /// Right or upper end.
        high: f64,
    },
}

/// One thing drawn in a figure. An empty label keeps it out of the legend.
#[derive(Clone, Debug, PartialEq)]
pub enum Layer {
    /// Separate points, with error bars where they have uncertainties.
    Points {
        /// Name in the legend, the table and the summary.
        label: String,
        /// Color role.
        ink: Ink,
        /// Shape of each mark.
        marker: Marker,
        /// The points, in any order.
        points: Vec<Point>,
    },
    /// A curve through the given corners; it breaks where a corner is not finite.
    Line {
        /// Name in the legend, the table and the summary.
        label: String,
        /// Color role.
        ink: Ink,
        /// Solid or broken.
        dash: Dash,
        /// Corners `(x, y)` in drawing order.
        points: Vec<(f64, f64)>,
    },
    /// A shaded strip along x, such as the uncertainty of a fitted line.
    Band {
        /// Name in the legend, the table and the summary.
        label: String,
        /// Color role; drawn as a light tint.
        ink: Ink,
        /// `(x, low, high)` with x rising; it breaks where one is not finite.
        points: Vec<(f64, f64, f64)>,
    },
    /// A shaded stretch of the x axis, full height: the part of a run that is fitted.
    Stretch {
        /// Name in the legend and the summary.
        label: String,
        /// Color role; drawn as a light tint between two lines.
        ink: Ink,
        /// Where it starts.
        from_x: f64,
        /// Where it ends. Equal to the start for a single upright line.
        to_x: f64,
    },
    /// A horizontal line across the figure, such as zero under residuals.
    Level {
        /// Name in the legend and the summary.
        label: String,
        /// Color role.
        ink: Ink,
        /// Solid or broken.
        dash: Dash,
        /// Height of the line.
        y: f64,
    },
    /// Horizontal intervals, one row of the figure per name. Layers that use the same name share the row.
    Intervals {
        /// Name in the legend, the table and the summary.
        label: String,
        /// Color role.
        ink: Ink,
        /// Shape of the mark inside each interval.
        marker: Marker,
        /// The intervals, top row first.
        rows: Vec<Interval>,
    },
}

/// A point with the half-lengths of its error bars.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Horizontal value.
    pub x: f64,
    /// Vertical value.
    pub y: f64,
    /// Standard uncertainty of `x`.
    pub ux: Option<f64>,
    /// Standard uncertainty of `y`.
    pub uy: Option<f64>,
}

/// A named interval on the x axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Interval {
    /// Name of the row.
    pub name: String,
    /// Left end.
    pub low: f64,
    /// The value the interval belongs to.
    pub mark: f64,
    /// Right end.
    pub high: f64,
}

/// Shape of a mark. Configurations differ by shape as well as by color, for gray print and color blindness.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Marker {
    /// Filled circle.
    #[default]
    Dot,
    /// Open circle.
    Ring,
    /// Filled square.
    Square,
    /// Filled triangle, tip up.
    Triangle,
    /// Filled diamond.
    Diamond,
    /// Two crossed strokes.
    Cross,
}

/// How a line is broken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    #[default]
    Solid,
    /// Long strokes.
    Dashed,
    /// Short strokes.
    Dotted,
}

/// A color role; [`crate::Palette`] says which color it is on which paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ink {
    /// First configuration.
    #[default]
    First,
    /// Second configuration.
    Second,
    /// Third configuration.
    Third,
    /// Fourth configuration.
    Fourth,
    /// Context: points that are not used, reference lines.
    Muted,
    /// What the reader should look at: a fitted line, the chosen stretch.
    Accent,
}

impl Axis {
    /// An axis that follows its data.
    pub fn new(quantity: impl Into<String>, unit: impl Into<String>) -> Self {
        Self { quantity: quantity.into(), unit: unit.into(), reach: Reach::Data }
    }

    /// The same axis with another reach.
    #[must_use]
    pub fn reaching(self, reach: Reach) -> Self {
        Self { reach, ..self }
    }

    /// The caption of plain numbers on this axis, `string torque τ / (mN·m)`.
    ///
    /// A number is a quantity divided by its unit (SI Brochure, 9th edition, section 5.4.1), and a
    /// unit that is itself a product or a quotient goes into parentheses (section 5.4.6, from memory).
    pub fn caption(&self) -> String {
        self.caption_in_powers(0)
    }

    /// The caption when the numbers on the axis are counted in 10^`power` units.
    pub(crate) fn caption_in_powers(&self, power: i32) -> String {
        let quantity = &self.quantity;
        let unit = self.unit.as_str();
        match (power, unit) {
            (0, "") => quantity.clone(),
            (0, _) if unit.contains(['/', '·']) => format!("{quantity} / ({unit})"),
            (0, _) => format!("{quantity} / {unit}"),
            (_, "") => format!("{quantity} / 10{}", number::superscript(power)),
            (_, _) => format!("{quantity} / (10{} {unit})", number::superscript(power)),
        }
    }
}

impl Point {
    /// A point without error bars.
    pub fn new(x: f64, y: f64) -> Self {
        Self { x, y, ux: None, uy: None }
    }

    /// Whether the point has a place in the plane.
    pub(crate) fn is_finite(&self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl Layer {
    /// Name in the legend; empty when the layer is not to be listed.
    pub fn label(&self) -> &str {
        match self {
            Self::Points { label, .. }
            | Self::Line { label, .. }
            | Self::Band { label, .. }
            | Self::Stretch { label, .. }
            | Self::Level { label, .. }
            | Self::Intervals { label, .. } => label,
        }
    }

    /// Color role.
    pub fn ink(&self) -> Ink {
        match self {
            Self::Points { ink, .. }
            | Self::Line { ink, .. }
            | Self::Band { ink, .. }
            | Self::Stretch { ink, .. }
            | Self::Level { ink, .. }
            | Self::Intervals { ink, .. } => *ink,
        }
    }
}

impl Figure {
    /// Names of the rows of a figure of intervals, top row first; empty for any other figure.
    pub fn row_names(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for layer in &self.layers {
            if let Layer::Intervals { rows, .. } = layer {
                for row in rows {
                    if !names.contains(&row.name.as_str()) {
                        names.push(&row.name);
                    }
                }
            }
        }
        names
    }

    /// Whether any layer has something with a place on the paper. A level alone does not count.
    pub fn has_data(&self) -> bool {
        self.layers.iter().any(|layer| match layer {
            Layer::Points { points, .. } => points.iter().any(Point::is_finite),
            Layer::Line { points, .. } => points.iter().any(|(x, y)| x.is_finite() && y.is_finite()),
            Layer::Band { points, .. } => {
                points.iter().any(|(x, low, high)| x.is_finite() && low.is_finite() && high.is_finite())
            }
            Layer::Intervals { rows, .. } => rows.iter().any(|row| row.mark.is_finite()),
            Layer::Stretch { .. } | Layer::Level { .. } => false,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn captions_divide_the_quantity_by_its_unit() {
        for (quantity, unit, power, expected) in [
            ("string torque τ", "mN·m", 0, "string torque τ / (mN·m)"),
            ("angular velocity ω", "rad/s", 0, "angular velocity ω / (rad/s)"),
            ("reduced chi-square", "", 0, "reduced chi-square"),
            ("reduced chi-square", "", 3, "reduced chi-square / 10³"),
            ("energy E", "J", -6, "energy E / (10⁻⁶ J)"),
        ] {
            let axis = Axis::new(quantity, unit);
            assert_eq!(axis.caption_in_powers(power), expected);
        }
    }

    #[test]
    fn layers_that_name_a_row_twice_share_it() {
        let layer = |label: &str, names: &[&str]| Layer::Intervals {
            label: label.into(),
            ink: Ink::First,
            marker: Marker::Dot,
            rows: names
                .iter()
                .map(|name| Interval { name: (*name).into(), low: 1.0, mark: 2.0, high: 3.0 })
                .collect(),
        };
        let figure = Figure {
            name: "moments of inertia".into(),
            x: Axis::new("moment of inertia I", "kg·cm²"),
            y: Axis::new("", ""),
            layers: vec![layer("measured", &["disk", "ring"]), layer("predicted", &["ring", "rod"])],
        };
        assert_eq!(figure.row_names(), ["disk", "ring", "rod"]);
    }
}
