//! The practice bench: an apparatus of one's own for everyone who has none at hand.
//!
//! A teacher sets a bench ([`BenchSettings`]); each student's seed draws an apparatus from it ([`Bench::new`]).
//! The student reads its instruments ([`Bench::lab`]), takes runs ([`Bench::take`]), analyses them like any
//! other, commits to a result, and only then opens what is true ([`Sealed`]).
//!
//! ```text
//! spread, settings, fault   what a teacher sets            file: the same as JSON
//! seed                      the code that a student types
//! truth                     what the seed draws from it
//! instruments, written      what the student reads off it
//! wish, take, phase         a run: what is wished, what happens
//! sealed                    what is opened after a result is committed to
//! session                   a student's work at it, kept with the lab
//! ```
//!
//! The physics is [`crate::simulation`]'s. Nothing of the chain from readings to comparison is used here, and that
//! chain knows nothing of the bench. Drawing, running and writing use `+ − × ÷ √` and the simulation's own sine
//! alone, so that a seed gives the same times to the last bit in every browser.

mod apparatus;
mod fault;
mod fields;
pub(crate) mod file;
mod instruments;
mod phase;
mod sealed;
mod seed;
mod session;
mod settings;
mod spread;
mod story;
mod take;
#[cfg(test)]
mod tests;
mod truth;
mod wish;
mod written;

pub use apparatus::Bench;
pub use fault::{Fault, Size};
pub use fields::{FIELDS, Field, SettingsProblem};
pub use file::{BENCH_FORMAT, BENCH_VERSION, BenchFileError, open, save};
pub use instruments::{Instrument, Instruments};
pub use phase::{Phase, PhaseKind};
pub use sealed::{Commitment, NotInside, Opened, Sealed, SealedThing};
pub use seed::{Seed, SeedProblem};
pub use session::{Session, SessionProblem};
pub use settings::{
    BenchSettings, DrumSettings, FrictionSettings, GateSettings, ObjectSettings, PartSettings,
    PulleySettings, TableSettings,
};
pub use spread::Spread;
pub use take::{RunTruth, TakenRun};
pub use wish::{Ending, Grip, Load, Start, Wish};
