//! The lab's own simulator: a whole run, or a whole lab, whose truth is known.
//!
//! It shares nothing with the chain that reads, fits and combines, so that the two can be held against
//! each other. Plain numbers in SI units; every name ends in its unit.
//!
//! ```text
//! rig      what is true: drum, string, pulley, table, friction, mass
//! course   what happens: winding by hand, release, fall, landing …  →  path: places in time
//! energy   what a motion costs the weight, and where it goes
//! gate     what the pulley's light gate and the logger's clock make of a path; log: in other forms
//! sensor   what a sampling sensor makes of it
//! raw_run  whole records with all that surrounds a good run
//! lab      all runs of a lab, written down and true
//! ```
//!
//! Constant friction has a closed form and no other motion is integrated more than it must. Apart from
//! the square root no library function enters a motion, so a seed gives the same run in every browser.

pub mod random;

pub mod rig;

pub(crate) mod sine;

mod integrator;

mod dynamics;

pub mod path;

pub mod course;

pub mod landing;

pub mod energy;

pub mod gate;

pub mod log;

pub mod sensor;

pub mod raw_run;

pub mod lab;
