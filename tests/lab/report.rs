//! The report that is handed in, read back by an outside HTML parser (the `scraper` crate, an implementation of the HTML
//! standard's parsing): its numbers are those of the results as JSON, and no text in it is anything but text.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use scraper::{ElementRef, Html, Selector};
use serde_json::Value;
use sha2::{Digest as _, Sha256};
use whorl_core::analysis::analyze;
use whorl_core::fingerprint::readings_sha256;
use whorl_core::hand_in::{self, HandIn, Prompt};
use whorl_core::lab::{Configuration, Dataset, Lab, Source};
use whorl_core::measured::coverage::student_t_quantile;
use whorl_core::prelab::{DerivationSource, Prelab, StepRecord};
use whorl_core::{lab_file, report};
use whorl_derivation::derivation::Derivation;
use whorl_report::{Sheet, document, html};
use whorl_words::{Language, Translation, speak, table};

const TURNTABLE: &str = include_str!("../../web/derivations/turntable.json");

fn example() -> Lab {
    lab_file::open_alone(include_str!("../../web/samples/banding-wheel.json")).unwrap()
}

fn written(lab: &Lab, derivation: Option<&Derivation>) -> String {
    html(&document(Sheet { lab, analysis: &analyze(lab), derivation }))
}

/// A report as the outside parser sees it; it must have nothing to complain of.
fn parsed(text: &str) -> Html {
    let seen = Html::parse_document(text);
    assert_eq!(seen.errors, Vec::<std::borrow::Cow<'static, str>>::new());
    seen
}

fn all<'a>(seen: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    seen.select(&Selector::parse(selector).unwrap()).collect()
}

fn text_of(element: ElementRef<'_>) -> String {
    element.text().collect()
}

/// Cells of the row of this name in the table whose caption begins so.
fn row(seen: &Html, caption: &str, name: &str) -> Vec<String> {
    let captions = Selector::parse("caption").unwrap();
    let tables = all(seen, "table");
    let found = tables
        .into_iter()
        .find(|table| table.select(&captions).any(|one| text_of(one).starts_with(caption)))
        .unwrap();
    let cells = Selector::parse("th, td").unwrap();
    let rows = found.select(&Selector::parse("tbody tr").unwrap()).collect::<Vec<_>>();
    let rows = rows.into_iter().map(|row| row.select(&cells).map(text_of).collect::<Vec<_>>());
    rows.into_iter().find(|row| row[0] == name).unwrap()
}

/// Value ± U as a person would round them: U in two digits, the value to match.
fn rounded(value: f64, expanded: f64, per_unit: f64) -> String {
    let (value, expanded) = (value * per_unit, expanded * per_unit);
    let leading = format!("{expanded:.1e}").split_once('e').unwrap().1.parse::<i32>().unwrap();
    let places = usize::try_from((1 - leading).max(0)).unwrap();
    format!("{value:.places$}\u{202f}±\u{202f}{expanded:.places$}").replace('-', "−")
}

