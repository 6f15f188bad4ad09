"""Makes the labs of tests/labs/corners that try every kind of record, motion and friction. Simulated.

    python make_kinds.py

- records.json: both edges, few edges, edges behind velocities and positions, sampled velocities with
  differenced noise, positions, accelerations, angles, angular velocities, a stopwatch, typed values, values not yet typed.
- pulley.json: a pulley that counts, each hanging mass uncertain, runs falling, rising and coasting.
- strong-drag.json: viscous friction plain to see, which is taken out.
- noisy.json: curvature too uncertain for that, which is left in.
- typed.json: nothing but typed values without uncertainty.

The motion is Newton's second law with friction tau_f + b omega:

    v' = a0 - κ v,  a0 = (±m g R - tau_f) R/J,  κ = b/J,  J = I + (m + I_p/r_p²) R²
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy import optimize

import banding_wheel as wheel

CORNERS = Path(__file__).resolve().parents[1] / "labs/corners"
SEED = 4107
RADIUS, GRAVITY, TRAVEL, SPOKES = 0.0255, 9.81, 0.015, 10
TABLE, SLATE = 1.5e-3, 7.0e-3  # kg m^2
m = wheel.measured
SLATE_DISC = [wheel.part("disc", m(1.4, 0.001), [m(0.1, 0.0003)])]
OBJECTS = [{"id": 1, "name": "slate disc", "parts": SLATE_DISC}]


@dataclass(frozen=True)
class Friction:
    torque: float = 1.1e-3  # N m
    scatter: float = 0.02  # of the torque, from run to run
    drag: float = 0.0  # N m s


@dataclass(frozen=True)
class Move:
    """A motion from position 0 at time `begin`."""

    begin: float
    velocity: float
    acceleration: float
    rate: float  # κ

    def position_at(self, time):
        t, k = np.asarray(time) - self.begin, self.rate
        if k == 0:
            return self.velocity * t + self.acceleration * t**2 / 2
        # expm1 keeps the digits of a small κ t.
        return self.acceleration * t / k - (self.velocity - self.acceleration / k) * np.expm1(-k * t) / k

    def velocity_at(self, time):
        t, k = np.asarray(time) - self.begin, self.rate
        if k == 0:
            return self.velocity + self.acceleration * t
        return self.velocity * np.exp(-k * t) - self.acceleration * np.expm1(-k * t) / k

    def time_at(self, position):
        """When it gets there, before it turns back."""
        latest = 20.0
        if self.acceleration < 0:
            ratio = -self.velocity / self.acceleration
            latest = np.log1p(self.rate * ratio) / self.rate if self.rate else ratio
        return optimize.brentq(lambda t: self.position_at(t) - position, self.begin, self.begin + latest, xtol=1e-13)


def move(rng, friction, own, mass, motion="falling", velocity=0.12, pulley_mass=0.0):
    torque = friction.torque * (1 + friction.scatter * rng.standard_normal())
    sign = {"falling": 1, "rising": -1, "coasting": 0}[motion]
    inertia = own + (mass + pulley_mass) * RADIUS**2 * abs(sign)
    acceleration = (sign * mass * GRAVITY * RADIUS - torque) * RADIUS / inertia
    return Move(round(float(rng.uniform(0.5, 2.0)), 3), velocity, acceleration, friction.drag / inertia)


# What a logger writes ------------------------------------------------------------------------------


def edges(rng, moving, count, pitch, offsets, noise=2e-5, clock=4e-6):
    """Times at which a spoke, `pitch` after `pitch` but for its offset, reaches the gate; to 1 µs."""
    places = pitch * np.arange(count) + np.resize(offsets, count) + noise * rng.standard_normal(count)
    times = [moving.time_at(place + pitch) for place in places]
    return [float(time) for time in np.round(times + clock * rng.standard_normal(count), 6)]


def spokes(rng, count, largest):
    offsets = largest * TRAVEL * rng.uniform(-1, 1, count)
    return offsets - offsets.mean()


def gate(rng, moving, count=46, largest=0.002, **noise):
    return {"kind": "gate-times", "time_s": edges(rng, moving, count, TRAVEL, spokes(rng, SPOKES, largest), **noise)}


def both_edges(rng, moving, count=70):
    return edges(rng, moving, count, TRAVEL / 2, spokes(rng, 2 * SPOKES, 0.01))


def sampled_times(moving, count, step):
    return np.round(moving.begin + 0.1 + step * np.arange(count), 3)


def velocities(rng, moving, count=40, step=0.04, noise=0.0005):
    """Differences of positions, whose errors they share with their neighbors."""
    times = sampled_times(moving, count, step)
    error = noise * step * rng.standard_normal(count + 1)
    ends = np.concatenate([times - step / 2, times[-1:] + step / 2])
    found = np.diff(moving.position_at(ends) + error) / step
    return {"kind": "velocity", "time_s": times.tolist(), "velocity_m_per_s": np.round(found, 5).tolist()}


def positions(rng, moving, count=40, step=0.04, noise=0.0002):
    times = sampled_times(moving, count, step)
    found = moving.position_at(times) + noise * rng.standard_normal(count)
    return {"kind": "position", "time_s": times.tolist(), "position_m": np.round(found, 5).tolist()}


def accelerations(rng, moving, sign, smoothed, count=90, step=0.02, noise=0.03):
    """Of a sensor that counts up or down and smooths what it writes, so that neighbors share errors."""
    times = sampled_times(moving, count, step)
    error = noise * rng.standard_normal(count + 1)
    if smoothed:
        error = (error[1:] + error[:-1]) / 2
    found = moving.acceleration - moving.rate * moving.velocity_at(times) + error[:count]
    return times, np.round(sign * found, 3)


def angles(rng, moving, count=40, step=0.04):
    """Of the table, which the readings let turn backwards."""
    times = sampled_times(moving, count, step)
    found = 3.0 - moving.position_at(times) / RADIUS + 0.003 * rng.standard_normal(count)
    return times, found


def angular_velocities(rng, moving, count=40, step=0.04):
    """Each the mean of two neighbors' errors."""
    times = sampled_times(moving, count, step)
    error = 0.03 * rng.standard_normal(count + 1)
    return times, moving.velocity_at(times) / RADIUS + (error[1:] + error[:-1]) / 2


