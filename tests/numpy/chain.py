"""Torque points, uncertainty, prediction and comparison, written from the formulas.

Own work beside the program, not after it. Sources: JCGM 100:2008 (GUM) 5.1.2 and 5.1.3 for the law of
propagation, G.4 for effective degrees of freedom; Newton's second law for the torque; the moments of
inertia of OpenStax University Physics vol. 1, 10.5.
"""

import math
from dataclasses import dataclass, replace

from scipy import stats

from accelerations import Setup
from fitting import INFINITE, Fitted, m

SHARED_INPUTS = (
    "drum radius R",
    "string diameter d",
    "travel per spoke s",
    "gravity g",
    "mass scale",
    "drop height h",
    "pulley inertia",
)
NO_CONTRIBUTION = 1e-8  # of the whole


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


def budget(parts, unit):
    """What adds something, the largest first."""
    total = root_sum_of_squares(part for _, part in parts)
    rows = [
        {"source": source, f"contribution_{unit}": abs(part), "share": (part / total) ** 2}
        for source, part in parts
        if abs(part) > NO_CONTRIBUTION * total
    ]
    return sorted(rows, key=lambda row: -row["share"])


# The apparatus ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Rig:
    radius: float
    string: float
    gravity: float
    written_radius: float  # with which angles were turned into lengths
    pulley_inertia: float = 0.0
    pulley_radius: float = 1.0
    travel_factor: float = 1.0
    mass_factor: float = 1.0
    height_factor: float = 1.0

    @property
    def effective_radius(self):
        return self.radius + self.string / 2

    @property
    def pulley_mass(self):
        """The mass that would be as hard to start."""
        return self.pulley_inertia / self.pulley_radius**2

    def factor(self, scale):
        return {
            None: 1.0,
            "travel-per-spoke": self.travel_factor,
            "effective-radius": self.effective_radius / self.written_radius,
            "drop-height": self.height_factor,
        }[scale]


def value_of(entry):
    return entry["value"] if entry else None


def setup_of(apparatus):
    radius, string = value_of(apparatus["drum_radius_m"]), value_of(apparatus["string_diameter_m"])
    return Setup(
        value_of(apparatus["travel_per_spoke_m"]),
        apparatus["spokes"] or 0,
        None if radius is None or string is None else radius + string / 2,
        value_of(apparatus.get("drop_height_m")),
    )


def rig_of(apparatus):
    radius, string = apparatus["drum_radius_m"]["value"], apparatus["string_diameter_m"]["value"]
    rig = Rig(radius, string, apparatus["gravity_m_per_s2"]["value"], radius + string / 2)
    pulley = apparatus.get("pulley_inertia_kg_m2")
    if pulley:
        # As many spokes as it has go once round it.
        around = apparatus["spokes"] * apparatus["travel_per_spoke_m"]["value"]
        rig = replace(rig, pulley_inertia=pulley["value"], pulley_radius=around / (2 * math.pi))
    return rig


def relative(entry):
    return entry["u"] / entry["value"] if entry else 0.0


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
        # The pulley is as much larger.
        factor = 1 + sign * relative(apparatus["travel_per_spoke_m"])
        return replace(rig, travel_factor=factor, pulley_radius=rig.pulley_radius * factor)
    if shared_input == "drop height h":
        return replace(rig, height_factor=1 + sign * relative(apparatus.get("drop_height_m")))
    if shared_input == "pulley inertia":
        pulley = apparatus.get("pulley_inertia_kg_m2")
        return replace(rig, pulley_inertia=rig.pulley_inertia + sign * (pulley["u"] if pulley else 0.0))
    return replace(rig, mass_factor=1 + sign * apparatus["mass_scale_relative_u"])


# Torque points ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class HeavyRun:
    """A fitted run with what hung on its string."""

    name: str
    mass: float
    motion: str
    fitted: Fitted


def carried(run, rig):
    """What the string's acceleration starts beside the table, as a mass on the string."""
    return 0.0 if run.motion == "coasting" else run.mass * rig.mass_factor + rig.pulley_mass


def moved_inertia(run, rig, own):
    return own + carried(run, rig) * rig.effective_radius**2


def torque_point(run, rig, drag=0.0, own_inertia=0.0):
    """Newton's second law, all counted along the motion. `drag` b with the table's own I takes out what
    b ω holds back: a = a0 + κ B."""
    fitted, factor, radius = run.fitted, rig.factor(run.fitted.scale), rig.effective_radius
    lost = 0.0
    if drag != 0 and fitted.slowing:
        lost = drag / moved_inertia(run, rig, own_inertia) * fitted.slowing.effect
    a, u = (fitted.acceleration - lost) * factor, fitted.u * factor
    sign = {"falling": 1, "rising": -1, "coasting": 0}[run.motion]
    mass = run.mass * rig.mass_factor if sign else 0.0
    # The weight pulls along or back; mass and pulley resist the acceleration either way.
    tension_along = sign * mass * rig.gravity - carried(run, rig) * a
    freedom = fitted.degrees_of_freedom
    return {
        "mass": mass,
        "carried": carried(run, rig),
        "a": m(a, u, freedom),
        "tension": sign * tension_along,
        "torque": m(tension_along * radius, carried(run, rig) * u * radius, freedom),
        "alpha": m(a / radius, u / radius, freedom),
        "net_gravity": 0.0 if not sign else rig.gravity - sign * a,
    }


def shared_part(run, apparatus, quantity):
    """What the shared inputs add to one run's point, all in quadrature."""
    halves = []
    for shared_input in SHARED_INPUTS:
        up, down = (torque_point(run, moved(apparatus, shared_input, sign))[quantity] for sign in (1, -1))
        halves.append((up["value"] - down["value"]) / 2)
    return root_sum_of_squares(halves)


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
