//! Every reading of the lab, one a row, so that the table can be read again.

use super::names;
use super::rows::{Cell, Rows};
use crate::lab::{Lab, RunEntry};
use crate::readings::ReadingKind;

/// Columns of every row, before those of the kinds of readings that the lab has.
const TOLD: [&str; 5] = ["run", "table carries", "hanging mass (kg)", "motion", "time (s)"];

/// Columns of the kinds, in the order in which they stand.
const KINDS: [ReadingKind; 6] = [
    ReadingKind::BothEdges,
    ReadingKind::Position,
    ReadingKind::Velocity,
    ReadingKind::Acceleration,
    ReadingKind::Angle,
    ReadingKind::AngularVelocity,
];

/// Heading of a kind's column beside the times; `None` where times are all.
fn heading(kind: ReadingKind) -> Option<&'static str> {
    match kind {
        ReadingKind::GateTimes => None,
        ReadingKind::BothEdges => Some("gate (1 = blocked)"),
        ReadingKind::Position => Some("position (m)"),
        ReadingKind::Velocity => Some("velocity (m/s)"),
        ReadingKind::Acceleration => Some("acceleration (m/s²)"),
        ReadingKind::Angle => Some("table angle (rad)"),
        ReadingKind::AngularVelocity => Some("table angular velocity (rad/s)"),
    }
}

/// All readings of a lab. Runs that were typed have none, and so no rows.
pub fn readings(lab: &Lab) -> String {
    let has = |kind: ReadingKind| lab.runs().iter().any(|run| run.record.kind() == Some(kind));
    let mut used = Vec::with_capacity(KINDS.len());
    used.extend(KINDS.into_iter().filter(|&kind| has(kind)));
    let mut headings = TOLD.to_vec();
    headings.extend(used.iter().filter_map(|&kind| heading(kind)));
    let mut rows = Rows::new(&headings);
    let configurations = names::configurations(lab);
    for (run, name) in lab.runs().iter().zip(&names::runs(lab)) {
        push_run(&mut rows, run, [name, names::carried(lab, &configurations, run)], &used);
    }
    rows.text()
}

fn push_run(rows: &mut Rows, run: &RunEntry, [name, carries]: [&str; 2], used: &[ReadingKind]) {
    let Some(readings) = run.record.readings() else { return };
    let kind = readings.kind();
    let mass = Cell::maybe(run.hanging_mass.map(|mass| mass.0));
    let told = [Cell::Text(name), Cell::Text(carries), mass, Cell::Text(run.motion.key())];
    let mut cells = Vec::with_capacity(told.len() + 1 + used.len());
    for (time, value) in readings.pairs() {
        // Edges are counted from 0: the gate is blocked at the even ones.
        let value = if kind == ReadingKind::BothEdges { 1.0 - value % 2.0 } else { value };
        cells.clear();
        cells.extend_from_slice(&told);
        cells.push(Cell::Number(time));
        cells.extend(
            used.iter().map(|&other| if other == kind { Cell::Number(value) } else { Cell::Nothing }),
        );
        rows.push(&cells);
    }
}
