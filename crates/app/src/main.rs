//! The page: a notebook of stations, from the pre-lab to the comparison.
//!
//! It holds no physics. What a group enters lives in [`state::LabState`]; everything that follows
//! from it is a memo over core's stages; stations only show.

mod assigning;
mod browser;
mod controls;
mod dom;
mod focus;
mod header;
mod keep;
mod kept;
mod library;
mod own_words;
mod page;
mod parts;
mod prelab;
mod said;
mod state;
mod stations;

fn main() {
    browser::stopped::install();
    page::open();
}
