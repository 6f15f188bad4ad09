//! Physics and statistics of the rotational-inertia lab.
