//! Version 2 added runs in which the mass rises or the table coasts, so a run says its `motion`; in a file of version 1
//! every mass falls.
//!
//! It also added `balancing`, `hanging_mass_u_kg`, `pulley_inertia_kg_m2`, `drop_height_m` and more kinds of readings:
//! what an older file leaves out of these is not measured, or zero.

use super::{Moved, runs};
use crate::torque::Motion;
use serde_json::Value;

pub(super) fn step(document: &mut Value, _: &mut Moved) {
    for (_, run) in runs(document) {
        run.entry("motion").or_insert_with(|| Motion::Falling.key().into());
    }
}
