//! Unit cells.

use core::f64::consts::{PI, TAU};

use crate::readings::headings::{Meaning, UnitFound, is_unit_cell, unit};

#[test]
fn units_in_their_spellings() {
    for (spellings, symbol, meaning, factor) in [
        (
            "s|sec|secs|second|Seconds|Sekunde|Sekunden|seg|segundos|secondes|secondi|(s)|[s]|in s|sec.|S",
            "s",
            Meaning::Time,
            1.0,
        ),
        ("ms|msec|millis|milliseconds|Millisekunden|milisegundos|[MS]", "ms", Meaning::Interval, 1e-3),
        ("µs|μs|us|usec|micros|microseconds|Mikrosekunden", "µs", Meaning::GateTime, 1e-6),
        ("min|minutes|Minuten|minutos|minuti", "min", Meaning::Time, 60.0),
        ("m|meter|meters|metre|metres|metros|mètres|metri|(m)", "m", Meaning::Position, 1.0),
        ("cm|centimeters|Zentimeter|centímetros|centimètres|centimetri", "cm", Meaning::Position, 1e-2),
        ("mm|millimeter|millimètres|milímetros", "mm", Meaning::Position, 1e-3),
        (
            "m/s|m s-1|m s^-1|m·s⁻¹|m*s^-1|m.s-1|ms⁻¹|ms^-1|mps|m/sec|m / s|meters per second|(m/s)|m∕s|m s−1|m/(s)",
            "m/s",
            Meaning::Velocity,
            1.0,
        ),
        ("cm/s|cm s-1|cm·s⁻¹|cms⁻¹", "cm/s", Meaning::Velocity, 1e-2),
        ("mm/s|mm s^{-1}", "mm/s", Meaning::Velocity, 1e-3),
        ("m/s²|m/s2|m/s^2|m s-2|m·s⁻²|m/s/s|m/s**2|ms⁻²|m/(s·s)|m/(s^2)", "m/s²", Meaning::Acceleration, 1.0),
        ("cm/s²|cm s^-2", "cm/s²", Meaning::Acceleration, 1e-2),
        ("rad|radians|Radiant", "rad", Meaning::Angle, 1.0),
        ("°|º|deg|degrees|Grad|grados|degrés|gradi", "°", Meaning::Angle, PI / 180.0),
        ("turn|turns|rev|revolutions|Umdrehungen|U|vueltas|tours|giri", "turns", Meaning::Angle, TAU),
        ("rad/s|rad s-1|rad·s⁻¹|rads⁻¹|radians per second", "rad/s", Meaning::AngularVelocity, 1.0),
        (
            "°/s|deg/s|°s⁻¹|dps|degrees per second|Grad pro Sekunde",
            "°/s",
            Meaning::AngularVelocity,
            PI / 180.0,
        ),
        (
            "rpm|1/min|min⁻¹|min-1|U/min|tr/min|giri/min|rev/min|RPM|revolutions per minute|giri al minuto",
            "rpm",
            Meaning::AngularVelocity,
            TAU / 60.0,
        ),
        ("rev/s|turns/s|U/s|rps|Hz", "turns/s", Meaning::AngularVelocity, TAU),
        ("rad/s²|rad s-2", "rad/s²", Meaning::AngularAcceleration, 1.0),
        ("g|gram|grams|Gramm|gramos|grammes|grammi", "g", Meaning::Mass, 1e-3),
        ("kg|kilograms|Kilogramm", "kg", Meaning::Mass, 1.0),
    ] {
        for spelling in spellings.split('|') {
            let found = unit(spelling);
            let UnitFound::Known { fits, symbol: written } = found else { panic!("{spelling}: {found:?}") };
            assert_eq!(written, symbol, "{spelling}");
            assert!(fits.contains(&(meaning, factor)), "{spelling}: {fits:?}");
            assert!(is_unit_cell(spelling), "{spelling}");
        }
    }
}

#[test]
fn what_is_no_unit_of_ours() {
    for text in ["V", "(°C)", "N·m", "km/h", "[inch]", "%", "s²", "h"] {
        assert!(matches!(unit(text), UnitFound::Unknown(_)), "{text}");
        assert!(is_unit_cell(text), "{text}");
    }
    for text in [
        "ring", "150", "150 g", "t (s)", "m s", "s m", "m/g", "s/s", "1.5", "m/s³", "m^3", "s-3", "/", "^",
        "m/", "G",
    ] {
        assert_eq!(is_unit_cell(text), matches!(text, "G" | "m/"), "{text}");
    }
    for text in ["", "-", "1", "(-)", "[1]", " "] {
        assert_eq!(unit(text), UnitFound::None, "{text}");
    }
    assert!(is_unit_cell("(-)"));
    assert!(!is_unit_cell("-"));
    assert!(!is_unit_cell(""));
    assert_eq!(unit("(furlong/h)"), UnitFound::Unknown("furlong/h".to_owned()));
}
