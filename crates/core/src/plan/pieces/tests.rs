//! Lists as people type them, and their sums.

use super::*;
use proptest::prelude::*;

fn kilograms(grams: &[f64]) -> Vec<Kilograms> {
    grams.iter().map(|grams| Kilograms(grams / 1e3)).collect()
}

#[test]
fn lists_of_masses_are_read_as_people_type_them() {
    let read = |text: &str| {
        let pieces = parse_pieces(text).unwrap();
        pieces.iter().map(|piece| (piece.0 * 1e6).round() / 1e3).collect::<Vec<_>>()
    };
    assert_eq!(read("20 g ×2, 50, 100 x 2; 0.2 kg"), [20.0, 20.0, 50.0, 100.0, 100.0, 200.0]);
    assert_eq!(read("20x2,50,100x2,200"), [20.0, 20.0, 50.0, 100.0, 100.0, 200.0]);
    assert_eq!(read("2 × 20 g\n50 g + 3*10"), [20.0, 20.0, 50.0, 10.0, 10.0, 10.0]);
    assert_eq!(read("0,2 kg; 12,5 ×2;"), [200.0, 12.5, 12.5]);
    assert_eq!(read("2x20, 20x2, 5x5"), [20.0, 20.0, 20.0, 20.0, 5.0, 5.0, 5.0, 5.0, 5.0]);
    assert!(read(" , ;\n").is_empty());
    let pieces = parse_pieces("20x2, 50.127, 12.5, 0.2 kg").unwrap();
    assert_eq!(parse_pieces(&write_pieces(&pieces)), Ok(pieces));
}

#[test]
fn with_a_decimal_comma_a_list_is_written_and_read_with_one() {
    words::use_decimal_mark(DecimalMark::Comma);
    let pieces = parse_pieces("12,5 × 2, 50.25, 0,2 kg").unwrap();
    let written = write_pieces(&pieces);
    let (again, one) = (parse_pieces(&written), parse_pieces("20,5 g"));
    let problem = parse_pieces("0,0 kg").unwrap_err().problem;
    words::use_decimal_mark(DecimalMark::Point);
    assert_eq!(pieces, kilograms(&[12.5, 12.5, 50.25, 200.0]));
    assert_eq!(written.replace('\u{202f}', " "), "12,5 g × 2; 50,25 g; 200 g");
    assert_eq!((again, one), (Ok(pieces), Ok(kilograms(&[20.5]))));
    assert_eq!(problem, "a mass must be above zero");
}

#[test]
fn a_list_that_cannot_be_read_says_where_and_what_to_do() {
    let says = |text: &str| parse_pieces(text).unwrap_err().to_string();
    assert_eq!(says("20, abc"), "mass 2, “abc”: “abc” is not a number; write it like 25.3");
    assert_eq!(parse_pieces("20, abc").unwrap_err().from, 4);
    assert_eq!(says("5 lb"), "mass 1, “5 lb”: “lb” is not a unit for this; use g, mg, kg");
    assert_eq!(
        says("50, 20 g × 1.5"),
        "mass 2, “20 g × 1.5”: write how many there are as a whole number from 1 up, like 20 g × 2"
    );
    assert_eq!(says("x 2"), "mass 1, “x 2”: a mass is missing beside the ×; write it like 20 g × 2");
    assert_eq!(
        says("0,2 kg"),
        "mass 1, “0”: a mass must be above zero; a decimal point is safest, like 0.2 kg"
    );
    assert_eq!(says("20 kg"), "mass 1, “20 kg”: this would be 20000\u{202f}g; check the unit");
    assert_eq!(says("30 x 30, 20 x 3"), "mass 2, “20 x 3”: a list may have 32 pieces; leave some out");
}

#[test]
fn all_sums_can_be_hung_each_of_as_few_pieces_as_it_can_be() {
    let pieces = kilograms(&[20.0, 20.0, 50.0, 70.0]);
    let all = reachable(&pieces, Kilograms(0.0));
    let grams: Vec<f64> = all.iter().map(|hung| (hung.mass.0 * 1e3).round()).collect();
    assert_eq!(grams, [20.0, 40.0, 50.0, 70.0, 90.0, 110.0, 120.0, 140.0, 160.0]);
    assert_eq!(all[3].made_of(&pieces), kilograms(&[70.0]));
    assert_eq!(all[4].made_of(&pieces), kilograms(&[20.0, 70.0]));
    let held = reachable(&pieces, Kilograms(0.01));
    assert!((held[0].mass.0 - 0.03).abs() < 1e-12);
    assert_eq!(held.len(), 9);
    assert_eq!(reachable(&[], Kilograms(0.01)), []);
}

#[test]
fn a_rich_set_is_thinned_out_evenly() {
    // Powers of two have 2¹² − 1 different sums.
    let pieces: Vec<Kilograms> = (0..12).map(|k| Kilograms(1e-3 * f64::from(1 << k))).collect();
    let all = reachable(&pieces, Kilograms(0.0));
    assert!(all.len() <= MOST_REACHABLE && all.len() > MOST_REACHABLE - 10, "{}", all.len());
    assert!((all.last().unwrap().mass.0 - 4.095).abs() < 1e-9);
    assert!(all.windows(2).all(|pair| pair[0].mass < pair[1].mass));
    for hung in &all {
        let sum: f64 = hung.made_of(&pieces).iter().map(|piece| piece.0).sum();
        assert!((sum - hung.mass.0).abs() < 1e-9);
    }
}

proptest! {
    #[test]
    fn any_list_is_read_or_refused_without_a_panic(text in "[0-9x×*,;.+ gk\\-e\n]{0,40}|\\PC{0,30}") {
        if let Ok(pieces) = parse_pieces(&text) {
            prop_assert!(pieces.len() <= MOST_PIECES && pieces.iter().all(|piece| piece.0 > 0.0));
        }
    }
}
