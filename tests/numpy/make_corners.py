"""Makes tests/labs/corners: small labs for what the two large ones leave out. Simulated throughout.

    python make_corners.py

- shapes.json: every shape, several alike, on and off axis; one object whose uncertainty is so large
  that agreement says little.
- certain.json: an apparatus and an object without any uncertainty, so that only scatter is left.
- broken.json: runs and objects that give no result, each for another reason, beside some that do.
- bare.json: no drum radius entered yet.
"""

import copy
from pathlib import Path

import numpy as np

import banding_wheel as wheel

CORNERS = Path(__file__).resolve().parents[1] / "labs/corners"
SEED = 77
RIG = wheel.Rig(0.025, 0.001, 0.015, 9.81, 1.0, (0.0,) * 10, 0.0)
m = wheel.measured


def velocity_run(rng, name, key, mass, inertia, count=15):
    fall, _ = wheel.release(rng, RIG, inertia, 1.1e-3, mass)
    times = np.round(fall.release + 0.1 + 0.1 * np.arange(count), 2)
    velocities = np.round(fall.velocity_at(times) + 0.001 * rng.standard_normal(count), 4)
    return {
        "name": name,
        "object": key,
        "hanging_mass_kg": mass,
        "stretch_s": None,
        "source": None,
        "readings": {"kind": "velocity", "time_s": times.tolist(), "velocity_m_per_s": velocities.tolist()},
    }


def position_run(rng, name, key, mass, inertia, count=15):
    run = velocity_run(rng, name, key, mass, inertia, count)
    times = run["readings"]["time_s"]
    fall = wheel.Fall(times[0] - 0.1, wheel.acceleration(RIG, inertia, 1.1e-3, mass), 0.85, 0.1)
    positions = np.round(fall.position_at(np.array(times)) + 0.0002 * rng.standard_normal(count), 5)
    run["readings"] = {"kind": "position", "time_s": times, "position_m": positions.tolist()}
    return run


def series(rng, label, key, inertia, masses, make=velocity_run):
    return [make(rng, f"{label}, {1000 * mass:.0f} g", key, mass, inertia) for mass in masses]


def lab(title, apparatus, objects, runs):
    return {
        "format": "whorl-lab",
        "version": 1,
        "title": title,
        "notes": "Simulated: a program made every number here, none was measured.",
        "provenance": "simulated",
        "apparatus": apparatus,
        "objects": objects,
        "runs": runs,
    }


def apparatus(u=1.0):
    return {
        "drum_radius_m": m(0.025, 0.00004 * u),
        "string_diameter_m": m(0.001, 0.00005 * u),
        "gravity_m_per_s2": m(9.81, 0.004 * u),
        "spokes": None,
        "travel_per_spoke_m": None,
        "mass_scale_relative_u": 0.0007 * u,
    }


EMPTY = (0.02, 0.03, 0.04, 0.05)
LOADED = (0.05, 0.10, 0.15, 0.20)


def shapes(rng):
    parts = [
        wheel.part("disc", m(0.40, 0.001), [m(0.03, 0.0002)], m(0.08, 0.0005), count=2),
        wheel.part("ring", m(0.30, 0.001), [m(0.05, 0.0002), m(0.06, 0.0002)]),
        wheel.part("ring", m(0.10, 0.001), [m(0.0, 0.0), m(0.02, 0.0002)], m(0.05, 0.0005), count=3),
        wheel.part("hoop", m(0.12, 0.0005), [m(0.07, 0.0003)]),
        wheel.part("rod-middle", m(0.21, 0.001), [m(0.30, 0.0005)], m(0.01, 0.0005)),
        wheel.part("rod-end", m(0.05, 0.001), [m(0.12, 0.0005)], count=4),
        wheel.part("plate", m(0.25, 0.001), [m(0.20, 0.0005), m(0.04, 0.0003)]),
        wheel.part("sphere", m(0.15, 0.001), [m(0.02, 0.0001)], m(0.09, 0.0004), count=2),
        wheel.part("spherical-shell", m(0.05, 0.001), [m(0.025, 0.0002)], m(0.0, 0.0003)),
        wheel.part("point-mass", m(0.02, 0.0001), [m(0.1, 0.0004)], count=5),
    ]
    vague = [wheel.part("disc", m(1.4, 0.02), [m(0.1, 0.01)])]
    objects = [
        {"id": 4, "name": "one of each", "parts": parts},
        {"id": 9, "name": "vague disc", "parts": vague},
    ]
    runs = series(rng, "empty", None, 1.5e-3, EMPTY, position_run)
    runs += series(rng, "each", 4, 1.5e-3 + 0.018, LOADED)
    runs += series(rng, "vague", 9, 1.5e-3 + 0.0072, LOADED, position_run)
    return lab("Every shape", apparatus(), objects, runs)


