"""Holds every number of `whorl analyse` against the same lab calculated in numpy.

    WHORL_CLI=path/to/whorl python tests/numpy/check.py [LAB.json ...]

Without arguments: the sample that students open and the labs in tests/labs. One line per check, a
count at the end; exit code 1 when anything disagrees.
"""

import copy
import json
import os
import subprocess
import sys
from pathlib import Path

import chain
import make_corners
import make_example
import make_twelve
from lab_files import read_lab, readings_of

ROOT = Path(__file__).resolve().parents[2]
LABS = [
    ROOT / "web/samples/banding-wheel.json",
    ROOT / "tests/labs/twelve/lab.json",
    *(ROOT / "tests/labs/corners" / name for name in ("shapes.json", "certain.json", "broken.json", "bare.json")),
]

# Both sides work in double precision (1e-16). Uncertainties come from residuals, which are down to
# 1e-5 of the readings, and from a parabola's curvature; that leaves about 11 digits.
RELATIVE = 1e-9
# A difference of nearly equal numbers (a residual, a contribution, measured less predicted) can only be
# compared on the scale of those numbers.
OF_SCALE = 1e-12

# What stands for a sentence: only whether it is there is compared, the words are the program's.
WORDS = ("problem", "apparatus_problem", "prediction_problem")
SAID = "said"


# The results in numpy -----------------------------------------------------------------------------


def run_results(run, folder, apparatus, complete):
    kind, times, values = readings_of(run, folder)
    found = {
        "name": run["name"],
        "object": run["object"],
        "hanging_mass_kg": run["hanging_mass_kg"],
    }
    travel = apparatus["travel_per_spoke_m"]
    fitted = None
    if kind != "gate-times" or travel:
        fitted = chain.fit_run(run, kind, times, values, travel and travel["value"])
    if fitted is None:
        return {**found, "problem": SAID}, None
    found["readings_fitted"] = fitted.fitted
    found["readings_kind"] = kind
    found["acceleration_m_per_s2"] = chain.m(fitted.acceleration, fitted.u, fitted.degrees_of_freedom)
    usable = complete and (fitted.mass or 0) > 0
    if not usable or fitted.acceleration >= apparatus["gravity_m_per_s2"]["value"]:
        return {**found, "problem": SAID}, None
    point = chain.torque_point(fitted, chain.rig_of(apparatus))
    found["acceleration_u_shared"] = chain.shared_part(fitted, apparatus, "a")
    found["tension_N"] = point["tension"]
    found["torque_N_m"] = point["torque"]
    found["torque_u_shared"] = chain.shared_part(fitted, apparatus, "torque")
    found["angular_acceleration_rad_per_s2"] = point["alpha"]
    found["angular_acceleration_u_shared"] = chain.shared_part(fitted, apparatus, "alpha")
    return found, fitted


def numbered(lab):
    """The program numbers the objects from 1, whatever their ids in the file."""
    lab = copy.deepcopy(lab)
    number = {None: None}
    for index, entry in enumerate(lab["objects"]):
        number[entry["id"]] = entry["id"] = index + 1
    for run in lab["runs"]:
        run["object"] = number[run["object"]]
    return lab


def results(lab, folder):
    lab = numbered(lab)
    apparatus = lab["apparatus"]
    needed = ("drum_radius_m", "string_diameter_m", "gravity_m_per_s2")
    complete = all(apparatus[name] for name in needed)
    outcomes = [run_results(run, folder, apparatus, complete) for run in lab["runs"]]
    names = {None: "empty table", **{entry["id"]: entry["name"] for entry in lab["objects"]}}
    lines = {}
    for key, name in names.items():
        of_it = [fitted for run, (_, fitted) in zip(lab["runs"], outcomes) if run["object"] == key]
        usable = [fitted for fitted in of_it if fitted]
        line = {"problem": SAID}
        if len(usable) >= 3 and len({fitted.acceleration for fitted in usable}) > 1:
            line = chain.analyze_line(usable, apparatus)
        lines[key] = {"object": key, "name": name, "runs_left_out": len(of_it) - len(usable), **line}
    radius = None
    if complete:
        u = (apparatus["drum_radius_m"]["u"], apparatus["string_diameter_m"]["u"] / 2)
        radius = chain.m(chain.rig_of(apparatus).effective_radius, chain.root_sum_of_squares(u))
    return {
        "format": "whorl-results",
        "version": 1,
        "title": lab["title"],
        "provenance": lab["provenance"],
        "apparatus_problem": None if complete else SAID,
        "effective_radius_m": radius,
        "runs": [found for found, _ in outcomes],
        "lines": list(lines.values()),
        "objects": [object_results(entry, lines) for entry in lab["objects"]],
    }


def object_results(entry, lines):
    loaded, empty = lines[entry["id"]], lines[None]
    parts = entry["parts"]
    whole = bool(parts) and all(part["mass_kg"] and all(part["dimensions_m"]) for part in parts)
    predicted = chain.predict(parts) if whole else None
    found = {
        "object": entry["id"],
        "name": entry["name"],
        "predicted_kg_m2": predicted,
        "prediction_problem": None if predicted else SAID,
        "comparison": None,
    }
    if "problem" in loaded or "problem" in empty:
        return {**found, "problem": SAID}
    measured = chain.subtract(loaded, empty)
    if predicted:
        found["comparison"] = chain.compare(measured["moment_of_inertia_kg_m2"], predicted)
    return {**found, **measured}


# Comparing ----------------------------------------------------------------------------------------


