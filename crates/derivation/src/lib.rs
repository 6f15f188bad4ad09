//! The guided derivation checker.
//!
//! A student's text flows one way:
//!
//! ```text
//! text → reading (expression with places) → identity (is it right, exactly?) ┐
//!                                         → ladder (if not, why not?)        ┴→ judge → Judgement
//! ```
//!
//! What is asked for, and what is said to a wrong answer, comes from a derivation file ([`mod@file`]).
//! Nothing here knows a browser, a lab or its readings.

pub mod dimension;
pub mod expression;
pub mod symbols;

pub mod reading;

pub mod identity;
pub mod rational;

pub mod prose;

pub mod derivation;
pub mod diagram;
pub mod file;

pub mod judge;
