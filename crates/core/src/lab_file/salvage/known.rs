//! The names of all fields: a name that is none of them may have been one before the file was damaged.

use serde_json::Value;

/// Fields by the place that has them, without numbers of items.
const KNOWN: [(&str, &[&str]); 13] = [
    (
        "apparatus",
        &[
            "drum_radius_m",
            "string_diameter_m",
            "gravity_m_per_s2",
            "spokes",
            "travel_per_spoke_m",
            "mass_scale_relative_u",
            "hanging_mass_u_kg",
            "pulley_inertia_kg_m2",
            "drop_height_m",
        ],
    ),
    ("prelab", &["derivation", "own_file", "steps"]),
    ("prelab.steps", &["step", "entered", "accepted", "attempts", "hints", "worked", "time_s"]),
    (
        "plan",
        &[
            "pieces_kg",
            "holder_kg",
            "runs",
            "table_inertia_kg_m2",
            "friction_empty_n_m",
            "friction_loaded_n_m",
        ],
    ),
    ("objects", &["id", "name", "parts"]),
    ("objects.parts", &["shape", "count", "mass_kg", "dimensions_m", "offset_m"]),
    ("runs", &["id", "name", "object", "hanging_mass_kg", "motion", "stretch_s", "source", "readings"]),
    ("runs.source", &["file", "bytes", "sha256", "run", "remarks"]),
    (
        "runs.readings",
        &[
            "kind",
            "file",
            "time_s",
            "velocity_m_per_s",
            "position_m",
            "sampled_acceleration_m_per_s2",
            "angle_rad",
            "angular_velocity_rad_per_s",
            "times_s",
            "acceleration_m_per_s2",
            "angular_acceleration_rad_per_s2",
        ],
    ),
    ("balancing", &["object", "mass_kg"]),
    (
        "dataset",
        &[
            "title",
            "recorded_by",
            "recorded_on",
            "licence",
            "apparatus_notes",
            "origin",
            "picture",
            "to_predict",
        ],
    ),
    ("dataset.picture", &["data_url", "alternative"]),
    (
        "",
        &[
            "format",
            "version",
            "title",
            "notes",
            "provenance",
            "apparatus",
            "prelab",
            "plan",
            "bench",
            "forecasts",
            "hand_in",
            "assignment",
            "objects",
            "runs",
            "balancing",
            "dataset",
            "readings_sha256",
        ],
    ),
];

/// A value with its uncertainty.
const QUANTITY: &[&str] = &["value", "u"];

/// The fields in a value at `place` that have no meaning, by their places.
pub(super) fn unknown(value: &Value, place: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut left = vec![(value, place.to_owned())];
    while let Some((value, place)) = left.pop() {
        match value {
            Value::Array(items) => {
                let inside = items.iter().enumerate().filter(|(_, item)| item.is_object());
                left.extend(inside.map(|(index, item)| (item, format!("{place}[{index}]"))));
            }
            Value::Object(fields) => {
                let names = without_numbers(&place);
                let known = KNOWN.iter().find(|(at, _)| *at == names).map_or(QUANTITY, |(_, known)| known);
                for (name, value) in fields {
                    let inner = if place.is_empty() { name.clone() } else { format!("{place}.{name}") };
                    if known.contains(&name.as_str()) {
                        left.push((value, inner));
                    } else {
                        found.push(inner);
                    }
                }
            }
            _ => {}
        }
    }
    found
}

/// `runs[3].source` → `runs.source`.
pub(super) fn without_numbers(place: &str) -> String {
    let names = place.split('.').map(|part| part.split('[').next().unwrap_or_default());
    names.collect::<Vec<_>>().join(".")
}
