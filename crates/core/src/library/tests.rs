//! An index is read as it stands; a wrong one says where it is wrong and what to do.

use super::*;

const TWO: &str = r#"{
  "format": "whorl-library",
  "version": 1,
  "title": "Labs of the pottery course",
  "datasets": [
    {"title": "Brass ring", "about": "A clean one.", "file": "ring.json", "recorded_by": "A. Potter",
     "licence": "CC BY 4.0", "simulated": false},
    {"title": "Oak bar", "file": "https://example.org/labs/bar.json", "recorded_by": "A. Potter",
     "licence": "CC0", "simulated": true,
     "sha256": "BA7816BF8F01CFEA414140DE5DAE2223B00361A396177A9CB410FF61F20015AD"}
  ]
}"#;

#[test]
fn an_index_is_read_as_it_stands() {
    let library = open("index.json", TWO).unwrap();
    assert_eq!(library.title, "Labs of the pottery course");
    let [ring, bar] = library.datasets.as_slice() else { panic!("{library:?}") };
    assert_eq!(
        (ring.title.as_str(), ring.about.as_str(), ring.simulated),
        ("Brass ring", "A clean one.", false)
    );
    assert_eq!((bar.file.as_str(), bar.licence.as_str()), ("https://example.org/labs/bar.json", "CC0"));
    // FIPS 180-4's example: SHA-256 of “abc”.
    assert!(bar.means(b"abc") && !bar.means(b"abd"));
    assert!(ring.means(b"anything"));
    assert_eq!(kind(TWO), Some(Kind::Library));
    assert_eq!(kind(&crate::lab_file::save(&crate::lab::Lab::default())), Some(Kind::Lab));
    assert_eq!((kind("{}"), kind("no"), kind("[]")), (None, None, None));
}

#[track_caller]
fn refuses(from: &str, to: &str, message: &str) {
    assert!(TWO.contains(from), "{from}");
    assert_eq!(open("index.json", &TWO.replacen(from, to, 1)).unwrap_err(), message);
}

#[test]
fn a_wrong_index_says_where_and_what_to_do() {
    let mend = "Mend this place in the list, or tell whoever made it";
    refuses(
        "\"version\": 1,",
        "\"version\": 1",
        &format!("index.json, line 4, column 3: expected `,` or `}}`. {mend}"),
    );
    refuses(
        "whorl-library",
        "whorl-lab",
        "index.json, line 1, column 1: this is not a list of recorded labs (its “format” is not “whorl-library”). Check the address",
    );
    refuses(
        "\"version\": 1",
        "\"version\": 2",
        "index.json: this list was made for a newer Whorl (version 2; this one reads up to 1). Reload the page to get the newest Whorl",
    );
    refuses(
        "\"file\": \"ring.json\"",
        "\"file\": \"javascript:alert(1)\"",
        &format!(
            "index.json, line 6, column 62: at datasets[0].file: give an address that begins with http:// or https://, or one relative to the list, without spaces. {mend}"
        ),
    );
    refuses(
        "\"simulated\": false",
        "\"simulated\": \"no\"",
        &format!("index.json, line 7, column 43: at datasets[0].simulated: expected true or false. {mend}"),
    );
    refuses(
        ", \"simulated\": false",
        "",
        &format!(
            "index.json, line 6, column 5: at datasets[0].simulated: say true if a computer made the readings, false if they were measured. {mend}"
        ),
    );
    refuses(
        "BA7816BF",
        "xyz",
        &format!(
            "index.json, line 10, column 16: at datasets[1].sha256: expected the SHA-256 of the file, 64 hexadecimal digits. {mend}"
        ),
    );
    refuses(
        "\"licence\": \"CC0\"",
        "\"license\": \"CC0\"",
        &format!(
            "index.json, line 9, column 17: at datasets[1].license: there is no such field; known are title, about, file, recorded_by, licence, simulated, sha256. {mend}"
        ),
    );
    refuses(
        "\"title\": \"Oak bar\"",
        "\"title\": \" \"",
        &format!("index.json, line 8, column 15: at datasets[1].title: text is missing here. {mend}"),
    );
}

#[test]
fn only_addresses_of_the_web_are_fetched() {
    for address in [
        "ring.json",
        "./a/b.json",
        "../x.json?y=1:2",
        "/labs/a.json",
        "//example.org/a",
        "https://example.org/ring.json",
        "HTTP://localhost:8000/a",
        "a/b:c.json",
        "#x:y",
    ] {
        assert!(may_be_fetched(address), "{address}");
    }
    for address in [
        "",
        " ",
        "javascript:alert(1)",
        "JavaScript:x",
        "java\nscript:x",
        "data:application/json,{}",
        "file:///etc/passwd",
        "blob:https://example.org/1",
        "ftp://example.org/a",
        "\u{1}https://x",
        "a b.json",
        "https:\t//x",
        "view-source:https://x",
    ] {
        assert!(!may_be_fetched(address), "{address:?}");
    }
}