def spoke_velocities(times, travel):
    """What a logger makes of gate times: velocity from spoke to spoke, at the middle; five digits."""
    times = np.asarray(times)
    return {
        "kind": "velocity",
        "time_s": np.round((times[1:] + times[:-1]) / 2, 6).tolist(),
        "velocity_m_per_s": np.round(travel / np.diff(times), 5).tolist(),
    }


def stopwatch(rng, acceleration, height, count=5):
    times = np.sqrt(2 * height / acceleration) + 0.04 * rng.standard_normal(count)
    return {"kind": "stopwatch", "times_s": np.round(times, 2).tolist()}


def csv(heading, *columns):
    """Decimal commas between semicolons; a lone column has points."""
    rows = [";".join(row) for row in zip(*columns)]
    if len(columns) > 1:
        rows = [row.replace(".", ",") for row in rows]
    return "\n".join(["# simulated", heading, *rows]) + "\n"


def written(numbers, digits):
    return [f"{number:.{digits}f}" for number in numbers]


# Labs ----------------------------------------------------------------------------------------------


def run(name, key, mass, readings, motion="falling"):
    return {
        "name": name,
        "object": key,
        "hanging_mass_kg": mass,
        "motion": motion,
        "stretch_s": None,
        "source": None,
        "readings": readings,
    }


def lab(title, runs, version=2, **apparatus):
    return {
        "format": "whorl-lab",
        "version": version,
        "title": title,
        "notes": "Simulated: a program made every number here, none was measured.",
        "provenance": "simulated",
        "apparatus": {
            "drum_radius_m": m(0.025, 0.00004),
            "string_diameter_m": m(0.001, 0.00005),
            "gravity_m_per_s2": m(9.81, 0.004),
            "spokes": SPOKES,
            "travel_per_spoke_m": m(TRAVEL, 0.00001),
            "mass_scale_relative_u": 0.0007,
            "hanging_mass_u_kg": 0.0,
            "pulley_inertia_kg_m2": None,
            "drop_height_m": None,
            **apparatus,
        },
        "objects": OBJECTS,
        "runs": runs,
    }


