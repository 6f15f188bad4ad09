//! The tray's state and every way it may change. Nothing on it is part of the lab.

use super::contents::{TrayFile, TrayRow, resolved};
use super::learned;
use super::sentences::{self, Also};
use crate::browser::reading::{Reading, pasted};
use crate::state::LabState;
use leptos::prelude::*;
use web_sys::{Blob, File};
use whorl_core::acceleration::Setup;
use whorl_core::intake::{Carries, Intake};
use whorl_core::lab::Configuration;
use whorl_core::quantity::Kilograms;
use whorl_core::readings::{Choice, Choices};
use whorl_words as words;

/// Handle to the tray.
#[derive(Clone, Copy)]
pub(super) struct TrayState {
    /// The lab that runs are added to.
    pub(super) lab: LabState,
    files: RwSignal<Vec<TrayFile>>,
    /// Part of the reading that is done; `None` while nothing is read.
    pub(super) share: RwSignal<Option<f64>>,
    /// Which file is being read.
    pub(super) at_work: RwSignal<String>,
    /// What the last action came to.
    pub(super) status: RwSignal<String>,
    pub(super) behind: StoredValue<Behind, LocalStorage>,
}

/// What nothing on the page follows.
#[derive(Default)]
pub(super) struct Behind {
    last_key: u32,
    pasted: u32,
    /// Every file of the tray and those still to be read.
    pub(super) handles: Vec<Handle>,
    /// Keys of the files to be read, in this order.
    pub(super) waiting: Vec<u32>,
    /// Keys of those on their way, and how many have been sent since all was still.
    pub(super) pending: Vec<u32>,
    pub(super) sent: usize,
    /// Keys of those that were not on the tray when all was still.
    pub(super) fresh: Vec<u32>,
    /// Kept as long as there is a tray: a choice is then answered at once.
    pub(super) reading: Option<Reading>,
}

/// A file in the browser's hands.
pub(super) struct Handle {
    pub(super) key: u32,
    pub(super) name: String,
    pub(super) file: Blob,
    /// Its shape when nothing is said about it; `None` while it was never understood.
    pub(super) shape: Option<String>,
    /// What was said about it when it was last read, and the apparatus then.
    pub(super) told: Choices,
    pub(super) setup: Setup,
}

impl Handle {
    /// All that was said of its shape.
    pub(super) fn learned(&self) -> Choices {
        self.shape.as_deref().map(learned::of).unwrap_or_default()
    }
}

impl Behind {
    pub(super) fn handle(&mut self, key: u32) -> Option<&mut Handle> {
        self.handles.iter_mut().find(|handle| handle.key == key)
    }

    fn next_key(&mut self) -> u32 {
        self.last_key += 1;
        self.last_key
    }

    pub(super) fn wait(&mut self, key: u32) {
        if !self.waiting.contains(&key) {
            self.waiting.push(key);
        }
    }
}

impl TrayState {
    pub(super) fn new(lab: LabState) -> Self {
        Self {
            lab,
            files: RwSignal::new(Vec::new()),
            share: RwSignal::new(None),
            at_work: RwSignal::new(String::new()),
            status: RwSignal::new(String::new()),
            behind: StoredValue::new_local(Behind::default()),
        }
    }

    /// What is read from now on is told in the language spoken now.
    pub(super) fn speak_anew(self) {
        self.behind.with_value(|behind| {
            if let Some(reading) = &behind.reading {
                reading.speak_anew();
            }
        });
    }

    /// Reads the files on the tray, and again whenever they change.
    pub(super) fn read<T>(self, reader: impl FnOnce(&[TrayFile]) -> T) -> T {
        self.files.with(|files| reader(files))
    }

    /// Reads one file; `None` once it is gone.
    pub(super) fn file<T>(self, key: u32, reader: impl FnOnce(&TrayFile) -> T) -> Option<T> {
        self.files.with(|files| files.iter().find(|file| file.key == key).map(reader))
    }

    /// Reads one run with its file; `None` once it is gone.
    pub(super) fn row<T>(self, key: u32, reader: impl FnOnce(&TrayFile, &TrayRow) -> T) -> Option<T> {
        self.files.with(|files| {
            let mut all = files.iter().flat_map(|file| file.rows.iter().map(move |row| (file, row)));
            all.find(|(_, row)| row.key == key).map(|(file, row)| reader(file, row))
        })
    }

