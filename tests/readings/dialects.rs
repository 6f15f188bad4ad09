//! Any table, written in any dialect, is read back as the same table.

use super::corpus::read_as;
use super::truth::{loose_ends, questions, words};
use encoding_rs::WINDOWS_1252;
use proptest::prelude::*;
use whorl_core::readings::ReadingKind;

/// Headings in a language: time, then each kind of [`KINDS`]; units stand in [`UNITS`].
const LANGUAGES: [[&str; 7]; 5] = [
    ["time", "gate time", "gate times of both edges", "velocity", "position", "angle", "angular velocity"],
    ["Zeit", "Zeit", "Zeit beider Flanken", "Geschwindigkeit", "Weg", "Drehwinkel", "Winkelgeschwindigkeit"],
    ["tiempo", "tiempo", "tiempo de ambos flancos", "velocidad", "posición", "ángulo", "velocidad angular"],
    ["temps", "temps", "temps des deux fronts", "vitesse", "position", "angle", "vitesse angulaire"],
    ["tempo", "tempo", "tempo dei due fronti", "velocità", "posizione", "angolo", "velocità angolare"],
];
const KINDS: [ReadingKind; 6] = [
    ReadingKind::GateTimes,
    ReadingKind::BothEdges,
    ReadingKind::Velocity,
    ReadingKind::Position,
    ReadingKind::Angle,
    ReadingKind::AngularVelocity,
];
/// Units of each kind's values, with SI units per unit; of gate times those of time.
const UNITS: [&[(&str, f64)]; 6] = [
    &[("s", 1.0)],
    &[("s", 1.0)],
    &[("m/s", 1.0), ("cm/s", 1e-2), ("mm/s", 1e-3)],
    &[("m", 1.0), ("cm", 1e-2), ("mm", 1e-3)],
    &[("rad", 1.0), ("°", core::f64::consts::PI / 180.0)],
    &[("rad/s", 1.0), ("°/s", core::f64::consts::PI / 180.0), ("rpm", core::f64::consts::TAU / 60.0)],
];

/// How text becomes bytes.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Bytes {
    Utf8 { mark: bool },
    Utf16 { big: bool, mark: bool },
    Windows1252,
}

#[derive(Clone, Debug)]
struct Dialect {
    delimiter: &'static str,
    comma: bool,
    bytes: Bytes,
    line_end: &'static str,
    quoted: bool,
    language: usize,
    units: Units,
}

/// Where units stand.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Units {
    InParentheses,
    InBrackets,
    Below,
}

/// A table in whole steps of its last decimal, so that it has the same digits in any dialect.
#[derive(Clone, Debug)]
struct Table {
    kind: usize,
    unit: usize,
    decimals: usize,
    /// Times and values in steps of the last decimal; times increase.
    rows: Vec<(u64, i64)>,
}

fn dialects() -> impl Strategy<Value = Dialect> {
    let bytes = prop_oneof![
        any::<bool>().prop_map(|mark| Bytes::Utf8 { mark }),
        (any::<bool>(), any::<bool>()).prop_map(|(big, mark)| Bytes::Utf16 { big, mark }),
        Just(Bytes::Windows1252),
    ];
    (
        prop::sample::select(vec![",", ";", "\t", "|", " "]),
        any::<bool>(),
        bytes,
        prop::sample::select(vec!["\n", "\r\n", "\r"]),
        any::<bool>(),
        0..LANGUAGES.len(),
        prop::sample::select(vec![Units::InParentheses, Units::InBrackets, Units::Below]),
    )
        .prop_map(|(delimiter, comma, bytes, line_end, quoted, language, units)| Dialect {
            delimiter,
            comma,
            bytes,
            line_end,
            // Numbers with commas between commas must be quoted; between spaces nobody quotes.
            quoted: delimiter != " " && (quoted || (comma && delimiter == ",")),
            language,
            // Between spaces a name with its unit is one word.
            units: if delimiter == " " { Units::InParentheses } else { units },
        })
}

fn tables() -> impl Strategy<Value = Table> {
    (0..KINDS.len(), 0_usize..3, 1_usize..=6, 3_usize..40).prop_flat_map(|(kind, unit, decimals, n)| {
        let step = 10_u64.pow(u32::try_from(decimals).unwrap());
        let gaps = prop::collection::vec(1..=step, n);
        // Below 10 in the column's unit: no thousands, so that what the commas mean is plain.
        let values =
            prop::collection::vec(-10 * i64::try_from(step).unwrap()..10 * i64::try_from(step).unwrap(), n);
        (gaps, values).prop_map(move |(mut gaps, values)| {
            // Gate times come ever faster; those of both edges long and short in turn.
            if KINDS[kind].is_times_alone() {
                gaps[1..].sort_unstable_by(|a, b| b.cmp(a));
                let both = KINDS[kind] == ReadingKind::BothEdges;
                for (k, gap) in gaps.iter_mut().enumerate().skip(1) {
                    *gap = (2 * *gap + 2 * (n - k) as u64) / if both && k % 2 == 1 { 2 } else { 1 };
                }
            }
            // The first time is below 1: its leading zero proves the decimal mark.
            let mut time = 0;
            let times = gaps.into_iter().enumerate().map(|(k, gap)| {
                time += if k == 0 { gap % step } else { gap };
                time
            });
            Table { kind, unit: unit % UNITS[kind].len(), decimals, rows: times.zip(values).collect() }
        })
    })
}

