//! Settings → JSON, for people to read and change: two spaces a level, short things on one line.

use super::layout::{block, line, list, number, text};
use super::{BENCH_FORMAT, BENCH_VERSION};
use crate::bench::fault::Fault;
use crate::bench::fields::FIELDS;
use crate::bench::settings::{BenchSettings, ObjectSettings, PartSettings};
use crate::bench::spread::Spread;
use crate::simulation::gate::EdgesSeen;

/// Writes settings as a bench file.
pub fn save(settings: &BenchSettings) -> String {
    let mut top = vec![("format", text(BENCH_FORMAT)), ("version", BENCH_VERSION.to_string())];
    top.extend(fields(settings));
    block(&top, '{', 0) + "\n"
}

/// The fields of a bench file but for format and version.
pub(crate) fn fields(settings: &BenchSettings) -> Vec<(&'static str, String)> {
    let mut settings = settings.clone();
    let mut top = vec![("title", text(&settings.title)), ("about", text(&settings.about))];
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
    top
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
) -> impl Iterator<Item = (&'static str, String)> + use<'a> {
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
