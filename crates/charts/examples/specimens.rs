//! Writes a sheet of specimen figures as SVG files, to be looked at after a change of style.
//!
//! `cargo run -p whorl-charts --features svg --example specimens -- FOLDER`

use std::path::Path;

use whorl_charts::{Axis, Dash, Figure, Ink, Interval, Layer, Marker, Palette, Point, Reach, svg};

fn main() -> std::io::Result<()> {
    let folder = std::env::args().nth(1).unwrap_or_else(|| ".".to_owned());
    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder)?;
    let figures = [
        ("velocity", velocity()),
        ("residuals", residuals()),
        ("inertia", inertia()),
        ("comparison", comparison()),
        ("dense", dense()),
        ("large", large()),
        ("empty", empty()),
    ];
    for (name, figure) in &figures {
        for (size, (width, height)) in [("wide", (720, 400)), ("narrow", (330, 260))] {
            for (theme, palette) in [("light", Palette::LIGHT), ("dark", Palette::DARK)] {
                let file = folder.join(format!("{name}-{size}-{theme}.svg"));
                std::fs::write(file, svg(figure, None, width, height, palette))?;
            }
        }
    }
    Ok(())
}

/// A repeatable wobble between −1 and 1.
fn wobble(index: i32) -> f64 {
    let k = f64::from(index);
    0.5 * ((k * 12.9898).sin() + (k * 4.1414 + 1.0).sin())
}

fn points(label: &str, ink: Ink, marker: Marker, points: Vec<Point>) -> Layer {
    Layer::Points { label: label.into(), ink, marker, points }
}

fn line(label: &str, ink: Ink, dash: Dash, points: Vec<(f64, f64)>) -> Layer {
    Layer::Line { label: label.into(), ink, dash, points }
}

fn velocity_points() -> Vec<Point> {
    (0..60)
        .map(|k| {
            let t = 0.05 * f64::from(k);
            let fall = if t < 0.4 { 0.0 } else { 4.2 * (t - 0.4).min(2.0) };
            Point::new(t, fall + 0.12 * wobble(k))
        })
        .collect()
}

fn velocity() -> Figure {
    Figure {
        name: "Angular velocity in run 3".into(),
        x: Axis::new("time t", "s"),
        y: Axis::new("angular velocity ω", "rad/s"),
        layers: vec![
            Layer::Stretch { label: "chosen stretch".into(), ink: Ink::Accent, from_x: 0.6, to_x: 2.2 },
            points("readings", Ink::First, Marker::Dot, velocity_points()),
            line("fitted line", Ink::Accent, Dash::Solid, vec![(0.6, 0.84), (2.2, 7.56)]),
        ],
    }
}

fn residuals() -> Figure {
    let rests = (12..44)
        .map(|k| Point { uy: Some(0.05), ..Point::new(0.05 * f64::from(k), 0.12 * wobble(k)) })
        .collect();
    Figure {
        name: "Residuals of run 3".into(),
        x: Axis::new("time t", "s"),
        y: Axis::new("observed − fitted angular velocity", "rad/s"),
        layers: vec![
            Layer::Level { label: String::new(), ink: Ink::Muted, dash: Dash::Dashed, y: 0.0 },
            points("", Ink::First, Marker::Dot, rests),
        ],
    }
}

