//! A browser makes a program quick only once it has run for a while. So, while the user is still choosing a file, a
//! made-up table is read a few times, to no other end than this.

use crate::reading::look;
use core::cell::Cell;
use core::fmt::Write as _;
use js_sys::{Promise, Reflect};
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::DedicatedWorkerGlobalScope;
use whorl_core::intake::to_json;
use whorl_core::lab::Lab;
use whorl_core::lab_file;
use whorl_core::readings::{Choices, Incoming};

/// How often the table is read.
const ROUNDS: usize = 4;

/// Bytes that come at a time.
const PIECE: usize = 1 << 16;

/// Its rows: more than a lab keeps, so that the means are rehearsed as well.
const ROWS: u32 = 24_000;

thread_local! {
    static ENOUGH: Cell<bool> = const { Cell::new(false) };
}

/// Whether a message asks for a rehearsal.
pub(crate) fn is_wanted(message: &JsValue) -> bool {
    Reflect::has(message, &"rehearse".into()).unwrap_or(false)
}

/// Something real is to be done: the round at hand is the last.
pub(crate) fn end() {
    ENOUGH.set(true);
}

/// Reads the made-up table until there is something better to do.
pub(crate) async fn rehearse(scope: DedicatedWorkerGlobalScope) {
    let (table, lab) = (table(), lab_file::save(&Lab::default()));
    for _ in 0..ROUNDS {
        if ENOUGH.get() {
            return;
        }
        let mut loaded = Incoming::new(table.len(), Choices::default());
        table.as_bytes().chunks(PIECE).for_each(|piece| loaded.add(piece));
        if let Ok(intake) = look("", loaded, &lab, &mut |_| {}) {
            let _ = to_json(&intake).to_string();
        }
        // Whoever has called meanwhile is heard now.
        let pause = Promise::new(&mut |resolve, _| {
            let _ = scope.set_timeout_with_callback(&resolve);
        });
        let _ = JsFuture::from(pause).await;
    }
}

/// A rest, a fall, a landing.
fn table() -> String {
    let mut table = "t (s),v (m/s)\n".to_owned();
    for row in 0..ROWS {
        let time = f64::from(row) / 2000.0;
        let falls = (1.0..11.0).contains(&time);
        // Any uneven numbers do as noise.
        let noise = 1e-5 * (f64::from(row * 7919 % 101) - 50.0);
        let speed = noise + if falls { 0.12 * (time - 1.0) } else { 0.0 };
        let _ = writeln!(table, "{time:.4},{speed:.6}");
    }
    table
}
