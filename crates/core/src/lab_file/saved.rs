//! The document as it is written, field by field. How it is read back stands in `open`.

use crate::measured::Measured;
use crate::quantity::Quantity;
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct SavedLab {
    pub(super) format: String,
    pub(super) version: u32,
    pub(super) title: String,
    pub(super) notes: String,
    pub(super) provenance: SavedProvenance,
    pub(super) apparatus: SavedApparatus,
    /// `null` before it is begun.
    pub(super) prelab: Option<SavedPrelab>,
    /// `null` before it is begun.
    pub(super) plan: Option<SavedPlan>,
    /// Text of a practice bench's session; `null` for an apparatus of one's own.
    pub(super) bench: Option<String>,
    /// Text of what was said about runs before they were taken; `null` where nothing was.
    pub(super) forecasts: Option<String>,
    /// Text of what the students added before handing in; `null` where nothing was.
    pub(super) hand_in: Option<String>,
    /// Text of an assignment file; `null` where nobody set the work.
    pub(super) assignment: Option<String>,
    pub(super) objects: Vec<SavedObject>,
    // Behind these stand `runs`, `balancing` and `dataset`, which `save` writes.
}

#[derive(Serialize, Clone, Copy)]
#[serde(rename_all = "kebab-case")]
pub(super) enum SavedProvenance {
    Measured,
    Simulated,
}

/// A value with its standard uncertainty, in the SI unit its field names.
#[derive(Serialize, Clone, Copy)]
pub(super) struct SavedMeasured {
    pub(super) value: f64,
    pub(super) u: f64,
}

impl SavedMeasured {
    pub(super) fn of<Q: Quantity>(measured: &Measured<Q>) -> Self {
        Self { value: measured.value().si(), u: measured.standard_uncertainty().si() }
    }
}

#[derive(Serialize)]
pub(super) struct SavedApparatus {
    pub(super) drum_radius_m: Option<SavedMeasured>,
    pub(super) string_diameter_m: Option<SavedMeasured>,
    pub(super) gravity_m_per_s2: Option<SavedMeasured>,
    pub(super) spokes: Option<u32>,
    pub(super) travel_per_spoke_m: Option<SavedMeasured>,
    pub(super) mass_scale_relative_u: f64,
    pub(super) hanging_mass_u_kg: f64,
    pub(super) pulley_inertia_kg_m2: Option<SavedMeasured>,
    pub(super) drop_height_m: Option<SavedMeasured>,
}

#[derive(Serialize)]
pub(super) struct SavedPrelab {
    /// Id of a derivation that comes with Whorl.
    pub(super) derivation: Option<String>,
    /// Text of a derivation file of one's own.
    pub(super) own_file: Option<String>,
    pub(super) steps: Vec<SavedStep>,
}

#[derive(Serialize)]
pub(super) struct SavedPlan {
    pub(super) pieces_kg: Vec<f64>,
    pub(super) holder_kg: Option<f64>,
    /// Of each configuration.
    pub(super) runs: Option<u32>,
    pub(super) table_inertia_kg_m2: Option<f64>,
    pub(super) friction_empty_n_m: Option<f64>,
    pub(super) friction_loaded_n_m: Option<f64>,
}

#[derive(Serialize)]
pub(super) struct SavedStep {
    pub(super) step: String,
    pub(super) entered: String,
    pub(super) accepted: Option<String>,
    pub(super) attempts: u32,
    pub(super) hints: u32,
    pub(super) worked: bool,
    pub(super) time_s: f64,
}

/// A hanging mass that just keeps the table turning.
#[derive(Serialize)]
pub(super) struct SavedBalancing {
    /// `null`: the empty table.
    pub(super) object: Option<u32>,
    pub(super) mass_kg: SavedMeasured,
}

#[derive(Serialize)]
pub(super) struct SavedObject {
    pub(super) id: u32,
    pub(super) name: String,
    pub(super) parts: Vec<SavedPart>,
}

#[derive(Serialize)]
pub(super) struct SavedPart {
    pub(super) shape: String,
    pub(super) count: u32,
    pub(super) mass_kg: Option<SavedMeasured>,
    pub(super) dimensions_m: Vec<Option<SavedMeasured>>,
    pub(super) offset_m: Option<SavedMeasured>,
}

#[derive(Serialize)]
pub(super) struct SavedRun {
    /// Rises from run to run: forecasts name their runs by it.
    pub(super) id: u32,
    pub(super) name: String,
    /// `null`: the empty table.
    pub(super) object: Option<u32>,
    pub(super) hanging_mass_kg: Option<f64>,
    /// “falling”, “rising” or “coasting”.
    pub(super) motion: &'static str,
    /// `null`: the one found.
    pub(super) stretch_s: Option<[f64; 2]>,
    // Behind it stand the `readings`, which `save` writes.
    pub(super) source: Option<SavedSource>,
}

#[derive(Serialize)]
pub(super) struct SavedSource {
    pub(super) file: String,
    pub(super) bytes: Option<usize>,
    pub(super) sha256: Option<String>,
    pub(super) run: String,
    pub(super) remarks: Vec<String>,
}

/// Columns of the readings; those of another kind are left out.
#[derive(Serialize, Default)]
pub(super) struct SavedReadings {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) kind: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) time_s: Option<Vec<f64>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) velocity_m_per_s: Option<Vec<f64>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) position_m: Option<Vec<f64>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) sampled_acceleration_m_per_s2: Option<Vec<f64>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) angle_rad: Option<Vec<f64>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) angular_velocity_rad_per_s: Option<Vec<f64>>,
    /// Stopwatch times.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) times_s: Option<Vec<f64>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) acceleration_m_per_s2: Option<SavedMeasured>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) angular_acceleration_rad_per_s2: Option<SavedMeasured>,
}
