"""Writes a file of a million rows, time and velocity: the slate disc's fall, timed far too finely.

A rest, a fall with constant acceleration, a landing; white noise on the velocity. Simulated, with a fixed seed.
"""

import sys

import numpy as np

ROWS = 1_000_000
SAMPLES_PER_SECOND = 100_000
REST_S = 0.3
LANDING_S = 9.7
ACCELERATION = 0.137  # m/s^2
NOISE = 0.003  # m/s

time = np.arange(ROWS) / SAMPLES_PER_SECOND
velocity = ACCELERATION * np.clip(time - REST_S, 0, LANDING_S - REST_S)
velocity[time > LANDING_S] = 0
velocity += np.random.default_rng(20).normal(0, NOISE, ROWS)
np.savetxt(
    sys.argv[1], np.column_stack([time, velocity]), fmt=["%.7f", "%.8f"],
    delimiter=",", header="t (s),v (m/s)", comments="",
)
