//! What is whole in a damaged lab file comes back bit for bit, and what is not is named.

use super::*;
use crate::lab::{Configuration, RunEntry};
use crate::lab_file::{open, open_alone, save};
use proptest::prelude::*;
use std::path::Path;

/// Whole labs: each version there was, a recorded lab, and one with all that can be entered.
fn samples() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let files = [
        "tests/labs/versions/v1.json",
        "tests/labs/versions/v2.json",
        "tests/labs/versions/v3.json",
        "web/library/clay-cylinders.json",
    ];
    let read = |file: &str| (file.to_owned(), std::fs::read_to_string(root.join(file)).unwrap());
    let mut samples: Vec<_> = files.into_iter().map(read).collect();
    for (file, text) in samples.clone() {
        samples.push((format!("{file}, saved"), save(&open_alone(&text).unwrap())));
    }
    samples
}

/// A small lab as it is saved.
fn small() -> String {
    let lab = r#"{"format":"whorl-lab","version":3,"title":"Größe “π”","notes":"a\nb","provenance":"simulated",
        "apparatus":{"drum_radius_m":{"value":0.025,"u":2e-5},"spokes":10,"hanging_mass_u_kg":1e-4},
        "prelab":{"derivation":"turntable","steps":[{"step":"tension","entered":"m g","attempts":2},{"step":"line"}]},
        "plan":{"pieces_kg":[0.05,0.1],"runs":6},
        "objects":[{"id":1,"name":"slate disc","parts":[{"shape":"disc","count":2,"mass_kg":{"value":1.5,"u":1e-3},"dimensions_m":[{"value":0.1,"u":1e-4}]}]},
            {"id":4,"name":"oak bar","parts":[]}],
        "runs":[{"id":1,"name":"empty","object":null,"hanging_mass_kg":0.1,"motion":"falling","readings":{"kind":"velocity","time_s":[0,0.1,0.25],"velocity_m_per_s":[0.1,0.2,0.35]}},
            {"id":3,"name":"disc","object":1,"hanging_mass_kg":0.12,"motion":"rising","stretch_s":[0,1],"source":{"file":"d.csv"},"readings":{"kind":"gate-times","time_s":[0.1,0.2,0.4]}},
            {"id":4,"name":"bar","object":4,"hanging_mass_kg":0.15,"motion":"falling","readings":{"kind":"stopwatch","times_s":[1.5,1.6]}}],
        "balancing":[{"object":null,"mass_kg":{"value":0.002,"u":1e-4}}]}"#;
    save(&open_alone(lab).unwrap())
}

/// Runs by name and numbers; the ids of objects are the lab's own.
fn same_run(a: &RunEntry, b: &RunEntry) -> bool {
    RunEntry { id: b.id, ..a.clone() } == *b
}

/// That a lab holds these runs of a whole one, that it is saved and opens, and that what is gone was named.
#[track_caller]
fn holds(bytes: &[u8], whole: &Lab, runs: usize, what: &str) {
    let Some(salvaged) = salvage(bytes) else {
        assert_eq!(runs, 0, "{what}: nothing was saved");
        return;
    };
    let Salvaged { lab, lost } = salvaged;
    assert!(lab.runs().len() >= runs, "{what}: {} of {runs} runs; {lost:?}", lab.runs().len());
    for (run, known) in lab.runs().iter().zip(whole.runs()).take(runs) {
        assert!(same_run(run, known), "{what}: {run:?} is not {known:?}");
    }
    assert_eq!(open_alone(&save(&lab)).as_ref(), Ok(&lab), "{what}");
    assert!(lab == *whole || !lost.is_empty(), "{what}: something is gone and nothing was said");
}

/// Where the runs of a text end: so many are whole in its beginning.
fn ends_of_runs(text: &str) -> Vec<usize> {
    let value: Value = serde_json::from_str(text).unwrap();
    let count = value["runs"].as_array().unwrap().len();
    (0..count)
        .map(|index| {
            let at = offset_of(text, &format!("runs[{index}]"));
            at + whorl_document::parse_first(&text[at..]).unwrap().1
        })
        .collect()
}

