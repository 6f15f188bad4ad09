//! The page.
use leptos::prelude::*;

fn main() {
    mount_to_body(|| view! { <p>"Whorl"</p> });
}
