"""The whole lab in numpy: readings to comparison, written from the formulas.

Own work beside the program, not after it: straight lines and parabolas by a QR decomposition
(numpy), quantiles from scipy. Sources: JCGM 100:2008 (GUM) 5.1.2 and 5.1.3 for the law of
propagation, G.4 for effective degrees of freedom, H.3 for a line's uncertainties; Newton's second
law for the torque; the moments of inertia of OpenStax University Physics vol. 1, 10.5.
"""

import math
from dataclasses import dataclass, replace

import numpy as np
from scipy import stats

INFINITE = math.inf
SHARED_INPUTS = ("drum radius R", "string diameter d", "travel per spoke s", "gravity g", "mass scale")
FEWEST_READINGS = {"velocity": 3, "position": 4, "gate-times": 4}


# Least squares ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Fit:
    coefficients: np.ndarray  # of 1, (x - center), (x - center)^2 ...
    covariance: np.ndarray
    residuals: np.ndarray
    degrees_of_freedom: int
    center: float


def fit_powers(x, y, degree):
    """Polynomial by ordinary least squares in powers of (x - mean of x)."""
    x, y = np.asarray(x, float), np.asarray(y, float)
    center = x.mean()
    reach = np.abs(x - center).max()
    design = np.vander((x - center) / reach, degree + 1, increasing=True)
    q, r = np.linalg.qr(design)
    inverse = np.linalg.inv(r)
    scaled = inverse @ (q.T @ y)
    residuals = y - design @ scaled
    residuals -= q @ (q.T @ residuals)  # one step of refinement: residuals are small beside y
    freedom = len(x) - degree - 1
    variance = residuals @ residuals / freedom
    scale = reach ** -np.arange(degree + 1.0)
    covariance = variance * (inverse @ inverse.T) * np.outer(scale, scale)
    return Fit(scaled * scale, covariance, residuals, freedom, center)


# Uncertainty --------------------------------------------------------------------------------------


def root_sum_of_squares(parts):
    return math.sqrt(math.fsum(part * part for part in parts))


def welch_satterthwaite(parts):
    """GUM formula (G.2b); `parts` are pairs (u, degrees of freedom)."""
    total = math.fsum(u * u for u, _ in parts)
    if total == 0:
        return INFINITE
    weight = math.fsum((u * u / total) ** 2 / freedom for u, freedom in parts if freedom != INFINITE)
    return 1 / weight if weight > 0 else INFINITE


def coverage_factor(freedom):
    """95 %, two-sided; degrees of freedom truncated to a whole number (GUM G.4.1, note 1)."""
    if freedom == INFINITE:
        return stats.norm.ppf(0.975)
    return stats.t.ppf(0.975, max(1, math.floor(freedom)))


def m(value, u, freedom=INFINITE):
    return {
        "value": value,
        "u": u,
        "degrees_of_freedom": None if freedom == INFINITE else freedom,
    }


def combined(value, random, freedom, contributions):
    shared = root_sum_of_squares(contributions)
    u = math.hypot(random, shared)
    effective = welch_satterthwaite([(random, freedom), (shared, INFINITE)])
    k = coverage_factor(effective)
    return {
        "value": value,
        "u_random": random,
        "u_shared": shared,
        "u": u,
        "degrees_of_freedom": None if effective == INFINITE else effective,
        "coverage_factor": k,
        "interval_95": [value - k * u, value + k * u],
    }


# Runs ---------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Rig:
    radius: float
    string: float
    gravity: float
    travel_factor: float = 1.0
    mass_factor: float = 1.0

    @property
    def effective_radius(self):
        return self.radius + self.string / 2


def rig_of(apparatus):
    return Rig(
        apparatus["drum_radius_m"]["value"],
        apparatus["string_diameter_m"]["value"],
        apparatus["gravity_m_per_s2"]["value"],
    )


def moved(apparatus, shared_input, sign):
    """The rig with one input moved by one standard uncertainty."""
    rig = rig_of(apparatus)
    if shared_input == "drum radius R":
        return replace(rig, radius=rig.radius + sign * apparatus["drum_radius_m"]["u"])
    if shared_input == "string diameter d":
        return replace(rig, string=rig.string + sign * apparatus["string_diameter_m"]["u"])
    if shared_input == "gravity g":
        return replace(rig, gravity=rig.gravity + sign * apparatus["gravity_m_per_s2"]["u"])
    if shared_input == "travel per spoke s":
        travel = apparatus["travel_per_spoke_m"]
        relative = travel["u"] / travel["value"] if travel else 0.0
        return replace(rig, travel_factor=1 + sign * relative)
    return replace(rig, mass_factor=1 + sign * apparatus["mass_scale_relative_u"])


