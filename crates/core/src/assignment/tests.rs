//! Assignments come back from links and files as they were; what is damaged is told.

use super::*;
use crate::bench::{Fault, ObjectSettings, PartSettings, Seed, Session, Spread};
use crate::bodies::Shape;
use crate::lab::{Lab, RunEntry};
use crate::lab_file;
use crate::quantity::{Kilograms, Meters};
use crate::simulation::random::Random;
use core::num::NonZeroU32;

const PAGE: &str = "https://physics.example.edu/whorl/";

/// Some text of a length, of the signs people type.
fn text(random: &mut Random, most: usize) -> String {
    const SIGNS: [&str; 12] = ["a", "e", " ", "n", "t", "\n", "ñ", "“", "<b>", "μ", "\\", "\""];
    let count = random.index(most);
    (0..count).map(|_| SIGNS[random.index(SIGNS.len())]).collect::<String>().chars().take(most).collect()
}

/// A number of full length: its shortest digits are many.
fn spread(random: &mut Random, from: f64, to: f64) -> Spread {
    let (one, other) = (random.between(from, to), random.between(from, to));
    if random.chance(0.5) {
        Spread::Fixed(one)
    } else {
        Spread::Between { from: one.min(other), to: one.max(other) }
    }
}

fn settings(random: &mut Random) -> BenchSettings {
    let mut settings = BenchSettings::default();
    for field in &crate::bench::FIELDS {
        if random.chance(0.15) {
            *(field.place)(&mut settings) = spread(random, field.least, field.most);
        }
    }
    if random.chance(0.3) {
        settings.title = text(random, 60);
        settings.about = text(random, 200);
    }
    if random.chance(0.3) {
        let mass_kg = spread(random, 0.1, 1.0);
        let part = PartSettings {
            shape: Shape::Disc,
            count: NonZeroU32::new(2).unwrap(),
            mass_kg,
            dimensions_m: vec![spread(random, 0.01, 0.2)],
            offset_m: random.chance(0.5).then(|| spread(random, 0.0, 0.1)),
        };
        settings.objects.push(ObjectSettings { name: "x".to_owned() + &text(random, 20), parts: vec![part] });
    }
    settings.faults = Fault::ALL.into_iter().filter(|_| random.chance(0.2)).collect();
    settings
}

fn any(random: &mut Random) -> Assignment {
    let mut assignment = Assignment {
        title: "w".to_owned() + &text(random, 60),
        instructions: text(random, 800),
        stations: Station::ALL.into_iter().filter(|_| random.chance(0.7)).chain([Station::Runs]).collect(),
        derivation: random.chance(0.5).then(|| "turntable".to_owned()),
        pieces_kg: (0..random.index(12)).map(|_| random.between(0.01, 0.5)).collect(),
        agreement: match random.index(3) {
            0 => Criterion::Interval,
            1 => Criterion::NormalizedError,
            _ => Criterion::Percent(random.between(0.1, 20.0)),
        },
        ..Assignment::default()
    };
    assignment.readings = match random.index(3) {
        0 => Source::Own {
            objects: (0..random.index(4)).map(|_| "o".to_owned() + &text(random, 20)).collect(),
        },
        1 => Source::Recorded { address: format!("https://example.org/{}.json", random.index(1000)) },
        _ => Source::Bench {
            settings: Box::new(settings(random)),
            code: random.chance(0.3).then(|| Seed::new(random.bits())),
        },
    };
    if !matches!(assignment.readings, Source::Recorded { .. }) {
        for field in ApparatusField::ALL {
            match random.index(3) {
                0 if field == ApparatusField::Spokes => assignment.given.give(field, 10.0, 0.0).unwrap(),
                0 => assignment.given.give(field, random.between(0.001, 1.0), random.uniform()).unwrap(),
                1 => drop(assignment.measure.insert(field)),
                _ => {}
            }
        }
    }
    assignment
}

#[test]
fn ten_thousand_come_back_from_link_and_file_bit_for_bit() {
    let mut random = Random::new(16);
    let (mut within, mut longest) = (0, 0);
    let count = 10_000;
    for number in 0..count {
        let assignment = any(&mut random);
        assert_eq!(assignment.check(), Ok(()));
        let link = format!("{PAGE}{}", fragment(&assignment));
        assert_eq!(read_link(&link).as_ref(), Ok(&assignment));
        assert_eq!(open(&save(&assignment)).as_ref(), Ok(&assignment));
        within += usize::from(link.len() <= LONGEST_LINK);
        if number % 50 == 0 {
            assert_eq!(too_long(PAGE, &assignment).is_none(), link.len() <= LONGEST_LINK);
        }
        longest = longest.max(link.len());
    }
    println!("{within} of {count} links have at most {LONGEST_LINK} characters, the longest {longest}");
}

