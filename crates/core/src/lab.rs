//! All that a group entered or chose: one plain value, changed only through its own methods.
//!
//! Entries may be missing (`None`) while the work is in progress; [`crate::analysis`] says what is
//! missing where. Everything else on the page follows from this.

mod assigned;
pub mod dataset;
mod newer;
mod object_entry;
mod plan_entry;
mod recorded;
mod source;

pub use assigned::{ApparatusField, Given};
pub use dataset::Dataset;
pub use object_entry::{ObjectEntry, PartEntry};
pub use plan_entry::PlanEntry;
pub use source::Source;

use crate::acceleration::Setup;
use crate::apparatus::{Apparatus, ApparatusError};
use crate::gravity;
use crate::measured::Measured;
use crate::prelab::Prelab;
use crate::quantity::{
    KilogramMeters2, Kilograms, Meters, MetersPerSecond2, RadiansPerSecond2, Ratio, Seconds,
};
use crate::readings::{ReadingKind, Readings};
use crate::runs::Stretch;
use crate::torque::Motion;
use assigned::Assigned;
use core::num::NonZeroU32;
use newer::Newer;
use recorded::Recorded;
use std::collections::BTreeMap;
use std::sync::Arc;
use whorl_words as words;

/// Where the readings came from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Provenance {
    /// Taken on an apparatus.
    #[default]
    Measured,
    /// Made by a computer; said so wherever the lab is shown.
    Simulated,
}

/// Names one object of a lab.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ObjectId(pub u32);

/// Names one run while a lab is open.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RunId(pub u32);

/// What the table carried.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Configuration {
    /// Nothing.
    EmptyTable,
    /// One of the lab's objects.
    Loaded(ObjectId),
}

/// The apparatus as entered.
#[derive(Clone, Debug, PartialEq)]
pub struct ApparatusEntry {
    /// R.
    pub drum_radius: Option<Measured<Meters>>,
    /// d.
    pub string_diameter: Option<Measured<Meters>>,
    /// g.
    pub gravity: Option<Measured<MetersPerSecond2>>,
    /// How many spokes the pulley has.
    pub spokes: Option<NonZeroU32>,
    /// s, from one spoke to the next.
    pub travel_per_spoke: Option<Measured<Meters>>,
    /// Relative standard uncertainty shared by all hanging masses.
    pub mass_scale_uncertainty: Ratio,
    /// Standard uncertainty of each hanging mass on its own.
    pub hanging_mass_uncertainty: Kilograms,
    /// Moment of inertia of the pulley; `None` where it is neglected.
    pub pulley_inertia: Option<Measured<KilogramMeters2>>,
    /// Height the mass falls, for stopwatch runs.
    pub drop_height: Option<Measured<Meters>>,
}

impl Default for ApparatusEntry {
    fn default() -> Self {
        // Sea-level gravity lies between 9.780 (equator) and 9.832 m/s² (poles, GRS80): half the
        // width over √3 (JCGM 100:2008 4.3.7) is 0.015 m/s² for someone who has not said where.
        let gravity = Measured::new(gravity::STANDARD, MetersPerSecond2(0.015)).ok();
        Self {
            drum_radius: None,
            string_diameter: None,
            gravity,
            spokes: None,
            travel_per_spoke: None,
            mass_scale_uncertainty: Ratio(0.0),
            hanging_mass_uncertainty: Kilograms(0.0),
            pulley_inertia: None,
            drop_height: None,
        }
    }
}

impl ApparatusEntry {
    /// The apparatus, once all it needs is there.
    ///
    /// # Errors
    /// Names the first entry that is missing or impossible.
    pub fn check(&self) -> Result<Apparatus, ApparatusError> {
        Apparatus::new(
            self.drum_radius,
            self.string_diameter,
            self.gravity,
            self.travel_per_spoke,
            self.mass_scale_uncertainty,
        )?
        .with_hanging_mass_uncertainty(self.hanging_mass_uncertainty)?
        .with_pulley(self.pulley_inertia, self.pulley_radius())?
        .with_drop_height(self.drop_height)
    }

    /// What readings need of it to become accelerations; entries that are missing or impossible are `None`.
    pub fn setup(&self) -> Setup {
        let positive = |length: Option<Measured<Meters>>| {
            length.map(|length| length.value()).filter(|length| length.0 > 0.0)
        };
        Setup {
            travel_per_spoke: positive(self.travel_per_spoke),
            spokes: self.spokes,
            effective_radius: positive(self.drum_radius)
                .zip(self.string_diameter)
                .map(|(radius, string)| radius + string.value() * 0.5),
            drop_height: positive(self.drop_height),
        }
    }

