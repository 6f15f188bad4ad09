"""What a run holds to the acceleration of its string, written from the formulas.

Other algorithms than the program's where there are others: an edge's derivatives from s = v0 T + a T²/2
by implicit differentiation, offsets along an orthonormal basis of what sums to zero, least squares by
singular values, a damped start in logarithms of the velocities; correlated neighbors by the sine
transform, which diagonalizes their covariance. Grids and rules are the same, since they define the
result: crossovers and correlations tried, fewest readings, spoke tolerance, what counts as an edge.

Sources: H. D. Patterson, R. Thompson 1971 (restricted likelihood); JCGM
100:2008 4.2.3 (mean), H.3 (line). Drag: own derivation below.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy import fft, linalg, optimize

INFINITE = math.inf
FEWEST_READINGS = {
    "velocity": 3,
    "angular-velocity": 3,
    "position": 4,
    "angle": 4,
    "gate-times": 5,
    "both-edges": 5,
}
CROSSOVERS = (0.0, 0.03, 0.06, 0.12, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 30.0)  # m/s
CORRELATIONS = (0.0, -0.5, -0.475, -0.45, -0.4, -0.3, -0.2, -0.1, 0.1, 0.2, 0.3, 0.4, 0.5)
SPOKE_TOLERANCE = 0.003  # of the travel per spoke
EDGES_BEYOND_OFFSETS = 10
ONE_STEP = 0.03  # how unlike the steps between edges may be
SAME_TRAVEL = 0.05  # how far a file's own travel may be from the apparatus'
FEWEST_STEPS_ALIKE = 5
FEWEST_EDGES = 6  # more than these


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
class Setup:
    travel: float | None
    spokes: int
    radius: float | None
    height: float | None


# Least squares ------------------------------------------------------------------------------------


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


# Edges of a gate ----------------------------------------------------------------------------------


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
            lambda unknowns: self.misfit(motion_of(unknowns)), [0.0, math.log(mean), math.log(mean)], x_scale=[0.01, 1, 1]
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


def fit_readings(kind, times, values, stretch, setup):
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
