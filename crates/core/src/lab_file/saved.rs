//! The document as it stands in the file, field by field.

use super::number::Number;
use crate::measured::Measured;
use crate::quantity::Quantity;
use serde::{Deserialize, Serialize};

#[derive(Serialize, Deserialize)]
pub(super) struct SavedLab {
    pub(super) format: String,
    pub(super) version: u32,
    #[serde(default)]
    pub(super) title: String,
    #[serde(default)]
    pub(super) notes: String,
    #[serde(default)]
    pub(super) provenance: SavedProvenance,
    pub(super) apparatus: SavedApparatus,
    #[serde(default)]
    pub(super) objects: Vec<SavedObject>,
    #[serde(default)]
    pub(super) runs: Vec<SavedRun>,
}

#[derive(Serialize, Deserialize, Default, Clone, Copy)]
#[serde(rename_all = "kebab-case")]
pub(super) enum SavedProvenance {
    #[default]
    Measured,
    Simulated,
}

/// A value with its standard uncertainty, in the SI unit its field names.
#[derive(Serialize, Deserialize, Clone, Copy)]
pub(super) struct SavedMeasured {
    pub(super) value: Number,
    #[serde(default)]
    pub(super) u: Number,
}

impl SavedMeasured {
    pub(super) fn of<Q: Quantity>(measured: &Measured<Q>) -> Self {
        Self { value: Number(measured.value().si()), u: Number(measured.standard_uncertainty().si()) }
    }
}

#[derive(Serialize, Deserialize)]
pub(super) struct SavedApparatus {
    pub(super) drum_radius_m: Option<SavedMeasured>,
    pub(super) string_diameter_m: Option<SavedMeasured>,
    pub(super) gravity_m_per_s2: Option<SavedMeasured>,
    pub(super) spokes: Option<u32>,
    pub(super) travel_per_spoke_m: Option<SavedMeasured>,
    #[serde(default)]
    pub(super) mass_scale_relative_u: Number,
}

#[derive(Serialize, Deserialize)]
pub(super) struct SavedObject {
    pub(super) id: u32,
    pub(super) name: String,
    #[serde(default)]
    pub(super) parts: Vec<SavedPart>,
}

#[derive(Serialize, Deserialize)]
pub(super) struct SavedPart {
    pub(super) shape: String,
    #[serde(default = "one")]
    pub(super) count: u32,
    pub(super) mass_kg: Option<SavedMeasured>,
    pub(super) dimensions_m: Vec<Option<SavedMeasured>>,
    pub(super) offset_m: Option<SavedMeasured>,
}

fn one() -> u32 {
    1
}

#[derive(Serialize, Deserialize)]
pub(super) struct SavedRun {
    pub(super) name: String,
    /// `null`: the empty table.
    pub(super) object: Option<u32>,
    pub(super) hanging_mass_kg: Option<Number>,
    pub(super) stretch_s: Option<[Number; 2]>,
    pub(super) source_file: Option<String>,
    pub(super) readings: SavedReadings,
}

#[derive(Serialize, Deserialize, Clone, Copy)]
#[serde(rename_all = "kebab-case")]
pub(super) enum SavedKind {
    GateTimes,
    Velocity,
    Position,
}

/// Either columns held here or a file named by its path beside the lab file.
///
/// One flat struct rather than tagged variants: a tagged enum buffers the whole document, and the
/// message for a misspelled field would not say where it stands.
#[derive(Serialize, Deserialize, Default)]
pub(super) struct SavedReadings {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) kind: Option<SavedKind>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) file: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) time_s: Option<Vec<Number>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) velocity_m_per_s: Option<Vec<Number>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) position_m: Option<Vec<Number>>,
}
