"""Makes tests/labs/twelve: a lab of twelve runs whose readings stand in CSV files beside it, and the
truth that was put into it. Also tests/labs/wrong: files that a page must refuse. Simulated throughout.

    python make_twelve.py

Same seed, same files.
"""

from pathlib import Path

import numpy as np

import banding_wheel as wheel

LABS = Path(__file__).resolve().parents[1] / "labs"
# One 95 % interval in twenty misses; with this seed none does, so that tests may ask for all of them.
# That they hold the truth as often as they should is a test of its own, over many seeds.
SEED = 1227

TABLE = 1.498e-3  # kg m^2
FRICTION = {None: 1.06e-3, 1: 1.17e-3}  # N m
NAMES = {None: "empty", 1: "ring"}
# Hanging mass in kg and how the run was logged.
RUNS = {
    None: (
        (0.015, "gate-times"),
        (0.020, "velocity"),
        (0.025, "position"),
        (0.030, "gate-times"),
        (0.040, "velocity"),
        (0.050, "position"),
    ),
    1: (
        (0.050, "position"),
        (0.080, "gate-times"),
        (0.110, "velocity"),
        (0.150, "gate-times"),
        (0.190, "velocity"),
        (0.240, "position"),
    ),
}

APPARATUS = {
    "drum_radius_m": wheel.measured(0.025, 0.00003),
    "string_diameter_m": wheel.measured(0.001, 0.00005),
    "gravity_m_per_s2": wheel.measured(9.81, 0.003),
    "spokes": 10,
    "travel_per_spoke_m": wheel.measured(0.015, 0.00001),
    "mass_scale_relative_u": 0.0005,
}
RING = wheel.part(
    "ring",
    wheel.measured(1.105, 0.001),
    [wheel.measured(0.06, 0.0002), wheel.measured(0.075, 0.0002)],
)

# What is really there: each within about one standard uncertainty of what was written down.
RIG = dict(radius=0.02498, string=0.00102, travel=0.014995, gravity=9.8115, mass_factor=0.9998)
TRUE_RING = dict(mass=1.1056, inner=0.0599, outer=0.07487)


def decimal_comma(number, digits):
    return f"{number:.{digits}f}".replace(".", ",")


def gate_file(rng, rig, fall, _):
    times, stretch = wheel.gate_times(rng, rig, fall)
    lines = ["# simulated gate log", "gate time (s)", *(f"{time:.5f}" for time in times)]
    return "\n".join(lines) + "\n", stretch


def velocity_file(rng, rig, fall, number):
    """Every 50 ms to 2 mm/s; every second file comes from a computer that writes CRLF and a byte-order mark."""
    times = np.arange(0.0, fall.landing + 0.6, 0.05)
    velocities = fall.velocity_at(times) + 0.002 * rng.standard_normal(len(times))
    rows = [f"{time:.2f},{velocity:.4f}" for time, velocity in zip(times, velocities)]
    lines = ["t (s),v (m/s)", *rows]
    text = "\n".join(lines) + "\n"
    if number % 2 == 1:
        text = "\ufeff" + text.replace("\n", "\r\n")
    return text, inside(fall)


def position_file(rng, rig, fall, number):
    """Every 40 ms to 0.3 mm, in millimeters, with decimal commas; every second file in milliseconds too."""
    times = np.arange(0.0, fall.landing + 0.4, 0.04)
    positions = 1000 * (fall.position_at(times) + 0.12) + 0.3 * rng.standard_normal(len(times))
    if number % 2 == 0:
        lines = ["Time (s);Position (mm)"]
        lines += [f"{decimal_comma(t, 2)};{decimal_comma(x, 1)}" for t, x in zip(times, positions)]
    else:
        lines = ["time [ms];room (°C);x [mm]"]
        lines += [f"{1000 * t:.0f};{decimal_comma(21.4, 1)};{decimal_comma(x, 2)}" for t, x in zip(times, positions)]
    return "\n".join(lines) + "\n", inside(fall)


def inside(fall):
    """A stretch whose ends fall between two samples, so that rounding decides nothing."""
    return [round(round(fall.release + 0.06, 1) + 0.01, 2), round(round(fall.landing - 0.08, 1) + 0.01, 2)]


