//! Standard and normal gravity against published values.

use whorl_core::gravity::{STANDARD, at};

#[test]
fn standard_gravity_is_the_one_declared_in_1901() {
    // Exact by definition: 3rd CGPM (1901), restated in Kaye & Laby 2.7.5.
    assert!((STANDARD.0 - 9.806_65).abs() < f64::EPSILON);
}

#[test]
fn normal_gravity_has_the_published_values_of_grs80() {
    // H. Moritz, Geodetic Reference System 1980, Bulletin Géodésique 54 (1980) 395 and 62 (1988) 348:
    // equator and poles printed to 10 decimals, 45° to 9. Half a unit of the last printed digit, and at
    // 45° (9.806 199 202 52 before rounding) what rounding γ_e to 10 decimals does to the formula.
    const ROUNDING_OF_EQUATOR: f64 = 5e-11;
    for (latitude, printed, rounding) in [
        (0.0, 9.780_326_771_5, ROUNDING_OF_EQUATOR),
        (45.0, 9.806_199_203, 5e-10 + ROUNDING_OF_EQUATOR),
        (90.0, 9.832_186_368_5, ROUNDING_OF_EQUATOR),
    ] {
        let found = at(latitude, 0.0).unwrap().0;
        assert!((found - printed).abs() <= rounding, "{latitude}°: {found:.12}, printed {printed}");
        let south = at(-latitude, 0.0).unwrap().0;
        assert!((south - found).abs() < 1e-15, "north and south are alike");
    }
}

#[test]
fn normal_gravity_in_between_follows_from_the_defining_constants() {
    // Recomputed with 25 digits from a, GM, J₂ and ω of GRS80 (same source). The published constants
    // k (10 digits) and γ_e (11 digits) limit the agreement to about 1e-10 m/s².
    const ROUNDING_OF_CONSTANTS: f64 = 2e-10;
    for (latitude, expected) in [
        (15.0, 9.783_786_397_655_1),
        (30.0, 9.793_248_703_608),
        (40.0, 9.801_698_296_386_3),
        (51.4778, 9.812_015_407_851_4),
        (60.0, 9.819_178_385_019_9),
        (75.0, 9.828_698_058_477_2),
    ] {
        let found = at(latitude, 0.0).unwrap().0;
        assert!((found - expected).abs() < ROUNDING_OF_CONSTANTS, "{latitude}°: {found:.13} {expected}");
    }
}

#[test]
fn gravity_falls_with_height_by_the_free_air_gradient() {
    // 3.086e-6 s⁻², the conventional free-air gradient (0.3086 mGal per meter).
    let falls_by = at(45.0, 0.0).unwrap().0 - at(45.0, 1000.0).unwrap().0;
    assert!((falls_by - 3.086e-3).abs() < 1e-12, "{falls_by}");
    // Against normal gravity at height, recomputed from the defining constants. A gradient that is the
    // same everywhere leaves out how it depends on latitude and height: up to 4e-6 m/s² at 1000 m,
    // hundreds of times less than what local rocks do.
    for (latitude, height, expected) in [
        (45.0, 100.0, 9.805_890_654_81),
        (45.0, 1000.0, 9.803_114_376_25),
        (0.0, 1000.0, 9.777_239_801_7),
        (60.0, 500.0, 9.817_637_330_2),
    ] {
        let found = at(latitude, height).unwrap().0;
        assert!((found - expected).abs() < 4e-9 * height, "{latitude}°, {height} m: {found} {expected}");
    }
}
