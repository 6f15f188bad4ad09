//! Student's t and chi-square against printed tables and against values computed with 20 digits
//! (`reference/quantiles.json`). Known misprints of the tables are left out there, each with its
//! reason in `reference/README.md`.

use whorl_core::measured::coverage::{chi_square_quantile, chi_square_tail, student_t_quantile};

use crate::digits::{assert_digits, reference};

/// Rows of the table `key`: degrees of freedom, probability or argument, and the value as printed.
fn rows(key: &str) -> Vec<(f64, f64, String)> {
    let all = reference(include_str!("../reference/quantiles.json"));
    let rows = all[key].as_array().unwrap();
    rows.iter()
        .map(|row| {
            let fields: Vec<&str> = row.as_str().unwrap().split(' ').collect();
            (fields[0].parse().unwrap(), fields[1].parse().unwrap(), fields[2].to_owned())
        })
        .collect()
}

/// Asserts that `found` rounds to what is printed, with half a unit of its last digit to either side.
#[track_caller]
fn rounds_to(found: f64, printed: &str, what: &str) {
    let decimals = printed.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let half_a_unit = 0.5 * 10.0_f64.powi(-i32::try_from(decimals).unwrap());
    let expected: f64 = printed.parse().unwrap();
    assert!((found - expected).abs() <= half_a_unit * (1.0 + 1e-9), "{what}: {found}, printed {printed}");
}

#[test]
fn student_t_quantiles_round_to_the_e_handbook_s_table() {
    // NIST/SEMATECH e-Handbook 1.3.6.7.2.
    let rows = rows("student_t_handbook");
    assert_eq!(rows.len(), 34 * 6 - 7);
    for (freedom, p, printed) in rows {
        rounds_to(student_t_quantile(p, freedom), &printed, &format!("{freedom} degrees, p = {p}"));
    }
}

#[test]
fn coverage_factors_round_to_the_table_of_technical_note_1297() {
    // NIST TN 1297 (1994) Table B.1, which is GUM Table G.2: two-sided, in percent. The columns headed
    // 68.27, 95.45 and 99.73 are those of 1, 2 and 3 standard deviations of a normal distribution, as
    // the table's note says.
    let probability = |percent: f64| match percent {
        68.27 => 0.682_689_492_137_085_9,
        95.45 => 0.954_499_736_103_641_6,
        99.73 => 0.997_300_203_936_739_8,
        round => round / 100.0,
    };
    let rows = rows("student_t_tn1297");
    assert_eq!(rows.len(), 28 * 6 - 1);
    for (freedom, percent, printed) in rows {
        let found = student_t_quantile(f64::midpoint(1.0, probability(percent)), freedom);
        rounds_to(found, &printed, &format!("{freedom} degrees, {percent} %"));
    }
}

/// What an inverse found by iteration is asked for; far more than any number on the page shows.
const ITERATED: f64 = 9.0;

/// Finite sums, exact but for rounding.
const CLOSED_FORM: f64 = 12.0;

#[test]
fn student_t_quantiles_have_twelve_digits_at_whole_degrees_of_freedom() {
    // Effective degrees of freedom are truncated to whole ones before a quantile is taken (GUM G.4.1).
    for (freedom, p, exact) in rows("student_t_computed").into_iter().filter(|row| row.0.fract() == 0.0) {
        let what = format!("{freedom} degrees, p = {p}");
        assert_digits(&what, student_t_quantile(p, freedom), exact.parse().unwrap(), CLOSED_FORM);
    }
}

#[test]
fn student_t_quantiles_keep_nine_digits_with_millions_of_degrees_of_freedom() {
    // Effective degrees of freedom (GUM G.4) run that high as soon as what all runs share outweighs the
    // scatter by a factor of twenty or more.
    let rows = rows("student_t_large_computed");
    assert_eq!(rows.len(), 28);
    for (freedom, p, exact) in rows {
        let what = format!("{freedom} degrees, p = {p}");
        assert_digits(&what, student_t_quantile(p, freedom), exact.parse().unwrap(), ITERATED);
    }
}

#[test]
fn chi_square_quantiles_round_to_the_e_handbook_s_table() {
    // NIST/SEMATECH e-Handbook 1.3.6.7.4.
    let rows = rows("chi_square_handbook");
    assert_eq!(rows.len(), 95);
    for (freedom, p, printed) in rows {
        let found = chi_square_quantile(p, freedom).unwrap();
        rounds_to(found, &printed, &format!("{freedom} degrees, p = {p}"));
    }
}

#[test]
fn chi_square_quantiles_have_nine_digits_where_they_are_promised() {
    // Promised from p = 0.01 up.
    let promised: Vec<_> = rows("chi_square_computed").into_iter().filter(|row| row.1 >= 0.01).collect();
    assert_eq!(promised.len(), 36 * 11);
    for (freedom, p, exact) in promised {
        let found = chi_square_quantile(p, freedom).unwrap();
        let what = format!("{freedom} degrees, p = {p}");
        assert_digits(&what, found, exact.parse().unwrap(), ITERATED);
    }
}

#[test]
fn upper_tails_of_chi_square_have_twelve_digits() {
    for (freedom, x, exact) in rows("chi_square_tail_computed") {
        let (found, exact): (f64, f64) = (chi_square_tail(x, freedom).unwrap(), exact.parse().unwrap());
        if exact > 0.0 {
            assert_digits(&format!("{freedom} degrees, x = {x}"), found, exact, 12.0);
        } else {
            // 304 with 25 degrees of freedom: about 1e-49, given as 0.
            assert!((0.0..1e-40).contains(&found), "{found}");
        }
    }
}
