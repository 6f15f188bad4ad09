//! The lab that is open, every way it may change, and what follows from it.

mod fitted;
mod keeping;
mod locks;
mod whole;

use crate::prelab::PrelabState;
use fitted::Fitted;
pub(crate) use keeping::{Keeping, keeping, restored, set_keeping};
use leptos::prelude::*;
use std::num::NonZeroU32;
use whorl_core::analysis::{
    Analysis, LineOutcomes, ObjectOutcome, RunOutcome, line_outcomes, object_outcomes, run_outcome,
};
use whorl_core::apparatus::{Apparatus, ApparatusError};
use whorl_core::bodies::Shape;
use whorl_core::diagnosis::{Fix, apply};
use whorl_core::guide::{self, Next};
use whorl_core::lab::{
    ApparatusEntry, Configuration, Lab, ObjectEntry, ObjectId, ObjectInUse, PartEntry, PlanEntry, Record,
    RunEntry, RunId,
};
use whorl_core::measured::Measured;
use whorl_core::quantity::Kilograms;
use whorl_core::runs::Stretch;
use whorl_core::torque::Motion;

/// Handle to the open lab. Only what the group entered is stored; each stage of the analysis is a
/// memo over the one before.
#[derive(Clone, Copy)]
pub(crate) struct LabState {
    lab: RwSignal<Lab>,
    /// Told when runs or objects change: whatever shows only these does not follow a key typed elsewhere.
    listed: Trigger,
    opened: RwSignal<u32>,
    unsaved: RwSignal<bool>,
    /// The lab before the last change that a finding offered.
    before_fix: RwSignal<Option<Lab>>,
    /// The pre-lab.
    pub(crate) prelab: PrelabState,
    /// The apparatus, or what is missing.
    pub(crate) apparatus: Memo<Result<Apparatus, ApparatusError>>,
    /// Acceleration and torque point of every run.
    pub(crate) runs: Memo<Vec<RunOutcome>>,
    /// One line per configuration.
    pub(crate) lines: Memo<LineOutcomes>,
    /// Every object alone, predicted and compared.
    pub(crate) objects: Memo<Vec<ObjectOutcome>>,
    /// Keys of the runs, in order: changes only when runs come or go.
    pub(crate) run_keys: Memo<Vec<u32>>,
    /// Keys of the objects, in order.
    pub(crate) object_keys: Memo<Vec<u32>>,
}

impl LabState {
    pub(crate) fn new() -> Self {
        let lab = RwSignal::new(Lab::default());
        let apparatus = Memo::new(move |_| lab.with(|lab| lab.apparatus.check()));
        let listed = Trigger::new();
        let of_listed = move || {
            listed.track();
            lab.read_untracked()
        };
        let fits = Memo::new_owning(move |before| lab.with(|lab| Fitted::of_all(lab, before)));
        let runs = Memo::new(move |_| {
            apparatus.with(|apparatus| {
                lab.with(|lab| {
                    fits.with(|fits| {
                        let pairs = lab.runs().iter().zip(fits);
                        pairs
                            .map(|(run, fitted)| run_outcome(run, fitted.fit.clone(), apparatus))
                            .collect::<Vec<_>>()
                    })
                })
            })
        });
        let lines = Memo::new(move |_| {
            apparatus.with(|apparatus| lab.with(|lab| runs.with(|runs| line_outcomes(lab, apparatus, runs))))
        });
        let run_keys = Memo::new(move |_| of_listed().runs().iter().map(|run| run.id.0).collect::<Vec<_>>());
        let object_keys =
            Memo::new(move |_| of_listed().objects().iter().map(|object| object.id.0).collect::<Vec<_>>());
        let objects = Memo::new(move |_| {
            lab.with(|lab| lines.with(|lines| object_outcomes(lab, &lines.configurations)))
        });
        let unsaved = RwSignal::new(false);
        keeping::begin();
        Self {
            lab,
            listed,
            opened: RwSignal::new(0),
            unsaved,
            before_fix: RwSignal::new(None),
            prelab: PrelabState::new(unsaved),
            apparatus,
            runs,
            lines,
            objects,
            run_keys,
            object_keys,
        }
    }

    /// Reads the lab, and again whenever it changes.
    pub(crate) fn read<T>(self, reader: impl FnOnce(&Lab) -> T) -> T {
        self.lab.with(reader)
    }

    /// Reads the lab once.
    pub(crate) fn read_once<T>(self, reader: impl FnOnce(&Lab) -> T) -> T {
        self.lab.with_untracked(reader)
    }

    /// Reads runs and objects, and again whenever one of them changes.
    pub(crate) fn read_listed<T>(self, reader: impl FnOnce(&Lab) -> T) -> T {
        self.listed.track();
        self.read_once(reader)
    }

