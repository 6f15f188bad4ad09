//! What lies on the tray: files that were read, and the runs proposed from them.

use whorl_core::acceleration::Setup;
use whorl_core::intake::{Carries, Intake, Proposal};
use whorl_core::lab::{Configuration, Lab, Record, RunEntry, RunId, Source};
use whorl_core::quantity::Kilograms;
use whorl_core::readings::Layout;
use whorl_words as words;

/// A file that was read.
pub(super) struct TrayFile {
    /// Its key on the tray.
    pub(super) key: u32,
    /// Another one with each reading.
    pub(super) reading: u32,
    /// Its name.
    pub(super) name: String,
    /// How many bytes it has, and their SHA-256 in hexadecimal, empty until it is known.
    pub(super) bytes: usize,
    pub(super) sha256: String,
    /// What it was taken for when it was last understood.
    pub(super) layout: Option<Layout>,
    /// What is wrong with it, one complaint a line; empty when nothing is.
    pub(super) complaints: String,
    /// Whether it was read with something said about its shape.
    pub(super) told: bool,
    /// Whether something was said since it was read.
    pub(super) outdated: bool,
    /// The apparatus behind its first accelerations.
    pub(super) setup: Setup,
    /// Its runs.
    pub(super) rows: Vec<TrayRow>,
}

/// A run proposed, with what was changed by hand.
pub(super) struct TrayRow {
    /// Its key on the tray; another one with each reading.
    pub(super) key: u32,
    /// What the file says.
    pub(super) proposal: Proposal,
    /// Whether it is wanted; `None` while nobody has said.
    pub(super) wanted: Option<bool>,
    /// Its name.
    pub(super) name: String,
    /// What the table carries.
    pub(super) carries: Carries,
    /// m.
    pub(super) hanging_mass: Option<Kilograms>,
    /// Whether what was typed as its hanging mass is no number.
    pub(super) mass_unclear: bool,
    /// Whether it is in the lab already, while other runs of its file wait.
    pub(super) added: bool,
}

impl TrayFile {
    /// A file of which nothing is known yet.
    pub(super) fn new(key: u32, name: String) -> Self {
        Self {
            key,
            reading: 0,
            name,
            bytes: 0,
            sha256: String::new(),
            layout: None,
            complaints: String::new(),
            told: false,
            outdated: false,
            setup: Setup::default(),
            rows: Vec::new(),
        }
    }

    /// What was done with the rows of all its runs.
    fn remarks(&self) -> impl Iterator<Item = String> {
        self.layout.iter().flat_map(|layout| &layout.remarks).map(ToString::to_string)
    }

    /// Whether a question about it is open.
    pub(super) fn asks(&self) -> bool {
        self.layout.as_ref().is_some_and(|layout| !layout.questions.is_empty())
    }

    /// Whether a run of it is to be added once it is ready.
    pub(super) fn takes(&self, row: &TrayRow) -> bool {
        row.wanted.unwrap_or(true) && !row.added && !self.asks()
    }

    /// The runs that are not in the lab yet.
    pub(super) fn left(&self) -> impl Iterator<Item = &TrayRow> {
        self.rows.iter().filter(|row| !row.added)
    }

    /// What a run waits for before it can be added; `None` when it is ready.
    pub(super) fn waits_for(&self, row: &TrayRow, lab: &Lab) -> Option<&'static str> {
        if self.asks() {
            Some(words::tray::waits_answer())
        } else if self.outdated {
            Some(words::tray::waits_reading())
        } else if self.sha256.is_empty() {
            Some(words::tray::waits_fingerprint())
        } else if resolved(&row.carries, lab) == Carries::Untold {
            Some(words::tray::waits_load())
        } else if row.mass_unclear {
            Some(words::tray::waits_mass())
        } else {
            None
        }
    }

    /// Puts what was now read in the place of what was; changes by hand stay with the run at the same
    /// place in the file. `next_key` gives keys that nothing had before.
    pub(super) fn read_again(&mut self, intake: Intake, next_key: &mut dyn FnMut() -> u32) {
        self.reading = next_key();
        (self.bytes, self.sha256) = (intake.bytes, intake.sha256);
        match intake.layout {
            Ok(layout) => {
                self.layout = Some(layout);
                self.complaints = String::new();
            }
            // The layout that was understood stays, so that what was said can be corrected.
            Err(complaints) => self.complaints = complaints,
        }
        let mut before = std::mem::take(&mut self.rows).into_iter();
        for proposal in intake.proposals {
            let row = TrayRow::new(next_key(), proposal, before.next());
            self.rows.push(row);
        }
    }
}

impl TrayRow {
    fn new(key: u32, proposal: Proposal, before: Option<Self>) -> Self {
        let mut row = Self {
            key,
            wanted: None,
            name: proposal.name.clone(),
            carries: proposal.carries.clone(),
            hanging_mass: proposal.hanging_mass,
            mass_unclear: false,
            added: false,
            proposal,
        };
        if let Some(before) = before {
            (row.wanted, row.added) = (before.wanted, before.added);
            if before.name != before.proposal.name {
                row.name = before.name;
            }
            if before.carries != before.proposal.carries {
                row.carries = before.carries;
            }
            if before.hanging_mass != before.proposal.hanging_mass {
                row.hanging_mass = before.hanging_mass;
            }
        }
        row
    }

    /// The run for the lab.
    pub(super) fn entry(&self, file: &TrayFile, configuration: Configuration) -> RunEntry {
        let name = if self.name.trim().is_empty() { &self.proposal.name } else { &self.name };
        RunEntry {
            id: RunId(0),
            name: name.clone(),
            configuration,
            hanging_mass: self.hanging_mass,
            motion: self.proposal.motion,
            stretch: None,
            record: Record::Readings(self.proposal.readings.clone()),
            source: Some(Source {
                file: file.name.clone(),
                bytes: Some(file.bytes),
                sha256: Some(file.sha256.clone()),
                run: self.proposal.label.clone(),
                remarks: file.remarks().chain(self.proposal.remarks.iter().cloned()).collect(),
            }),
        }
    }
}

/// What the table carries as the lab stands now: a new object may have been added meanwhile, another
/// removed.
pub(super) fn resolved(carries: &Carries, lab: &Lab) -> Carries {
    match carries {
        Carries::New(name) => {
            let same = |object: &&whorl_core::lab::ObjectEntry| object.name.eq_ignore_ascii_case(name);
            match lab.objects().iter().find(same) {
                Some(object) => Carries::Known(Configuration::Loaded(object.id)),
                None => carries.clone(),
            }
        }
        Carries::Known(Configuration::Loaded(id)) if lab.object(*id).is_none() => Carries::Untold,
        _ => carries.clone(),
    }
}
