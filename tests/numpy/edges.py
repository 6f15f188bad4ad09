"""Times of a gate's edges to an acceleration.

Other algorithms than the program's: derivatives from s = v0 T + a T²/2 by implicit differentiation, offsets
along an orthonormal basis of what sums to zero, a damped start in logarithms of the velocities. The grid and
the rules (crossovers tried, edges beyond offsets, spoke tolerance) are the same: they define the result. So is
that offsets count to first order, as offset/v. Drag: own derivation below.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy import linalg, optimize

from fitting import Fitted, best, between, deviance, drawn_line, slowing_of, solve

CROSSOVERS = (0.0, 0.03, 0.06, 0.12, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 30.0)  # m/s
EDGES_BEYOND_OFFSETS = 10


@dataclass(frozen=True)
class Edges:
    """When, which, how far apart; after how many the same comes round; how sure its place is."""

    times: np.ndarray
    numbers: np.ndarray
    pitch: float
    period: int
    tolerance: float

    @property
    def places(self):
        return (self.numbers - self.numbers[0]) * self.pitch


class EdgeModel:
    """t = t0 + T(s) + offset/v with s = v0 T + a T²/2; the variance is that of the clock times
    1 + (crossover/v)²."""

    def __init__(self, edges, with_offsets):
        self.edges = edges
        self.places = edges.places
        self.start = edges.times[0]  # times from here on keep their last digits
        self.times = edges.times - self.start
        self.basis = np.zeros((len(self.times), 0))
        self.spokes = np.zeros((0, 0))
        if with_offsets:
            # Any offsets that sum to zero, along orthonormal directions.
            self.spokes = linalg.null_space(np.ones((1, edges.period)))
            which = np.round(edges.numbers - edges.numbers[0]).astype(int) % edges.period
            self.basis = self.spokes[which]

    def velocities(self, motion):
        return np.sqrt(motion[1] ** 2 + 2 * motion[2] * self.places)

    def elapsed(self, motion):
        """The way over the mean velocity."""
        return self.places / ((motion[1] + self.velocities(motion)) / 2)

    def misfit(self, motion):
        return self.times - motion[0] - self.elapsed(motion)

    def deviations(self, motion, crossover):
        """Standard deviation of each edge in units of the clock's."""
        return np.hypot(1.0, crossover / self.velocities(motion))

    def columns(self, motion):
        """0 = dv0 T + da T²/2 + v dT gives the derivatives of T; an offset is reached 1/v later."""
        elapsed, velocities = self.elapsed(motion), self.velocities(motion)
        own = [np.ones(len(elapsed)), -elapsed / velocities, -(elapsed**2) / (2 * velocities)]
        return own + [direction / velocities for direction in self.basis.T]

    def delay(self, motion):
        """∂t/∂κ: x = v0 T + a T²/2 - κ (v0 T²/2 + a T³/6) to first order in κ, at a fixed x."""
        elapsed = self.elapsed(motion)
        return (motion[1] * elapsed**2 / 2 + motion[2] * elapsed**3 / 6) / self.velocities(motion)

    def at(self, motion, crossover):
        """The linear problem about a motion, rows divided by their deviations."""
        deviations = self.deviations(motion, crossover)
        columns = [column / deviations for column in self.columns(motion)]
        return columns, self.misfit(motion) / deviations, deviations

    def begin(self):
        """A damped fit in t0 and the logarithms of the first and the last velocity: neither stands still."""
        last = self.places[-1]

        def motion_of(unknowns):
            first, end = np.exp(unknowns[1:])
            return np.array([unknowns[0], first, (end**2 - first**2) / (2 * last)])

        mean = last / self.times[-1]
        done = optimize.least_squares(
            lambda unknowns: self.misfit(motion_of(unknowns)),
            [0.0, math.log(mean), math.log(mean)],
            x_scale=[0.01, 1, 1],
        )
        return motion_of(done.x)

    def settle(self, motion, crossover):
        """Steps of the linear problem until there are none: weights, motion and offsets agree."""
        for _ in range(200):
            step = solve(*self.at(motion, crossover)[:2]).coefficients
            motion = motion + step[:3]
            if abs(step[2]) <= 1e-14 * (abs(motion[2]) + motion[1] ** 2 / self.places[-1]):
                return motion
        # The last digits of a step are rounding of times of seconds beside a noise of microseconds.
        assert abs(step[2]) < 1e-12 * abs(motion[2]), step
        return motion


def fit_edges(edges, scale):
    offsets = edges.period > 1 and len(edges.times) >= edges.period + EDGES_BEYOND_OFFSETS
    model = EdgeModel(edges, offsets)
    motion = model.settle(model.begin(), 0.0)
    if not offsets and edges.tolerance > 0:
        crossover = CROSSOVERS[-1]
    else:

        def deviance_of(crossover):
            columns, misfit, deviations = model.at(motion, crossover)
            return deviance(solve(columns, misfit), 2 * np.sum(np.log(deviations)))

        crossover = best(CROSSOVERS, deviance_of)
    motion = model.settle(motion, crossover)
    columns, misfit, deviations = model.at(motion, crossover)
    solved = solve(columns, misfit)
    sigma = math.sqrt(solved.variance)
    tolerance = edges.tolerance / CROSSOVERS[-1]
    counts = not offsets and tolerance > sigma
    delay = model.delay(motion) / deviations
    slowing = slowing_of(columns, solved, delay, misfit, 2)
    test = None
    if offsets and slowing:
        plain = solve([*columns[:3], delay], misfit)
        left = slowing.sum_of_squares
        spokes, freedom = edges.period - 1, slowing.degrees_of_freedom
        f = ((plain.sum_of_squares - left) / spokes) / (left / freedom)
        test = {"f": f, "numerator_degrees": spokes, "denominator_degrees": freedom}
    details = {
        "curve": "edge-times",
        "edges": len(edges.times),
        "travel_per_edge_m": edges.pitch,
        "first_time_s": model.start + motion[0],
        "first_velocity_m_per_s": motion[1],
        "crossover_m_per_s": crossover,
        "clock_noise_s": sigma,
        "position_noise_m": sigma * crossover,
        "spoke_offsets_m": list(model.spokes @ solved.coefficients[3:]) if offsets else [],
        "spoke_offsets_test": test,
        "spoke_tolerance_counts": counts,
    }
    u = math.sqrt(solved.inverse[2, 2]) * (tolerance if counts else sigma)
    drawn = drawn_line(*between(edges.times, edges.numbers * edges.pitch))
    return Fitted(motion[2], u, solved.degrees_of_freedom, scale, len(edges.times), details, slowing, drawn)