    /// Reads one run; `None` once it is gone.
    pub(crate) fn run<T>(self, id: RunId, reader: impl FnOnce(&RunEntry) -> T) -> Option<T> {
        self.read_listed(|lab| lab.run(id).map(reader))
    }

    /// Reads one object; `None` once it is gone.
    pub(crate) fn object<T>(self, id: ObjectId, reader: impl FnOnce(&ObjectEntry) -> T) -> Option<T> {
        self.read_listed(|lab| lab.object(id).map(reader))
    }

    /// Reads what one run gives; `None` once it is gone.
    pub(crate) fn run_outcome<T>(self, id: RunId, reader: impl FnOnce(&RunOutcome) -> T) -> Option<T> {
        self.runs.with(|runs| runs.iter().find(|run| run.id == id).map(reader))
    }

    /// Reads what one object gives; `None` once it is gone.
    pub(crate) fn object_outcome<T>(
        self,
        id: ObjectId,
        reader: impl FnOnce(&ObjectOutcome) -> T,
    ) -> Option<T> {
        self.objects.with(|objects| objects.iter().find(|object| object.id == id).map(reader))
    }

    /// Counts the labs opened so far: what depends on it starts afresh with each.
    pub(crate) fn opened(self) -> u32 {
        self.opened.get()
    }

    /// The same count, read once.
    pub(crate) fn opened_once(self) -> u32 {
        self.opened.get_untracked()
    }

    /// Whether something was entered since the lab was last saved or opened.
    pub(crate) fn unsaved(self) -> bool {
        self.unsaved.get()
    }

    /// The same, once.
    pub(crate) fn unsaved_once(self) -> bool {
        self.unsaved.get_untracked()
    }

    fn change(self, change: impl FnOnce(&mut Lab)) {
        if self.refuses_change() {
            return;
        }
        self.lab.update(change);
        // Going back further would lose what was entered since.
        if self.before_fix.with_untracked(Option::is_some) {
            self.before_fix.set(None);
        }
        if !self.unsaved.get_untracked() {
            self.unsaved.set(true);
        }
    }

    /// A change of runs or objects.
    fn change_listed(self, change: impl FnOnce(&mut Lab)) {
        self.change(change);
        self.listed.notify();
    }

    /// Puts another lab in place of this one.
    pub(crate) fn open(self, mut lab: Lab) {
        self.prelab.open_lab(std::mem::take(&mut lab.prelab), lab.newer().is_some());
        self.lab.set(lab);
        self.listed.notify();
        self.before_fix.set(None);
        self.opened.update(|count| *count += 1);
        self.unsaved.set(false);
    }

    /// Whether nobody has entered anything yet.
    pub(crate) fn is_blank(self) -> bool {
        self.read_once(Lab::is_blank) && self.prelab.read_once(|prelab| prelab.derivation.is_none())
    }

    /// The lab that is open is in no file.
    pub(crate) fn not_saved(self) {
        self.unsaved.set(true);
    }

    /// The lab has just been written to a file.
    pub(crate) fn saved(self) {
        self.unsaved.set(false);
    }

    /// All results as they stand.
    pub(crate) fn analysis(self) -> Analysis {
        Analysis { runs: self.runs.get(), lines: self.lines.get(), objects: self.objects.get() }
    }

    /// The next step of the work.
    pub(crate) fn next(self) -> Next {
        self.read(|lab| {
            self.runs.with(|runs| {
                self.lines.with(|lines| self.objects.with(|objects| guide::next(lab, runs, lines, objects)))
            })
        })
    }

    /// Makes a change that a finding offers; what was there is kept.
    pub(crate) fn fix(self, fix: &Fix) {
        let before = self.read_once(Clone::clone);
        self.change_listed(|lab| apply(fix, lab));
        self.before_fix.set(Some(before));
    }

    /// Whether there is a change to be taken back.
    pub(crate) fn can_undo(self) -> bool {
        self.before_fix.with(Option::is_some)
    }

    /// Takes the last such change back.
    pub(crate) fn undo(self) {
        if let Some(before) = self.before_fix.try_update(Option::take).flatten() {
            self.change_listed(|lab| *lab = before);
        }
    }

    /// Enters what the practice bench has made, and how its session stands then.
    pub(crate) fn enter_from_bench<T>(self, session: String, enter: impl FnOnce(&mut Lab) -> T) -> Option<T> {
        let mut entered = None;
        self.change_listed(|lab| {
            entered = Some(enter(lab));
            lab.bench = Some(session);
        });
        entered
    }

    pub(crate) fn set_bench(self, session: String) {
        self.change(|lab| lab.bench = Some(session));
    }

