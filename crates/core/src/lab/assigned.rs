//! Work that an instructor set: what of the apparatus is given stands fast in the lab, the rest is the group's.

use super::{ApparatusEntry, Lab};
use crate::comparison::Criterion;
use crate::measured::{Measured, MeasuredError};
use crate::quantity::{Kilograms, Quantity, Ratio};
use core::num::NonZeroU32;
use std::collections::BTreeSet;
use std::sync::Arc;

/// An entry of the apparatus, in the order of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ApparatusField {
    /// R.
    DrumRadius,
    /// d.
    StringDiameter,
    /// s.
    TravelPerSpoke,
    /// How many spokes the pulley has.
    Spokes,
    /// g.
    Gravity,
    /// Relative standard uncertainty shared by all hanging masses.
    MassScale,
    /// Height of the fall.
    DropHeight,
    /// Moment of inertia of the pulley.
    PulleyInertia,
    /// Standard uncertainty of each hanging mass on its own.
    HangingMass,
}

impl ApparatusField {
    /// All of them, as they follow each other on the page.
    pub const ALL: [Self; 9] = [
        Self::DrumRadius,
        Self::StringDiameter,
        Self::TravelPerSpoke,
        Self::Spokes,
        Self::Gravity,
        Self::MassScale,
        Self::DropHeight,
        Self::PulleyInertia,
        Self::HangingMass,
    ];

    /// Name in a lab file; it ends in the SI unit.
    pub fn key(self) -> &'static str {
        match self {
            Self::DrumRadius => "drum_radius_m",
            Self::StringDiameter => "string_diameter_m",
            Self::TravelPerSpoke => "travel_per_spoke_m",
            Self::Spokes => "spokes",
            Self::Gravity => "gravity_m_per_s2",
            Self::MassScale => "mass_scale_relative_u",
            Self::DropHeight => "drop_height_m",
            Self::PulleyInertia => "pulley_inertia_kg_m2",
            Self::HangingMass => "hanging_mass_u_kg",
        }
    }

    /// Whether it has a standard uncertainty: a count has none, and an uncertainty has none of its own.
    pub fn has_u(self) -> bool {
        !matches!(self, Self::Spokes | Self::MassScale | Self::HangingMass)
    }

    fn copy(self, from: &ApparatusEntry, to: &mut ApparatusEntry) {
        match self {
            Self::DrumRadius => to.drum_radius = from.drum_radius,
            Self::StringDiameter => to.string_diameter = from.string_diameter,
            Self::TravelPerSpoke => to.travel_per_spoke = from.travel_per_spoke,
            Self::Spokes => to.spokes = from.spokes,
            Self::Gravity => to.gravity = from.gravity,
            Self::MassScale => to.mass_scale_uncertainty = from.mass_scale_uncertainty,
            Self::DropHeight => to.drop_height = from.drop_height,
            Self::PulleyInertia => to.pulley_inertia = from.pulley_inertia,
            Self::HangingMass => to.hanging_mass_uncertainty = from.hanging_mass_uncertainty,
        }
    }

    /// Value and standard uncertainty of an entry in SI units.
    fn of(self, entry: &ApparatusEntry) -> Option<(f64, f64)> {
        fn pair<Q: Quantity>(measured: Option<&Measured<Q>>) -> Option<(f64, f64)> {
            measured.map(|measured| (measured.value().si(), measured.standard_uncertainty().si()))
        }
        match self {
            Self::DrumRadius => pair(entry.drum_radius.as_ref()),
            Self::StringDiameter => pair(entry.string_diameter.as_ref()),
            Self::TravelPerSpoke => pair(entry.travel_per_spoke.as_ref()),
            Self::Spokes => entry.spokes.map(|spokes| (f64::from(spokes.get()), 0.0)),
            Self::Gravity => pair(entry.gravity.as_ref()),
            Self::MassScale => Some((entry.mass_scale_uncertainty.0, 0.0)),
            Self::DropHeight => pair(entry.drop_height.as_ref()),
            Self::PulleyInertia => pair(entry.pulley_inertia.as_ref()),
            Self::HangingMass => Some((entry.hanging_mass_uncertainty.0, 0.0)),
        }
    }
}

/// What of the apparatus is given, with its values.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Given {
    fields: BTreeSet<ApparatusField>,
    /// Entries that are not given stand as in a new lab.
    values: ApparatusEntry,
}

impl Given {
    /// These entries of an apparatus.
    pub fn of(fields: BTreeSet<ApparatusField>, apparatus: &ApparatusEntry) -> Self {
        let mut values = ApparatusEntry::default();
        for field in &fields {
            field.copy(apparatus, &mut values);
        }
        Self { fields, values }
    }