    /// Radius at which the string runs on the pulley, from spokes and travel: N s/2π.
    pub fn pulley_radius(&self) -> Option<Meters> {
        let (spokes, travel) = (self.spokes?, self.travel_per_spoke?);
        Some(travel.value() * (f64::from(spokes.get()) / core::f64::consts::TAU))
    }
}

/// What a run is known by.
#[derive(Clone, Debug, PartialEq)]
pub enum Record {
    /// What a logger saw.
    Readings(Readings),
    /// Times of the same fall, by hand, from rest over the apparatus' drop height.
    Stopwatch(Vec<Seconds>),
    /// The string's acceleration, found elsewhere.
    Acceleration(Option<Measured<MetersPerSecond2>>),
    /// The table's angular acceleration, found elsewhere.
    AngularAcceleration(Option<Measured<RadiansPerSecond2>>),
}

impl Record {
    /// What of the apparatus the acceleration follows from: whatever else of it changes, the fit stays.
    pub fn needed_of(&self, setup: Setup) -> Setup {
        let Setup { travel_per_spoke, spokes, effective_radius, drop_height } = setup;
        let none = Setup::default();
        match self {
            Self::Readings(readings) if readings.kind().is_angular() => {
                Setup { drop_height: None, travel_per_spoke, spokes, effective_radius }
            }
            Self::Readings(_) => Setup { travel_per_spoke, spokes, ..none },
            Self::Stopwatch(_) => Setup { drop_height, ..none },
            Self::Acceleration(_) => none,
            Self::AngularAcceleration(_) => Setup { effective_radius, ..none },
        }
    }

    /// What a logger saw, if one was used.
    pub fn readings(&self) -> Option<&Readings> {
        match self {
            Self::Readings(readings) => Some(readings),
            Self::Stopwatch(_) | Self::Acceleration(_) | Self::AngularAcceleration(_) => None,
        }
    }

    /// Name in a lab file and in results.
    pub fn key(&self) -> &'static str {
        match self {
            Self::Readings(readings) => readings.kind().key(),
            Self::Stopwatch(_) => "stopwatch",
            Self::Acceleration(_) => "acceleration",
            Self::AngularAcceleration(_) => "angular-acceleration",
        }
    }

    /// The kind of readings, if a logger was used.
    pub fn kind(&self) -> Option<ReadingKind> {
        self.readings().map(Readings::kind)
    }
}

/// A run as entered.
#[derive(Clone, Debug, PartialEq)]
pub struct RunEntry {
    /// Its name while the lab is open.
    pub id: RunId,
    /// Its name for people.
    pub name: String,
    /// What the table carried.
    pub configuration: Configuration,
    /// m.
    pub hanging_mass: Option<Kilograms>,
    /// Which way the mass went.
    pub motion: Motion,
    /// The good stretch as chosen; `None` for the one found.
    pub stretch: Option<Stretch>,
    /// What the run is known by.
    pub record: Record,
    /// The file the readings came from.
    pub source: Option<Source>,
}

/// A lab.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lab {
    /// What the group calls it.
    pub title: String,
    /// Anything the group wrote down.
    pub notes: String,
    /// Where the readings came from.
    pub provenance: Provenance,
    /// What all runs share; changed through [`Lab::change_apparatus`], which knows what was recorded or given.
    pub apparatus: ApparatusEntry,
    /// How far the pre-lab has come.
    pub prelab: Prelab,
    /// What the runs were planned from.
    pub plan: PlanEntry,
    /// The practice bench that the runs are taken on, as the text of its session ([`crate::bench::Session`]); `None`
    /// for an apparatus of one's own.
    pub bench: Option<String>,
    /// What was said about runs before they were taken, as text ([`crate::forecast::open`]); `None` where nothing was.
    pub forecasts: Option<String>,
    /// What the students add before handing in, as text ([`crate::hand_in::open`]); `None` where nothing was.
    pub hand_in: Option<String>,
    objects: Vec<ObjectEntry>,
    runs: Vec<RunEntry>,
    last_run: LastRun,
    balancing: BTreeMap<Configuration, Measured<Kilograms>>,
    /// What a recorded lab says about itself; `None` for a group's own.
    recorded: Option<Arc<Recorded>>,
    /// The work that an instructor set; `None` where nobody did.
    assigned: Option<Arc<Assigned>>,
    /// The newer program's file that it came from; `None` where this one knows all of it.
    newer: Option<Arc<Newer>>,
}

/// The highest id that a run has had: a new run is never taken for one that is gone. Nobody entered it, so labs that
/// differ in it alone are the same.
#[derive(Clone, Copy, Debug, Default)]
struct LastRun(u32);

