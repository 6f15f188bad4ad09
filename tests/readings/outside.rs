//! Our splitter and decoder against libraries that others wrote: `csv` for the fields of a row (RFC 4180),
//! `encoding_rs` for characters (WHATWG Encoding Standard).

use super::corpus::{cases, read_as};
use super::truth::words;
use csv::{QuoteStyle, ReaderBuilder, Terminator, WriterBuilder};
use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};
use proptest::prelude::*;

fn outside_encoding(words: &str) -> &'static Encoding {
    match words {
        "UTF-16LE" => UTF_16LE,
        "UTF-16BE" => UTF_16BE,
        "Windows-1252" => WINDOWS_1252,
        _ => UTF_8,
    }
}

/// The text of a good file by `encoding_rs`, with its encoding from the truth; the byte-order mark is cut.
fn outside_text(bytes: &[u8], truth: &serde_json::Value) -> String {
    let (text, malformed) =
        outside_encoding(truth["encoding"].as_str().unwrap()).decode_with_bom_removal(bytes);
    assert!(!malformed);
    text.into_owned()
}

/// Fields without what is around them: our preview shows them as they are read.
fn bare(field: &str) -> String {
    field.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_fields_of_the_preview_are_those_of_another_csv_reader() {
    let (mut rows, mut wrong) = (0, Vec::new());
    for case in cases("good") {
        let delimiter = match case.truth["delimiter"].as_str() {
            Some("commas") => b',',
            Some("semicolons") => b';',
            Some("tabs") => b'\t',
            _ => continue,
        };
        let text = outside_text(&case.bytes, &case.truth);
        let Ok(understood) = read_as(&case.bytes, "") else {
            wrong.push(format!("{}: refused", case.file));
            continue;
        };
        // Its line numbers count line feeds, so a file without any is numbered anew.
        let text = if text.contains('\n') { text } else { text.replace('\r', "\n") };
        let mut reader = ReaderBuilder::new()
            .delimiter(delimiter)
            .has_headers(false)
            .flexible(true)
            .from_reader(text.as_bytes());
        let records: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().unwrap();
        for row in understood.layout.preview.iter().filter(|row| row.data) {
            let at_line = |record: &&csv::StringRecord| {
                record.position().is_some_and(|at| at.line() == row.line as u64)
            };
            let outside =
                records.iter().find(at_line).map(|record| record.iter().map(bare).collect::<Vec<_>>());
            let ours = row.fields.iter().map(|field| bare(field)).collect::<Vec<_>>();
            rows += 1;
            if outside.as_ref() != Some(&ours) {
                wrong.push(format!("{}, line {}: {ours:?}, not {outside:?}", case.file, row.line));
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {rows} rows:\n{}", wrong.len(), wrong.join("\n"));
    assert!(rows > 500, "{rows} rows");
}

#[test]
fn headings_have_the_characters_that_another_decoder_finds() {
    let (mut files, mut wrong) = (0, Vec::new());
    for case in cases("good") {
        let text = bare(&outside_text(&case.bytes, &case.truth));
        if text.is_ascii() {
            continue;
        }
        files += 1;
        match read_as(&case.bytes, "") {
            Err(errors) => wrong.push(format!("{}: {}", case.file, words(&errors))),
            Ok(understood) => {
                let headings = understood.layout.columns.iter().map(|column| bare(&column.heading));
                let missing = headings.filter(|heading| heading.split(' ').any(|word| !text.contains(word)));
                wrong.extend(missing.map(|heading| format!("{}: {heading}", case.file)));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(files > 30, "{files} files");
}

#[test]
fn every_byte_of_windows_1252_is_the_character_of_the_encoding_standard() {
    // Five bytes have no character in the code page; the standard makes control characters of them.
    let unassigned = [0x81, 0x8d, 0x8f, 0x90, 0x9d];
    let mut wrong = Vec::new();
    for byte in (0x80_u8..=0xff).filter(|byte| !unassigned.contains(byte)) {
        let heading = [b"note a".as_slice(), &[byte], b"z"].concat();
        let file = [b"t (s);v (m/s);", heading.as_slice(), b"\n0.0;0.1;1\n0.1;0.2;1\n0.2;0.3;1\n"].concat();
        let (outside, _, _) = WINDOWS_1252.decode(&heading);
        let ours = match read_as(&file, "") {
            Ok(understood) => understood.layout.columns.get(2).map(|column| column.heading.clone()),
            Err(errors) => Some(words(&errors)),
        };
        if ours.as_deref().map(bare) != Some(bare(&outside)) {
            wrong.push(format!("{byte:#x}: {ours:?}, not {outside:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(300) })]

    /// Notes with delimiters, quotes and line ends, quoted by `csv`, do not move the numbers beside them.
    #[test]
    fn a_table_written_by_another_library_is_read(
        notes in prop::collection::vec("[a-z ,;\t|\"'\n]{0,20}", 4..30),
        delimiter in prop::sample::select(vec![b',', b';', b'\t']),
        all in any::<bool>(),
        feed in any::<bool>(),
    ) {
        let mut writer = WriterBuilder::new()
            .delimiter(delimiter)
            .quote_style(if all { QuoteStyle::Always } else { QuoteStyle::Necessary })
            .terminator(if feed { Terminator::CRLF } else { Terminator::Any(b'\n') })
            .from_writer(Vec::new());
        writer.write_record(["t (s)", "note", "v (m/s)"]).unwrap();
        for (k, note) in notes.iter().enumerate() {
            writer.write_record([&format!("{}.{}", k / 10, k % 10), note, &format!("0.{k:02}1")]).unwrap();
        }
        let bytes = writer.into_inner().unwrap();
        let text = String::from_utf8(bytes.clone()).unwrap();
        let understood = match read_as(&bytes, "") {
            Ok(understood) => understood,
            Err(errors) => return Err(TestCaseError::fail(format!("{}\n{text}", words(&errors)))),
        };
        prop_assert_eq!(understood.runs.len(), 1, "{}", &text);
        let pairs = understood.runs[0].readings.pairs();
        prop_assert_eq!(pairs.len(), notes.len(), "{}", &text);
        for (k, (time, value)) in pairs.into_iter().enumerate() {
            prop_assert!((time - k as f64 / 10.0).abs() < 1e-12, "{}", &text);
            prop_assert!((value - (k as f64 * 10.0 + 1.0) / 1000.0).abs() < 1e-12, "{}", &text);
        }
    }
}
