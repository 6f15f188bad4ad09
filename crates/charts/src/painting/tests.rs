//! What is drawn, told from the shapes and the pixel map.

use proptest::prelude::*;

use super::lettering::width_of;
use super::shape::{Anchor, Shape};
use super::*;
use crate::figure::arbitrary::any_figure;
use crate::figure::{Axis, Dash, Ink, Interval, Layer, Marker, Point, Reach};
use crate::palette::Palette;

fn figure(layers: Vec<Layer>) -> Figure {
    Figure {
        name: "Run 3".into(),
        x: Axis::new("time t", "s"),
        y: Axis::new("angular velocity ω", "rad/s"),
        layers,
    }
}

fn points(label: &str, points: Vec<Point>) -> Layer {
    Layer::Points { label: label.into(), ink: Ink::First, marker: Marker::Dot, points }
}

fn line(label: &str, dash: Dash, points: Vec<(f64, f64)>) -> Layer {
    Layer::Line { label: label.into(), ink: Ink::Second, dash, points }
}

fn canvas(scale: f64) -> Style {
    Style::canvas(scale, Palette::LIGHT)
}

fn disks(sheet: &Sheet) -> Vec<(i32, i32)> {
    let center = |shape: &Shape| match shape {
        Shape::Circle { center, stroke: None, .. } => Some(*center),
        _ => None,
    };
    sheet.shapes().iter().filter_map(center).collect()
}

fn texts(sheet: &Sheet) -> Vec<(&str, (i32, i32), f64, Anchor)> {
    let text = |shape| match shape {
        &Shape::Text { ref text, at, size, anchor, .. } => Some((text.as_str(), at, size, anchor)),
        _ => None,
    };
    sheet.shapes().iter().filter_map(text).collect()
}

#[test]
fn a_point_is_drawn_where_the_pixel_map_says() {
    let run: Vec<Point> = (0..7).map(|k| Point::new(f64::from(k), f64::from(k * k))).collect();
    let (sheet, map) = compose(&figure(vec![points("", run.clone())]), None, &canvas(1.0), 600.0, 300.0);
    let centers = disks(&sheet);
    assert_eq!(centers.len(), run.len());
    for (center, point) in centers.iter().zip(run) {
        assert!((f64::from(center.0) - map.px_of_x(point.x)).abs() <= 0.5);
        assert!((f64::from(center.1) - map.py_of_y(point.y)).abs() <= 0.5);
    }
}

#[test]
fn every_shape_of_mark_is_centered_on_its_point() {
    let all = [Marker::Dot, Marker::Ring, Marker::Square, Marker::Triangle, Marker::Diamond, Marker::Cross];
    for marker in all {
        let points = vec![Point::new(2.0, 5.0)];
        let layer = Layer::Points { label: String::new(), ink: Ink::First, marker, points };
        let (sheet, map) = compose(&figure(vec![layer]), None, &canvas(4.0), 1200.0, 800.0);
        let corners: Vec<(i32, i32)> = match sheet.shapes().last() {
            Some(Shape::Circle { center, .. }) => vec![*center],
            Some(Shape::Path { corners, .. } | Shape::Polygon { corners, .. }) => corners.clone(),
            other => panic!("{marker:?} is not drawn last: {other:?}"),
        };
        let middle = |values: &dyn Fn(&(i32, i32)) -> i32| {
            let (low, high) = (corners.iter().map(values).min(), corners.iter().map(values).max());
            f64::from(low.unwrap() + high.unwrap()) / 2.0
        };
        // A triangle hangs a little high: its center of mass, not its middle, lies on the point.
        let slack = if marker == Marker::Triangle { 4.0 } else { 1.0 };
        assert!((middle(&|corner| corner.0) - map.px_of_x(2.0)).abs() <= 1.0, "{marker:?}");
        assert!((middle(&|corner| corner.1) - map.py_of_y(5.0)).abs() <= slack, "{marker:?}");
    }
}