#[test]
fn a_whole_file_loses_nothing() {
    for (name, text) in samples().into_iter().chain([("small".to_owned(), small())]) {
        let salvaged = salvage(text.as_bytes()).unwrap();
        assert_eq!(salvaged.lost, [""; 0], "{name}");
        assert_eq!(salvaged.lab, open_alone(&text).unwrap(), "{name}");
    }
}

#[test]
fn a_file_cut_anywhere_gives_every_run_that_is_whole_in_it() {
    for (name, text) in samples() {
        let (whole, ends) = (open_alone(&text).unwrap(), ends_of_runs(&text));
        for at in (0..text.len()).step_by(97) {
            let runs = ends.iter().filter(|&&end| end <= at).count();
            holds(&text.as_bytes()[..at], &whole, runs, &format!("{name} cut at {at}"));
        }
    }
    let text = small();
    let (whole, ends) = (open_alone(&text).unwrap(), ends_of_runs(&text));
    assert_eq!(ends.len(), 3);
    for at in 0..text.len() {
        let runs = ends.iter().filter(|&&end| end <= at).count();
        holds(&text.as_bytes()[..at], &whole, runs, &format!("small cut at {at}"));
    }
}

#[test]
fn a_cut_file_says_where_it_ends() {
    let text = small();
    let at = text.find("\"bar\"").unwrap();
    let Salvaged { lab, lost } = salvage(&text.as_bytes()[..at + 2]).unwrap();
    assert_eq!(lab.runs().len(), 2);
    let column = text[..at + 2].chars().count() + 1;
    let [only] = &lost[..] else { panic!("{lost:?}") };
    assert!(only.starts_with(&format!("line 1, column {}: at runs[2]: EOF", column - 1)), "{only}");
}

/// A small lab with something else in it.
#[track_caller]
fn changed(from: &str, to: &str) -> Salvaged {
    let text = small();
    assert!(text.contains(from), "{from}");
    let text = text.replacen(from, to, 1);
    assert!(open_alone(&text).is_err(), "{to} opens anyway");
    salvage(text.as_bytes()).unwrap()
}

#[track_caller]
fn names(salvaged: &Salvaged, place: &str) {
    let told = salvaged.lost.iter().any(|lost| lost.contains(&format!("at {place}: ")));
    assert!(told, "{place} is not in {:?}", salvaged.lost);
}

