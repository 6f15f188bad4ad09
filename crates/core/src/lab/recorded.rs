//! A recorded lab: what stands fast in it, and what is free.

use super::{Dataset, Lab, ObjectId, PartEntry, Record, RunId};
use crate::runs::Stretch;
use std::sync::Arc;

/// What a recorded lab says about itself.
#[derive(Debug, PartialEq)]
pub(super) struct Recorded {
    dataset: Dataset,
    /// The same as it stands in a lab file: it never changes, so it is written once.
    written: Arc<str>,
}

impl Lab {
    /// Makes a recorded lab of this one: what it holds is locked from here on, for good. Objects without parts are
    /// left to whoever works with it. `write` says how it stands in a lab file.
    pub(crate) fn record(mut self, mut dataset: Dataset, write: fn(&Dataset) -> String) -> Self {
        if !self.is_recorded() {
            let left_open =
                self.objects.iter().filter(|object| object.parts.is_empty()).map(|object| object.id);
            dataset.to_predict.extend(left_open);
            dataset.to_predict.sort_unstable();
            dataset.to_predict.dedup();
            let written = write(&dataset).into();
            self.recorded = Some(Arc::new(Recorded { dataset, written }));
        }
        self
    }

    /// What a recorded lab says about itself; `None` for a group's own.
    pub fn dataset(&self) -> Option<&Dataset> {
        self.recorded.as_ref().map(|recorded| &recorded.dataset)
    }

    /// The same as it stands in a lab file.
    pub(crate) fn dataset_written(&self) -> Option<&Arc<str>> {
        self.recorded.as_ref().map(|recorded| &recorded.written)
    }

    /// Whether its readings, and what was measured with them, are locked.
    pub fn is_recorded(&self) -> bool {
        self.recorded.is_some()
    }

    /// Whether the parts of an object may be changed.
    pub fn may_describe(&self, id: ObjectId) -> bool {
        self.newer().is_none() && self.dataset().is_none_or(|dataset| dataset.to_predict.contains(&id))
    }

    /// The parts of an object, to be changed, where [`Lab::may_describe`] allows it.
    pub fn parts_mut(&mut self, id: ObjectId) -> Option<&mut Vec<PartEntry>> {
        if !self.may_describe(id) {
            return None;
        }
        self.objects.iter_mut().find(|object| object.id == id).map(|object| &mut object.parts)
    }

    /// Chooses the good stretch of a run; `None` for the one found. A choice in every lab that may be changed.
    pub fn set_stretch(&mut self, id: RunId, stretch: Option<Stretch>) {
        if self.newer().is_some() {
            return;
        }
        if let Some(run) = self.runs.iter_mut().find(|run| run.id == id) {
            run.stretch = stretch;
        }
    }

    /// Whether a locked lab takes a run of this record: in a recorded one only its own readings once more.
    pub(super) fn may_repeat(&self, record: &Record) -> bool {
        self.newer().is_none() && self.runs.iter().any(|known| known.record == *record)
    }

    /// Whether a run may go: in a recorded lab only one whose readings stand in an earlier run, too.
    pub fn may_remove(&self, id: RunId) -> bool {
        if !self.is_locked() {
            return true;
        }
        if self.newer().is_some() {
            return false;
        }
        let Some(at) = self.runs.iter().position(|run| run.id == id) else { return false };
        let (earlier, rest) = self.runs.split_at(at);
        rest.first().is_some_and(|run| earlier.iter().any(|known| known.record == run.record))
    }
}