#[test]
fn points_without_a_place_are_left_out_and_the_others_stay() {
    let run = vec![
        Point::new(1.0, 1.0),
        Point::new(f64::NAN, 2.0),
        Point::new(3.0, f64::INFINITY),
        Point::new(4.0, 2.0),
    ];
    let (sheet, _) = compose(&figure(vec![points("", run)]), None, &canvas(1.0), 600.0, 300.0);
    assert_eq!(disks(&sheet).len(), 2);
}

#[test]
fn a_dense_layer_is_drawn_in_flecks_and_few_of_them() {
    let run = (0..20_000).map(|k| Point::new(f64::from(k), f64::from(k * 7919 % 101))).collect();
    let (sheet, map) = compose(&figure(vec![points("", run)]), None, &canvas(1.0), 600.0, 300.0);
    assert_eq!(disks(&sheet), []);
    let flecks = sheet.shapes().iter().filter(|shape| match shape {
        Shape::Rect { from, to, .. } => (2..=3).contains(&(to.0 - from.0)) && to.1 - from.1 >= 2,
        _ => false,
    });
    let columns = map.plot_area().width();
    let count = flecks.count() as f64;
    assert!((columns..=4.0 * columns + 8.0).contains(&count), "{count} flecks in {columns} columns");
}

#[test]
fn what_lies_outside_a_fixed_reach_is_cut_off() {
    let mut figure = figure(vec![
        points("", vec![Point::new(1.0, 1.0), Point::new(1.0, 99.0)]),
        line("", Dash::Solid, vec![(-50.0, 2.0), (50.0, 2.0)]),
    ]);
    figure.x = figure.x.reaching(Reach::Fixed { low: 0.0, high: 2.0 });
    figure.y = figure.y.reaching(Reach::Fixed { low: 0.0, high: 3.0 });
    let (sheet, map) = compose(&figure, None, &canvas(1.0), 600.0, 300.0);
    assert_eq!(disks(&sheet).len(), 1);
    let paths: Vec<_> = sheet
        .shapes()
        .iter()
        .filter_map(|shape| match shape {
            Shape::Path { corners, .. } => Some(corners.clone()),
            _ => None,
        })
        .collect();
    let plot = map.plot_area();
    let [path] = paths.as_slice() else { panic!("one line, not {paths:?}") };
    assert!(path.iter().all(|(x, y)| plot.contains(f64::from(*x) + 0.5, f64::from(*y))
        || plot.contains(f64::from(*x) - 0.5, f64::from(*y))));
    assert!(f64::from(path[1].0 - path[0].0) >= plot.width() - 1.0, "it still crosses the whole plot");
}

#[test]
fn a_line_breaks_where_it_has_no_value() {
    let corners = vec![(0.0, 0.0), (1.0, 1.0), (1.5, f64::NAN), (2.0, 2.0), (3.0, 3.0)];
    let (sheet, _) = compose(&figure(vec![line("", Dash::Solid, corners)]), None, &canvas(1.0), 600.0, 300.0);
    assert_eq!(sheet.shapes().iter().filter(|shape| matches!(shape, Shape::Path { .. })).count(), 2);
}

#[test]
fn many_readings_are_thinned_to_four_a_column() {
    let run: Vec<Point> = (0..100_000).map(|k| Point::new(f64::from(k), f64::from(k % 97))).collect();
    let corners: Vec<(f64, f64)> = run.iter().map(|point| (point.x, point.y)).collect();
    let (sheet, map) = compose(
        &figure(vec![points("", run), line("", Dash::Solid, corners)]),
        None,
        &canvas(2.0),
        1200.0,
        600.0,
    );
    // A column is a CSS pixel; the axis ends may cut one at each side.
    let columns = map.plot_area().width() / 2.0 + 2.0;
    let most = columns * MOST_PER_COLUMN as f64;
    assert!((disks(&sheet).len() as f64) < most);
    for shape in sheet.shapes() {
        if let Shape::Path { corners, .. } = shape {
            assert!((corners.len() as f64) < most);
        }
    }
}