impl PartialEq for LastRun {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

/// Why an object cannot go.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::chain::object_in_use(.runs, .name))]
pub struct ObjectInUse {
    /// The object's name.
    pub name: String,
    /// How many runs carry it.
    pub runs: usize,
}

impl Lab {
    /// The objects, in the order they were added.
    pub fn objects(&self) -> &[ObjectEntry] {
        &self.objects
    }

    /// The runs, in the order they were added.
    pub fn runs(&self) -> &[RunEntry] {
        &self.runs
    }

    /// One object.
    pub fn object(&self, id: ObjectId) -> Option<&ObjectEntry> {
        self.objects.iter().find(|object| object.id == id)
    }

    /// One object, to be changed; `None` also where it is locked.
    pub fn object_mut(&mut self, id: ObjectId) -> Option<&mut ObjectEntry> {
        if self.is_locked() { None } else { self.objects.iter_mut().find(|object| object.id == id) }
    }

    /// One run.
    pub fn run(&self, id: RunId) -> Option<&RunEntry> {
        self.runs.iter().find(|run| run.id == id)
    }

    /// One run, to be changed; `None` also where it is locked.
    pub fn run_mut(&mut self, id: RunId) -> Option<&mut RunEntry> {
        if self.is_locked() { None } else { self.runs.iter_mut().find(|run| run.id == id) }
    }

    /// Adds an object and returns its name inside the lab. A recorded lab takes none; the name is then nobody's.
    pub fn add_object(&mut self, name: String, parts: Vec<PartEntry>) -> ObjectId {
        if self.is_locked() {
            return ObjectId(0);
        }
        let id = ObjectId(
            self.objects.iter().map(|object| object.id.0).max().map_or(1, |last| last.saturating_add(1)),
        );
        self.objects.push(ObjectEntry { id, name, parts });
        id
    }

    /// Removes an object that no run carries.
    ///
    /// # Errors
    /// When runs carry it: nothing a group made is dropped on the side.
    pub fn remove_object(&mut self, id: ObjectId) -> Result<(), ObjectInUse> {
        let runs = self.runs.iter().filter(|run| run.configuration == Configuration::Loaded(id)).count();
        match self.object(id) {
            Some(object) if runs > 0 => Err(ObjectInUse { name: object.name.clone(), runs }),
            _ if self.is_locked() => Ok(()),
            _ => {
                self.objects.retain(|object| object.id != id);
                self.set_balancing_mass(Configuration::Loaded(id), None);
                Ok(())
            }
        }
    }

    /// Adds a run; a configuration that does not exist becomes the empty table. It keeps its id where that is above
    /// those of all runs so far, and is given the next one otherwise. A recorded lab takes nothing but its own readings once more, such as
    /// the rise behind a fall; the id is otherwise nobody's.
    pub fn add_run(&mut self, run: RunEntry) -> RunId {
        if self.is_locked() && !self.may_repeat(&run.record) {
            return RunId(0);
        }
        self.last_run.0 = run.id.0.max(self.last_run.0.saturating_add(1));
        let id = RunId(self.last_run.0);
        let configuration = match run.configuration {
            Configuration::Loaded(object) if self.object(object).is_none() => Configuration::EmptyTable,
            known => known,
        };
        self.runs.push(RunEntry { id, configuration, ..run });
        id
    }

    /// Removes a run, where [`Lab::may_remove`] allows it.
    pub fn remove_run(&mut self, id: RunId) {
        if self.may_remove(id) {
            self.runs.retain(|run| run.id != id);
        }
    }

    /// The empty table, then one configuration per object.
    pub fn configurations(&self) -> Vec<Configuration> {
        let loaded = self.objects.iter().map(|object| Configuration::Loaded(object.id));
        core::iter::once(Configuration::EmptyTable).chain(loaded).collect()
    }

    /// The hanging mass that just keeps the table turning.
    pub fn balancing_mass(&self, configuration: Configuration) -> Option<Measured<Kilograms>> {
        self.balancing.get(&configuration).copied()
    }

    /// Sets or takes back the balancing mass of a configuration; one that was recorded stays.
    pub fn set_balancing_mass(&mut self, configuration: Configuration, mass: Option<Measured<Kilograms>>) {
        if self.is_locked() {
            return;
        }
        match mass {
            Some(mass) => self.balancing.insert(configuration, mass),
            None => self.balancing.remove(&configuration),
        };
    }

    /// A configuration's name for people.
    pub fn configuration_name(&self, configuration: Configuration) -> String {
        match configuration {
            Configuration::EmptyTable => words::chain::empty_table().to_owned(),
            Configuration::Loaded(id) => {
                self.object(id).map_or_else(String::new, |object| object.name.clone())
            }
        }
    }

    /// Whether nobody has entered anything yet.
    pub fn is_blank(&self) -> bool {
        *self == Self::default()
    }
}

#[cfg(test)]
mod tests;
