"""One fit over the lines of all configurations, drag, what contributes to what, the object alone.

All lines are solved together as one adjustment of observations under conditions (Gauss-Helmert): every
angular acceleration and every torque is an observation, one explicit covariance matrix holds them all, and
each run's point must lie on its own line. At the end the friction scatter is a root found by Brent's
method. Sources: R. C. Paule, J. Mandel, J. Res. NBS 87 (1982) 377; R. T. Birge, Phys. Rev. 40 (1932) 207;
JCGM 100:2008 5.1.3 and 5.2.2; standard errors as in D. York et al., Am. J. Phys. 72 (2004) 367.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy import linalg, optimize

from chain import (
    SHARED_INPUTS,
    budget,
    combined,
    moved,
    moved_inertia,
    rig_of,
    root_sum_of_squares,
    torque_point,
    welch_satterthwaite,
)
from fitting import INFINITE, m, solve

FRICTION, READINGS, MASSES = "friction, from run to run", "readings inside each run", "each hanging mass"
DRAG = "correction for drag"
PLAIN_TO_SEE = 4.0  # standard uncertainties of drag
NO_FRICTION_SCATTER = 1e-24  # variance of friction at least, in parts of the friction squared
LARGEST_SCATTER = 1e24
FRICTION_RANGE = 4.0  # of the largest friction torque: the smallest whose scatter is told by it
TELLS_OF_SCATTER = 1e-9  # what a run's own variance must be of the whole, to be judged


class Adjustment:
    """Lines tau = I alpha + tau_f through all points at once, at one variance of friction (of 1 as its size)."""

    def __init__(self, groups, points, u_mass, start, frictions):
        flat = [point for of_line in points for point in of_line]
        self.line = np.repeat(np.arange(len(groups)), [len(group) for group in groups])
        self.count, self.lines = len(flat), len(groups)
        self.alpha = np.array([point["alpha"]["value"] for point in flat])
        self.torque = np.array([point["torque"]["value"] for point in flat])
        self.radius = np.array([point["a"]["value"] / point["alpha"]["value"] for point in flat])
        self.u_alpha = np.array([point["alpha"]["u"] for point in flat])
        self.u_torque = np.array([point["torque"]["u"] for point in flat])
        self.u_mass = np.array([point["net_gravity"] * u_mass for point in flat]) * self.radius
        self.start = start
        self.squared_friction = np.asarray(frictions)[self.line] ** 2

    def covariance(self, friction):
        """Of all angular accelerations, then all torques. An error of a moves both, in opposite ways."""
        across = np.diag(-self.u_alpha * self.u_torque)
        torques = np.diag(self.u_torque**2 + self.u_mass**2 + friction * self.squared_friction)
        return np.block([[np.diag(self.u_alpha**2), across], [across, torques]])

    def solve(self, friction):
        """Slopes and intercepts, their covariance, and how each torque moves them."""
        covariance = self.covariance(friction)
        slopes, intercepts = self.start.copy(), np.zeros(self.lines)
        alpha = self.alpha.copy()  # adjusted
        before = None
        for _ in range(1000):
            conditions = np.hstack([np.diag(-slopes[self.line]), np.eye(self.count)])
            of_residuals = conditions @ covariance @ conditions.T
            design = np.zeros((self.count, 2 * self.lines))
            design[np.arange(self.count), 2 * self.line] = alpha
            design[np.arange(self.count), 2 * self.line + 1] = 1
            weighted = linalg.solve(of_residuals, design, assume_a="pos").T
            # Scaled, since kg m² and N m differ by powers of ten.
            normal = weighted @ design
            scale = 1 / np.sqrt(np.diag(normal))
            inverse = linalg.inv(normal * np.outer(scale, scale)) * np.outer(scale, scale)
            leverage = inverse @ weighted
            residuals = self.torque - intercepts[self.line] - slopes[self.line] * self.alpha
            step = leverage @ residuals
            slopes, intercepts = slopes + step[::2], intercepts + step[1::2]
            residuals = self.torque - intercepts[self.line] - slopes[self.line] * self.alpha
            pulled = covariance @ conditions.T @ linalg.solve(of_residuals, residuals, assume_a="pos")
            alpha = self.alpha - pulled[: self.count]
            size = np.max(np.abs(step) / np.sqrt(np.diag(inverse)))
            # Until rounding alone is left: no step is smaller than the one before.
            if size == 0 or (before is not None and size < 1e-9 and size >= before):
                break
            before = size
        else:
            raise AssertionError(f"the lines do not settle: {size}")
        variances = np.diag(of_residuals)
        return Lines(self, friction, slopes, intercepts, inverse, leverage, residuals, variances, alpha)

    def chi_square(self, friction):
        solved = self.solve(friction)
        return float(np.sum(solved.residuals**2 / solved.variances))

    def friction(self, freedom):
        """The variance of friction at which chi-square is its degrees of freedom."""
        least = NO_FRICTION_SCATTER
        # Downwards from a lot of scatter: with far too little, no line fits and the steps go astray.
        low = 1.0
        while self.chi_square(low) > freedom and low < LARGEST_SCATTER:
            low *= 10
        while self.chi_square(low) <= freedom:
            if low <= least:
                return least
            high, low = low, max(low / 10, least)
        root = optimize.brentq(
            lambda logarithm: self.chi_square(math.exp(logarithm)) - freedom,
            math.log(low),
            math.log(high),
            xtol=1e-14,
            rtol=1e-15,
        )
        return math.exp(root)


@dataclass(frozen=True)
class Lines:
    """What an adjustment found; parameters in the order I, tau_f of the first line, of the second …"""

    adjustment: Adjustment
    friction: float
    slopes: np.ndarray
    intercepts: np.ndarray
    covariance: np.ndarray
    leverage: np.ndarray
    residuals: np.ndarray
    variances: np.ndarray
    alpha: np.ndarray  # adjusted

    @property
    def parameters(self):
        return np.column_stack([self.slopes, self.intercepts]).ravel()


def ordinary(points):
    """Slope and intercept of the line one would draw, with their textbook uncertainties."""
    alpha = np.array([point["alpha"]["value"] for point in points])
    torque = np.array([point["torque"]["value"] for point in points])
    solved = solve([np.ones(len(points)), alpha], torque)
    u = np.sqrt(solved.variance * np.diag(solved.inverse))
    return {
        "moment_of_inertia_kg_m2": m(solved.coefficients[1], u[1], solved.degrees_of_freedom),
        "friction_torque_N_m": m(solved.coefficients[0], u[0], solved.degrees_of_freedom),
    }


class Joint:
    """The whole lab: `groups` holds the runs of each line."""

    def __init__(self, groups, apparatus):
        self.groups, self.apparatus = groups, apparatus
        self.u_mass = apparatus.get("hanging_mass_u_kg") or 0.0
        self.freedom = sum(len(group) - 2 for group in groups)
        self.rig = rig_of(apparatus)
        self.drawn = [ordinary([torque_point(run, self.rig) for run in group]) for group in groups]
        self.start = np.array([line["moment_of_inertia_kg_m2"]["value"] for line in self.drawn])
        intercepts = [line["friction_torque_N_m"] for line in self.drawn]
        # Friction scatters in proportion to itself; an intercept within its uncertainty says only how large.
        sizes = np.array([max(abs(it["value"]), it["u"]) for it in intercepts])
        largest = np.max(sizes, initial=0.0) or 1.0
        self.frictions = np.maximum(sizes, largest / FRICTION_RANGE)

    def lines(self, rig, drag=0.0, own=None, friction=None):
        """All lines with b and the tables' own I given; friction's variance where it is known."""
        own = self.start if own is None else own
        points = [
            [torque_point(run, rig, drag, inertia) for run in group] for group, inertia in zip(self.groups, own)
        ]
        adjustment = Adjustment(self.groups, points, self.u_mass, self.start, self.frictions)
        return adjustment.solve(adjustment.friction(self.freedom) if friction is None else friction)

    def mean_drag(self, rig, own):
        """Weighted mean of what each run's curvature says of b; None when none says anything."""
        rows = []
        for group, inertia in zip(self.groups, own):
            for run in group:
                slowing, total = run.fitted.slowing, moved_inertia(run, rig, inertia)
                if slowing and slowing.u > 0:
                    rows.append((slowing.rate * total, slowing.u * total, slowing.degrees_of_freedom))
        if not rows:
            return None
        b, u, freedom = np.array(rows).T
        mean = np.average(b, weights=u**-2.0)
        birge = 1.0
        if len(b) > 1:
            birge = max(1.0, math.sqrt(np.sum(((b - mean) / u) ** 2) / (len(b) - 1)))
        return {
            "coefficient_N_m_s": m(mean, birge / math.sqrt(np.sum(u**-2.0)), freedom.sum()),
            "runs": len(b),
            "corrected": False,
        }

    def with_drag(self, rig, own, shift=0.0, friction=None):
        """Lines and drag that agree with each other, b moved by `shift`."""
        for _ in range(100):
            drag = self.mean_drag(rig, own)
            found = self.lines(rig, drag["coefficient_N_m_s"]["value"] + shift, own, friction)
            moved_by = np.max(np.abs(found.slopes / own - 1))
            own = found.slopes
            if moved_by < 1e-15:
                break
        assert moved_by < 1e-13, moved_by
        return found, {**drag, "corrected": True}

    def best(self):
        """The best estimates: lines, and the drag with whether it was taken out."""
        plain = self.lines(self.rig)
        drag = self.mean_drag(self.rig, plain.slopes)
        if drag is None:
            return plain, None
        b, u = (drag["coefficient_N_m_s"][name] for name in ("value", "u"))
        worse = self.lines(self.rig, u, plain.slopes, plain.friction)
        u_slopes = np.sqrt(np.diag(plain.covariance))[::2]
        bearable = np.all(np.abs(worse.slopes - plain.slopes) <= u_slopes)
        if not (bearable or abs(b / u) > PLAIN_TO_SEE):
            return plain, drag
        return self.with_drag(self.rig, plain.slopes)

    def again(self, found, drag, rig, shift=0.0):
        """The same on another rig; the friction scatter stays as it is."""
        if drag and drag["corrected"]:
            return self.with_drag(rig, found.slopes, shift, found.friction)[0].parameters
        return self.lines(rig, friction=found.friction).parameters

    def results(self):
        """What is said of the whole lab, and of each line."""
        if not self.groups:
            whole = {"friction_scatter": 0.0, "degrees_of_freedom": 0, "chi_square": 0.0, "drag": None}
            return whole, []
        found, drag = self.best()
        shared = {}
        for name in SHARED_INPUTS:
            up, down = (self.again(found, drag, moved(self.apparatus, name, sign)) for sign in (1, -1))
            shared[name] = (up - down) / 2
        of_drag = np.zeros(2 * len(self.groups))
        if drag and drag["corrected"]:
            u = drag["coefficient_N_m_s"]["u"]
            up, down = (self.again(found, drag, self.rig, sign * u) for sign in (1, -1))
            of_drag = (up - down) / 2
        each = [self.line_results(index, found, shared, of_drag) for index in range(len(self.groups))]
        chi_squares = [line["chi_square"] for line in each]
        whole = {
            "friction_scatter": math.sqrt(found.friction),
            "degrees_of_freedom": self.freedom,
            "chi_square": None if None in chi_squares else math.fsum(chi_squares),
            "drag": drag,
        }
        return whole, each

    def line_results(self, index, found, shared, of_drag):
        adjustment = found.adjustment
        here = adjustment.line == index
        places = [2 * index, 2 * index + 1]  # of I and tau_f
        slope, intercept = found.slopes[index], found.intercepts[index]
        alpha, torque, residuals = adjustment.alpha[here], adjustment.torque[here], found.residuals[here]
        variances, leverage = found.variances[here], found.leverage[np.ix_(places, here)]
        # An error of a moves the torque and I times the angular acceleration, to the same side of the line.
        own = (adjustment.u_torque[here] + slope * adjustment.u_alpha[here]) ** 2
        masses = adjustment.u_mass[here] ** 2
        scatter = [
            (source, np.sqrt(leverage**2 @ part))
            for source, part in ((FRICTION, found.friction * adjustment.squared_friction[here]), (READINGS, own), (MASSES, masses))
        ]
        chi_square = None
        if np.all(own + masses > TELLS_OF_SCATTER * variances):
            chi_square = float(np.sum(residuals**2 / (own + masses)))
        weights = 1 / variances
        mean_alpha, mean_torque = np.average(alpha, weights=weights), np.average(torque, weights=weights)
        adjusted = found.alpha[here] - mean_alpha
        covariance = found.covariance[np.ix_(places, places)]
        parts = [[(source, size[which]) for source, size in scatter] for which in (0, 1)]
        for which in (0, 1):
            parts[which].append((DRAG, of_drag[places[which]]))
            parts[which] += [(name, shared[name][places[which]]) for name in SHARED_INPUTS]
        return {
            "moment_of_inertia_kg_m2": self.combined(slope, covariance[0, 0], parts[0]),
            "friction_torque_N_m": self.combined(intercept, covariance[1, 1], parts[1]),
            "friction_scatter_N_m": math.sqrt(found.friction) * self.frictions[index],
            "covariance_kg_m2_N_m": covariance[0, 1],
            "chi_square": chi_square,
            "degrees_of_freedom": float(self.freedom),
            "weighted_fit": {
                "mean_angular_acceleration_rad_per_s2": mean_alpha,
                "mean_torque_N_m": mean_torque,
                "sum_alpha_alpha_per_kg2_m4": np.sum(weights * adjusted * (alpha - mean_alpha)),
                "sum_alpha_torque_per_kg_m2": np.sum(weights * adjusted * (torque - mean_torque)),
            },
            "points": [
                {
                    "run": run.name,
                    "angular_acceleration_rad_per_s2": alpha[row],
                    "torque_N_m": torque[row],
                    "residual_N_m": residuals[row],
                    "residual_u_N_m": math.sqrt(variances[row]),
                }
                for row, run in enumerate(self.groups[index])
            ],
            "drawn_line": self.drawn[index],
            "scatter": [named("source", source, size) for source, size in scatter],
            "drag_contribution": named(None, None, of_drag[places]),
            "contributions": [named("input", name, shared[name][places]) for name in SHARED_INPUTS],
            "moment_of_inertia_budget": budget(parts[0], "kg_m2"),
            "friction_torque_budget": budget(parts[1], "N_m"),
        }

    def combined(self, value, variance, parts):
        """`parts`: what scatters, drag, what is shared. Drag adds to what scatters."""
        drag = dict(parts)[DRAG]
        scatter = math.sqrt(variance)
        freedom = self.freedom
        if drag != 0:
            freedom = welch_satterthwaite([(scatter, freedom), (drag, INFINITE)])
        shared = [part for source, part in parts if source in SHARED_INPUTS]
        return combined(value, math.hypot(scatter, drag), freedom, shared)


