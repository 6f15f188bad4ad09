//! Physics and statistics of the rotational-inertia lab: no browser, no chart, no clock.
//!
//! A string wound on a turntable's drum runs over a light pulley down to a falling mass. The
//! modules stand in the order the data flows; each uses only those above it:
//!
//! ```text
//! file bytes → readings → good stretch → runs → accelerations → torque points → inertia line
//!            → object (loaded − empty) → comparison with the predicted value → report
//! ```
//!
//! [`simulation`] stands apart and shares nothing with them: labs whose truth is known. [`mod@bench`] makes of it an
//! apparatus for everyone who has none at hand.
//!
//! [`lab::Lab`] holds all that a group entered, [`analysis::analyze`] runs the whole chain over it,
//! [`diagnosis`] says what seems wrong with a lab, and [`lab_file`] saves and opens it.

pub mod quantity;

pub mod measured;

pub mod entry;

pub mod formula;

pub mod fit;

pub mod gravity;
pub mod guide;

pub mod csv_text;

pub mod readings;

pub mod runs;

pub mod stretch;

pub mod acceleration;

pub mod apparatus;

pub mod torque;

pub mod inertia;

pub mod object;

pub mod bodies;

pub mod comparison;

pub mod prelab;

pub mod lab;

pub mod file_name;

pub mod history;

pub mod analysis;

pub mod replay;

pub mod forecast;

pub mod intake;

pub mod hand_in;

pub mod diagnosis;

pub mod friction;

pub mod plan;

pub mod monte_carlo;

pub mod working;

pub mod report;

pub mod export;

pub mod fingerprint;

pub mod lab_file;

pub mod library;

pub mod simulation;

pub mod bench;

pub mod assignment;
