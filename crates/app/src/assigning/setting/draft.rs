//! Choices as they stand in the form, complete or not, and the assignment they make.

use std::collections::BTreeMap;
use whorl_core::assignment::{Assignment, Source, Station};
use whorl_core::bench::{BenchSettings, Seed};
use whorl_core::comparison::Criterion;
use whorl_core::lab::{ApparatusField, Given};
use whorl_core::plan::{parse_pieces, write_pieces};
use whorl_core::quantity::Kilograms;
use whorl_words as words;

/// Where the readings come from.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) enum Readings {
    #[default]
    Own,
    Bench,
    Recorded,
}

/// What becomes of an entry of the apparatus.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) enum Treated {
    #[default]
    Left,
    Measured,
    Given {
        value: Option<f64>,
        u: Option<f64>,
    },
}

/// Which criterion.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) enum Agreement {
    #[default]
    Interval,
    NormalizedError,
    Percent,
}

/// The choices.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Draft {
    pub(super) title: String,
    pub(super) instructions: String,
    pub(super) stations: Vec<Station>,
    /// Empty for none.
    pub(super) derivation: String,
    pub(super) readings: Readings,
    /// A name a line.
    pub(super) objects: String,
    pub(super) address: String,
    pub(super) code: String,
    pub(super) apparatus: BTreeMap<ApparatusField, Treated>,
    pub(super) masses: String,
    pub(super) agreement: Agreement,
    pub(super) percent: Option<f64>,
}

impl Default for Draft {
    fn default() -> Self {
        Self::of(&Assignment::default()).0
    }
}

impl Draft {
    /// The choices that make an assignment, and those of its bench.
    pub(super) fn of(assignment: &Assignment) -> (Self, BenchSettings) {
        let mut draft = Self {
            title: assignment.title.clone(),
            instructions: assignment.instructions.clone(),
            stations: assignment.stations.iter().copied().collect(),
            derivation: assignment.derivation.clone().unwrap_or_default(),
            readings: Readings::Own,
            objects: String::new(),
            address: String::new(),
            code: String::new(),
            apparatus: ApparatusField::ALL
                .into_iter()
                .map(|field| (field, treated(assignment, field)))
                .collect(),
            masses: write_pieces(&assignment.pieces_kg.iter().copied().map(Kilograms).collect::<Vec<_>>()),
            agreement: Agreement::Interval,
            percent: Some(5.0),
        };
        match assignment.agreement {
            Criterion::Interval => {}
            Criterion::NormalizedError => draft.agreement = Agreement::NormalizedError,
            Criterion::Percent(most) => (draft.agreement, draft.percent) = (Agreement::Percent, Some(most)),
        }
        let mut bench = BenchSettings::default();
        match &assignment.readings {
            Source::Own { objects } => draft.objects = objects.join("\n"),
            Source::Recorded { address } => {
                (draft.readings, draft.address) = (Readings::Recorded, address.clone());
            }
            Source::Bench { settings, code } => {
                draft.readings = Readings::Bench;
                draft.code = code.map(Seed::code).unwrap_or_default();
                bench = (**settings).clone();
            }
        }
        (draft, bench)
    }

    /// What becomes of an entry.
    pub(super) fn treated(&self, field: ApparatusField) -> Treated {
        self.apparatus.get(&field).copied().unwrap_or_default()
    }

    /// The assignment; the error says what keeps it from being one, without a full stop.
    pub(super) fn assignment(&self, bench: &BenchSettings) -> Result<Assignment, String> {
        let recorded = self.readings == Readings::Recorded;
        let mut assignment = Assignment {
            title: self.title.trim().to_owned(),
            instructions: self.instructions.clone(),
            stations: self.stations.iter().copied().collect(),
            derivation: Some(self.derivation.clone()).filter(|id| !id.is_empty()),
            pieces_kg: parse_pieces(&self.masses)
                .map_err(|why| format!("{}: {why}", words::assigning::masses()))?
                .iter()
                .map(|piece| piece.0)
                .collect(),
            agreement: match self.agreement {
                Agreement::Interval => Criterion::Interval,
                Agreement::NormalizedError => Criterion::NormalizedError,
                Agreement::Percent => Criterion::Percent(self.percent.unwrap_or(0.0)),
            },
            readings: self.source(bench)?,
            ..Assignment::default()
        };
        // What was recorded stands fast; what was chosen before for another apparatus waits.
        for (field, treated) in self.apparatus.iter().filter(|_| !recorded) {
            match treated {
                Treated::Left => {}
                Treated::Measured => drop(assignment.measure.insert(*field)),
                Treated::Given { value, u } => {
                    give(&mut assignment.given, *field, *value, *u)?;
                }
            }
        }
        assignment.check().map_err(|wrong| wrong.problem)?;
        Ok(assignment)
    }

    fn source(&self, bench: &BenchSettings) -> Result<Source, String> {
        Ok(match self.readings {
            Readings::Own => Source::Own {
                objects: self
                    .objects
                    .lines()
                    .map(|name| name.trim().to_owned())
                    .filter(|name| !name.is_empty())
                    .collect(),
            },
            Readings::Recorded => Source::Recorded { address: self.address.trim().to_owned() },
            Readings::Bench => {
                let code = Some(self.code.trim()).filter(|code| !code.is_empty());
                let code = code.map(Seed::from_code).transpose().map_err(|why| why.to_string())?;
                Source::Bench { settings: Box::new(bench.clone()), code }
            }
        })
    }
}

fn treated(assignment: &Assignment, field: ApparatusField) -> Treated {
    if assignment.given.has(field) {
        let value = assignment.given.value(field);
        Treated::Given { value: value.map(|value| value.0), u: value.map(|value| value.1) }
    } else if assignment.measure.contains(&field) {
        Treated::Measured
    } else {
        Treated::Left
    }
}

fn give(given: &mut Given, field: ApparatusField, value: Option<f64>, u: Option<f64>) -> Result<(), String> {
    let name = super::super::fields::of(field).0;
    let value = value.ok_or_else(|| words::assigning::given_without_value(&name))?;
    // Nothing typed as u is not taken as zero: what is given without doubt is given so on purpose.
    let u = if field.has_u() { u.ok_or_else(|| words::assigning::given_without_u(&name))? } else { 0.0 };
    given.give(field, value, u).map_err(|why| format!("{name}: {why}"))
}
