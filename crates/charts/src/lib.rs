//! The lab's figures: one model, four ways to read it.
//!
//! ```text
//!            ┌─ draw     any plotters backend: canvas, SVG
//! Figure ────┼─ svg      a string for reports (feature `svg`)
//!            ├─ table    rows and columns
//!            └─ summary  sentences
//! ```
//!
//! A [`Figure`] holds ready numbers in display units. Nothing here computes an uncertainty, knows a
//! browser, or panics: a figure of NaN, infinities or nothing draws what can be drawn.

pub mod figure;
pub mod figures;
pub mod melody;
pub mod number;
mod painting;
pub mod palette;
pub mod pixel_map;
pub mod probe;
pub mod ranges;
pub mod style;
#[cfg(any(test, feature = "svg"))]
mod svg;
mod text;
pub mod ticks;
pub mod window;

pub use figure::{Axis, Dash, Figure, Ink, Interval, Layer, Marker, Point, Reach};
pub use painting::{MOST_PER_COLUMN, draw};
pub use palette::{Palette, Rgb};
pub use pixel_map::{PixelMap, PixelRect};
pub use style::{Background, Style};
#[cfg(any(test, feature = "svg"))]
pub use svg::svg;
pub use text::{Table, summary, table};
pub use window::Window;
