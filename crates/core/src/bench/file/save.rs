//! Settings → JSON, for people to read and change: two spaces a level, short things on one line.

use super::{BENCH_FORMAT, BENCH_VERSION};
use crate::bench::fault::Fault;
use crate::bench::fields::FIELDS;
use crate::bench::settings::{BenchSettings, ObjectSettings, PartSettings};
use crate::bench::spread::Spread;
use crate::simulation::gate::EdgesSeen;
use serde_json::Value;

/// Writes settings as a bench file.
pub fn save(settings: &BenchSettings) -> String {
    let mut settings = settings.clone();
    let mut top = vec![
        ("format", text(BENCH_FORMAT)),
        ("version", BENCH_VERSION.to_string()),
        ("title", text(&settings.title)),
        ("about", text(&settings.about)),
    ];
    for group in ["drum", "pulley", "table", "friction", "gate"] {
        let mut fields = Vec::new();
        match group {
            "pulley" => fields.push(("spokes", settings.pulley.spokes.to_string())),
            "gate" => fields.push(("edges", text(edges_key(settings.gate.edges)))),
            _ => {}
        }
        fields.extend(fields_of(group, &settings));
        top.push((group, block(&fields, '{', 1)));
    }
    top.extend(fields_of("", &settings));
    let masses: Vec<String> = settings.masses_kg.iter().map(|mass| number(*mass)).collect();
    top.push(("masses_kg", format!("[{}]", masses.join(", "))));
    let objects: Vec<String> = settings.objects.iter().map(object).collect();
    top.push(("objects", list(&objects)));
    let mut instruments: Vec<(&str, String)> = Vec::new();
    for (key, instrument) in settings.instruments.all() {
        let [step, u] = [instrument.step, instrument.u].map(number);
        instruments.push((key, line(&[("step", step), ("u", u)])));
    }
    for (key, value, _) in settings.instruments.hanging() {
        instruments.push((key, number(*value)));
    }
    top.push(("instruments", block(&instruments, '{', 1)));
    let faults: Vec<String> = settings.faults.iter().map(|fault| self::fault(*fault)).collect();
    top.push(("faults", list(&faults)));
    block(&top, '{', 0) + "\n"
}

/// How the edges that are written are called.
pub(super) fn edges_key(edges: EdgesSeen) -> &'static str {
    match edges {
        EdgesSeen::Blocked => "blocked",
        EdgesSeen::Both => "both",
    }
}

fn fields_of<'a>(
    group: &'a str,
    settings: &'a BenchSettings,
) -> impl Iterator<Item = (&'static str, String)> + 'a {
    FIELDS
        .iter()
        .filter(move |field| field.group == group)
        .map(|field| (field.key, spread((field.of)(settings))))
}

fn object(object: &ObjectSettings) -> String {
    let parts: Vec<String> = object.parts.iter().map(part).collect();
    line(&[("name", text(&object.name)), ("parts", format!("[{}]", parts.join(", ")))])
}

fn part(part: &PartSettings) -> String {
    let dimensions: Vec<String> = part.dimensions_m.iter().map(|length| spread(*length)).collect();
    let mut fields = vec![
        ("shape", text(part.shape.key())),
        ("count", part.count.to_string()),
        ("mass_kg", spread(part.mass_kg)),
        ("dimensions_m", format!("[{}]", dimensions.join(", "))),
    ];
    fields.extend(part.offset_m.map(|offset| ("offset_m", spread(offset))));
    line(&fields)
}

fn fault(mut fault: Fault) -> String {
    let mut fields = vec![("fault", text(fault.key()))];
    if let Fault::WrongStamp { mass, .. } = fault {
        fields.push(("mass", mass.to_string()));
    }
    fields.extend(fault.sizes().into_iter().map(|(size, value)| (size.key, number(*value))));
    line(&fields)
}

fn spread(spread: Spread) -> String {
    match spread {
        Spread::Fixed(value) => number(value),
        Spread::Between { from, to } => line(&[("from", number(from)), ("to", number(to))]),
    }
}

/// The shortest digits that read back to the same bits, like 1.5e-5 rather than 0.000015.
fn number(value: f64) -> String {
    if (1e-4..1e6).contains(&value.abs()) || value == 0.0 { value.to_string() } else { format!("{value:e}") }
}

fn text(text: &str) -> String {
    Value::from(text).to_string()
}

/// Fields on one line.
fn line(fields: &[(&str, String)]) -> String {
    let fields: Vec<String> = fields.iter().map(|(key, value)| format!("\"{key}\": {value}")).collect();
    format!("{{{}}}", fields.join(", "))
}

/// Fields on lines of their own.
fn block(fields: &[(&str, String)], open: char, level: usize) -> String {
    let fields: Vec<String> = fields.iter().map(|(key, value)| format!("\"{key}\": {value}")).collect();
    lines(&fields, open, level)
}

fn list(items: &[String]) -> String {
    if items.is_empty() { "[]".to_owned() } else { lines(items, '[', 1) }
}

fn lines(items: &[String], open: char, level: usize) -> String {
    let (outer, close) = ("  ".repeat(level), if open == '{' { '}' } else { ']' });
    let items: Vec<String> = items.iter().map(|item| format!("\n{outer}  {item}")).collect();
    format!("{open}{}\n{outer}{close}", items.join(","))
}