/// As a class gets it: instructions of 500 characters, drum and gravity given, a bench with two faults.
fn typical() -> Assignment {
    let instructions = "Work in pairs. Read the cautions at the wheel before you wind the string, keep hair and sleeves \
        away from it, and let nobody stand under the mass.\n\n1. Take five runs with the empty table and five with the \
        slate disc; choose masses that fall in two to six seconds.\n2. Look over what the runs tell about themselves. \
        Two things are wrong with your wheel: say which, and how you know.\n3. Compare your result with what the disc's \
        shape predicts, and write two sentences on what limits your uncertainty most.";
    let settings = BenchSettings {
        faults: vec![
            Fault::StringSlips { length_m: 0.02, share: 0.2 },
            Fault::WrongStamp { mass: 3, by_kg: 0.005 },
        ],
        ..BenchSettings::default()
    };
    let mut assignment = Assignment {
        title: "The slate disc on the banding wheel".to_owned(),
        instructions: instructions.chars().take(500).collect(),
        derivation: Some("turntable".to_owned()),
        pieces_kg: vec![0.02, 0.02, 0.05, 0.1, 0.1, 0.2],
        agreement: Criterion::NormalizedError,
        measure: [ApparatusField::StringDiameter, ApparatusField::TravelPerSpoke].into(),
        readings: Source::Bench { settings: Box::new(settings), code: None },
        ..Assignment::default()
    };
    assignment.given.give(ApparatusField::DrumRadius, 0.025, 3e-5).unwrap();
    assignment.given.give(ApparatusField::Gravity, 9.81, 0.003).unwrap();
    assignment
}

#[test]
fn a_typical_link_is_short() {
    let typical = typical();
    let bare = Assignment { title: "Banding wheel".to_owned(), ..Assignment::default() };
    let lengths = [&typical, &bare].map(|assignment| PAGE.len() + fragment(assignment).len());
    println!("links: typical {} characters, with a title alone {}", lengths[0], lengths[1]);
    assert_eq!(typical.instructions.chars().count(), 500);
    assert!(lengths[0] < LONGEST_LINK / 2, "{lengths:?}");
    assert_eq!(too_long(PAGE, &typical), None);
}

#[test]
fn a_link_that_is_too_long_says_by_how_much_and_what_to_shorten() {
    let mut random = Random::new(5);
    let mut signs = || char::from(b'a' + u8::try_from(random.index(26)).unwrap());
    let long = Assignment { instructions: (0..3000).map(|_| signs()).collect(), ..typical() };
    let found = too_long(PAGE, &long).unwrap();
    assert_eq!(found.by, PAGE.len() + fragment(&long).len() - LONGEST_LINK);
    assert_eq!(found.shorten, Shorten::Instructions);
    let mut random = Random::new(6);
    let mut wild = BenchSettings::default();
    for field in &crate::bench::FIELDS {
        *(field.place)(&mut wild) = Spread::Between {
            from: random.between(field.least, f64::midpoint(field.least, field.most)),
            to: random.between(f64::midpoint(field.least, field.most), field.most),
        };
    }
    let long = Assignment {
        readings: Source::Bench { settings: Box::new(wild), code: None },
        pieces_kg: (0..30).map(|_| random.uniform()).collect(),
        ..typical()
    };
    assert_eq!(too_long(PAGE, &long).map(|found| found.shorten), Some(Shorten::Bench));
    let page = format!("https://example.org/{}/", "x".repeat(1990));
    let bare = Assignment { title: "Banding wheel".to_owned(), ..Assignment::default() };
    assert_eq!(too_long(&page, &bare).map(|found| found.shorten), Some(Shorten::Address));
}

#[test]
fn a_damaged_link_is_told_and_never_taken_for_another() {
    let whole = fragment(&typical());
    let mut random = Random::new(9);
    let start = LINK.len() + 2;
    let mut damaged = 0;
    for _ in 0..5_000 {
        let mut signs: Vec<char> = whole.chars().collect();
        match random.index(4) {
            0 => signs.truncate(start + random.index(signs.len() - start)),
            1 => drop(signs.remove(start + random.index(signs.len() - start))),
            2 => {
                let (one, other) = (random.index(signs.len() - start), random.index(signs.len() - start));
                signs.swap(start + one, start + other);
            }
            _ => {
                let at = start + random.index(signs.len() - start);
                signs[at] = char::from(b"ABCDefgh0189-_"[random.index(14)]);
            }
        }
        let link: String = signs.into_iter().collect();
        if link != whole {
            damaged += 1;
            assert!(read_link(&link).is_err(), "{link}");
        }
    }
    assert!(damaged > 4_000, "{damaged}");
}

