"""A simulated banding wheel: what a logger would write while a mass pulls it round.

Everything here is invented. No part of the program under test is used: the motion is written from
Newton's second law alone,

    m g - T = m a            the hanging mass
    T Re - tau_f = I a / Re  the wheel, turned by a string whose middle runs at Re

    a = (m g Re - tau_f) Re / (I + m Re^2)

so that what the program finds can be held against what was put in.
"""

import json
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Rig:
    """The apparatus as it really is; a student's ruler says something slightly different."""

    radius: float  # drum radius R, m
    string: float  # string diameter d, m
    travel: float  # string travel per spoke s, m
    gravity: float  # m/s^2
    mass_factor: float  # true hanging mass over the mass written down
    spoke_errors: tuple  # where each spoke sits, m of string off its place
    string_noise: float  # standard deviation of the string's position at an edge, m

    @property
    def effective_radius(self):
        return self.radius + self.string / 2


@dataclass(frozen=True)
class Fall:
    """One release: rest until `release`, constant acceleration over `drop`, then slowing down."""

    release: float  # s on the logger's clock
    acceleration: float  # m/s^2
    drop: float  # m
    coasting: float  # m of string that still runs after the mass has landed

    @property
    def landing(self):
        return self.release + (2 * self.drop / self.acceleration) ** 0.5

    @property
    def landing_speed(self):
        return (2 * self.drop * self.acceleration) ** 0.5

    def time_at(self, position):
        """When the string has run `position` meters since its release."""
        if position <= self.drop:
            return self.release + (2 * position / self.acceleration) ** 0.5
        speed, beyond = self.landing_speed, position - self.drop
        slowing = speed * speed / (2 * self.coasting)
        return self.landing + (speed - (speed * speed - 2 * slowing * beyond) ** 0.5) / slowing

    def position_at(self, time):
        fallen = np.clip(time - self.release, 0, self.landing - self.release)
        after = np.clip(time - self.landing, 0, 2 * self.coasting / self.landing_speed)
        slowing = self.landing_speed**2 / (2 * self.coasting)
        return 0.5 * self.acceleration * fallen**2 + self.landing_speed * after - 0.5 * slowing * after**2

    def velocity_at(self, time):
        fallen = np.clip(time - self.release, 0, self.landing - self.release)
        after = np.clip(time - self.landing, 0, 2 * self.coasting / self.landing_speed)
        slowing = self.landing_speed**2 / (2 * self.coasting)
        return self.acceleration * fallen - slowing * after


def acceleration(rig, moment_of_inertia, friction_torque, written_mass):
    mass, radius = written_mass * rig.mass_factor, rig.effective_radius
    pull = mass * rig.gravity * radius - friction_torque
    return pull * radius / (moment_of_inertia + mass * radius**2)


def release(rng, rig, moment_of_inertia, friction_torque, written_mass):
    """A release with the friction of this one run; returns the fall and that friction."""
    friction = friction_torque * (1 + 0.025 * rng.standard_normal())
    fall = Fall(
        release=rng.uniform(2.6, 3.6),
        acceleration=acceleration(rig, moment_of_inertia, friction, written_mass),
        drop=0.85 + rng.uniform(-0.004, 0.004),
        coasting=rng.uniform(0.05, 0.09),
    )
    return fall, friction


def gate_times(rng, rig, fall):
    """Times of the spokes' edges, rounded to 10 us, with a good stretch of them.

    First the edges of a hand that winds the string, then those of the fall, then those of a pulley
    that slows down on its own.
    """
    hand = fall.release - 0.7 - np.cumsum(rng.uniform(0.11, 0.42, rng.integers(3, 6)))
    first_spoke = int(rng.integers(0, 10))
    start = rng.uniform(0.2, 0.95) * rig.travel  # the string's way to the first edge
    edges, counted = [], 0
    while True:
        spoke = (first_spoke + len(hand) + counted) % len(rig.spoke_errors)
        place = start + counted * rig.travel + rig.spoke_errors[spoke]
        place += rig.string_noise * rng.standard_normal()
        if place >= fall.drop + fall.coasting:
            break
        edges.append((place, fall.time_at(place)))
        counted += 1
    times = np.round(np.concatenate([np.sort(hand), [time for _, time in edges]]), 5)
    assert np.all(np.diff(times) > 0)
    good = [time for place, time in edges if place < fall.drop]
    # From between the first two edges to between the last good edge and the landing.
    stretch = [round((good[0] + good[1]) / 2, 2), two_digits_between(good[-1], fall.landing)]
    return [float(time) for time in times], stretch


def two_digits_between(low, high):
    """A time with as few decimals as fit strictly between the two."""
    for digits in (1, 2, 3, 4):
        middle = round((low + high) / 2, digits)
        if low < middle < high:
            return middle
    return (low + high) / 2


def spoke_errors(rng, travel, largest):
    """Ten spokes, each up to `largest` of the spacing off its place, none on average."""
    errors = rng.uniform(-1, 1, 10)
    errors -= errors.mean()
    return tuple(float(error) for error in errors * largest * travel / np.abs(errors).max())


def measured(value, u):
    return {"value": value, "u": u}


def part(shape, mass, dimensions, offset=None, count=1):
    return {
        "shape": shape,
        "count": count,
        "mass_kg": mass,
        "dimensions_m": dimensions,
        "offset_m": offset,
    }


def as_text(value, indent=0):
    """JSON with lists of numbers and small records on one line, so that a change shows as a change."""
    flat = json.dumps(value, ensure_ascii=False)
    only_numbers = isinstance(value, list) and all(isinstance(item, (int, float)) for item in value)
    if not isinstance(value, (dict, list)) or not value or len(flat) < 100 or only_numbers:
        return flat
    pad, close = "\n" + " " * (indent + 1), "\n" + " " * indent
    if isinstance(value, dict):
        items = [f"{json.dumps(key)}: {as_text(item, indent + 1)}" for key, item in value.items()]
        return "{" + pad + ("," + pad).join(items) + close + "}"
    return "[" + pad + ("," + pad).join(as_text(item, indent + 1) for item in value) + close + "]"