/// The number of `steps` of the last decimal, exactly, in digits alone.
fn digits(steps: i64, decimals: usize, mark: char) -> String {
    let sign = if steps < 0 { "-" } else { "" };
    let all = format!("{:0width$}", steps.unsigned_abs(), width = decimals + 1);
    let (whole, part) = all.split_at(all.len() - decimals);
    format!("{sign}{whole}{mark}{part}")
}

impl Dialect {
    fn text(&self, table: &Table) -> String {
        let names = LANGUAGES[self.language];
        let (unit, _) = UNITS[table.kind][table.unit];
        let alone = KINDS[table.kind].is_times_alone();
        let mut head = vec![(names[0], "s"), (names[table.kind + 1], unit)];
        if alone {
            head.remove(0);
        }
        let headings = |join: &dyn Fn(&str, &str) -> String| {
            head.iter().map(|(name, unit)| join(name, unit)).collect::<Vec<_>>()
        };
        let mut rows = Vec::new();
        match self.units {
            Units::Below => {
                rows.push(headings(&|name, _| name.to_owned()));
                rows.push(headings(&|_, unit| unit.to_owned()));
            }
            Units::InBrackets => rows.push(headings(&|name, unit| format!("{name} [{unit}]"))),
            Units::InParentheses if self.delimiter == " " => {
                rows.push(headings(&|name, unit| format!("{}({unit})", name.replace(' ', "_"))));
            }
            Units::InParentheses => rows.push(headings(&|name, unit| format!("{name} ({unit})"))),
        }
        let mark = if self.comma { ',' } else { '.' };
        rows.extend(table.rows.iter().map(|&(time, value)| {
            let time = digits(i64::try_from(time).unwrap(), table.decimals, mark);
            if alone { vec![time] } else { vec![time, digits(value, table.decimals, mark)] }
        }));
        let quoted = |field: String| if self.quoted { format!("\"{field}\"") } else { field };
        let row = |fields: Vec<String>| {
            fields.into_iter().map(quoted).collect::<Vec<_>>().join(self.delimiter) + self.line_end
        };
        rows.into_iter().map(row).collect()
    }

    /// Windows-1252 by `encoding_rs`; UTF-16 by the standard library.
    fn bytes(&self, text: &str) -> Vec<u8> {
        let marked = |mark: bool| if mark { format!("\u{feff}{text}") } else { text.to_owned() };
        match self.bytes {
            Bytes::Utf8 { mark } => marked(mark).into_bytes(),
            Bytes::Utf16 { big, mark } => marked(mark)
                .encode_utf16()
                .flat_map(|unit| if big { unit.to_be_bytes() } else { unit.to_le_bytes() })
                .collect(),
            Bytes::Windows1252 => {
                let (bytes, _, lost) = WINDOWS_1252.encode(text);
                assert!(!lost, "{text}");
                bytes.into_owned()
            }
        }
    }

    fn encoding(&self, text: &str) -> &'static str {
        match self.bytes {
            Bytes::Utf16 { big: true, .. } => "UTF-16BE",
            Bytes::Utf16 { big: false, .. } => "UTF-16LE",
            // The same bytes as UTF-8 when every character is ASCII.
            Bytes::Windows1252 if !text.is_ascii() => "Windows-1252",
            _ => "UTF-8",
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(600) })]

    #[test]
    fn a_table_in_any_dialect_is_the_same_table(dialect in dialects(), table in tables()) {
        let text = dialect.text(&table);
        let understood = match read_as(&dialect.bytes(&text), "") {
            Ok(understood) => understood,
            Err(errors) => return Err(TestCaseError::fail(format!("{}\n{text}", words(&errors)))),
        };
        let layout = &understood.layout;
        prop_assert_eq!(loose_ends(&understood), Vec::<String>::new());
        prop_assert!(layout.questions.is_empty(), "{}\n{}", questions(&understood), text);
        prop_assert_eq!(layout.encoding.value.words(), dialect.encoding(&text));
        prop_assert_eq!(layout.decimal.value.words(), if dialect.comma { "comma" } else { "point" }, "{}", text);
        prop_assert_eq!(understood.runs.len(), 1, "{}", text);
        let readings = &understood.runs[0].readings;
        let kind = KINDS[table.kind];
        prop_assert_eq!(readings.kind(), kind, "{}", text);
        let pairs = readings.pairs();
        prop_assert_eq!(pairs.len(), table.rows.len(), "{}", text);
        let scale = 10_f64.powi(-i32::try_from(table.decimals).unwrap());
        let unit = UNITS[table.kind][table.unit].1;
        for (k, (&(time, value), &(t, v))) in pairs.iter().zip(&table.rows).enumerate() {
            prop_assert!((time - t as f64 * scale).abs() <= 1e-12 * (1.0 + time), "row {}: {} s\n{}", k + 1, time, text);
            if !kind.is_times_alone() {
                let expected = v as f64 * scale * unit;
                prop_assert!((value - expected).abs() <= 1e-12 * (1.0 + expected.abs()), "row {}: {}\n{}", k + 1, value, text);
            }
        }
    }

    #[test]
    fn any_bytes_are_answered(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        prop_assert_eq!(super::hostile::unfit(&read_as(&bytes, "")), Vec::<String>::new());
    }

    #[test]
    fn any_punctuated_text_is_answered(text in "([0-9]{0,3}[.,;\t|: \"'\n\r#%+−e-]{0,2}|t|v|\\(s\\)|m/s|NaN|µ|\u{feff}|ms|run|g){0,60}") {
        prop_assert_eq!(super::hostile::unfit(&read_as(text.as_bytes(), "")), Vec::<String>::new());
    }
}
