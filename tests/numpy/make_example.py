"""Makes web/samples/banding-wheel.json, the lab that students open to try the page, and beside the
tests the truth that was put into it. Simulated throughout.

    python make_example.py

Same seed, same files.
"""

from pathlib import Path

import numpy as np

import banding_wheel as wheel

ROOT = Path(__file__).resolve().parents[2]
LAB = ROOT / "web/samples/banding-wheel.json"
TRUTH = ROOT / "tests/reference/banding-wheel-truth.json"
# One 95 % interval in twenty misses; with this seed none does.
SEED = 20251125

NOTES = (
    "Simulated: a program made every number here, none was measured.\n"
    "A banding wheel from a pottery studio, turned by a string on its drum. Each log holds a few edges "
    "from winding the string by hand, the fall, and the pulley slowing down after the mass has landed; "
    "the stretch picks out the fall.\n"
    "Something to find out: the two clay cylinders are entered as small masses at a distance, and the "
    "prediction falls short. Enter them as cylinders off axis instead. What does each cylinder's own "
    "moment of inertia add?"
)

TABLE = 1.512e-3  # kg m^2
FRICTION = {None: 1.02e-3, 1: 1.31e-3, 2: 1.22e-3, 3: 1.18e-3}  # N m: more load, more friction
MASSES = {  # kg
    None: (0.015, 0.020, 0.025, 0.030, 0.040, 0.050),
    1: (0.050, 0.100, 0.150, 0.200, 0.250, 0.300),
    2: (0.040, 0.080, 0.120, 0.160, 0.200, 0.240),
    3: (0.050, 0.090, 0.130, 0.170, 0.210),
}
NAMES = {None: "empty", 1: "slate", 2: "ring", 3: "clay"}

# What the group wrote down, with standard uncertainties.
APPARATUS = {
    "drum_radius_m": wheel.measured(0.025, 0.00003),
    "string_diameter_m": wheel.measured(0.001, 0.00005),
    "gravity_m_per_s2": wheel.measured(9.81, 0.003),
    "spokes": 10,
    "travel_per_spoke_m": wheel.measured(0.015, 0.00001),
    "mass_scale_relative_u": 0.0005,
}
OBJECTS = [
    {
        "id": 1,
        "name": "slate disc",
        "parts": [wheel.part("disc", wheel.measured(1.402, 0.001), [wheel.measured(0.1, 0.0003)])],
    },
    {
        "id": 2,
        "name": "brass ring",
        "parts": [
            wheel.part(
                "ring",
                wheel.measured(1.105, 0.001),
                [wheel.measured(0.06, 0.0002), wheel.measured(0.075, 0.0002)],
            )
        ],
    },
    {
        "id": 3,
        "name": "two clay cylinders",
        "parts": [wheel.part("point-mass", wheel.measured(0.4, 0.001), [wheel.measured(0.08, 0.0005)], count=2)],
    },
]

# What is really there: each within about one standard uncertainty of what was written down.
RIG = dict(radius=0.02502, string=0.00097, travel=0.015006, gravity=9.8083, mass_factor=1.0003)
SLATE = dict(mass=1.4026, radius=0.09981)
RING = dict(mass=1.1043, inner=0.06011, outer=0.07512)
CLAY = dict(mass=0.3994, radius=0.030, distance=0.0803)


def true_moments():
    clay = 0.5 * CLAY["mass"] * CLAY["radius"] ** 2 + CLAY["mass"] * CLAY["distance"] ** 2
    return {
        1: 0.5 * SLATE["mass"] * SLATE["radius"] ** 2,
        2: 0.5 * RING["mass"] * (RING["inner"] ** 2 + RING["outer"] ** 2),
        3: 2 * clay,
    }


def make():
    rng = np.random.default_rng(SEED)
    errors = wheel.spoke_errors(rng, RIG["travel"], 0.002)
    rig = wheel.Rig(**RIG, spoke_errors=errors, string_noise=20e-6)
    moments, runs, true_runs = true_moments(), [], []
    for key, masses in MASSES.items():
        for mass in masses:
            loaded = TABLE + moments.get(key, 0.0)
            fall, friction = wheel.release(rng, rig, loaded, FRICTION[key], mass)
            times, stretch = wheel.gate_times(rng, rig, fall)
            grams = f"{1000 * mass:03.0f}"
            runs.append(
                {
                    "name": f"{NAMES[key]}, {1000 * mass:.0f} g",
                    "object": key,
                    "hanging_mass_kg": mass,
                    "stretch_s": stretch,
                    "source": {"file": f"{NAMES[key]}-{grams}g.csv"},
                    "readings": {"kind": "gate-times", "time_s": times},
                }
            )
            true_runs.append(
                {
                    "name": runs[-1]["name"],
                    "acceleration_m_per_s2": fall.acceleration,
                    "friction_torque_N_m": friction,
                    "release_s": fall.release,
                    "landing_s": fall.landing,
                }
            )
    lab = {
        "format": "whorl-lab",
        "version": 3,
        "title": "Banding wheel in the pottery studio",
        "notes": NOTES,
        "provenance": "simulated",
        "apparatus": APPARATUS,
        "objects": OBJECTS,
        "runs": runs,
    }
    truth = {
        "what": "What tests/numpy/make_example.py put into web/samples/banding-wheel.json. Simulated.",
        "effective_radius_m": rig.effective_radius,
        "apparatus": RIG,
        "table_kg_m2": TABLE,
        "friction_torque_N_m": {NAMES[key]: value for key, value in FRICTION.items()},
        "objects_kg_m2": {obj["name"]: moments[obj["id"]] for obj in OBJECTS},
        "verdicts": {"slate disc": "agree", "brass ring": "agree", "two clay cylinders": "differ"},
        "clay_as_cylinder_off_axis": {"radius_m": wheel.measured(0.03, 0.0002), "verdict": "agree"},
        "runs": true_runs,
    }
    return {LAB: wheel.as_text(lab) + "\n", TRUTH: wheel.as_text(truth) + "\n"}


if __name__ == "__main__":
    for path, text in make().items():
        path.write_text(text, encoding="utf-8")
        print(f"{path.relative_to(ROOT)}: {len(text.encode()) / 1000:.1f} kB")