def certain(rng):
    disc = [wheel.part("disc", m(1.4, 0.0), [m(0.1, 0.0)])]
    runs = series(rng, "empty", None, 1.5e-3, EMPTY) + series(rng, "disc", 1, 8.5e-3, LOADED)
    return lab("Nothing shared", apparatus(0.0), [{"id": 1, "name": "certain disc", "parts": disc}], runs)


def broken(rng):
    no_dimension = [wheel.part("ring", m(1.0, 0.001), [m(0.05, 0.0002), None])]
    disc = [wheel.part("disc", m(1.4, 0.001), [m(0.1, 0.0003)])]
    objects = [
        {"id": 1, "name": "no shape", "parts": []},
        {"id": 2, "name": "no radius", "parts": no_dimension},
        {"id": 3, "name": "two runs", "parts": disc},
        {"id": 5, "name": "no runs", "parts": disc},
    ]
    runs = series(rng, "empty", None, 1.5e-3, (*EMPTY, 0.06, 0.07, 0.08))
    runs[1]["hanging_mass_kg"] = None
    runs[3]["stretch_s"] = [runs[3]["readings"]["time_s"][0], runs[3]["readings"]["time_s"][1]]
    # Gate times without a travel per spoke.
    runs[4]["readings"] = {"kind": "gate-times", "time_s": runs[4]["readings"]["time_s"]}
    # A unit gone wrong: faster than free fall.
    runs[5]["readings"]["velocity_m_per_s"] = [100 * v for v in runs[5]["readings"]["velocity_m_per_s"]]
    runs.append(velocity_run(rng, "empty, no weight", None, 0.05, 1.5e-3))
    runs[-1]["hanging_mass_kg"] = 0.0
    # The stretch may be written last time first; its ends are inside.
    times = runs[0]["readings"]["time_s"]
    runs[0]["stretch_s"] = [times[12], times[2]]
    runs += series(rng, "no shape", 1, 8.5e-3, LOADED) + series(rng, "no radius", 2, 8.5e-3, LOADED)
    runs += series(rng, "two", 3, 8.5e-3, LOADED[:2])
    return lab("What gives no result", apparatus(), objects, runs)


def bare(rng):
    without = copy.deepcopy(apparatus())
    without["drum_radius_m"] = None
    disc = [wheel.part("disc", m(1.4, 0.001), [m(0.1, 0.0003)])]
    runs = series(rng, "empty", None, 1.5e-3, EMPTY[:3])
    return lab("No radius yet", without, [{"id": 1, "name": "slate disc", "parts": disc}], runs)


def make():
    rng = np.random.default_rng(SEED)
    labs = {"shapes": shapes(rng), "certain": certain(rng), "broken": broken(rng), "bare": bare(rng)}
    return {CORNERS / f"{name}.json": wheel.as_text(made) + "\n" for name, made in labs.items()}


if __name__ == "__main__":
    for path, text in make().items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        print(f"{path.name}: {len(text.encode()) / 1000:.1f} kB")
