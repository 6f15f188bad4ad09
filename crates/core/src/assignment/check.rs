//! What an assignment cannot be.

use super::{
    Assignment, LONGEST_ADDRESS, LONGEST_INSTRUCTIONS, LONGEST_NAME, LONGEST_TITLE, MOST_OBJECTS, Source,
};
use crate::comparison::Criterion;
use crate::library::may_be_fetched;
use crate::plan::MOST_PIECES;
use whorl_words as words;

/// Something in an assignment that cannot be.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{problem}")]
pub struct AssignmentProblem {
    /// Where, as in an assignment file: `given.drum_radius_m`.
    pub place: String,
    /// Why not, and what would do.
    pub problem: String,
}

/// Masses no piece of a school's set has, in kg.
const HEAVIEST_KG: f64 = 5.0;

impl Assignment {
    /// Sees that it can be set.
    ///
    /// # Errors
    /// Names the first thing that cannot be, by its place in an assignment file.
    pub fn check(&self) -> Result<(), AssignmentProblem> {
        if self.title.trim().is_empty() {
            return Err(wrong("title", words::assigning::title_missing()));
        }
        not_longer(&self.title, LONGEST_TITLE, "title")?;
        not_longer(&self.instructions, LONGEST_INSTRUCTIONS, "instructions")?;
        if self.stations.is_empty() {
            return Err(wrong("stations", words::assigning::no_station()));
        }
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '-';
        if self.derivation.as_ref().is_some_and(|id| id.len() > LONGEST_NAME || !id.chars().all(plain)) {
            return Err(wrong("derivation", words::assigning::no_derivation_name()));
        }
        self.check_apparatus()?;
        if self.pieces_kg.len() > MOST_PIECES {
            return Err(wrong("pieces_kg", &words::planning::too_many_pieces(&MOST_PIECES)));
        }
        if let Some(index) = self.pieces_kg.iter().position(|piece| !(*piece > 0.0 && *piece <= HEAVIEST_KG))
        {
            return Err(wrong(&format!("pieces_kg[{index}]"), &words::assigning::mass_outside(&HEAVIEST_KG)));
        }
        match self.agreement {
            Criterion::Percent(most) if !(most > 0.0 && most <= 100.0) => {
                Err(wrong("agreement.percent", words::assigning::percent_outside()))
            }
            _ => self.check_readings(),
        }
    }

    fn check_apparatus(&self) -> Result<(), AssignmentProblem> {
        for field in self.given.fields() {
            let place = format!("given.{}", field.key());
            let Some((value, u)) = self.given.value(field) else {
                return Err(wrong(&place, words::assigning::value_missing()));
            };
            // Only uncertainties may be zero.
            let fits =
                value.is_finite() && u.is_finite() && (value > 0.0 || (!field.has_u() && value == 0.0));
            if !fits {
                return Err(wrong(&place, words::assigning::not_above_zero()));
            }
            if self.measure.contains(&field) {
                return Err(wrong(&place, words::assigning::given_and_measured()));
            }
        }
        match &self.readings {
            Source::Recorded { .. } if self.given.fields().next().is_some() || !self.measure.is_empty() => {
                Err(wrong("recorded", words::assigning::recorded_stands_fast()))
            }
            _ => Ok(()),
        }
    }

    fn check_readings(&self) -> Result<(), AssignmentProblem> {
        match &self.readings {
            Source::Own { objects } => {
                if objects.len() > MOST_OBJECTS {
                    return Err(wrong("objects", &words::assigning::too_many_objects(&MOST_OBJECTS)));
                }
                for (index, name) in objects.iter().enumerate() {
                    let place = format!("objects[{index}]");
                    if name.trim().is_empty() {
                        return Err(wrong(&place, words::documents::text_missing()));
                    }
                    not_longer(name, LONGEST_NAME, &place)?;
                }
                Ok(())
            }
            Source::Bench { settings, .. } => settings.check().map_err(|problem| AssignmentProblem {
                problem: problem.problem,
                place: format!("bench.{}", problem.place),
            }),
            Source::Recorded { address } => {
                if !may_be_fetched(address) {
                    return Err(wrong("recorded", words::assigning::no_address()));
                }
                not_longer(address, LONGEST_ADDRESS, "recorded")
            }
        }
    }
}

fn wrong(place: &str, problem: &str) -> AssignmentProblem {
    AssignmentProblem { place: place.to_owned(), problem: problem.to_owned() }
}

fn not_longer(text: &str, longest: usize, place: &str) -> Result<(), AssignmentProblem> {
    let length = text.chars().count();
    if length <= longest {
        return Ok(());
    }
    Err(wrong(place, &words::datasets::text_too_long(&length, &longest)))
}