/// Made by Python's zlib and base64 modules: RFC 1950 and 1951, and RFC 4648, 5, by other hands.
///
/// ```python
/// text = '{"title":"Banding wheel","instructions":"Take ten runs.","agreement":{"percent":5}}'
/// "#work=1." + base64.urlsafe_b64encode(zlib.compress(text.encode(), 9)).decode().rstrip("=")
/// ```
const MADE_ELSEWHERE: &str = concat!(
    "#work=1.eNodyTEKgDAMBdCrlMzi5tLRM3iBUj81WKOkKQ6ld7e4PXiNjC2DPK1Bdpbk3g",
    "PINBFLMa3R-JYyegsnnEGcVinz-JAUuCBGvtEDjT-X3j-7yBzo"
);

#[test]
fn a_link_made_elsewhere_is_read() {
    let expected = Assignment {
        title: "Banding wheel".to_owned(),
        instructions: "Take ten runs.".to_owned(),
        agreement: Criterion::Percent(5.0),
        ..Assignment::default()
    };
    assert_eq!(read_link(MADE_ELSEWHERE), Ok(expected));
}

#[test]
fn hostile_links_are_refused_in_plain_words() {
    let says = |link: &str, part: &str| {
        let problem = read_link(link).unwrap_err().to_string();
        assert!(problem.contains(part), "{link}: {problem}");
    };
    says("", "#work=");
    says("https://example.org/#lab=x", "#work=");
    says("#work=", "newer Whorl");
    says("#work=2.eJw", "newer Whorl");
    says("#work=1.", "damaged");
    says("#work=1.<script>", "“<” (character 1");
    says("#work=1.eJw=", "“=”");
    says("#work=1.AAAA", "damaged");
    says(&format!("#work=1.{}", "A".repeat(200_000)), "longer");
    // A hundred megabytes of blanks in a hundred kilobytes: it ends at the limit.
    let pack = |text: &[u8]| {
        use base64::Engine as _;
        let packed = miniz_oxide::deflate::compress_to_vec_zlib(text, 9);
        format!("#work=1.{}", base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(packed))
    };
    says(&pack(&vec![b' '; 50_000_000]), "damaged");
    says(&pack(b"{\"title\": \"a\""), "damaged");
    says(&pack(&[0xff, 0xfe]), "damaged");
    says(&pack("[".repeat(100_000).as_bytes()), "damaged");
    says(&pack(b"[]"), "instructor");
    says(&pack(b"{}"), "title");
    says(&pack(b"{\"title\": \"a\", \"titel\": 1}"), "no such field");
    says(&pack(b"{\"title\": \"a\", \"stations\": []}"), "at stations");
    says(&pack(b"{\"title\": \"a\", \"bench\": {\"drum\": {\"radius_m\": 9}}}"), "bench.drum.radius_m");
    says(&pack(b"{\"title\": \"a\", \"recorded\": \"javascript:alert(1)\"}"), "at recorded");
    says(&pack(b"{\"title\": \"a\", \"given\": {\"spokes\": 0}}"), "given.spokes");
}

#[test]
fn what_is_wrong_with_a_file_is_told_with_its_place() {
    let text = save(&typical());
    let says = |from: &str, to: &str, part: &str| {
        assert!(text.contains(from), "{from} is not in\n{text}");
        let problem = open(&text.replacen(from, to, 1)).unwrap_err().to_string();
        assert!(problem.contains(part), "{problem}");
    };
    says("\"title\": \"The", "\"titel\": \"The", "line 4, column 12: at titel: there is no such field");
    says("\"version\": 1", "\"version\": 2", "newer Whorl (version 2");
    says("whorl-assignment", "whorl-lab", "this is no assignment");
    says("\"prelab\",", "\"prelap\",", "at stations[0]: there is nothing of this name; known are prelab");
    says("\"value\": 0.025", "\"value\": -0.025", "given.drum_radius_m: what is given must be above 0");
    says("\"u\": 3e-5", "\"u\": -3e-5", "given.drum_radius_m");
    says("\"normalized-error\"", "{\"percent\": 0}", "agreement.percent");
    says("\"normalized-error\"", "\"close\"", "expected “interval”");
    says("0.02, 0.02", "0.02, -1", "at pieces_kg[1]: a mass must be above 0");
    says("\"bench\":", "\"recorded\": \"a.json\", \"bench\":", "exclude each other");
    says("\"measure\": [\"string", "\"measure\": [\"drum_radius_m\", \"string", "choose one");
    says("\"format\"", "\"format\" \"", "line 2, column");
    assert!(open("").unwrap_err().to_string().starts_with("line 1, column 1"));
    let recorded =
        "{\"format\": \"whorl-assignment\", \"version\": 1, \"title\": \"a\", \"recorded\": \"a.json\",
        \"given\": {\"spokes\": 10}}";
    assert!(open(recorded).unwrap_err().to_string().contains("stands fast"));
}

