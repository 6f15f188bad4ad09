//! A student's work at a bench: which apparatus, how many runs were taken, what was committed to. It is kept with the
//! lab as one text.

use super::apparatus::Bench;
use super::fields::SettingsProblem;
use super::file::{BenchFileError, open, save};
use super::sealed::{Commitment, Opened, SealedThing};
use super::seed::{Seed, SeedProblem};
use super::settings::BenchSettings;
use super::take::TakenRun;
use super::wish::Wish;
use crate::quantity::KilogramMeters2;
use serde_json::{Value, json};
use whorl_words as words;

/// A bench at work.
#[derive(Clone, Debug, PartialEq)]
pub struct Session {
    bench: Bench,
    taken: u32,
    opened: Vec<Opened>,
}

/// Why a text is no session.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SessionProblem {
    /// The teacher's settings in it.
    #[error("{0}")]
    File(#[from] BenchFileError),
    /// Their numbers.
    #[error(transparent)]
    Settings(#[from] SettingsProblem),
    /// The student's code in it.
    #[error(transparent)]
    Seed(#[from] SeedProblem),
    /// Something else.
    #[error("{}", words::bench_view::session_damaged())]
    Damaged,
}

impl Session {
    /// An apparatus of one's own, nothing done yet.
    ///
    /// # Errors
    /// When the settings make no apparatus.
    pub fn begin(settings: &BenchSettings, seed: Seed) -> Result<Self, SettingsProblem> {
        Ok(Self { bench: Bench::new(settings, seed)?, taken: 0, opened: Vec::new() })
    }

    /// The apparatus.
    pub fn bench(&self) -> &Bench {
        &self.bench
    }

    /// How many runs were taken.
    pub fn taken(&self) -> u32 {
        self.taken
    }

    /// The answers opened so far, in order.
    pub fn opened(&self) -> &[Opened] {
        &self.opened
    }

    /// Takes the next run. Nothing where the bench has no such mass or load; it does not count then.
    pub fn take(&mut self, wish: &Wish) -> Option<TakenRun> {
        let run = self.bench.take(wish, self.taken.saturating_add(1))?;
        self.taken = run.number;
        Some(run)
    }

    /// Commits to a result and opens its answer, once for each thing: who has seen the truth cannot commit anew.
    pub fn commit(&mut self, commitment: Commitment) -> Option<Opened> {
        if self.opened.iter().any(|opened| opened.commitment.thing() == commitment.thing()) {
            return None;
        }
        let opened = self.bench.sealed().open(commitment)?;
        self.opened.push(opened);
        Some(opened)
    }

    /// The session as text. The truth is not in it, but whoever can compute can draw it from the code again: a page
    /// without a server has no secrets.
    pub fn to_text(&self) -> String {
        let committed = |opened: &Opened| {
            let commitment = &opened.commitment;
            let (low, high) = commitment.interval();
            json!({
                "object": match commitment.thing() {
                    SealedThing::Table => None,
                    SealedThing::Object(index) => Some(index),
                },
                "value_kg_m2": commitment.value().0,
                "low_kg_m2": low.0,
                "high_kg_m2": high.0,
            })
        };
        json!({
            "code": self.bench.seed().code(),
            "taken": self.taken,
            "committed": self.opened.iter().map(committed).collect::<Vec<_>>(),
            "bench": save(self.bench.settings()),
        })
        .to_string()
    }

    /// The session of a text.
    ///
    /// # Errors
    /// When it is none.
    pub fn from_text(text: &str) -> Result<Self, SessionProblem> {
        let value: Value = serde_json::from_str(text).map_err(|_| SessionProblem::Damaged)?;
        let field = |name: &str| value.get(name).ok_or(SessionProblem::Damaged);
        let settings = open(field("bench")?.as_str().ok_or(SessionProblem::Damaged)?)?;
        let seed = Seed::from_code(field("code")?.as_str().ok_or(SessionProblem::Damaged)?)?;
        let mut session = Self::begin(&settings, seed)?;
        let taken = field("taken")?.as_u64().and_then(|taken| u32::try_from(taken).ok());
        session.taken = taken.ok_or(SessionProblem::Damaged)?;
        for one in field("committed")?.as_array().ok_or(SessionProblem::Damaged)? {
            let commitment = commitment(one).ok_or(SessionProblem::Damaged)?;
            session.commit(commitment).ok_or(SessionProblem::Damaged)?;
        }
        Ok(session)
    }
}

fn commitment(value: &Value) -> Option<Commitment> {
    let number = |name: &str| value.get(name)?.as_f64().map(KilogramMeters2);
    let thing = match value.get("object")? {
        Value::Null => SealedThing::Table,
        index => SealedThing::Object(usize::try_from(index.as_u64()?).ok()?),
    };
    Commitment::new(thing, number("value_kg_m2")?, (number("low_kg_m2")?, number("high_kg_m2")?)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::Load;

    fn session() -> Session {
        Session::begin(&BenchSettings::default(), Seed::new(7)).unwrap()
    }

    fn result(thing: SealedThing, value: f64, half: f64) -> Commitment {
        let about = |off: f64| KilogramMeters2(value + off);
        Commitment::new(thing, about(0.0), (about(-half), about(half))).unwrap()
    }

    #[test]
    fn a_session_comes_back_from_its_text_and_goes_on() {
        let mut session = session();
        let wish = Wish::usual(Load::Empty, 1);
        let first = session.take(&wish).unwrap();
        assert_eq!((first.number, session.taken()), (1, 1));
        session.commit(result(SealedThing::Object(0), 7e-3, 1e-3)).unwrap();
        let mut again = Session::from_text(&session.to_text()).unwrap();
        assert_eq!(again, session);
        // The next run is the one that would have come.
        let (next, kept) = (again.take(&wish).unwrap(), session.take(&wish).unwrap());
        assert_eq!(next, kept);
        assert_ne!(next.gate_times_s(), first.gate_times_s());
    }

    #[test]
    fn an_answer_opens_once() {
        let mut session = session();
        let opened = session.commit(result(SealedThing::Table, 1.0, 2.0)).unwrap();
        assert!(opened.caught && opened.truth.0 > 0.0);
        assert_eq!(session.commit(result(SealedThing::Table, opened.truth.0, 1e-9)), None);
        assert!(
            session.commit(result(SealedThing::Object(0), 1e3, 1.0)).is_some_and(|opened| !opened.caught)
        );
        assert_eq!(session.commit(result(SealedThing::Object(99), 1.0, 1.0)), None);
        assert_eq!(session.opened().len(), 2);
    }

    #[test]
    fn a_wish_that_cannot_be_does_not_count() {
        let mut session = session();
        assert_eq!(session.take(&Wish::usual(Load::Object(99), 0)), None);
        assert_eq!(session.taken(), 0);
    }

    #[test]
    fn damaged_texts_are_refused() {
        let text = session().to_text();
        for (from, to) in [
            ("\"taken\":0", "\"taken\":-1"),
            ("\"committed\":[]", "\"committed\":[{}]"),
            ("\"code\":\"", "\"code\":\"Z"),
            ("whorl-bench", "other"),
        ] {
            assert!(text.contains(from), "{text}");
            assert!(Session::from_text(&text.replacen(from, to, 1)).is_err(), "{to}");
        }
        assert_eq!(Session::from_text("{"), Err(SessionProblem::Damaged));
    }
}