@dataclass(frozen=True)
class FittedRun:
    kind: str
    mass: float
    acceleration: float
    u: float
    degrees_of_freedom: int
    fitted: int


def fit_run(run, kind, times, values, travel):
    """Constant acceleration over the stretch, ends included."""
    times = np.asarray(times, float)
    if kind == "gate-times":
        values = np.arange(len(times)) * travel
    values = np.asarray(values, float)
    if run["stretch_s"] is not None:
        start, end = sorted(run["stretch_s"])
        inside = (times >= start) & (times <= end)
        times, values = times[inside], values[inside]
    if len(times) < FEWEST_READINGS[kind]:
        return None
    degree = 1 if kind == "velocity" else 2
    fit = fit_powers(times, values, degree)
    factor = degree  # slope of v, or twice the quadratic coefficient of x
    return FittedRun(
        kind,
        run["hanging_mass_kg"],
        factor * fit.coefficients[degree],
        factor * math.sqrt(fit.covariance[degree, degree]),
        fit.degrees_of_freedom,
        len(times),
    )


def torque_point(run, rig):
    factor = rig.travel_factor if run.kind == "gate-times" else 1.0
    a, u = run.acceleration * factor, run.u * factor
    mass, radius = run.mass * rig.mass_factor, rig.effective_radius
    tension = mass * (rig.gravity - a)
    return {
        "mass": mass,
        "a": m(a, u, run.degrees_of_freedom),
        "tension": tension,
        "torque": m(tension * radius, mass * u * radius, run.degrees_of_freedom),
        "alpha": m(a / radius, u / radius, run.degrees_of_freedom),
    }


def shared_part(run, apparatus, quantity):
    """What the shared inputs add to one run's point, all in quadrature."""
    halves = []
    for shared_input in SHARED_INPUTS:
        up, down = (torque_point(run, moved(apparatus, shared_input, sign))[quantity] for sign in (1, -1))
        halves.append((up["value"] - down["value"]) / 2)
    return root_sum_of_squares(halves)


# Lines and objects --------------------------------------------------------------------------------


def line_on(runs, rig):
    points = [torque_point(run, rig) for run in runs]
    alpha = np.array([point["alpha"]["value"] for point in points])
    torque = np.array([point["torque"]["value"] for point in points])
    fit = fit_powers(alpha, torque, 1)
    slope, back = fit.coefficients[1], -fit.center
    # From powers of (alpha - mean) to the intercept at alpha = 0.
    at_zero = np.array([1.0, back])
    intercept_variance = at_zero @ fit.covariance @ at_zero
    return points, {
        "slope": slope,
        "u_slope": math.sqrt(fit.covariance[1, 1]),
        "intercept": fit.coefficients[0] + back * slope,
        "u_intercept": math.sqrt(intercept_variance),
        "covariance": fit.covariance[0, 1] + back * fit.covariance[1, 1],
        "residuals": fit.residuals,
        "degrees_of_freedom": fit.degrees_of_freedom,
    }


def analyze_line(runs, apparatus):
    rig = rig_of(apparatus)
    points, line = line_on(runs, rig)
    contributions = []
    for shared_input in SHARED_INPUTS:
        up = line_on(runs, moved(apparatus, shared_input, +1))[1]
        down = line_on(runs, moved(apparatus, shared_input, -1))[1]
        contributions.append(
            {
                "input": shared_input,
                "moment_of_inertia_kg_m2": (up["slope"] - down["slope"]) / 2,
                "friction_torque_N_m": (up["intercept"] - down["intercept"]) / 2,
            }
        )
    radius, freedom = rig.effective_radius, line["degrees_of_freedom"]
    # The two errors a shares between torque and angular acceleration add along the residual.
    u_residual = [
        abs(point["mass"] * radius + line["slope"] / radius) * point["a"]["u"] for point in points
    ]
    chi_square = None
    if all(u > 0 for u in u_residual):
        chi_square = math.fsum((r / u) ** 2 for r, u in zip(line["residuals"], u_residual))
    return {
        "moment_of_inertia_kg_m2": combined(
            line["slope"],
            line["u_slope"],
            freedom,
            [part["moment_of_inertia_kg_m2"] for part in contributions],
        ),
        "friction_torque_N_m": combined(
            line["intercept"],
            line["u_intercept"],
            freedom,
            [part["friction_torque_N_m"] for part in contributions],
        ),
        "covariance": line["covariance"],
        "chi_square": chi_square,
        "degrees_of_freedom": freedom,
        "residuals_N_m": list(line["residuals"]),
        "contributions": contributions,
    }


