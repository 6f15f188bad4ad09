//! Propagating distributions: a model's text comes in, `TRIALS SHARE` goes out now and then, an outcome's
//! text at the end, or `?` when the model is none.

use crate::pace::Pace;
use web_sys::DedicatedWorkerGlobalScope;
use whorl_core::monte_carlo::{Model, SEED, Simulation};

const NO_MODEL: &str = "?";

/// Simulates a model and tells the page about it.
#[inline(never)]
pub(crate) fn simulate(model: &str, page: &DedicatedWorkerGlobalScope) {
    let say = |text: &str| {
        let _ = page.post_message(&text.into());
    };
    let Some(model) = Model::from_text(model) else {
        say(NO_MODEL);
        return;
    };
    let mut simulation = Simulation::new(&model, SEED);
    let mut pace = Pace::new();
    loop {
        let progress = simulation.block();
        if progress.done {
            break;
        }
        if pace.is_time() {
            say(&format!("{} {}", progress.trials, progress.share));
        }
    }
    say(&simulation.outcome().to_text());
}