    /// Gives an entry: value and standard uncertainty in SI units; the latter counts where the entry
    /// [has one](ApparatusField::has_u).
    ///
    /// # Errors
    /// When they are no measured value.
    pub fn give(&mut self, field: ApparatusField, value: f64, u: f64) -> Result<(), MeasuredError> {
        fn measured<Q: Quantity>(value: f64, u: f64) -> Result<Option<Measured<Q>>, MeasuredError> {
            Measured::new(Q::from_si(value), Q::from_si(u)).map(Some)
        }
        let values = &mut self.values;
        match field {
            ApparatusField::DrumRadius => values.drum_radius = measured(value, u)?,
            ApparatusField::StringDiameter => values.string_diameter = measured(value, u)?,
            ApparatusField::TravelPerSpoke => values.travel_per_spoke = measured(value, u)?,
            ApparatusField::Gravity => values.gravity = measured(value, u)?,
            ApparatusField::DropHeight => values.drop_height = measured(value, u)?,
            ApparatusField::PulleyInertia => values.pulley_inertia = measured(value, u)?,
            ApparatusField::MassScale => values.mass_scale_uncertainty = Ratio(value),
            ApparatusField::HangingMass => values.hanging_mass_uncertainty = Kilograms(value),
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a count, as a number"
            )]
            ApparatusField::Spokes => values.spokes = NonZeroU32::new(value as u32),
        }
        self.fields.insert(field);
        Ok(())
    }

    /// Takes a given entry back.
    pub fn leave(&mut self, field: ApparatusField) {
        self.fields.remove(&field);
        field.copy(&ApparatusEntry::default(), &mut self.values);
    }

    /// The entries, in their order.
    pub fn fields(&self) -> impl Iterator<Item = ApparatusField> + '_ {
        self.fields.iter().copied()
    }

    /// Whether an entry is given.
    pub fn has(&self, field: ApparatusField) -> bool {
        self.fields.contains(&field)
    }

    /// Value and standard uncertainty of a given entry in SI units; `None` where it is not given, or has no value.
    pub fn value(&self, field: ApparatusField) -> Option<(f64, f64)> {
        self.has(field).then(|| field.of(&self.values)).flatten()
    }

    /// The values; entries that are not given stand as in a new lab.
    pub fn apparatus(&self) -> &ApparatusEntry {
        &self.values
    }

    fn put_into(&self, apparatus: &mut ApparatusEntry) {
        for field in &self.fields {
            field.copy(&self.values, apparatus);
        }
    }
}

/// What a lab holds of the work set.
#[derive(Debug, PartialEq)]
pub(super) struct Assigned {
    /// All of it, as an assignment file.
    text: String,
    given: Given,
    criterion: Criterion,
}

impl Lab {
    /// Makes this lab one that an instructor set, for good: what is given stands fast from here on. What was recorded
    /// stays as it was recorded.
    pub(crate) fn assign(mut self, text: String, given: Given, criterion: Criterion) -> Self {
        if !self.is_recorded() {
            given.put_into(&mut self.apparatus);
        }
        self.assigned = Some(Arc::new(Assigned { text, given, criterion }));
        self
    }

    /// The work set, as the text of an assignment file; `None` where nobody set any.
    pub fn assignment(&self) -> Option<&str> {
        self.assigned.as_ref().map(|assigned| &*assigned.text)
    }

    /// Whether an entry of the apparatus was given and cannot be changed.
    pub fn is_given(&self, field: ApparatusField) -> bool {
        self.assigned.as_ref().is_some_and(|assigned| assigned.given.has(field))
    }

    /// What counts as agreement.
    pub fn criterion(&self) -> Criterion {
        self.assigned.as_ref().map(|assigned| assigned.criterion).unwrap_or_default()
    }

    /// Changes the apparatus; not where it was recorded, and not what was given.
    pub fn change_apparatus(&mut self, change: impl FnOnce(&mut ApparatusEntry)) {
        if self.is_locked() {
            return;
        }
        change(&mut self.apparatus);
        if let Some(assigned) = &self.assigned {
            assigned.given.put_into(&mut self.apparatus);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Meters;

    #[test]
    fn what_is_given_stands_fast_and_the_rest_is_free() {
        let mut given = Given::default();
        given.give(ApparatusField::DrumRadius, 0.025, 3e-5).unwrap();
        given.give(ApparatusField::Spokes, 10.0, 0.0).unwrap();
        let mut lab = Lab::default().assign("{}".to_owned(), given, Criterion::Percent(5.0));
        lab.change_apparatus(|apparatus| {
            apparatus.drum_radius = None;
            apparatus.spokes = NonZeroU32::new(20);
            apparatus.string_diameter = Measured::new(Meters(0.001), Meters(0.0)).ok();
        });
        assert_eq!(lab.apparatus.drum_radius.map(|radius| radius.value()), Some(Meters(0.025)));
        assert_eq!(lab.apparatus.spokes, NonZeroU32::new(10));
        assert!(lab.apparatus.string_diameter.is_some());
        assert!(lab.is_given(ApparatusField::Spokes) && !lab.is_given(ApparatusField::Gravity));
        assert_eq!(lab.criterion(), Criterion::Percent(5.0));
    }

    #[test]
    fn every_field_is_given_read_back_and_left() {
        for field in ApparatusField::ALL {
            let mut given = Given::default();
            let u = if field.has_u() { 0.5 } else { 0.0 };
            given.give(field, 3.0, u).unwrap();
            assert_eq!(given.value(field), Some((3.0, u)), "{field:?}");
            assert_eq!(Given::of(BTreeSet::from([field]), given.apparatus()), given);
            given.leave(field);
            assert_eq!(given, Given::default());
        }
        assert!(Given::default().give(ApparatusField::Gravity, f64::NAN, 0.0).is_err());
    }
}
