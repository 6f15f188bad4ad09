//! Turns the messages of `en/` into functions, and those of the other languages into tables of the same
//! order. A message that is missing, unknown or takes other values than in English ends the build.

mod messages;

use messages::{Message, Section, read_language};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;
use std::process::ExitCode;
use std::{env, fs};

const ENGLISH: &str = "en";
const OTHERS: [&str; 1] = ["es"];

fn main() -> ExitCode {
    println!("cargo::rerun-if-changed=build");
    for language in OTHERS.into_iter().chain([ENGLISH]) {
        println!("cargo::rerun-if-changed={language}");
    }
    match write_all() {
        Ok(()) => ExitCode::SUCCESS,
        Err(problems) => {
            for problem in problems {
                println!("cargo::error={problem}");
            }
            ExitCode::FAILURE
        }
    }
}

fn write_all() -> Result<(), Vec<String>> {
    let english = read_language(ENGLISH)?;
    let out = env::var("OUT_DIR").map_err(|_| vec!["cargo names no output folder".to_owned()])?;
    let write = |name: &str, text: &str| {
        fs::write(Path::new(&out).join(name), text).map_err(|error| vec![format!("{name}: {error}")])
    };
    let fingerprint = fingerprint(&english);
    write("messages.rs", &functions(&english))?;
    write("fingerprint", &format!("{fingerprint:016x}"))?;
    for language in OTHERS {
        let table = translated(&english, language, &read_language(language)?)?;
        write(&format!("{language}.txt"), &format!("{fingerprint:016x}\n{table}"))?;
    }
    Ok(())
}

/// One module per section, one function per message.
fn functions(english: &[Section]) -> String {
    let mut text = String::new();
    let mut place = 0;
    for section in english {
        let _ = writeln!(text, "/// Messages of `{}`.\npub mod {} {{", section.file, section.name);
        for message in &section.messages {
            text += &function(message, place);
            place += 1;
        }
        text += "}\n";
    }
    text
}

fn function(message: &Message, place: usize) -> String {
    let Message { key, values, .. } = message;
    let plain = message.normalized(values);
    let documented = message.text.replace('\\', "\\\\").replace(['[', ']', '<', '>', '`', '*', '_'], "·");
    let head = format!("    /// {documented}\n    #[must_use]\n    pub fn {key}");
    if values.is_empty() {
        return format!("{head}() -> &'static str {{ crate::say({place}, {plain:?}) }}\n");
    }
    let takes: Vec<String> = values.iter().map(|value| format!("{value}: &dyn core::fmt::Display")).collect();
    let (takes, gives) = (takes.join(", "), values.join(", "));
    format!("{head}({takes}) -> String {{ crate::fill(crate::say({place}, {plain:?}), &[{gives}]) }}\n")
}

/// Messages of another language, a line each, in the order of the English ones.
fn translated(english: &[Section], language: &str, sections: &[Section]) -> Result<String, Vec<String>> {
    let mut theirs: BTreeMap<(&str, &str), &Message> = BTreeMap::new();
    for section in sections {
        for message in &section.messages {
            theirs.insert((&section.name, &message.key), message);
        }
    }
    let (mut table, mut problems) = (String::new(), Vec::new());
    for section in english {
        for message in &section.messages {
            let at = format!("{language}/{}, {}", section.file, message.key);
            match theirs.remove(&(&*section.name, &*message.key)) {
                None => problems.push(format!("{at}: missing; in English it is “{}”", message.text)),
                Some(found) if found.names() != message.names() => problems.push(format!(
                    "{at}: takes the values {:?}, in English {:?}",
                    found.names(),
                    message.names()
                )),
                Some(found) => table += &(found.normalized(&message.values) + "\n"),
            }
        }
    }
    problems
        .extend(theirs.keys().map(|(section, key)| format!("{language}/{section}, {key}: not in English")));
    if problems.is_empty() { Ok(table) } else { Err(problems) }
}

/// FNV-1a over keys and texts: a table made for other messages is not read.
fn fingerprint(english: &[Section]) -> u64 {
    let mut state = 0xcbf2_9ce4_8422_2325_u64;
    for section in english {
        for message in &section.messages {
            for byte in section.name.bytes().chain(message.key.bytes()).chain(message.text.bytes()) {
                state = (state ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
            }
        }
    }
    state
}