def named(kind, name, pair):
    found = {"moment_of_inertia_kg_m2": pair[0], "friction_torque_N_m": pair[1]}
    return {kind: name, **found} if kind else found


def subtract(loaded, empty):
    """What scatters is independent in the two lines; drag and shared inputs move both at once."""

    def of(line, group):
        return np.array([part["moment_of_inertia_kg_m2"] for part in line[group]])

    scatter = np.hypot(of(loaded, "scatter"), of(empty, "scatter"))
    drag = abs(
        loaded["drag_contribution"]["moment_of_inertia_kg_m2"]
        - empty["drag_contribution"]["moment_of_inertia_kg_m2"]
    )
    shared = of(loaded, "contributions") - of(empty, "contributions")
    random, freedom = root_sum_of_squares(scatter), loaded["degrees_of_freedom"]
    if drag != 0:
        freedom = welch_satterthwaite([(random, freedom), (drag, INFINITE)])
    with_it, without = (line["moment_of_inertia_kg_m2"]["value"] for line in (loaded, empty))
    sources = [*zip((FRICTION, READINGS, MASSES), scatter), (DRAG, drag)]
    inputs = list(zip(SHARED_INPUTS, shared))
    return {
        "moment_of_inertia_kg_m2": combined(with_it - without, math.hypot(random, drag), freedom, shared),
        "scatter": [{"source": source, "moment_of_inertia_kg_m2": part} for source, part in sources],
        "contributions": [{"input": name, "moment_of_inertia_kg_m2": part} for name, part in inputs],
        "budget": budget(sources + inputs, "kg_m2"),
    }