FILES = {"gate-times": gate_file, "velocity": velocity_file, "position": position_file}


def make_lab():
    rng = np.random.default_rng(SEED)
    errors = wheel.spoke_errors(rng, RIG["travel"], 0.002)
    rig = wheel.Rig(**RIG, spoke_errors=errors, string_noise=20e-6)
    ring = 0.5 * TRUE_RING["mass"] * (TRUE_RING["inner"] ** 2 + TRUE_RING["outer"] ** 2)
    moments = {None: TABLE, 1: TABLE + ring}
    files, runs, true_runs, written = {}, [], [], {kind: 0 for kind in FILES}
    for key, masses in RUNS.items():
        for mass, kind in masses:
            fall, friction = wheel.release(rng, rig, moments[key], FRICTION[key], mass)
            text, stretch = FILES[kind](rng, rig, fall, written[kind])
            written[kind] += 1
            name = f"{NAMES[key]}-{1000 * mass:03.0f}g.csv"
            files[f"twelve/runs/{name}"] = text.encode()
            # One of each kind goes by its heading alone, the others say which kind they are.
            runs.append(
                {
                    "name": f"{NAMES[key]}, {1000 * mass:.0f} g",
                    "object": key,
                    "hanging_mass_kg": mass,
                    "stretch_s": stretch,
                    "readings": {"file": f"runs/{name}", "kind": None if written[kind] == 1 else kind},
                }
            )
            true_runs.append(
                {
                    "name": runs[-1]["name"],
                    "kind": kind,
                    "acceleration_m_per_s2": fall.acceleration,
                    "friction_torque_N_m": friction,
                }
            )
    lab = {
        "format": "whorl-lab",
        "version": 1,
        "title": "Twelve runs on the banding wheel",
        "notes": "Simulated: a program made every number here, none was measured.",
        "provenance": "simulated",
        "apparatus": APPARATUS,
        "objects": [{"id": 1, "name": "brass ring", "parts": [RING]}],
        "runs": runs,
    }
    truth = {
        "what": "What tests/numpy/make_twelve.py put into the twelve files. Simulated.",
        "effective_radius_m": rig.effective_radius,
        "apparatus": RIG,
        "table_kg_m2": TABLE,
        "friction_torque_N_m": {NAMES[key]: value for key, value in FRICTION.items()},
        "objects_kg_m2": {"brass ring": ring},
        "verdicts": {"brass ring": "agree"},
        "runs": true_runs,
    }
    files["twelve/lab.json"] = (wheel.as_text(lab) + "\n").encode()
    files["twelve/truth.json"] = (wheel.as_text(truth) + "\n").encode()
    return files


def make_wrong():
    """Each file is wrong in one way; tests/lab/wrong_files.rs says where and what the reader must say."""
    rows = ["t (s),v (m/s)"] + [f"{0.1 * k:.1f},{0.05 + 0.021 * k:.3f}" for k in range(12)]
    word, backwards = list(rows), list(rows)
    word[7] = "0.6,slipped"
    backwards[9], backwards[10] = backwards[10], backwards[9]
    text = "\n".join(rows) + "\n"
    commas = ["t (s),v (m/s)"] + [f"{decimal_comma(0.1 * k, 1)},{decimal_comma(0.05 + 0.02 * k, 2)}" for k in range(6)]
    return {
        "wrong/word-in-a-number-column.csv": ("\n".join(word) + "\n").encode(),
        "wrong/utf-16.csv": b"\xff\xfe" + text.encode("utf-16-le"),
        "wrong/empty.csv": b"",
        "wrong/time-going-backwards.csv": ("\n".join(backwards) + "\n").encode(),
        "wrong/decimal-commas-between-commas.csv": ("\n".join(commas) + "\n").encode(),
        "wrong/unknown-unit.csv": text.replace("(m/s)", "(ft/s)").encode(),
        "wrong/no-headings.csv": ("\n".join(rows[1:]) + "\n").encode(),
    }


def make():
    return {LABS / name: data for name, data in {**make_lab(), **make_wrong()}.items()}


if __name__ == "__main__":
    for path, data in make().items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
        print(f"{path.relative_to(LABS)}: {len(data) / 1000:.1f} kB")