fn inertia() -> Figure {
    let set = |slope: f64, intercept: f64, start: i32| -> Vec<Point> {
        (start..start + 6)
            .map(|k| {
                let x = 1.1 * f64::from(k);
                Point {
                    x,
                    y: intercept + slope * x + 0.4 * wobble(k),
                    ux: Some(0.12),
                    uy: Some(0.5 + 0.04 * x),
                }
            })
            .collect()
    };
    let band = (0..=20)
        .map(|k| {
            let x = 0.45 * f64::from(k);
            let half = 0.35 * (1.0 + 0.15 * (x - 4.0) * (x - 4.0)).sqrt();
            (x, 1.2 + 2.9 * x - half, 1.2 + 2.9 * x + half)
        })
        .collect();
    Figure {
        name: "Inertia lines".into(),
        x: Axis::new("angular acceleration α", "rad/s²").reaching(Reach::WithZero),
        y: Axis::new("string torque τ", "mN·m").reaching(Reach::WithZero),
        layers: vec![
            Layer::Band { label: String::new(), ink: Ink::First, points: band },
            line("platform", Ink::First, Dash::Solid, vec![(0.0, 1.2), (9.0, 27.3)]),
            line("platform and ring", Ink::Second, Dash::Dashed, vec![(0.0, 1.5), (7.0, 36.5)]),
            points("platform", Ink::First, Marker::Dot, set(2.9, 1.2, 2)),
            points("platform and ring", Ink::Second, Marker::Square, set(5.0, 1.5, 1)),
        ],
    }
}

fn comparison() -> Figure {
    let rows = |values: &[(&str, f64, f64)]| {
        values
            .iter()
            .map(|(name, mark, half)| Interval {
                name: (*name).into(),
                low: mark - half,
                mark: *mark,
                high: mark + half,
            })
            .collect()
    };
    let measured =
        [("platform", 29.1, 0.9), ("platform and ring", 50.3, 1.4), ("ring alone, by difference", 21.2, 1.7)];
    let predicted = [("platform", 28.2, 0.3), ("ring alone, by difference", 22.4, 0.2)];
    Figure {
        name: "Measured and predicted moments of inertia".into(),
        x: Axis::new("moment of inertia I", "kg·cm²"),
        y: Axis::new("", ""),
        layers: vec![
            Layer::Intervals {
                label: "measured".into(),
                ink: Ink::First,
                marker: Marker::Dot,
                rows: rows(&measured),
            },
            Layer::Intervals {
                label: "predicted from geometry".into(),
                ink: Ink::Second,
                marker: Marker::Diamond,
                rows: rows(&predicted),
            },
        ],
    }
}

fn dense() -> Figure {
    let angle = |k: i32| {
        let t = 0.001 * f64::from(k);
        if (4200..4600).contains(&k) {
            (t, f64::NAN)
        } else {
            (t, (2.4 * t).sin() * (-0.2 * t).exp() + 0.05 * wobble(k))
        }
    };
    let each = |label: &str, ink, marker, shift: f64| {
        points(label, ink, marker, (0..12).map(|k| Point::new(0.7 * f64::from(k), shift)).collect())
    };
    Figure {
        name: "Marks and lines".into(),
        x: Axis::new("time t", "s"),
        y: Axis::new("angle θ", "rad"),
        layers: vec![
            line("swing", Ink::Muted, Dash::Solid, (0..8000).map(angle).collect()),
            line(
                "model",
                Ink::Accent,
                Dash::Dotted,
                (0..200).map(|k| 0.04 * f64::from(k)).map(|t| (t, (2.4 * t).sin())).collect(),
            ),
            each("ring", Ink::First, Marker::Ring, 0.75),
            each("triangle", Ink::Second, Marker::Triangle, 0.5),
            each("diamond", Ink::Third, Marker::Diamond, 0.25),
            each("cross", Ink::Fourth, Marker::Cross, 0.0),
        ],
    }
}

fn large() -> Figure {
    Figure {
        name: "Numbers in a wrong unit".into(),
        x: Axis::new("clock time", "s"),
        y: Axis::new("mean of the squared angular velocity ω² over the whole stretch", "rad²/s²"),
        layers: vec![points(
            "",
            Ink::Third,
            Marker::Triangle,
            (0..20).map(|k| Point::new(1.7e9 + f64::from(k), 3e-5 * f64::from(k - 4))).collect(),
        )],
    }
}

fn empty() -> Figure {
    Figure {
        name: "Nothing".into(),
        x: Axis::new("time t", "s"),
        y: Axis::new("angular velocity ω", "rad/s"),
        layers: Vec::new(),
    }
}
