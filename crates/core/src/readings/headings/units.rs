//! Units: their spellings, what they are units of, and what a name and a unit say together.

use core::f64::consts::{PI, TAU};

use super::names::Named;
use super::words::{fold, one_of};
use super::{Meaning, UnitFound};

type Fits = &'static [(Meaning, f64)];

/// A unit of one of our quantities.
#[derive(Debug, PartialEq)]
pub(super) struct Unit {
    /// How [`key`] writes it.
    key: &'static str,
    symbol: &'static str,
    fits: Fits,
}

impl Unit {
    /// Whether it counts anything per second.
    fn counts(&self) -> bool {
        self.key.starts_with("1/s") || self.key == "Hz"
    }

    /// Whether it is written with one letter only.
    pub(super) fn is_letter(&self) -> bool {
        self.symbol.chars().count() == 1
    }
}

const fn known(key: &'static str, symbol: &'static str, fits: Fits) -> Unit {
    Unit { key, symbol, fits }
}

/// One degree, one turn a minute in radians (per second).
const DEGREE: f64 = PI / 180.0;
const PER_MINUTE: f64 = TAU / 60.0;

/// Minute, degree, gram: Le Système international d'unités, 9th ed., table 8.
static UNITS: [Unit; 29] = [
    known("s", "s", &[(Meaning::Time, 1.0), (Meaning::GateTime, 1.0), (Meaning::Interval, 1.0)]),
    known("ms", "ms", &[(Meaning::Time, 1e-3), (Meaning::GateTime, 1e-3), (Meaning::Interval, 1e-3)]),
    known("µs", "µs", &[(Meaning::Time, 1e-6), (Meaning::GateTime, 1e-6), (Meaning::Interval, 1e-6)]),
    known("min", "min", &[(Meaning::Time, 60.0), (Meaning::GateTime, 60.0), (Meaning::Interval, 60.0)]),
    known("m", "m", &[(Meaning::Position, 1.0)]),
    known("cm", "cm", &[(Meaning::Position, 1e-2)]),
    known("mm", "mm", &[(Meaning::Position, 1e-3)]),
    known("m/s", "m/s", &[(Meaning::Velocity, 1.0)]),
    known("cm/s", "cm/s", &[(Meaning::Velocity, 1e-2)]),
    known("mm/s", "mm/s", &[(Meaning::Velocity, 1e-3)]),
    known("m/s²", "m/s²", &[(Meaning::Acceleration, 1.0)]),
    known("cm/s²", "cm/s²", &[(Meaning::Acceleration, 1e-2)]),
    known("mm/s²", "mm/s²", &[(Meaning::Acceleration, 1e-3)]),
    known("rad", "rad", &[(Meaning::Angle, 1.0)]),
    known("°", "°", &[(Meaning::Angle, DEGREE)]),
    known("turns", "turns", &[(Meaning::Angle, TAU)]),
    known("rad/s", "rad/s", &[(Meaning::AngularVelocity, 1.0)]),
    known("°/s", "°/s", &[(Meaning::AngularVelocity, DEGREE)]),
    known("rpm", "rpm", &[(Meaning::AngularVelocity, PER_MINUTE)]),
    known("turns/min", "rpm", &[(Meaning::AngularVelocity, PER_MINUTE)]),
    known("1/min", "rpm", &[(Meaning::AngularVelocity, PER_MINUTE)]),
    known("turns/s", "turns/s", &[(Meaning::AngularVelocity, TAU)]),
    // The radian is 1: ω is in 1/s (SI brochure, 5.4.8). A number of turns is told by its name.
    known("1/s", "1/s", &[(Meaning::AngularVelocity, 1.0)]),
    known("Hz", "turns/s", &[(Meaning::AngularVelocity, TAU)]),
    known("rad/s²", "rad/s²", &[(Meaning::AngularAcceleration, 1.0)]),
    known("°/s²", "°/s²", &[(Meaning::AngularAcceleration, DEGREE)]),
    known("1/s²", "1/s²", &[(Meaning::AngularAcceleration, 1.0)]),
    known("g", "g", &[(Meaning::Mass, 1e-3)]),
    known("kg", "kg", &[(Meaning::Mass, 1.0)]),
];