def records(rng):
    friction, height = Friction(), 0.85
    files = {}

    def falling(mass, own=TABLE, velocity=0.12):
        return move(rng, friction, own, mass, velocity=velocity)

    def from_file(name, text, kind=None):
        files[name] = text
        return {"file": name, "kind": kind}

    # Numbers of their own, so that the other records stay as they are.
    later = np.random.default_rng([SEED, 1])
    times, sensed = accelerations(later, move(later, friction, TABLE, 0.052, velocity=0.0), -1, False)
    upwards = csv("t (s);a (m/s²)", written(times, 3), written(sensed, 3))
    both = both_edges(rng, falling(0.02))
    times, turned = angles(rng, falling(0.045))
    degrees = csv("t (s);angle (°)", written(times, 3), written(np.degrees(turned), 2))
    times, speeds = angular_velocities(rng, falling(0.05))
    per_minute = csv("t (ms);ω (rpm)", written(1000 * times, 0), written(speeds * 60 / (2 * np.pi), 4))
    spoke_times = edges(rng, falling(0.028), 40, TRAVEL, spokes(rng, SPOKES, 0.002))
    other = edges(rng, falling(0.032), 24, 0.02, np.zeros(1))
    few_speeds = edges(rng, falling(0.034), 5, TRAVEL, np.zeros(1))
    empty = [
        ("both edges", 0.02, from_file("records/both-edges.csv", csv("gate time (s)", written(both, 6)), "both-edges")),
        ("few edges", 0.022, gate(rng, falling(0.022), 12)),
        ("few edges, a string that jumps", 0.024, gate(rng, falling(0.024), 19, noise=2e-4)),
        ("velocity from spoke to spoke", 0.028, spoke_velocities(spoke_times, TRAVEL)),
        (
            "position from spoke to spoke, another pulley",
            0.032,
            {"kind": "position", "time_s": other, "position_m": np.round(0.02 * np.arange(24), 4).tolist()},
        ),
        ("four velocities", 0.034, spoke_velocities(few_speeds, TRAVEL)),
        ("velocities", 0.036, velocities(rng, falling(0.036))),
        ("positions", 0.04, positions(rng, falling(0.04))),
        ("angles", 0.045, from_file("records/angles.csv", degrees)),
        ("angular velocities", 0.05, from_file("records/angular-velocities.csv", per_minute)),
        ("accelerations", 0.052, from_file("records/accelerations.csv", upwards)),
        ("stopwatch", 0.055, stopwatch(rng, falling(0.055).acceleration, height)),
        ("typed", 0.06, {"kind": "acceleration", "acceleration_m_per_s2": m(0.234, 0.002)}),
        ("one press of the stopwatch", 0.06, {"kind": "stopwatch", "times_s": [2.1]}),
        ("to be typed", 0.06, {"kind": "acceleration", "acceleration_m_per_s2": None}),
        ("to be typed too", 0.06, {"kind": "angular-acceleration", "angular_acceleration_rad_per_s2": None}),
    ]
    alpha = falling(0.25, TABLE + SLATE).acceleration / RADIUS
    slate = [
        ("both edges", 0.05, {"kind": "both-edges", "time_s": both_edges(rng, falling(0.05, TABLE + SLATE))}),
        ("gate times", 0.10, gate(rng, falling(0.1, TABLE + SLATE))),
        ("from near rest", 0.12, gate(rng, falling(0.12, TABLE + SLATE, velocity=0.02), 40)),
        ("velocities", 0.15, velocities(rng, falling(0.15, TABLE + SLATE), 30)),
        ("angles", 0.18, {"kind": "angle"}),
        ("stopwatch", 0.20, stopwatch(rng, falling(0.2, TABLE + SLATE).acceleration, height)),
        (
            "typed",
            0.25,
            {"kind": "angular-acceleration", "angular_acceleration_rad_per_s2": m(round(alpha, 3), 0.05)},
        ),
    ]
    times, turned = angles(rng, falling(0.18, TABLE + SLATE))
    slate[4][2].update(time_s=times.tolist(), angle_rad=np.round(turned, 4).tolist())
    runs = [run(f"empty, {name}", None, mass, readings) for name, mass, readings in empty]
    runs += [run(f"slate, {name}", 1, mass, readings) for name, mass, readings in slate]
    for motion, velocity, smoothed in (("falling", 0.0, True), ("rising", 0.9, False)):
        moving = move(later, friction, TABLE + SLATE, 0.22, motion, velocity)
        times, sensed = accelerations(later, moving, 1, smoothed)
        columns = {"time_s": times.tolist(), "sampled_acceleration_m_per_s2": sensed.tolist()}
        record = {"kind": "sampled-acceleration", **columns}
        runs.append(run(f"slate, accelerations, {motion}", 1, 0.22, record, motion))
    made = lab("Every kind of record", runs, 3, drop_height_m=m(height, 0.002), hanging_mass_u_kg=0.00005)
    return made, files