    pub(crate) fn set_forecasts(self, forecasts: Option<String>) {
        self.change(|lab| lab.forecasts = forecasts);
    }

    pub(crate) fn set_title(self, title: String) {
        self.change(|lab| lab.title = title);
    }

    pub(crate) fn set_notes(self, notes: String) {
        self.change(|lab| lab.notes = notes);
    }

    pub(crate) fn set_apparatus(self, set: impl FnOnce(&mut ApparatusEntry)) {
        self.change(|lab| lab.change_apparatus(set));
    }

    pub(crate) fn set_plan(self, set: impl FnOnce(&mut PlanEntry)) {
        self.change(|lab| set(&mut lab.plan));
    }

    pub(crate) fn add_object(self, name: String) -> ObjectId {
        let mut id = ObjectId(0);
        self.change_listed(|lab| id = lab.add_object(name, vec![PartEntry::new(Shape::Disc)]));
        id
    }

    pub(crate) fn rename_object(self, id: ObjectId, name: String) {
        self.change_listed(|lab| {
            if let Some(object) = lab.object_mut(id) {
                object.name = name;
            }
        });
    }

    pub(crate) fn remove_object(self, id: ObjectId) -> Result<(), ObjectInUse> {
        let mut outcome = Ok(());
        self.lab.update(|lab| outcome = lab.remove_object(id));
        self.listed.notify();
        // A refusal changes nothing, so it leaves nothing to be saved.
        if outcome.is_ok() {
            self.unsaved.set(true);
        }
        outcome
    }

    fn change_parts(self, id: ObjectId, change: impl FnOnce(&mut Vec<PartEntry>)) {
        self.change_listed(|lab| {
            if let Some(parts) = lab.parts_mut(id) {
                change(parts);
            }
        });
    }

    pub(crate) fn add_part(self, id: ObjectId) {
        self.change_parts(id, |parts| parts.push(PartEntry::new(Shape::Disc)));
    }

    pub(crate) fn remove_part(self, id: ObjectId, index: usize) {
        self.change_parts(id, |parts| {
            if index < parts.len() {
                parts.remove(index);
            }
        });
    }

    /// Gives a part another shape; what was measured stays where the new shape has use for it.
    pub(crate) fn set_part_shape(self, id: ObjectId, index: usize, shape: Shape) {
        self.change_part(id, index, |part| {
            part.shape = shape;
            part.dimensions.resize(shape.dimensions().len(), None);
            if !shape.may_sit_off_axis() {
                part.offset = None;
            }
        });
    }

    pub(crate) fn set_part_count(self, id: ObjectId, index: usize, count: NonZeroU32) {
        self.change_part(id, index, |part| part.count = count);
    }

    /// Sets a measured entry of a part.
    pub(crate) fn change_part(self, id: ObjectId, index: usize, change: impl FnOnce(&mut PartEntry)) {
        self.change_parts(id, |parts| {
            if let Some(part) = parts.get_mut(index) {
                change(part);
            }
        });
    }

    pub(crate) fn add_runs(self, runs: Vec<RunEntry>) {
        self.change_listed(|lab| {
            for run in runs {
                lab.add_run(run);
            }
        });
    }

    pub(crate) fn remove_run(self, id: RunId) {
        self.change_listed(|lab| lab.remove_run(id));
    }

    pub(crate) fn rename_run(self, id: RunId, name: String) {
        self.change_run(id, |run| run.name = name);
    }

    pub(crate) fn set_hanging_mass(self, id: RunId, mass: Option<Kilograms>) {
        self.change_run(id, |run| run.hanging_mass = mass);
    }

    pub(crate) fn set_configuration(self, id: RunId, configuration: Configuration) {
        self.change_run(id, |run| run.configuration = configuration);
    }

    pub(crate) fn set_record(self, id: RunId, record: Record) {
        self.change_run(id, |run| run.record = record);
    }

    pub(crate) fn set_motion(self, id: RunId, motion: Motion) {
        self.change_run(id, |run| run.motion = motion);
    }

    pub(crate) fn set_balancing_mass(self, configuration: Configuration, mass: Option<Measured<Kilograms>>) {
        self.change_listed(|lab| lab.set_balancing_mass(configuration, mass));
    }

    pub(crate) fn set_stretch(self, id: RunId, stretch: Option<Stretch>) {
        self.change_listed(|lab| lab.set_stretch(id, stretch));
    }

    fn change_run(self, id: RunId, change: impl FnOnce(&mut RunEntry)) {
        self.change_listed(|lab| {
            if let Some(run) = lab.run_mut(id) {
                change(run);
            }
        });
    }
}
