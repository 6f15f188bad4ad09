//! Memory in proportion to the input.

use cap::Cap;
use std::alloc::System;
use std::panic;
use std::sync::Once;

#[global_allocator]
static ALLOCATOR: Cap<System> = Cap::new(System, usize::MAX);

/// Does the work, and ends the program when it ever holds more than `bytes` of memory at once, beside what
/// was held before. Memory that is asked for counts, used or not.
pub fn within<T>(bytes: usize, work: impl FnOnce() -> T) -> T {
    static HOOK: Once = Once::new();
    HOOK.call_once(free_panics);
    limit(ALLOCATOR.allocated().saturating_add(bytes));
    let done = work();
    limit(usize::MAX);
    done
}

/// Words and backtrace of a panic take memory of their own.
fn free_panics() {
    let report = panic::take_hook();
    panic::set_hook(Box::new(move |panic| {
        limit(usize::MAX);
        report(panic);
    }));
}

fn limit(bytes: usize) {
    // It fails only where more is held already.
    ALLOCATOR.set_limit(bytes).expect("no more is held than the limit");
}