def pulley(rng):
    around = SPOKES * TRAVEL / (2 * np.pi)
    inertia = 0.006 * around**2
    friction = Friction(drag=2e-6)
    runs = []
    for key, own, masses in ((None, TABLE, (0.02, 0.03, 0.045)), (1, TABLE + SLATE, (0.06, 0.12, 0.2))):
        name = "slate" if key else "empty"
        for mass in masses:
            down = move(rng, friction, own, mass, pulley_mass=0.006)
            up = move(rng, friction, own, mass, "rising", velocity=0.9, pulley_mass=0.006)
            label = f"{name}, {1000 * mass:.0f} g"
            runs.append(run(label, key, mass, gate(rng, down)))
            runs.append(run(f"{label}, rising", key, mass, gate(rng, up, 40), "rising"))
        slack = move(rng, friction, own, 0.0, "coasting", velocity=0.5)
        runs.append(run(f"{name}, coasting", key, None, gate(rng, slack, 30), "coasting"))
    return lab("A pulley that counts", runs, pulley_inertia_kg_m2=m(inertia, 0.1 * inertia), hanging_mass_u_kg=0.0001)


def series(rng, friction, record):
    runs = []
    for key, own, masses in ((None, TABLE, (0.02, 0.03, 0.04, 0.05)), (1, TABLE + SLATE, (0.05, 0.1, 0.15, 0.2))):
        for mass in masses:
            name = f"{'slate' if key else 'empty'}, {1000 * mass:.0f} g"
            runs.append(run(name, key, mass, record(rng, move(rng, friction, own, mass))))
    return runs


def strong_drag(rng):
    return lab("Strong drag", series(rng, Friction(scatter=0.004, drag=2e-4), gate))


def noisy(rng):
    def record(rng, moving):
        return positions(rng, moving, 25, 0.06, noise=0.002)

    return lab("Noisy positions", series(rng, Friction(scatter=0.004), record))


def typed(rng):
    def record(_, moving):
        value = m(round(moving.acceleration, 4), 0.0)
        return {"kind": "acceleration", "acceleration_m_per_s2": value}

    return lab("Typed values alone", series(rng, Friction(), record), spokes=None, travel_per_spoke_m=None)


def make():
    rng = np.random.default_rng(SEED)
    made, files = records(rng)
    labs = {
        "records": made,
        "pulley": pulley(rng),
        "strong-drag": strong_drag(rng),
        "noisy": noisy(rng),
        "typed": typed(rng),
    }
    texts = {CORNERS / f"{name}.json": wheel.as_text(lab) + "\n" for name, lab in labs.items()}
    return texts | {CORNERS / name: text for name, text in files.items()}


if __name__ == "__main__":
    for path, text in make().items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        print(f"{path.name}: {len(text.encode()) / 1000:.1f} kB")