def subtract(loaded, empty):
    with_it, without = loaded["moment_of_inertia_kg_m2"], empty["moment_of_inertia_kg_m2"]
    parts = [
        (line["moment_of_inertia_kg_m2"]["u_random"], line["degrees_of_freedom"]) for line in (loaded, empty)
    ]
    contributions = [
        {
            "input": left["input"],
            "moment_of_inertia_kg_m2": left["moment_of_inertia_kg_m2"] - right["moment_of_inertia_kg_m2"],
        }
        for left, right in zip(loaded["contributions"], empty["contributions"])
    ]
    return {
        "moment_of_inertia_kg_m2": combined(
            with_it["value"] - without["value"],
            root_sum_of_squares([u for u, _ in parts]),
            welch_satterthwaite(parts),
            [part["moment_of_inertia_kg_m2"] for part in contributions],
        ),
        "contributions": contributions,
    }


# Prediction and comparison ------------------------------------------------------------------------

CENTERED = {
    "disc": lambda mass, r: mass * r**2 / 2,
    "ring": lambda mass, inner, outer: mass * (inner**2 + outer**2) / 2,
    "hoop": lambda mass, r: mass * r**2,
    "rod-middle": lambda mass, length: mass * length**2 / 12,
    "rod-end": lambda mass, length: mass * length**2 / 3,
    "plate": lambda mass, length, width: mass * (length**2 + width**2) / 12,
    "sphere": lambda mass, r: 2 * mass * r**2 / 5,
    "spherical-shell": lambda mass, r: 2 * mass * r**2 / 3,
    "point-mass": lambda mass, distance: mass * distance**2,
}


def predict(parts):
    """Sum over the parts; every mass and length is an independent input."""
    value, contributions = 0.0, []
    for part in parts:
        dimensions = part["dimensions_m"]
        inputs = [part["mass_kg"], *dimensions]
        inputs += [part["offset_m"]] if part["offset_m"] else []

        def moment(numbers, part=part, n=len(dimensions)):
            mass, lengths, offset = numbers[0], numbers[1 : 1 + n], numbers[1 + n :]
            own = CENTERED[part["shape"]](mass, *lengths)
            return part["count"] * (own + sum(mass * distance**2 for distance in offset))

        best = [entry["value"] for entry in inputs]
        value += moment(best)
        for index, entry in enumerate(inputs):
            up, down = list(best), list(best)
            up[index] += entry["u"]
            down[index] -= entry["u"]
            contributions.append((moment(up) - moment(down)) / 2)
    return m(value, root_sum_of_squares(contributions))


def compare(measured, predicted):
    freedom = measured["degrees_of_freedom"]
    freedom = INFINITE if freedom is None else freedom
    difference = measured["value"] - predicted["value"]
    u = math.hypot(measured["u"], predicted["u"])
    effective = welch_satterthwaite([(measured["u"], freedom), (predicted["u"], INFINITE)])
    expanded = coverage_factor(effective) * u
    percent = None
    if predicted["value"] != 0:
        ratio = measured["value"] / predicted["value"]
        u_percent = 100 / abs(predicted["value"]) * math.hypot(measured["u"], ratio * predicted["u"])
        percent = m(100 * difference / predicted["value"], u_percent, effective)
    if u == 0:
        verdict = "undecided"
    elif abs(difference) > expanded:
        verdict = "differ"
    elif u > 0.1 * abs(predicted["value"]):
        verdict = "agree-weakly"
    else:
        verdict = "agree"
    return {
        "difference_kg_m2": m(difference, u, effective),
        "percent_difference": percent,
        "in_standard_uncertainties": difference / u if u > 0 else None,
        "interval_95_kg_m2": [difference - expanded, difference + expanded],
        "verdict": verdict,
    }