#[test]
fn one_impossible_value_is_left_out_alone() {
    let whole = open_alone(&small()).unwrap();
    let found = changed(r#""value":0.025,"u":2e-5"#, r#""value":0.025,"u":-1"#);
    names(&found, "apparatus.drum_radius_m");
    assert_eq!((found.lab.apparatus.drum_radius, found.lab.apparatus.spokes), (None, whole.apparatus.spokes));
    assert_eq!(found.lab.runs(), whole.runs());
    let found = changed(r#""hanging_mass_kg":0.12"#, r#""hanging_mass_kg":"heavy""#);
    names(&found, "runs[1].hanging_mass_kg");
    assert_eq!(found.lab.runs()[1].hanging_mass, None);
    assert_eq!(found.lab.runs()[1].record, whole.runs()[1].record);
    let found = changed(r#""title":"Größe “π”""#, r#""title":7"#);
    names(&found, "title");
    assert_eq!(found.lab.title, "");
    let found = changed(r#""pieces_kg":[0.05,"#, r#""pieces_kg":["x","#);
    names(&found, "plan.pieces_kg[0]");
    assert_eq!((found.lab.plan.pieces.len(), found.lab.plan.runs), (0, whole.plan.runs));
    let found = changed(r#""attempts":2"#, r#""attempts":-2"#);
    names(&found, "prelab.steps[0].attempts");
    assert_eq!(found.lab.prelab.steps.len(), 2);
    assert_eq!(found.lab.prelab.derivation, whole.prelab.derivation);
}

#[test]
fn what_would_change_the_meaning_goes_with_what_it_means() {
    // A run whose motion is not known would count as falling.
    for (from, to, place) in [
        (r#""motion":"rising""#, r#""motion":"risink""#, "runs[1].motion"),
        (r#""motion":"rising""#, r#""motoin":"rising""#, "runs[1].motoin"),
        (r#""object":1"#, r#""object":"1""#, "runs[1].object"),
        (r#""time_s":[0.1,0.2,0.4]"#, r#""time_s":[0.1,0.2,0.2]"#, "runs[1].readings"),
        (r#""time_s":[0.1,0.2,0.4]"#, r#""time_s":[0.1,0.2,null]"#, "runs[1].readings.time_s[2]"),
        (r#""time_s":[0.1,0.2,0.4]"#, r#""time_s":[0.1,0.2.4]"#, "runs[1]"),
        (r#""kind":"gate-times""#, r#""kind":"gate times""#, "runs[1].readings.kind"),
        (r#""kind":"gate-times""#, r#""file":"gate times.csv""#, "runs[1].readings"),
    ] {
        let text = small().replacen(from, to, 1);
        let found = salvage(text.as_bytes()).unwrap();
        names(&found, place);
        assert_eq!(
            found.lab.runs().iter().map(|run| &*run.name).collect::<Vec<_>>(),
            ["empty", "bar"],
            "{to}"
        );
    }
    // A part less would be another object.
    for (from, to, place) in [
        (r#""count":2"#, r#""count":0"#, "objects[0].parts[0].count"),
        (r#""shape":"disc""#, r#""shape":"disk""#, "objects[0].parts[0].shape"),
    ] {
        let found = changed(from, to);
        names(&found, place);
        assert_eq!(found.lab.objects()[0].name, "slate disc");
        assert_eq!(found.lab.objects()[0].parts, [], "{to}");
        assert_eq!(found.lab.runs().len(), 3);
    }
}

#[test]
fn an_object_that_is_broken_or_twice_leaves_its_runs() {
    let found = changed(r#"{"id":1,"name":"slate disc""#, r#"{"id":1,"name:"slate disc""#);
    names(&found, "objects[0]");
    assert_eq!(found.lab.runs().len(), 3);
    let Configuration::Loaded(id) = found.lab.runs()[1].configuration else {
        panic!("the table was not empty")
    };
    assert_eq!(found.lab.object(id).unwrap().name, "object 1");
    let found = changed(r#"{"id":2,"name":"oak bar""#, r#"{"id":1,"name":"oak bar""#);
    names(&found, "objects[1].id");
    assert_eq!(found.lab.configuration_name(found.lab.runs()[1].configuration), "slate disc");
    assert_eq!(found.lab.configuration_name(found.lab.runs()[2].configuration), "object 2");
}

#[test]
fn places_are_those_of_the_file() {
    let text = small().replace(",\"", ",\n\"").replacen(r#""motion":"rising""#, r#""motion":"up""#, 1);
    let lost = salvage(text.as_bytes()).unwrap().lost;
    let line = text.lines().position(|line| line.contains("\"up\"")).unwrap() + 1;
    let motion = format!(
        "line {line}, column 10: at runs[1].motion: say “falling”, “rising” or “coasting”. This was left out"
    );
    assert_eq!(lost, [motion]);
    let mut bytes = small().into_bytes();
    let at = small().find("slate").unwrap();
    bytes[at] = 0xff;
    let Salvaged { lab, lost } = salvage(&bytes).unwrap();
    let column = small()[..at].chars().count() + 1;
    assert_eq!(
        lost,
        [format!(
            "line 1, column {column}: something here is not UTF-8 text; “\u{fffd}” stands in its place"
        )]
    );
    assert_eq!(lab.objects()[0].name, "\u{fffd}late disc");
}

#[test]
fn a_file_of_an_older_version_is_brought_to_this_one() {
    let text = r#"{"format":"whorl-lab","version":1,"apparatus":{"spokes":"ten"},"runs":[
        {"name":"a","source_file":5,"readings":{"kind":"velocity","time_s":[0,1],"velocity_m_per_s":[0,1]}},
        {"name":"b","source_file":"b.csv","readings":{"kind":"velocity","time_s":[0,1],"velocity_m_per_s":[0,1]}}"#;
    let found = salvage(text.as_bytes()).unwrap();
    names(&found, "apparatus.spokes");
    assert!(
        found.lost.contains(
            &"line 2, column 35: at runs[0].source_file: expected text in quotes. This was left out"
                .to_owned()
        ),
        "{:?}",
        found.lost
    );
    let sources = found.lab.runs().iter().map(|run| run.source.as_ref().map(|source| &*source.file));
    assert_eq!(sources.collect::<Vec<_>>(), [None, Some("b.csv")]);
}

#[test]
fn what_a_newer_program_alone_knows_is_named_as_a_whole() {
    let text = small().replacen("\"version\":3", "\"version\":12,\"weather\":\"rain\"", 1);
    let found = salvage(&text.as_bytes()[..text.len() - 2]).unwrap();
    assert_eq!(found.lab.runs().len(), 3);
    assert!(
        found.lost.iter().any(|lost| lost.contains("(version 12; this one knows 3)")),
        "{:?}",
        found.lost
    );
}

#[test]
fn other_documents_are_no_labs() {
    for text in [
        "",
        "{",
        "[1]",
        "{}",
        "null",
        r#"{"format":"whorl-bench","version":1,"title":"x"}"#,
        r#"{"format":"whorl-lab","version":3}"#,
    ] {
        assert_eq!(salvage(text.as_bytes()), None, "{text}");
    }
}

#[test]
fn names_that_are_known_are_those_that_are_saved() {
    let mut lab = open_alone(&small()).unwrap();
    lab.bench = Some("{}".to_owned());
    for (_, text) in samples().into_iter().chain([(String::new(), save(&lab))]) {
        let saved: Value =
            serde_json::from_str(&save(&open(&text, &mut |_| Err(String::new())).unwrap())).unwrap();
        assert_eq!(known::unknown(&saved, ""), [""; 0]);
    }
}

/// Many nested and broken beginnings: the work stays in proportion.
#[test]
fn hostile_texts_are_done_with_soon() {
    for piece in [
        "{",
        "[",
        "{\"a\":",
        "{\"runs\":[",
        "\"",
        "{\"readings\":",
        "x{\"readings\":0}",
        ",",
        "{\"readings\":1},x",
    ] {
        for front in ["", r#"{"format":"whorl-lab","version":3,"runs":["#] {
            let _ = salvage(format!("{front}{}", piece.repeat(5_000)).as_bytes());
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10_000))]

    #[test]
    fn a_byte_changed_anywhere_never_ends_in_a_panic(at: prop::sample::Index, with: u8) {
        thread_local! {
            static SMALL: (String, Lab) = (small(), open_alone(&small()).unwrap());
        }
        SMALL.with(|(text, whole)| with_a_byte_changed(text, whole, at, with))?;
    }
}

proptest! {
    #[test]
    fn nor_does_one_in_a_large_lab(which in 0..8_usize, at: prop::sample::Index, with: u8) {
        let (_, text) = &samples()[which];
        with_a_byte_changed(text, &open_alone(text).unwrap(), at, with)?;
    }
}

fn with_a_byte_changed(
    text: &str,
    whole: &Lab,
    at: prop::sample::Index,
    with: u8,
) -> Result<(), TestCaseError> {
    let mut bytes = text.as_bytes().to_vec();
    bytes[at.index(text.len())] = with;
    if let Some(Salvaged { lab, lost }) = salvage(&bytes) {
        prop_assert_eq!(&open_alone(&save(&lab)), &Ok(lab.clone()));
        prop_assert!(
            lab.runs().len() >= whole.runs().len() || !lost.is_empty(),
            "a run is gone and nothing was said"
        );
    }
    Ok(())
}
