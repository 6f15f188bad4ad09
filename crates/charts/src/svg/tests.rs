//! The whole way through a real backend.

use proptest::prelude::*;

use super::*;
use crate::figure::arbitrary::any_figure;
use crate::figure::{Axis, Dash, Ink, Layer, Marker, Point};
use crate::style::Background;
use crate::text::table;

fn figure(layers: Vec<Layer>) -> Figure {
    Figure {
        name: "Inertia line".into(),
        x: Axis::new("angular acceleration α", "rad/s²"),
        y: Axis::new("string torque τ", "mN·m"),
        layers,
    }
}

fn marked(marker: Marker) -> Figure {
    let points = (0..9).map(|k| Point::new(f64::from(k), f64::from(k % 4))).collect();
    figure(vec![Layer::Points { label: String::new(), ink: Ink::Second, marker, points }])
}

#[test]
fn every_point_gets_one_mark_of_its_shape() {
    for (marker, tag) in [
        (Marker::Dot, "<circle"),
        (Marker::Square, "<polygon"),
        (Marker::Triangle, "<polygon"),
        (Marker::Diamond, "<polygon"),
        (Marker::Cross, "<polyline"),
    ] {
        assert_eq!(
            svg(&marked(marker), None, 500, 300, Palette::LIGHT).matches(tag).count(),
            9,
            "{marker:?}"
        );
    }
    // A ring is a disk of paper inside a circle of ink.
    assert_eq!(
        svg(&marked(Marker::Ring), None, 500, 300, Palette::LIGHT).matches("fill=\"none\"").count(),
        9
    );
}

#[test]
fn marks_differ_in_more_than_color() {
    let shapes =
        [Marker::Dot, Marker::Ring, Marker::Square, Marker::Triangle, Marker::Diamond, Marker::Cross];
    let drawn = shapes.map(|marker| svg(&marked(marker), None, 500, 300, Palette::LIGHT));
    for (index, one) in drawn.iter().enumerate() {
        assert!(drawn.iter().skip(index + 1).all(|other| one != other), "{:?}", shapes[index]);
    }
}

#[test]
fn captions_are_written_at_the_size_asked_for() {
    let drawn = svg(&marked(Marker::Dot), None, 330, 260, Palette::LIGHT);
    assert!(
        drawn.contains("string torque τ / (mN·m)\n") && drawn.contains("angular acceleration α / (rad/s²)\n")
    );
    let sizes: Vec<f64> = drawn
        .split("font-size=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .map(|size| size.parse::<f64>().unwrap() / f64::from(DETAIL))
        .collect();
    assert!(sizes.len() > 6 && sizes.iter().all(|size| (11.999..14.001).contains(size)), "{sizes:?}");
}

#[test]
fn dashed_and_dotted_lines_are_cut_into_pieces() {
    let pieces = |dash| {
        let layer =
            Layer::Line { label: String::new(), ink: Ink::First, dash, points: vec![(0.0, 0.0), (5.0, 9.0)] };
        svg(&figure(vec![layer]), None, 500, 300, Palette::LIGHT).matches("<polyline").count()
    };
    let (solid, dashed, dotted) = (pieces(Dash::Solid), pieces(Dash::Dashed), pieces(Dash::Dotted));
    assert!(solid == 1 && dashed > 20 && dotted > dashed, "{solid}, {dashed}, {dotted}");
}

#[test]
fn markup_in_names_stays_text() {
    let nasty = "<script>\"R&D\" 'x'</script>\u{1}";
    let mut figure = marked(Marker::Dot);
    figure.name = nasty.into();
    figure.x.quantity = nasty.into();
    figure.layers.push(Layer::Level { label: nasty.into(), ink: Ink::Muted, dash: Dash::Solid, y: 1.0 });
    figure.layers.push(Layer::Level { label: "other".into(), ink: Ink::Muted, dash: Dash::Solid, y: 2.0 });
    let drawn = svg(&figure, None, 700, 300, Palette::LIGHT);
    assert!(!drawn.contains("<script") && !drawn.contains('\u{1}') && !drawn.contains("R&D"));
    let safe = "&lt;script&gt;&quot;R&amp;D&quot; &apos;x&apos;&lt;/script&gt;";
    assert!(drawn.contains(&format!("<title>{safe} </title>")));
    assert_eq!(drawn.matches(safe).count(), 7, "title, four times in the description, caption, legend");
}

#[test]
fn a_figure_can_be_read_without_being_seen() {
    let drawn = svg(&marked(Marker::Dot), None, 500, 300, Palette::DARK);
    assert!(drawn.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"500\" height=\"300\" viewBox=\"0 0 2000 1200\">"));
    assert!(
        drawn.contains("<desc>Inertia line: string torque τ in mN·m against")
            && drawn.trim_end().ends_with("</svg>")
    );
}

#[test]
fn a_part_of_an_area_is_drawn_at_its_own_place() {
    let style = Style { background: Background::Clear, ..Style::svg(1.0, Palette::LIGHT) };
    let mut drawn = String::new();
    let map = {
        let whole = SVGBackend::with_string(&mut drawn, (700, 500)).into_drawing_area();
        draw(&whole.margin(100, 0, 200, 0), &marked(Marker::Dot), None, &style).unwrap()
    };
    assert!(map.plot_area().left > 200.0 && map.plot_area().top > 100.0 && map.plot_area().right < 700.0);
    let first = format!("<circle cx=\"{:.0}\" cy=\"{:.0}\"", map.px_of_x(0.0), map.py_of_y(0.0));
    assert!(drawn.contains(&first), "{first}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_figure_becomes_a_closed_document_a_table_and_a_sentence(figure in any_figure(), width in 0..600_u32, height in 0..400_u32) {
        let drawn = svg(&figure, None, width, height, Palette::LIGHT);
        prop_assert!(drawn.starts_with("<svg ") && drawn.trim_end().ends_with("</svg>"));
        prop_assert!(!drawn.contains("NaN") && !drawn.contains("inf\""), "a number no reader of SVG knows");
        let numbers = table(&figure, 20);
        prop_assert!(numbers.rows.len() <= 20 && numbers.rows.iter().all(|row| row.len() == numbers.columns.len()));
        prop_assert!(summary(&figure).ends_with('.'));
    }
}