    fn change_row(self, key: u32, change: impl FnOnce(&mut TrayRow)) {
        self.files.update(|files| {
            if let Some(row) = files.iter_mut().flat_map(|file| &mut file.rows).find(|row| row.key == key) {
                change(row);
            }
        });
    }

    pub(super) fn set_wanted(self, key: u32, wanted: bool) {
        self.change_row(key, |row| row.wanted = Some(wanted));
    }

    pub(super) fn rename(self, key: u32, name: String) {
        self.change_row(key, |row| row.name = name);
    }

    pub(super) fn set_carries(self, key: u32, carries: Carries) {
        self.change_row(key, |row| row.carries = carries);
    }

    /// Sets a hanging mass; `unclear` says that what was typed is no number.
    pub(super) fn set_hanging_mass(self, key: u32, mass: Option<Kilograms>, unclear: bool) {
        self.change_row(key, |row| (row.hanging_mass, row.mass_unclear) = (mass, unclear));
    }

    /// Says what the table carries in every run of which nothing tells it.
    pub(super) fn set_untold(self, carries: &Carries) {
        let lab = self.lab;
        self.files.update(|files| {
            for row in files.iter_mut().flat_map(|file| &mut file.rows) {
                if lab.read_once(|lab| resolved(&row.carries, lab)) == Carries::Untold {
                    row.carries = carries.clone();
                }
            }
        });
    }

    /// Takes files: they are read, and with them those that a change has made outdated.
    pub(super) fn take(self, files: Vec<File>) {
        let named = files.into_iter().map(|file| (file.name(), Blob::from(file)));
        self.take_named(named.collect());
    }

    /// Takes a paste of cells as a file.
    pub(super) fn take_text(self, text: &str) {
        let number = self.behind.try_update_value(|behind| {
            behind.pasted += 1;
            behind.pasted
        });
        let named = number.zip(pasted(text)).map(|(number, file)| (words::tray::pasted(&number), file));
        self.take_named(named.into_iter().collect());
    }

    fn take_named(self, files: Vec<(String, Blob)>) {
        if files.is_empty() {
            return;
        }
        self.behind.update_value(|behind| {
            for (name, file) in files {
                let key = behind.next_key();
                let (told, setup) = (Choices::default(), Setup::default());
                behind.handles.push(Handle { key, name, file, shape: None, told, setup });
                behind.waiting.push(key);
                behind.fresh.push(key);
            }
        });
        self.look_again();
    }

    /// Reads those files again that the apparatus or something said has made outdated, and what waits.
    pub(super) fn look_again(self) {
        let outdated = self.outdated_once();
        self.behind.update_value(|behind| {
            for key in outdated {
                behind.wait(key);
            }
        });
        self.read_on();
    }

    fn outdated_once(self) -> Vec<u32> {
        let setup = self.lab.read_once(|lab| lab.apparatus.setup());
        self.files.with_untracked(|files| {
            let outdated = files.iter().filter(|file| file.outdated || file.setup != setup);
            outdated.map(|file| file.key).collect()
        })
    }

    /// Whether a file would look different if it was read again.
    pub(super) fn outdated(self) -> bool {
        let setup = self.lab.read(|lab| lab.apparatus.setup());
        self.read(|files| files.iter().any(|file| file.outdated || file.setup != setup))
    }

    /// Says something about a file's shape: all files of this shape are read again with it.
    pub(super) fn say(self, key: u32, said: &[Choice]) {
        self.teach(key, |shape| learned::add(shape, said), Also::USED);
    }

    /// Forgets what was said about a file's shape.
    pub(super) fn forget(self, key: u32) {
        self.teach(key, learned::forget, Also::FORGOTTEN);
    }

    fn teach(self, key: u32, teach: impl FnOnce(&str), also: Also) {
        let same = self.behind.try_update_value(|behind| {
            let shape = behind.handle(key)?.shape.clone()?;
            teach(&shape);
            let alike = behind.handles.iter().filter(|handle| handle.shape.as_ref() == Some(&shape));
            let keys: Vec<u32> = alike.map(|handle| handle.key).collect();
            for &key in &keys {
                behind.wait(key);
            }
            Some(keys)
        });
        let Some(same) = same.flatten() else { return };
        self.files.update(|files| {
            for file in files.iter_mut().filter(|file| same.contains(&file.key)) {
                file.outdated = true;
            }
        });
        self.status.set(also.said_of(same.len().saturating_sub(1)));
        self.read_on();
    }

