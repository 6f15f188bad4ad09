"""What a run holds to the acceleration of its string, written from the formulas.

Gate times stand in edges.py. Correlated neighbors by the sine transform, which diagonalizes their covariance;
the program combines rows one after another. Rules are the same, since they define the result: correlations
tried, fewest readings, what counts as an edge. Source: JCGM 100:2008 4.2.3 for a mean.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy import fft

from edges import Edges, fit_edges
from fitting import INFINITE, Fitted, Slowing, best, between, deviance, drawn_line, m, slowing_of, solve

FEWEST_READINGS = {
    "velocity": 3,
    "angular-velocity": 3,
    "sampled-acceleration": 2,
    "position": 4,
    "angle": 4,
    "gate-times": 5,
    "both-edges": 5,
}
CORRELATIONS = (0.0, -0.5, -0.475, -0.45, -0.4, -0.3, -0.2, -0.1, 0.1, 0.2, 0.3, 0.4, 0.5)
SPOKE_TOLERANCE = 0.003  # of the travel per spoke
ONE_STEP = 0.03  # how unlike the steps between edges may be
SAME_TRAVEL = 0.05  # how far a file's own travel may be from the apparatus'
FEWEST_STEPS_ALIKE = 5
FEWEST_EDGES = 6  # more than these


@dataclass(frozen=True)
class Setup:
    travel: float | None
    spokes: int
    radius: float | None
    height: float | None


# Edges behind a file of positions or velocities -----------------------------------------------------


def one_step(steps):
    """The middle of steps that are all alike; None when they are not."""
    if len(steps) < FEWEST_STEPS_ALIKE:
        return None
    middle = np.sort(steps)[len(steps) // 2]
    alike = middle != 0 and np.all(np.abs(steps / middle - 1) < ONE_STEP)
    return middle if alike else None


def edges_behind(kind, times, values):
    """Times of edges and the step between them, or None."""
    if kind == "position":
        step = one_step(np.diff(values))
        return None if step is None else (times, step)
    if np.any(values == 0):
        return None
    # Each velocity is step/duration at the middle: half a step from one middle to its end, half to the next.
    step = one_step(np.diff(times) / ((1 / values[1:] + 1 / values[:-1]) / 2))
    if step is None:
        return None
    begins, ends = times - step / values / 2, times + step / values / 2
    edges = np.concatenate([begins[:1], (ends[:-1] + begins[1:]) / 2, ends[-1:]])
    return (edges, step) if np.all(np.diff(edges) > 0) else None


# Sampled curves -------------------------------------------------------------------------------------


def fit_sampled(times, values, velocities, scale):
    """A line or a parabola; errors of neighbors with correlation ρ, all others with none.

    The covariance, 1 on the diagonal and ρ beside it, has the sines as its axes, with variances
    1 + 2 ρ cos(π k/(n + 1)): along them the readings are independent.
    """
    middle = (times[0] + times[-1]) / 2
    since, reach = times - middle, (times[-1] - times[0]) / 2
    degree = 1 if velocities else 2
    powers = [(since / reach) ** power for power in range(degree + 1)]
    turned = [fft.dst(column, type=1, norm="ortho") for column in (*powers, values)]
    angles = np.pi * np.arange(1, len(times) + 1) / (len(times) + 1)

    def independent(column, correlation):
        return column / np.sqrt(1 + 2 * correlation * np.cos(angles))

    def solved_with(correlation):
        *x, y = [independent(column, correlation) for column in turned]
        return x, y, solve(x, y)

    def deviance_of(correlation):
        variances = 1 + 2 * correlation * np.cos(angles)
        return deviance(solved_with(correlation)[2], np.sum(np.log(variances)))

    correlation = best(CORRELATIONS, deviance_of)
    x, y, solved = solved_with(correlation)
    coefficients = solved.coefficients / reach ** np.arange(degree + 1.0)
    deviation = math.sqrt(solved.variance)
    acceleration = degree * coefficients[degree]  # slope of v, or twice the quadratic coefficient of x
    factor = degree / reach**degree
    u = deviation * math.sqrt(solved.inverse[degree, degree]) * factor
    # v' = a - κ v from the middle on: -κ (v w + a w²/2) on v, and its integral on x.
    velocity = coefficients[degree - 1]
    if velocities:
        delay = -(velocity * since + acceleration * since**2 / 2)
    else:
        delay = -(velocity * since**2 / 2 + acceleration * since**3 / 6)
    delay = independent(fft.dst(delay, type=1, norm="ortho"), correlation)
    slowing = slowing_of(x, solved, delay, y, degree)
    if slowing:
        slowing = Slowing(
            slowing.rate, slowing.u, slowing.degrees_of_freedom, slowing.effect * factor, slowing.sum_of_squares
        )
    unit = "m_per_s" if velocities else "m"
    details = {
        "curve": "line-through-velocities" if velocities else "parabola-through-positions",
        "middle_s": middle,
        "neighbor_correlation": correlation,
        f"coefficients_{unit}_per_s_to_k": list(coefficients),
        f"standard_deviation_{unit}": deviation,
    }
    drawn = drawn_line(times, values) if velocities else drawn_line(*between(times, values))
    return Fitted(
        acceleration, u, solved.degrees_of_freedom, scale, len(times), details, slowing, drawn
    )


def fit_accelerations(times, values):
    """The level of readings with correlated neighbors, by the whole covariance matrix; from or to rest."""
    count, middle = len(times), (times[0] + times[-1]) / 2
    since = times - middle

    def covariance(correlation):
        return np.eye(count) + correlation * (np.eye(count, k=1) + np.eye(count, k=-1))

    def weighted(correlation):
        """Best level, its variance over that of a reading, and the sum of squares that is left."""
        matrix = covariance(correlation)
        weights = np.linalg.solve(matrix, np.ones(count))
        level = weights @ values / weights.sum()
        left = values - level
        return level, 1 / weights.sum(), left @ np.linalg.solve(matrix, left)

    def deviance_of(correlation):
        _, part, squares = weighted(correlation)
        if squares <= 0:
            return INFINITE
        log_determinant = np.linalg.slogdet(covariance(correlation))[1]
        return log_determinant - math.log(part) + (count - 1) * math.log(squares / (count - 1))

    correlation = best(CORRELATIONS, deviance_of)
    level, part, squares = weighted(correlation)
    variance = squares / (count - 1)
    # Drag: a - κ v with v = v_m + a w; v_m is gained from rest at the first reading, or lost to rest at the last.
    middle_velocity = abs(level) * (times[-1] - times[0]) / 2
    slowing = None
    if count > 2:
        inverse = np.linalg.inv(covariance(correlation))
        columns = np.column_stack([np.ones(count), -level * since])
        normal = columns.T @ inverse @ columns
        found = np.linalg.solve(normal, columns.T @ inverse @ values)
        left = values - columns @ found
        remaining = left @ inverse @ left
        u = math.sqrt(remaining / (count - 2) * np.linalg.inv(normal)[1, 1])
        effect = normal[0, 1] / normal[0, 0] - middle_velocity
        slowing = Slowing(found[1], u, count - 2, effect, remaining)
    details = {
        "curve": "level-through-accelerations",
        "middle_s": middle,
        "neighbor_correlation": correlation,
        "coefficients_m_per_s2_per_s_to_k": [level],
        "standard_deviation_m_per_s2": math.sqrt(variance),
    }
    return Fitted(level, math.sqrt(variance * part), count - 1, None, count, details, slowing, None)


# All kinds of records -------------------------------------------------------------------------------


def by_hand(times, height):
    """The mean of the times of a fall from rest: h = a t²/2."""
    times = np.asarray(times)
    if height is None or len(times) < 2 or np.any(times <= 0):
        return None
    mean, deviation = times.mean(), times.std(ddof=1)
    u_mean, freedom = deviation / math.sqrt(len(times)), len(times) - 1
    acceleration = height / (mean**2 / 2)
    details = {
        "curve": "fall-from-rest",
        "drop_height_m": height,
        "mean_time_s": m(mean, u_mean, freedom),
        "standard_deviation_s": deviation,
    }
    u = acceleration * 2 * u_mean / mean
    return Fitted(acceleration, u, freedom, "drop-height", 0, details)


def entered(value, factor, scale):
    if value is None or factor is None:
        return None
    return Fitted(value["value"] * factor, value["u"] * factor, INFINITE, scale, 0, {"curve": "entered"})


def fit_readings(kind, times, values, motion, stretch, setup):
    times = np.asarray(times, float)
    gate = kind in ("gate-times", "both-edges")
    values = np.arange(len(times), dtype=float) if gate else np.asarray(values, float)
    if stretch is not None:
        start, end = sorted(stretch)
        inside = (times >= start) & (times <= end)
        times, values = times[inside], values[inside]
    if len(times) < FEWEST_READINGS[kind]:
        return None
    if gate:
        if not setup.travel:
            return None
        per_spoke = 2 if kind == "both-edges" else 1
        edges = Edges(
            times,
            values,
            setup.travel / per_spoke,
            setup.spokes * per_spoke,
            SPOKE_TOLERANCE * setup.travel,
        )
        return fit_edges(edges, "travel-per-spoke")
    if kind == "sampled-acceleration":
        # Which way it counts is not said: a falling mass gets faster, any other slower.
        along = 1 if motion == "falling" else -1
        return fit_accelerations(times, values if along * values.sum() >= 0 else -values)
    velocities = kind in ("velocity", "angular-velocity")
    # Counted in the direction of the motion.
    if (values.sum() if velocities else values[-1] - values[0]) < 0:
        values = -values
    if kind in ("angle", "angular-velocity"):
        if setup.radius is None:
            return None
        return fit_sampled(times, values * setup.radius, velocities, "effective-radius")
    behind = edges_behind(kind, times, values)
    if behind is None or len(behind[0]) <= FEWEST_EDGES:
        return fit_sampled(times, values, velocities, None)
    edge_times, step = behind
    same = bool(setup.travel) and abs(step / setup.travel - 1) < SAME_TRAVEL
    pitch = setup.travel if same else step
    numbers = np.arange(len(edge_times), dtype=float)
    edges = Edges(edge_times, numbers, pitch, setup.spokes if same else 0, SPOKE_TOLERANCE * pitch)
    return fit_edges(edges, "travel-per-spoke" if same else None)