#[test]
fn everything_grows_with_the_scale() {
    let two = figure(vec![
        points("a", vec![Point::new(1.0, 2.0), Point::new(2.0, 4.0)]),
        line("b", Dash::Solid, vec![(1.0, 2.0), (2.0, 4.0)]),
    ]);
    let (once, map) = compose(&two, None, &canvas(1.0), 360.0, 240.0);
    let (twice, map_twice) = compose(&two, None, &canvas(2.0), 720.0, 480.0);
    assert!((map_twice.plot_area().left - 2.0 * map.plot_area().left).abs() < 1e-9);
    assert!((map_twice.plot_area().height() - 2.0 * map.plot_area().height()).abs() < 1e-9);
    let sizes = |sheet: &Sheet| {
        texts(sheet).iter().map(|(text, _, size, _)| ((*text).to_owned(), *size)).collect::<Vec<_>>()
    };
    let doubled: Vec<_> = sizes(&once).into_iter().map(|(text, size)| (text, 2.0 * size)).collect();
    assert_eq!(sizes(&twice), doubled);
}

#[test]
fn text_is_never_smaller_than_twelve_pixels_and_stays_on_the_paper() {
    let long = "angular acceleration of the platform with both rings";
    let figure = Figure {
        name: "labels".into(),
        x: Axis::new(long, "rad/s²"),
        y: Axis::new(long, "mN·m"),
        layers: vec![
            points(long, vec![Point::new(-0.001, 1234.0), Point::new(0.001, -1234.5)]),
            line("a short name", Dash::Dashed, vec![(0.0, 0.0), (0.001, 1.0)]),
            line(long, Dash::Dotted, vec![(0.0, 0.0), (0.001, 2.0)]),
        ],
    };
    for width in [300.0, 360.0, 500.0, 900.0] {
        let (sheet, map) = compose(&figure, None, &canvas(1.0), width, 300.0);
        assert!(map.plot_area().height() > 80.0, "room for the data at {width}");
        for (text, (x, y), size, anchor) in texts(&sheet) {
            assert!(size >= 12.0, "{text} at {width}");
            let room = width_of(text, size);
            let left = match anchor {
                Anchor::Start => f64::from(x),
                Anchor::Middle => f64::from(x) - room / 2.0,
                Anchor::End => f64::from(x) - room,
            };
            assert!(left >= -1.0 && left + room <= width + 1.0, "“{text}” runs off the paper at {width}");
            assert!((0.0..300.0).contains(&f64::from(y)));
        }
    }
}

#[test]
fn the_legend_lies_above_the_plot_and_lists_a_name_once() {
    let run = vec![Point::new(0.0, 0.0), Point::new(1.0, 1.0)];
    let fitted = Layer::Line {
        label: "disk".into(),
        ink: Ink::First,
        dash: Dash::Solid,
        points: vec![(0.0, 0.0), (1.0, 1.0)],
    };
    let layers = vec![fitted, points("disk", run), line("ring", Dash::Dashed, vec![(0.0, 0.0), (1.0, 2.0)])];
    for width in [300.0, 900.0] {
        let (sheet, map) = compose(&figure(layers.clone()), None, &canvas(1.0), width, 300.0);
        for name in ["disk", "ring"] {
            let found: Vec<_> = texts(&sheet).into_iter().filter(|(text, ..)| *text == name).collect();
            assert_eq!(found.len(), 1, "{name}");
            assert!(f64::from(found[0].1.1) < map.plot_area().top, "{name}");
        }
    }
}

#[test]
fn one_name_alone_needs_no_legend() {
    let (sheet, _) = compose(
        &figure(vec![points("readings", vec![Point::new(0.0, 0.0)])]),
        None,
        &canvas(1.0),
        600.0,
        300.0,
    );
    assert!(texts(&sheet).iter().all(|(text, ..)| *text != "readings"));
}

#[test]
fn a_figure_without_data_shows_no_made_up_numbers() {
    let (sheet, _) = compose(&figure(Vec::new()), None, &canvas(1.0), 600.0, 300.0);
    let shown: Vec<&str> = texts(&sheet).iter().map(|(text, ..)| *text).collect();
    assert_eq!(shown, ["angular velocity ω / (rad/s)", "time t / s", "no data yet"]);
}

