//! The page: a notebook of stations, from the apparatus to the comparison.
//!
//! It holds no physics. What a group enters lives in [`state::LabState`]; everything that follows
//! from it is a memo over core's stages; stations only show.

#![expect(unreachable_pub, reason = "the component macro writes `pub` in front of what it generates")]

mod app;
mod browser;
mod controls;
mod state;
mod stations;

fn main() {
    browser::stopped::install();
    leptos::mount::mount_to_body(app::App);
    browser::skeleton::remove();
}