#[test]
fn a_lab_begins_as_it_was_set_and_stays_so_in_its_file() {
    let assignment = typical();
    let mut lab = assignment.begin(Seed::new(7)).unwrap();
    assert!(lab.title.starts_with("The slate disc"));
    assert_eq!(lab.plan.pieces.len(), 6);
    assert_eq!(lab.objects().len(), 4);
    assert_eq!(Session::from_text(lab.bench.as_deref().unwrap()).unwrap().bench().seed(), Seed::new(7));
    assert_eq!(lab.criterion(), Criterion::NormalizedError);
    // Given, not read off the bench.
    assert_eq!(lab.apparatus.drum_radius.map(|radius| radius.value()), Some(Meters(0.025)));
    assert_ne!(lab.apparatus.string_diameter, None);
    assert!(lab.is_given(ApparatusField::DrumRadius) && !lab.is_given(ApparatusField::StringDiameter));
    assert_eq!(open(lab.assignment().unwrap()).as_ref(), Ok(&assignment));

    lab.change_apparatus(|apparatus| apparatus.drum_radius = None);
    let text = lab_file::save(&lab);
    assert_eq!(lab_file::open_own(&text), Err(lab_file::LabFileError::Recorded));
    let mut again = lab_file::open_alone(&text).unwrap();
    assert_eq!(again, lab);
    again.change_apparatus(|apparatus| apparatus.drum_radius = None);
    assert_eq!(again.apparatus.drum_radius.map(|radius| radius.value()), Some(Meters(0.025)));
    // A file cannot change what is given behind the assignment's back.
    let slipped = text.replacen("\"drum_radius_m\":{\"value\":0.025", "\"drum_radius_m\":{\"value\":0.03", 1);
    assert_ne!(slipped, text);
    assert_eq!(lab_file::open_alone(&slipped), Ok(lab));
    let broken = text.replacen("normalized-error", "close", 1);
    assert!(lab_file::open_alone(&broken).unwrap_err().to_string().contains("at assignment"));
}

#[test]
fn a_code_for_everyone_counts_and_objects_of_one_s_own_are_named() {
    let at = |code| Assignment {
        readings: Source::Bench { settings: Box::default(), code },
        ..Assignment::default()
    };
    let of = |assignment: Assignment, seed| assignment.begin(Seed::new(seed)).unwrap().bench;
    assert_eq!(of(at(Some(Seed::new(3))), 7), of(at(Some(Seed::new(3))), 8));
    assert_ne!(of(at(None), 7), of(at(None), 8));
    let own = Source::Own { objects: vec!["oak bar".to_owned()] };
    let lab = Assignment { readings: own, ..Assignment::default() }.begin(Seed::new(1)).unwrap();
    assert_eq!(lab.objects().iter().map(|object| object.name.as_str()).collect::<Vec<_>>(), ["oak bar"]);
}

#[test]
fn on_a_recorded_lab_nothing_recorded_changes() {
    let mut lab = Lab::default();
    lab.apparatus.drum_radius = crate::measured::Measured::new(Meters(0.03), Meters(1e-5)).ok();
    let run = RunEntry {
        id: crate::lab::RunId(1),
        name: "a".to_owned(),
        configuration: crate::lab::Configuration::EmptyTable,
        hanging_mass: Some(Kilograms(0.1)),
        motion: crate::torque::Motion::Falling,
        stretch: None,
        record: crate::lab::Record::Stopwatch(Vec::new()),
        source: None,
    };
    lab.add_run(run);
    let said = |text: &str| text.to_owned();
    let dataset = crate::lab::Dataset {
        title: said("Wheel"),
        recorded_by: said("a studio"),
        licence: said("CC0"),
        ..crate::lab::Dataset::default()
    };
    let recorded = lab_file::recorded(lab, dataset);
    let before = recorded.clone();
    let readings = Source::Recorded { address: "wheel.json".to_owned() };
    let set = Assignment { title: "Recorded".to_owned(), readings, ..Assignment::default() }.onto(recorded);
    assert_eq!(
        (set.apparatus.clone(), set.runs(), set.title.as_str()),
        (before.apparatus.clone(), before.runs(), "Recorded")
    );
    let again = lab_file::open_alone(&lab_file::save(&set));
    assert!(again.is_ok_and(|again| again.is_recorded() && again.assignment() == set.assignment()));
}

/// What the fuzzer found: a count with a power of ten is not read as a whole number.
#[test]
fn many_spokes_come_back_from_link_and_file() {
    let mut assignment = Assignment { title: "w".to_owned(), ..Assignment::default() };
    assignment.given.give(ApparatusField::Spokes, 515_699_453.0, 0.0).unwrap();
    assert_eq!(open(&save(&assignment)).as_ref(), Ok(&assignment));
    assert_eq!(read_link(&fragment(&assignment)).as_ref(), Ok(&assignment));
}