/// Spellings of what units are made of, folded: those of all languages, and those of languages that
/// write `0,5`.
const SPELLINGS: [(&str, &str, &str); 17] = [
    (
        "s",
        "s sec secs second seconds",
        "sek sekunde sekunden seg segs segundo segundos seconde secondes secondi secondo seconden",
    ),
    ("ms", "ms msec msecs milli millis millisec*", "millisek* milisec* miliseg* milisseg*"),
    ("µs", "μs us usec usecs micros microsec*", "mikros* microseg* microsseg*"),
    ("min", "min mins minute minutes", "minuten minuto minutos minuti minuut"),
    ("m", "m meter meters metre metres", "metern metro metros metri"),
    ("cm", "cm cms centimeter* centimetre*", "zentimeter* centimetro* centimetri"),
    ("mm", "mm mms millimeter* millimetre*", "milimetro* millimetri millimetro"),
    ("rad", "rad rads radian radians", "radiant radiante* radianti radianes radianos radialen"),
    ("°", "° deg degs degree degrees", "grad grados grado gradi degre degres graus grau graden graad"),
    (
        "turns",
        "turn turns rev revs revolution revolutions",
        "u umdr umdrehung umdrehungen vuelta vueltas tour tours tr giro giri volta voltas omwenteling* revoluci* toeren",
    ),
    ("g", "g gr gram grams gramme grammes", "gramm gramo gramos grammo grammi grama gramas"),
    (
        "kg",
        "kg kgs kilogram kilograms kilogramme*",
        "kilogramm kilogramo* kilo kilos chilogramm* quilograma*",
    ),
    ("m/s", "mps", ""),
    ("rpm", "rpm", "upm tpm"),
    ("°/s", "dps", ""),
    ("turns/s", "rps", ""),
    ("Hz", "hz hertz", ""),
];
const PER: &str = "per pro por par al p";
const SQUARED: &str = "squared quadrat cuadrado carre carree quadrato quadrado kwadraat";
const FILLERS: &str = "zum au ao";

/// Units of what is none of ours, as written.
const FOREIGN: &str = "V mV µV kV N mN kN K °C ºC °F C A mA Pa kPa hPa bar mbar W mW J mJ Ω kΩ T mT µT G lx lux dB % \
    N·m Nm N*m mN·m kHz s² s^2 s2 m² m^2 m2 m²/s² m^2/s^2 kg·m² kg·m^2 kg*m^2 kgm² kg*m² mol L ml mS 1/m";
/// Units of our quantities that are not taken, folded.
const UNTAKEN: &str = "h hr hrs hour hours std stunde* stunden hora* heure* ore km km/h kmh kph mph mi inch inches \
    in ft foot feet yd yard* ns lb lbs oz mg gon ft/s in/s zoll pouce* pollic* pulgada* hh:mm:ss hh:mm mm:ss h:m:s";

/// What is written where a unit belongs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Read {
    /// Nothing, or a dash.
    Nothing,
    Ours(&'static Unit),
    /// A unit of what is none of ours.
    Foreign,
    /// A unit of our quantities that is not taken.
    Untaken,
    /// No unit we know.
    Unclear,
}

/// Without the brackets around it, and without `in`.
pub(super) fn bare(text: &str) -> &str {
    let mut text = text.trim();
    for (open, close) in [('(', ')'), ('[', ']'), ('{', '}'), ('<', '>'), ('（', '）')] {
        if let Some(inner) = text.strip_prefix(open).and_then(|rest| rest.strip_suffix(close)) {
            text = inner.trim();
        }
    }
    ["in ", "en ", "em "].iter().find_map(|word| text.strip_prefix(word)).unwrap_or(text).trim()
}