/// U of a result of the JSON: half of its 95 % interval.
fn half(result: &Value) -> f64 {
    (result["interval_95"][1].as_f64().unwrap() - result["interval_95"][0].as_f64().unwrap()) / 2.0
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

#[test]
fn numbers_are_those_of_the_results_as_json() {
    let lab = example();
    let results = report::to_json(&lab, &analyze(&lab));
    let text = written(&lab, None);
    let seen = parsed(&text);
    let runs = results["runs"].as_array().unwrap();
    assert_eq!(runs.len(), 23);
    for run in runs {
        let cells = row(&seen, "Every run", run["name"].as_str().unwrap());
        // u with what all runs share; degrees of freedom after Welch and Satterthwaite (GUM G.4).
        let both = |quantity: &str, unit: &str, per_unit: f64| {
            let (found, shared) =
                (&run[format!("{quantity}_{unit}")], number(&run[format!("{quantity}_u_shared")]));
            let random = number(&found["u"]);
            let u = random.hypot(shared);
            let freedom =
                found["degrees_of_freedom"].as_f64().map_or(f64::INFINITY, |own| own * (u / random).powi(4));
            rounded(number(&found["value"]), student_t_quantile(0.975, freedom) * u, per_unit)
        };
        assert_eq!(cells[3], both("acceleration", "m_per_s2", 1.0), "{cells:?}");
        assert_eq!(cells[5], both("torque", "N_m", 1e3), "{cells:?}");
        assert_eq!(cells[6], both("angular_acceleration", "rad_per_s2", 1.0), "{cells:?}");
    }
    for line in results["lines"].as_array().unwrap() {
        let cells = row(&seen, "Slope and intercept", line["name"].as_str().unwrap());
        let moment = &line["moment_of_inertia_kg_m2"];
        let friction = &line["friction_torque_N_m"];
        assert_eq!(cells[1], line["points"].as_array().unwrap().len().to_string());
        assert_eq!(
            cells[2],
            format!(
                "({})\u{202f}×\u{202f}10⁻³\u{202f}kg·m²",
                rounded(number(&moment["value"]), half(moment), 1e3)
            )
        );
        assert_eq!(cells[3], format!("{:.2}", number(&moment["coverage_factor"])));
        assert_eq!(
            cells[5],
            format!("({})\u{202f}mN·m", rounded(number(&friction["value"]), half(friction), 1e3))
        );
        assert_eq!(cells[6], format!("{:.2}", number(&friction["coverage_factor"])));
    }
    for (place, object) in results["objects"].as_array().unwrap().iter().enumerate() {
        let name = object["name"].as_str().unwrap();
        let cells = row(&seen, "Each object alone", name);
        let moment = &object["moment_of_inertia_kg_m2"];
        let comparison = &object["comparison"];
        let difference = number(&comparison["difference_kg_m2"]["value"]);
        let interval = &comparison["interval_95_kg_m2"];
        let expanded = (number(&interval[1]) - number(&interval[0])) / 2.0;
        assert_eq!(cells[1], rounded(number(&moment["value"]), half(moment), 1e3));
        assert_eq!(cells[3], rounded(difference, expanded, 1e3));
        assert!(
            (cells[6].replace('−', "-").parse::<f64>().unwrap()
                - number(&comparison["in_standard_uncertainties"]))
            .abs()
                < 0.06
        );
        let predicted = &object["predicted_kg_m2"];
        let k = student_t_quantile(0.975, predicted["degrees_of_freedom"].as_f64().unwrap_or(f64::INFINITY));
        assert_eq!(cells[2], rounded(number(&predicted["value"]), k * number(&predicted["u"]), 1e3));
        for part in object["budget"].as_array().unwrap() {
            let source = part["source"].as_str().unwrap();
            let rows = all(&seen, "tbody tr")
                .into_iter()
                .map(|row| row.children().filter_map(ElementRef::wrap).map(text_of).collect::<Vec<_>>());
            let cells = rows.into_iter().find(|cells| cells[0].starts_with(&format!("{source} ("))).unwrap();
            let percent = 100.0 * number(&part["share"]);
            let told = &cells[2 + place];
            // Two digits of the share, behind the contribution; what is below a thousandth is only said to be so.
            match told.split_once(" (") {
                None => assert!(told == "below 0.1\u{202f}%" && percent < 0.1, "{name}, {source}: {told}"),
                Some((u, share)) => {
                    let share: f64 = share.trim_end_matches("\u{202f}%)").parse().unwrap();
                    assert!((share - percent).abs() <= 0.05 * percent, "{name}, {source}: {told}");
                    let expected = 1e3 * number(&part["contribution_kg_m2"]);
                    assert!(
                        (u.parse::<f64>().unwrap() - expected).abs() <= 0.05 * expected,
                        "{name}, {source}: {told}"
                    );
                }
            }
        }
    }
    let findings = results["findings"].as_array().unwrap();
    assert!(!findings.is_empty());
    for finding in findings {
        assert!(
            all(&seen, "li")
                .into_iter()
                .any(|item| text_of(item).contains(finding["words"].as_str().unwrap()))
        );
    }
    assert_eq!(all(&seen, ".small-figures img").len(), 23);
}

/// A lab whose every text is `text`.
fn lab_of(text: &str) -> Lab {
    let mut lab = example();
    text.clone_into(&mut lab.title);
    text.clone_into(&mut lab.notes);
    for object in lab.objects().to_vec() {
        text.clone_into(&mut lab.object_mut(object.id).unwrap().name);
    }
    for run in lab.runs().to_vec() {
        let run = lab.run_mut(run.id).unwrap();
        text.clone_into(&mut run.name);
        run.source = Some(Source {
            file: text.to_owned(),
            bytes: Some(7),
            sha256: Some(text.to_owned()),
            run: text.to_owned(),
            remarks: vec![text.to_owned()],
        });
    }
    let mut added = HandIn::default();
    added.cautions_read = true;
    added.set_names(text);
    added.set_date(text);
    for prompt in Prompt::ALL {
        added.conclude(prompt, text);
    }
    lab.hand_in = hand_in::save(&added);
    lab.bench = Some(text.to_owned());
    lab.prelab = Prelab {
        derivation: Some(DerivationSource::Own(text.to_owned())),
        steps: vec![StepRecord {
            step: "tension".to_owned(),
            accepted: Some(text.to_owned()),
            ..StepRecord::default()
        }],
    };
    let dataset = Dataset {
        title: text.to_owned(),
        recorded_by: text.to_owned(),
        recorded_on: text.to_owned(),
        licence: text.to_owned(),
        apparatus_notes: text.to_owned(),
        origin: text.to_owned(),
        ..Dataset::default()
    };
    lab_file::recorded(lab, dataset)
}

/// Names of all elements with their attributes, in the order of the file.
fn shape(seen: &Html) -> Vec<(String, Vec<String>)> {
    let elements = seen.tree.nodes().filter_map(ElementRef::wrap);
    elements
        .map(|element| {
            let value = element.value();
            (value.name().to_owned(), value.attrs().map(|(name, _)| name.to_owned()).collect())
        })
        .collect()
}

#[test]
fn hostile_text_stays_text() {
    let derivation = whorl_derivation::file::open(TURNTABLE).unwrap();
    let harmless = written(&lab_of("plain words"), Some(&derivation));
    let expected = shape(&parsed(&harmless));
    assert!(expected.len() > 500, "{} elements", expected.len());
    for hostile in [
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "' onload='alert(1)",
        "&lt;script&gt; &#60;b&#62; &amp;",
        "]]> --> </style></title></svg><svg onload=alert(1)>",
        "</article></body></html><iframe src=javascript:alert(1)>",
        "<![CDATA[x]]><!--",
        "right \u{202e}to\u{2066} left\u{200f} \u{0}\u{7f}\u{feff}\u{ffff}\r\n\ttab",
        "\u{1d4b3}\u{10ffff}é\u{301}",
        "{0} {1|a|b} $x$",
    ] {
        let text = written(&lab_of(hostile), Some(&derivation));
        let seen = parsed(&text);
        assert_eq!(shape(&seen), expected, "{hostile}");
        let notes = all(&seen, "h1").into_iter().map(text_of).collect::<String>();
        // Controls, noncharacters and what reorders are left out or replaced; all else is as it was typed.
        let kept = |c: &char| {
            let gone =
                c.is_control() || c.is_whitespace() || *c == '\u{fffd}' || u32::from(*c) & 0xfffe == 0xfffe;
            !gone && !('\u{202a}'..='\u{202e}').contains(c) && !('\u{2066}'..='\u{2069}').contains(c)
        };
        let told = |own: &str| own.chars().filter(kept).collect::<String>();
        assert_eq!(told(&notes), told(hostile), "the title says what was typed");
        assert!(!text.contains('\u{202e}') && !text.contains('\u{2066}') && !text.contains('\0'));
        figures_are_drawings(&seen);
    }
    let long = "long ".repeat(2_000);
    let seen = parsed(&written(&lab_of(&long), Some(&derivation)));
    assert_eq!(shape(&seen), expected);
}

/// Figures come as data, and what they hold is shapes and words.
fn figures_are_drawings(seen: &Html) {
    for image in all(seen, "img") {
        let source = image.value().attr("src").unwrap();
        let svg = STANDARD.decode(source.strip_prefix("data:image/svg+xml;base64,").unwrap()).unwrap();
        let drawing = Html::parse_fragment(&String::from_utf8(svg).unwrap());
        for element in drawing.tree.nodes().filter_map(ElementRef::wrap) {
            let name = element.value().name();
            let known = [
                "html", "body", "svg", "title", "desc", "rect", "line", "polyline", "polygon", "circle",
                "text", "path", "g",
            ];
            assert!(known.contains(&name), "<{name}> in a figure");
            assert!(
                element.value().attrs().all(|(name, _)| !name.starts_with("on") && !name.ends_with("href"))
            );
        }
    }
}

#[test]
fn the_file_asks_for_nothing_and_its_policy_names_its_own_style() {
    let seen = parsed(&written(&example(), None));
    assert!(all(&seen, "script, link, iframe, object, embed, form, a, base, [href], [style]").is_empty());
    assert!(
        all(&seen, "[src]").into_iter().all(|one| one
            .value()
            .attr("src")
            .unwrap()
            .starts_with("data:image/svg+xml;"))
    );
    let policy = all(&seen, "meta[http-equiv]")[0].value().attr("content").unwrap().to_owned();
    let style = text_of(all(&seen, "style")[0]);
    assert!(!style.contains("url(") && !style.contains("@import"));
    // As CSP Level 3 has it: SHA-256 of the element's text, in base64.
    let own = STANDARD.encode(Sha256::digest(style.as_bytes()));
    assert_eq!(
        policy,
        format!(
            "default-src 'none'; style-src 'sha256-{own}'; img-src data:; base-uri 'none'; form-action 'none'"
        )
    );
    // It stands before everything that it speaks of.
    let text = written(&example(), None);
    assert!(text.find("Content-Security-Policy").unwrap() < text.find("<style>").unwrap());
}

#[test]
fn what_was_derived_and_written_is_there_and_so_is_the_fingerprint() {
    let derivation = whorl_derivation::file::open(TURNTABLE).unwrap();
    let mut lab = example();
    lab.prelab.derivation = Some(DerivationSource::Shipped("turntable".to_owned()));
    lab.prelab.change("tension", |record| record.accepted = Some("m g - m a".to_owned()));
    let mut added = HandIn::default();
    added.cautions_read = true;
    added.set_names("Ada, Bo");
    added.conclude(Prompt::NextTime, "Measure the drum\nmore often.");
    lab.hand_in = hand_in::save(&added);
    let seen = parsed(&written(&lab, Some(&derivation)));
    let formulas: Vec<_> =
        all(&seen, ".formulas math").into_iter().filter_map(|math| math.value().attr("aria-label")).collect();
    assert!(formulas.contains(&"T = m·g − m·a"), "{formulas:?}");
    let body = text_of(all(&seen, "body")[0]);
    for words in [
        "Ada, Bo",
        "Measure the drum\nmore often.",
        "I read the cautions",
        &readings_sha256(&lab),
        "are simulated",
    ] {
        assert!(body.contains(words), "{words}");
    }
}

#[test]
fn a_lab_without_anything_has_a_report_too() {
    let lab = Lab::default();
    let seen = parsed(&written(&lab, None));
    assert!(all(&seen, "img").is_empty());
    assert!(text_of(all(&seen, "body")[0]).contains("no runs yet"));
}

#[test]
fn a_report_speaks_spanish_with_the_same_shape() {
    let lab = example();
    let english = shape(&parsed(&written(&lab, None)));
    speak(Some(Translation::read(Language::Spanish, table(Language::Spanish).unwrap().to_owned()).unwrap()));
    let text = written(&lab, None);
    let name = lab.configuration_name(Configuration::EmptyTable);
    speak(None);
    let seen = parsed(&text);
    assert_eq!(shape(&seen), english);
    assert_eq!(all(&seen, "html")[0].value().attr("lang"), Some("es"));
    let body = text_of(all(&seen, "body")[0]);
    assert!(body.contains("Conclusiones") && body.contains(&name) && !body.contains("Where the readings"));
}
