//! The same work for many seeds, on all cores.

/// `work(index)` for every index below `count`, in order.
pub fn map<T: Send>(count: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let share = count.div_ceil(cores).max(1);
    std::thread::scope(|scope| {
        let workers: Vec<_> = (0..count)
            .step_by(share)
            .map(|start| {
                let work = &work;
                scope.spawn(move || (start..(start + share).min(count)).map(work).collect::<Vec<T>>())
            })
            .collect();
        workers.into_iter().flat_map(|worker| worker.join().unwrap()).collect()
    })
}