def scale_of(record):
    """On what scale differences inside this record are to be judged, by the name of the number."""
    scale = {}
    for name in ("moment_of_inertia_kg_m2", "friction_torque_N_m"):
        if isinstance(record.get(name), dict):
            scale[name] = abs(record[name]["value"])
    if "residuals_N_m" in record:
        # Differences of torques, which are at least the friction torque.
        scale["residuals_N_m"] = scale["friction_torque_N_m"]
    if record.get("comparison"):
        scale["difference_kg_m2"] = scale["interval_95_kg_m2"] = record["predicted_kg_m2"]["value"]
    return scale


def differences(expected, found, place="", scale=None, name=""):
    """Yields (place, relative difference, whether it is too large, text) for every number and word."""
    scale = scale or {}
    if isinstance(expected, dict) and isinstance(found, dict):
        inner = {**scale, **scale_of(expected)}
        for key in [*expected, *(key for key in found if key not in expected)]:
            where = f"{place}.{key}" if place else key
            if key not in expected or key not in found:
                side = "the program" if key in found else "numpy"
                yield where, 0.0, True, f"{where}: only {side} has it"
            elif key in WORDS:
                same = (expected[key] is None) == (found[key] is None)
                yield where, 0.0, not same, f"{where}: numpy {expected[key]}, the program {found[key]}"
            else:
                passed_on = name if key in ("value", "u") else key
                yield from differences(expected[key], found[key], where, inner, passed_on)
    elif isinstance(expected, list) and isinstance(found, list) and len(expected) == len(found):
        for index, (left, right) in enumerate(zip(expected, found)):
            yield from differences(left, right, f"{place}[{index}]", scale, name)
    elif is_number(expected) and is_number(found):
        difference = abs(float(found) - float(expected))
        allowed = RELATIVE * abs(float(expected)) + OF_SCALE * scale.get(name, 0.0)
        relative = difference / abs(float(expected)) if expected else float(difference > 0)
        text = f"{place}: numpy {float(expected)!r}, the program {float(found)!r}, {relative:.1e} apart"
        yield place, relative, not difference <= allowed, text
    else:
        yield place, 0.0, expected != found, f"{place}: numpy {expected!r}, the program {found!r}"


def is_number(value):
    return not isinstance(value, (bool, str, dict, list)) and value is not None


class Report:
    """One line per check."""

    def __init__(self):
        self.checks = self.numbers = self.failed = 0

    def line(self, good, text, complaints=()):
        self.checks += 1
        self.failed += not good
        print(f"{'ok  ' if good else 'FAIL'} {text}")
        for complaint in complaints:
            print(f"       {complaint}")

    def records(self, title, expected, found):
        """A line for each run, line and object, and one for what is said of the whole lab."""
        whole = {key: value for key, value in expected.items() if not isinstance(value, list)}
        self.record(f"{title}: lab", whole, {key: v for key, v in found.items() if not isinstance(v, list)})
        for group in ("runs", "lines", "objects"):
            theirs = found.get(group, [])
            if len(theirs) != len(expected[group]):
                self.line(False, f"{title}: {len(expected[group])} {group}, the program has {len(theirs)}")
            for left, right in zip(expected[group], theirs):
                self.record(f"{title}: {group}: {left['name']}", left, right)

    def record(self, title, expected, found):
        compared = list(differences(expected, found))
        wrong = [text for _, _, bad, text in compared if bad]
        worst = max((relative for _, relative, _, _ in compared), default=0.0)
        self.numbers += len(compared)
        self.line(not wrong, f"{title}: {len(compared)} values, largest difference {worst:.0e}", wrong)


def leaves(value, path=()):
    if isinstance(value, (dict, list)):
        for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from leaves(inner, (*path, key))
    else:
        yield path, value


def unnoticed_changes(expected, found):
    """Changes every number and word of the program's results in turn; returns the changes not noticed."""
    missed = []
    for path, value in leaves(found):
        changed = copy.deepcopy(found)
        place = changed
        for key in path[:-1]:
            place = place[key]
        if is_number(value):
            # A millionth part: far less than any digit the page shows.
            place[path[-1]] = value * (1 + 1e-6) if isinstance(value, float) and value else value + 1
        elif path[-1] in WORDS:
            place[path[-1]] = SAID if value is None else None
        else:
            place[path[-1]] = "something else"
        if not any(bad for _, _, bad, _ in differences(expected, changed)):
            missed.append("/".join(map(str, path)))
    return missed


def run_program(lab):
    program = os.environ.get("WHORL_CLI")
    if not program:
        sys.exit("set WHORL_CLI to the path of the built whorl program")
    done = subprocess.run([program, "analyse", str(lab)], capture_output=True, text=True, encoding="utf-8")
    if done.returncode != 0:
        return None, done.stderr.strip()
    return json.loads(done.stdout), None


def main(arguments):
    report = Report()
    for path in [Path(argument).resolve() for argument in arguments] or LABS:
        title = str(path.relative_to(ROOT)) if path.is_relative_to(ROOT) else path.name
        expected = results(read_lab(path), path.parent)
        found, problem = run_program(path)
        if problem:
            report.line(False, f"{title}: {problem}")
            continue
        report.records(title, expected, found)
        missed = unnoticed_changes(expected, found)
        report.line(not missed, f"{title}: any one value changed would have been noticed", missed)
    if not arguments:
        for made in (make_example.make(), make_twelve.make(), make_corners.make()):
            for path, content in made.items():
                data = content.encode() if isinstance(content, str) else content
                same = path.exists() and path.read_bytes() == data
                report.line(same, f"{path.relative_to(ROOT)} is what its script makes")
    print(f"{report.checks} checks, {report.numbers} values compared, {report.failed} failed")
    return 1 if report.failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