#[test]
fn rows_of_intervals_run_downward_and_layers_share_them_without_overlap() {
    let rows = |shift: f64| {
        ["disk", "ring"]
            .map(|name| Interval { name: name.into(), low: shift, mark: shift + 1.0, high: shift + 2.0 })
            .to_vec()
    };
    let layer = |label: &str, shift| Layer::Intervals {
        label: label.into(),
        ink: Ink::First,
        marker: Marker::Dot,
        rows: rows(shift),
    };
    let (sheet, map) =
        compose(&figure(vec![layer("", 1.0), layer("", 2.0)]), None, &canvas(1.0), 600.0, 300.0);
    let heights: Vec<i32> = disks(&sheet).iter().map(|center| center.1).collect();
    let [disk_first, ring_first, disk_second, ring_second] = heights[..] else {
        panic!("four marks, not {heights:?}")
    };
    assert!(disk_first + 8 < disk_second && disk_second + 8 < ring_first && ring_first + 8 < ring_second);
    assert!(map.py_of_y(0.0) < map.py_of_y(-1.0));
}

#[test]
fn a_clear_background_paints_no_paper() {
    let style = canvas(1.0);
    let painted = Style { background: Background::Paper, ..style.clone() };
    let covers = |style: &Style| {
        let (sheet, _) = compose(&figure(Vec::new()), None, style, 200.0, 100.0);
        matches!(sheet.shapes().first(), Some(Shape::Rect { from: (0, 0), to: (200, 100), .. }))
    };
    assert!(covers(&painted) && !covers(&style));
}

#[test]
fn the_edges_of_a_stretch_are_where_it_starts_and_ends() {
    let stretch = Layer::Stretch { label: String::new(), ink: Ink::Accent, from_x: 7.0, to_x: 3.0 };
    let run = vec![Point::new(0.0, 0.0), Point::new(10.0, 1.0)];
    let (sheet, map) = compose(&figure(vec![stretch, points("", run)]), None, &canvas(1.0), 600.0, 300.0);
    let tint = sheet.shapes().iter().find_map(|shape| match shape {
        Shape::Rect { from, to, color } if color.alpha < 1.0 => Some((from.0, to.0)),
        _ => None,
    });
    let Some((left, right)) = tint else { panic!("no tint") };
    assert!(
        (f64::from(left) - map.px_of_x(3.0)).abs() <= 0.5
            && (f64::from(right) - map.px_of_x(7.0)).abs() <= 0.5
    );
}

proptest! {
    #[test]
    fn any_figure_on_any_paper_is_drawn_inside_it(figure in any_figure(), width in 0..900_u16, height in 0..600_u16, scale in prop_oneof![0.5..3.0_f64, prop::num::f64::ANY]) {
        let (width, height) = (f64::from(width), f64::from(height));
        let (sheet, map) = compose(&figure, None, &canvas(scale), width, height);
        let plot = map.plot_area();
        prop_assert!(plot.left >= 0.0 && plot.top >= 0.0 && plot.width() >= 0.0 && plot.height() >= 0.0);
        prop_assert!(plot.right <= width.max(plot.left) && plot.bottom <= height);
        prop_assert!(map.x_at(plot.left).is_finite() && map.y_at(plot.bottom).is_finite());
        prop_assert!(sheet.shapes().len() < 60_000);
        // Marks, caps and legend samples reach a little over the edge of what they belong to.
        let slack = 20.0 * sheet.scale();
        let inside = |corner: &(i32, i32)| {
            let (x, y) = (f64::from(corner.0), f64::from(corner.1));
            (-slack..=width + slack).contains(&x) && (-slack..=height + slack).contains(&y)
        };
        for shape in sheet.shapes() {
            let on_paper = match shape {
                Shape::Rect { from, to, .. } => inside(from) && inside(to),
                Shape::Path { corners, .. } | Shape::Polygon { corners, .. } => corners.iter().all(inside),
                Shape::Circle { center, .. } => inside(center),
                Shape::Text { at, .. } => inside(at),
            };
            prop_assert!(on_paper, "{shape:?} on {width} x {height}");
        }
    }
}
