//! What a teacher may hide in a bench.

use whorl_words as words;

/// Something wrong with an apparatus that its student is not told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// In some runs the string slips on the drum in the middle of the fall.
    StringSlips {
        /// By this length, m.
        length_m: f64,
        /// In this share of the runs.
        share: f64,
    },
    /// The axis leans from the vertical by more than the settings say. It shows where table or object have their
    /// center of mass off the axis.
    NotLevel {
        /// By this angle, rad.
        tilt_rad: f64,
    },
    /// Every object stands off its mark.
    LoadOffMark {
        /// By this distance, m.
        by_m: f64,
    },
    /// One of the masses is not what is stamped on it.
    WrongStamp {
        /// Which, from 0.
        mass: usize,
        /// It is heavier by this, kg.
        by_kg: f64,
    },
    /// Runs that should start from rest get a push.
    PushedRelease {
        /// To this speed, m/s.
        speed_m_per_s: f64,
        /// In this share of the runs.
        share: f64,
    },
    /// The string is wound in layers.
    StringInLayers {
        /// By so much the radius grows for every turn, m.
        growth_per_turn_m: f64,
    },
    /// A vane on the table drags in the air.
    DragVane {
        /// c of the torque c ω², N·m·s².
        quadratic_n_m_s2: f64,
    },
    /// The spokes stand more unevenly than the settings say.
    UnevenSpokes {
        /// Standard deviation of a spoke's place, as a part of the travel from spoke to spoke.
        spoke_error: f64,
    },
    /// The gate misses edges.
    MissedEdges {
        /// This share of them.
        share: f64,
    },
    /// The gate sees edges twice.
    BouncedEdges {
        /// This share of them.
        share: f64,
    },
}

/// One number of a fault.
#[derive(Clone, Copy)]
pub struct Size {
    /// Its field in a bench file.
    pub key: &'static str,
    /// What it is, for people.
    pub words: fn() -> &'static str,
    /// SI unit; empty for a pure number.
    pub unit: &'static str,
    /// The least it may be.
    pub least: f64,
    /// The most it may be.
    pub most: f64,
}

const fn size(
    key: &'static str,
    words: fn() -> &'static str,
    unit: &'static str,
    (least, most): (f64, f64),
) -> Size {
    Size { key, words, unit, least, most }
}

const SHARE: Size = size("share", words::bench::share_of_runs, "", (0.0, 1.0));
const EDGE_SHARE: Size = size("share", words::bench::share_of_edges, "", (0.0, 0.2));

impl Fault {
    /// One of each, of a size that spoils a lab and can be found, in the order a menu shows them.
    pub const ALL: [Self; 10] = [
        Self::StringSlips { length_m: 0.02, share: 0.2 },
        Self::NotLevel { tilt_rad: 0.02 },
        Self::LoadOffMark { by_m: 0.01 },
        Self::WrongStamp { mass: 0, by_kg: 0.005 },
        Self::PushedRelease { speed_m_per_s: 0.1, share: 1.0 },
        Self::StringInLayers { growth_per_turn_m: 0.001 },
        Self::DragVane { quadratic_n_m_s2: 5e-7 },
        Self::UnevenSpokes { spoke_error: 0.01 },
        Self::MissedEdges { share: 0.01 },
        Self::BouncedEdges { share: 0.02 },
    ];

    /// Name in a bench file.
    pub fn key(self) -> &'static str {
        match self {
            Self::StringSlips { .. } => "string-slips",
            Self::NotLevel { .. } => "not-level",
            Self::LoadOffMark { .. } => "load-off-mark",
            Self::WrongStamp { .. } => "wrong-stamp",
            Self::PushedRelease { .. } => "pushed-release",
            Self::StringInLayers { .. } => "string-in-layers",
            Self::DragVane { .. } => "drag-vane",
            Self::UnevenSpokes { .. } => "uneven-spokes",
            Self::MissedEdges { .. } => "missed-edges",
            Self::BouncedEdges { .. } => "bounced-edges",
        }
    }

    /// Plain words for a menu.
    pub fn words(self) -> &'static str {
        match self {
            Self::StringSlips { .. } => words::bench::fault_string_slips(),
            Self::NotLevel { .. } => words::bench::fault_not_level(),
            Self::LoadOffMark { .. } => words::bench::fault_load_off_mark(),
            Self::WrongStamp { .. } => words::bench::fault_wrong_stamp(),
            Self::PushedRelease { .. } => words::bench::fault_pushed_release(),
            Self::StringInLayers { .. } => words::bench::fault_string_in_layers(),
            Self::DragVane { .. } => words::bench::fault_drag_vane(),
            Self::UnevenSpokes { .. } => words::bench::fault_uneven_spokes(),
            Self::MissedEdges { .. } => words::bench::fault_missed_edges(),
            Self::BouncedEdges { .. } => words::bench::fault_bounced_edges(),
        }
    }

    /// Its numbers with their names and limits; which mass is wrong is not one of them.
    pub fn sizes(&mut self) -> Vec<(Size, &mut f64)> {
        match self {
            Self::StringSlips { length_m, share } => {
                vec![(size("length_m", words::bench::slip_length, "m", (0.0, 0.2)), length_m), (SHARE, share)]
            }
            Self::NotLevel { tilt_rad } => {
                vec![(size("tilt_rad", words::bench::lean, "rad", (0.0, 0.2)), tilt_rad)]
            }
            Self::LoadOffMark { by_m } => {
                vec![(size("by_m", words::bench::off_mark, "m", (0.0, 0.5)), by_m)]
            }
            Self::WrongStamp { by_kg, .. } => {
                vec![(size("by_kg", words::bench::heavier_by, "kg", (-20.0, 20.0)), by_kg)]
            }
            Self::PushedRelease { speed_m_per_s, share } => {
                let speed = size("speed_m_per_s", words::bench::pushed_to, "m/s", (0.01, 1.0));
                vec![(speed, speed_m_per_s), (SHARE, share)]
            }
            Self::StringInLayers { growth_per_turn_m } => {
                let growth = size("growth_per_turn_m", words::bench::growth_per_turn, "m", (0.0, 0.02));
                vec![(growth, growth_per_turn_m)]
            }
            Self::DragVane { quadratic_n_m_s2 } => {
                let drag = size("quadratic_n_m_s2", words::bench::friction_quadratic, "N·m·s²", (0.0, 0.1));
                vec![(drag, quadratic_n_m_s2)]
            }
            Self::UnevenSpokes { spoke_error } => {
                vec![(size("spoke_error", words::bench::spoke_error, "", (0.0, 0.1)), spoke_error)]
            }
            Self::MissedEdges { share } | Self::BouncedEdges { share } => vec![(EDGE_SHARE, share)],
        }
    }

    /// Whether it is of this kind, whatever its numbers are.
    pub fn is_like(self, other: Self) -> bool {
        core::mem::discriminant(&self) == core::mem::discriminant(&other)
    }
}
