//! Raw record → the stretch in which the mass falls freely.
//!
//! A record holds more than the fall: a hand that winds the string up, the landing, a pulley that runs
//! on, the string winding up the other way. What sets the fall apart is one acceleration for a long
//! while. So:
//!
//! ```text
//! number the edges           bounced ones dropped, missed ones counted          numbering
//! seeds                      7 readings on a parabola (velocities: a line; accelerations: a level)  grow
//! pieces                     each seed grown reading by reading, by prediction  grow
//! ends                       the earliest moment the acceleration may have changed, the spokes'
//!                            own places and a little drag allowed for           ends
//! choice                     the piece that fixes its acceleration best, a start from rest preferred
//! ```
//!
//! and one reading of safety at each end. [`find`] never guesses silently: what is unsure stands in
//! [`Found::doubts`], and the ends can always be moved by hand.

mod choice;
mod curve;
mod doubt;
mod ends;
mod grow;
mod numbering;
mod track;

pub use choice::{Candidate, Found, find};
pub use doubt::Doubt;
pub use numbering::{NumberedEdges, number_edges};

#[cfg(test)]
mod tests;
