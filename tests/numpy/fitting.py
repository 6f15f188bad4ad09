"""Least squares and what every fit of a run has in common.

By singular values; the program makes its columns orthogonal one by one. Sources: H. D. Patterson,
R. Thompson, Biometrika 58 (1971) 545 for the restricted likelihood; JCGM 100:2008 H.3 for a line.
"""

import math
from dataclasses import dataclass

import numpy as np

INFINITE = math.inf


def m(value, u, freedom=INFINITE):
    return {"value": value, "u": u, "degrees_of_freedom": None if freedom == INFINITE else float(freedom)}


@dataclass(frozen=True)
class Slowing:
    """κ of v' = a - κ v, and how much the acceleration fitted without it is off per κ."""

    rate: float
    u: float
    degrees_of_freedom: int
    effect: float
    sum_of_squares: float


@dataclass(frozen=True)
class Fitted:
    acceleration: float
    u: float
    degrees_of_freedom: float
    scale: str | None  # what of the apparatus it is proportional to
    readings: int
    details: dict
    slowing: Slowing | None = None
    drawn: dict | None = None


@dataclass(frozen=True)
class Solved:
    """Least squares by singular values, rows independent and alike."""

    coefficients: np.ndarray
    residuals: np.ndarray
    inverse: np.ndarray  # (XᵀX)⁻¹
    log_determinant: float  # of XᵀX
    degrees_of_freedom: int

    @property
    def sum_of_squares(self):
        return self.residuals @ self.residuals

    @property
    def variance(self):
        return self.sum_of_squares / self.degrees_of_freedom


def solve(columns, y):
    x = np.column_stack(columns)
    lengths = np.linalg.norm(x, axis=0)
    left, singular, right = np.linalg.svd(x / lengths, full_matrices=False)
    residuals = y - left @ (left.T @ y)
    residuals -= left @ (left.T @ residuals)  # one step of refinement: residuals are small beside y
    back = (right.T / singular) / lengths[:, None]
    return Solved(
        back @ (left.T @ y),
        residuals,
        back @ back.T,
        2 * np.sum(np.log(singular)) + 2 * np.sum(np.log(lengths)),
        len(y) - x.shape[1],
    )


def deviance(solved, log_variances):
    """-2 ln of the restricted likelihood, but for what is the same for all."""
    freedom = solved.degrees_of_freedom
    if solved.variance <= 0:
        return INFINITE
    return log_variances + solved.log_determinant + freedom * math.log(solved.variance)


def best(candidates, deviance_of):
    values = [deviance_of(candidate) for candidate in candidates]
    return candidates[int(np.argmin(values))]


def slowing_of(columns, solved, delay, y, acceleration_index):
    """The same fit with one column more, ∂/∂κ: its coefficient, and what leaving it out does."""
    if solved.degrees_of_freedom < 2:
        return None
    more = solve([*columns, delay], y)
    without = solve(columns, delay)
    u = math.sqrt(more.variance * more.inverse[-1, -1])
    rate = more.coefficients[-1]
    return Slowing(rate, u, more.degrees_of_freedom, without.coefficients[acceleration_index], more.sum_of_squares)


def drawn_line(times, velocities):
    """Ordinary least squares on v(t): the line one would draw."""
    if len(times) < 3:
        return None
    slope, u = ordinary_slope(times, velocities)
    return {"acceleration_m_per_s2": m(slope, u, len(times) - 2)}


def ordinary_slope(x, y):
    x, y = np.asarray(x), np.asarray(y)
    solved = solve([np.ones(len(x)), x - x.mean()], y)
    return solved.coefficients[1], math.sqrt(solved.variance * solved.inverse[1, 1])


def between(times, positions):
    return (times[1:] + times[:-1]) / 2, np.diff(positions) / np.diff(times)