/// Reads a unit, and whether it is spelled in a language that writes `0,5`.
pub(super) fn read(text: &str) -> (Read, bool) {
    let text = bare(text);
    if matches!(text, "" | "-" | "–" | "—" | "1") {
        return (Read::Nothing, false);
    }
    if text.len() > 60 {
        return (Read::Unclear, false);
    }
    let joined = text.replace(' ', "·");
    if FOREIGN.split(' ').any(|unit| unit == joined) {
        return (Read::Foreign, false);
    }
    let folded = fold(text);
    if one_of(UNTAKEN, &folded) {
        return (Read::Untaken, false);
    }
    let mut comma = false;
    let unit = key(&folded, &mut comma).and_then(|key| UNITS.iter().find(|unit| unit.key == key));
    (unit.map_or(Read::Unclear, Read::Ours), comma)
}

/// `meters per second²` → `m/s²`; `None` for what is no product of units we know.
fn key(folded: &str, comma: &mut bool) -> Option<String> {
    let mut factors: Vec<(&'static str, i32)> = Vec::new();
    let mut sign = 1;
    let mut one = false;
    let mut rest = folded;
    while let Some(c) = rest.chars().next() {
        let (token, after) = match c {
            ' ' | '·' | '*' | '×' | '.' | '_' | '(' | ')' => (None, c.len_utf8()),
            '/' if factors.is_empty() && !one => return None,
            '/' => {
                sign = -1;
                (None, 1)
            }
            '1' => {
                one = true;
                (None, 1)
            }
            _ => {
                let end =
                    rest.find(|c: char| c.is_ascii() && !c.is_ascii_alphabetic() || "²³¹⁻⁺·×".contains(c));
                (rest.get(..end.unwrap_or(rest.len())), end.unwrap_or(rest.len()))
            }
        };
        let before = rest;
        rest = rest.get(after..)?;
        match token {
            // A number is only the 1 of `1/s`.
            None if c == '1' && !rest.trim_start().starts_with('/') => return None,
            None => {}
            Some("") => return None,
            Some(word) if one_of(PER, word) => sign = -1,
            Some(word) if one_of(FILLERS, word) && before != folded => {}
            Some(word) if one_of(SQUARED, word) => factors.last_mut()?.1 *= 2,
            Some(word) => {
                let (power, shown, length) = exponent(rest)?;
                rest = rest.get(length..)?;
                // `ms⁻¹` is `m s⁻¹`: nothing of ours is counted per millisecond.
                let joined =
                    word.strip_suffix('s').filter(|_| power < 0 && shown).and_then(|top| base(top, comma));
                if let Some(top) = joined {
                    factors.push((top, sign));
                    add(&mut factors, "s", power * sign);
                } else {
                    add(&mut factors, base(word, comma)?, power * sign);
                }
            }
        }
    }
    let mut tops = factors.iter().filter(|factor| factor.1 > 0);
    let mut bottoms = factors.iter().filter(|factor| factor.1 < 0);
    let mut key = match (tops.next(), tops.next()) {
        (None, _) => "1".to_owned(),
        (Some((top, 1)), None) => (*top).to_owned(),
        _ => return None,
    };
    match (bottoms.next(), bottoms.next()) {
        (None, _) => {}
        (Some((bottom, power @ (-1 | -2))), None) => {
            key.push('/');
            key.push_str(bottom);
            if *power == -2 {
                key.push('²');
            }
        }
        _ => return None,
    }
    Some(key)
}

fn add(factors: &mut Vec<(&'static str, i32)>, base: &'static str, power: i32) {
    match factors.iter_mut().find(|factor| factor.0 == base) {
        Some(factor) => factor.1 += power,
        None => factors.push((base, power)),
    }
}

fn base(word: &str, comma: &mut bool) -> Option<&'static str> {
    let found =
        SPELLINGS.iter().find(|row| !word.is_empty() && (one_of(row.1, word) || one_of(row.2, word)))?;
    *comma |= !one_of(found.1, word);
    Some(found.0)
}

/// The exponent at the start of a text: its value, whether it is raised (`⁻¹`, `^-1`), its length in bytes.
fn exponent(text: &str) -> Option<(i32, bool, usize)> {
    let rest = text.strip_prefix("**").or_else(|| text.strip_prefix('^')).unwrap_or(text);
    let mut raised = rest.len() < text.len();
    let (mut minus, mut power, mut length) = (false, None, text.len() - rest.len());
    for c in rest.chars() {
        match c {
            '{' | '}' | '(' | ')' if raised && (power.is_none() || c != '(') => {}
            '-' | '⁻' if power.is_none() && !minus => minus = true,
            '1' | '¹' if power.is_none() => power = Some(1),
            '2' | '²' if power.is_none() => power = Some(2),
            '0'..='9' | '³' => return None,
            _ => break,
        }
        raised |= matches!(c, '⁻' | '¹' | '²');
        length += c.len_utf8();
    }
    match power {
        None if minus || length > 0 => None,
        None => Some((1, false, 0)),
        Some(power) => Some((if minus { -power } else { power }, raised, length)),
    }
}

/// What a name and the unit written with it (`raw`) say together.
pub(super) fn join(named: Named, read: Read, raw: &str) -> (Option<Meaning>, UnitFound) {
    let name = named.meaning;
    let unknown = || UnitFound::Unknown(raw.to_owned());
    let mut unit = match read {
        Read::Ours(unit) => unit,
        Read::Nothing => return (name, UnitFound::None),
        Read::Foreign if !matches!(name, Some(Meaning::Uncertainty | Meaning::State)) => {
            return (Some(Meaning::Other), unknown());
        }
        Read::Foreign | Read::Untaken | Read::Unclear => return (name, unknown()),
    };
    if unit.key == "1/s" && named.turns {
        unit = UNITS.iter().find(|each| each.key == "turns/s").unwrap_or(unit);
    }
    let told = UnitFound::Known { fits: unit.fits, symbol: unit.symbol };
    let Some(&(said, _)) = unit.fits.first() else { return (name, unknown()) };
    let Some(name) = name else {
        // Many things are counted per second.
        return if unit.counts() { (None, unknown()) } else { (None, told) };
    };
    if fits(unit.fits, name) {
        return (Some(name), told);
    }
    let turning =
        |meaning| matches!(meaning, Meaning::Angle | Meaning::AngularVelocity | Meaning::AngularAcceleration);
    let meaning = match (name, said) {
        (Meaning::Index, _) if turning(said) => said,
        // `rayon`, `raggio`, `radio`: spoke and radius.
        (Meaning::GateTime | Meaning::Interval, Meaning::Position) => Meaning::Other,
        (Meaning::GateTime | Meaning::Interval, _) if said != Meaning::Mass => said,
        (Meaning::State, Meaning::Time) => Meaning::GateTime,
        (Meaning::Position, Meaning::Time) if named.letter_s => said,
        (Meaning::Velocity, Meaning::AngularVelocity)
        | (Meaning::Acceleration, Meaning::AngularAcceleration)
        | (Meaning::Position, Meaning::Angle)
        | (Meaning::Carries, Meaning::Mass)
            if !unit.counts() =>
        {
            said
        }
        _ if turning(name) && turning(said) => said,
        _ if unit.counts() => return (Some(name), unknown()),
        _ => name,
    };
    (Some(meaning), told)
}

pub(super) fn fits(fits: Fits, meaning: Meaning) -> bool {
    fits.iter().any(|each| each.0 == meaning)
}

/// What a cell of a row of units says: `s`, `(m/s)`, `[cm]`, `m s-1`.
pub(in crate::readings) fn unit(text: &str) -> UnitFound {
    match read(text).0 {
        Read::Nothing => UnitFound::None,
        Read::Ours(unit) => UnitFound::Known { fits: unit.fits, symbol: unit.symbol },
        Read::Foreign | Read::Untaken | Read::Unclear => UnitFound::Unknown(bare(text).to_owned()),
    }
}

/// Whether a cell holds nothing but a unit, ours or not; also a dash in brackets.
pub(super) fn is_unit_cell(text: &str) -> bool {
    match read(text).0 {
        Read::Nothing => bare(text) != text.trim(),
        Read::Unclear => false,
        Read::Ours(_) | Read::Foreign | Read::Untaken => true,
    }
}