    /// Puts what a file holds on the tray. One whose shape is known by now is first read once more, with
    /// what was said about it.
    pub(super) fn put(self, key: u32, intake: Intake) {
        let known = self.behind.try_update_value(|behind| {
            let handle = behind.handle(key)?;
            if let (None, Ok(layout)) = (&handle.shape, &intake.layout) {
                handle.shape = Some(layout.shape.clone());
            }
            let outdated = handle.learned() != handle.told;
            let (told, setup) = (!handle.told.is_empty(), handle.setup);
            if outdated {
                behind.wait(key);
            }
            Some((outdated, told, setup))
        });
        let Some((outdated, told, setup)) = known.flatten() else { return };
        self.files.update(|files| {
            let mut next_key = || self.behind.try_update_value(Behind::next_key).unwrap_or_default();
            let place = files.iter().position(|file| file.key >= key).unwrap_or(files.len());
            if files.get(place).is_none_or(|file| file.key != key) {
                if outdated {
                    return;
                }
                files.insert(place, TrayFile::new(key, intake.file.clone()));
            }
            if let Some(file) = files.get_mut(place) {
                file.read_again(intake, &mut next_key);
                (file.told, file.outdated, file.setup) = (told, outdated, setup);
            }
        });
    }

    /// Puts its fingerprint to a file.
    pub(super) fn sign(self, key: u32, sha256: String) {
        self.files.update(|files| {
            if let Some(file) = files.iter_mut().find(|file| file.key == key) {
                file.sha256 = sha256;
            }
        });
    }

    /// Takes a file off the tray.
    pub(super) fn remove(self, key: u32) {
        self.files.update(|files| files.retain(|file| file.key != key));
        self.drop_handles();
    }

    /// Takes everything off the tray.
    pub(super) fn clear(self) {
        self.stop();
        self.files.update(Vec::clear);
        self.drop_handles();
        self.status.set(words::tray::cleared().to_owned());
    }

    /// Lets go of the files that are neither on the tray nor wait to be read.
    pub(super) fn drop_handles(self) {
        let here: Vec<u32> = self.files.with_untracked(|files| files.iter().map(|file| file.key).collect());
        self.behind.update_value(|behind| {
            let fresh = &behind.fresh;
            behind.handles.retain(|handle| here.contains(&handle.key) || fresh.contains(&handle.key));
            let handles = &behind.handles;
            behind.waiting.retain(|key| handles.iter().any(|handle| handle.key == *key));
            if handles.is_empty() {
                behind.reading = None;
            }
        });
    }

    /// Adds to the lab the runs that are wanted and ready, and the objects that are new. The others stay.
    pub(super) fn add(self) {
        let lab = self.lab;
        let (mut runs, mut added) = (Vec::new(), Vec::new());
        self.files.with_untracked(|files| {
            for file in files {
                for row in file.rows.iter().filter(|row| file.takes(row)) {
                    if lab.read_once(|lab| file.waits_for(row, lab)).is_some() {
                        continue;
                    }
                    let configuration = match lab.read_once(|lab| resolved(&row.carries, lab)) {
                        Carries::Known(configuration) => configuration,
                        // From here on it is an object of the lab, also for the runs that follow.
                        Carries::New(name) => Configuration::Loaded(lab.add_object(name)),
                        Carries::Untold => continue,
                    };
                    runs.push(row.entry(file, configuration));
                    added.push(row.key);
                }
            }
        });
        if runs.is_empty() {
            return;
        }
        lab.add_runs(runs);
        self.files.update(|files| {
            for row in files.iter_mut().flat_map(|file| &mut file.rows) {
                row.added |= added.contains(&row.key);
            }
            let waits = |file: &TrayFile| file.asks() || !file.complaints.is_empty();
            files.retain(|file| waits(file) || file.left().next().is_some());
        });
        self.drop_handles();
        let left = self.files.with_untracked(|files| files.iter().map(|file| file.left().count()).sum());
        self.status.set(sentences::added(added.len(), left));
    }
}
