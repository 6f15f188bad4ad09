"""Holds every number of `whorl analyse` against the same lab calculated in numpy.

    WHORL_CLI=path/to/whorl python tests/numpy/check.py [LAB.json ...]

Without arguments: the sample that students open and the labs in tests/labs. One line per check, a
count at the end; exit code 1 when anything disagrees.
"""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import make_corners
import make_example
import make_kinds
import make_twelve
from lab_files import read_lab
from results import SAID, results

ROOT = Path(__file__).resolve().parents[2]
LABS = [
    ROOT / "web/samples/banding-wheel.json",
    ROOT / "tests/labs/twelve/lab.json",
    *(
        ROOT / f"tests/labs/corners/{name}.json"
        for name in ("shapes", "certain", "broken", "bare", "records", "pulley", "strong-drag", "noisy", "typed")
    ),
]

# Both sides work in double precision (1e-16). Uncertainties come from residuals, which are down to
# 1e-5 of the readings, and from a parabola's curvature; that leaves about 11 digits.
RELATIVE = 1e-9
# A difference of nearly equal numbers (a residual, a contribution, measured less predicted) can only be
# compared on the scale of those numbers.
OF_SCALE = 1e-12

# The lists of records, each compared on its own.
GROUPS = ("runs", "lines", "objects")
# Sentences: only whether they are there is compared, the words are the program's.
WORDS = ("problem", "apparatus_problem", "prediction_problem")


# Comparing ----------------------------------------------------------------------------------------


def scale_of(record, outer):
    """On what scale differences inside this record are to be judged, by the name of the number."""
    scale = {}
    for name, short in (("moment_of_inertia_kg_m2", "kg_m2"), ("friction_torque_N_m", "N_m")):
        if isinstance(record.get(name), dict):
            scale[name] = scale[f"contribution_{short}"] = abs(record[name]["value"])
        if "share" in record and f"contribution_{short}" in record:
            # The square of a contribution over the whole.
            contribution = f"contribution_{short}"
            scale["share"] = 2 * record["share"] * outer[contribution] / record[contribution]
    if isinstance(record.get("friction_torque_N_m"), dict):
        # Differences of torques, which are at least the friction torque.
        scale["residual_N_m"] = scale["friction_torque_N_m"]
    if "angular_acceleration_u_shared" in record:
        # Nothing at the apparatus moves an angle's second derivative.
        scale["angular_acceleration_u_shared"] = abs(record["angular_acceleration_rad_per_s2"]["value"])
    for name in ("rate_per_s", "coefficient_N_m_s"):
        # Drag that may well be none.
        if isinstance(record.get(name), dict):
            scale[name] = record[name]["u"]
    if record.get("spoke_offsets_m"):
        # They sum to zero; times of seconds in double precision, solved for, place a spoke to 1e-14 m or so.
        scale["spoke_offsets_m"] = record["travel_per_edge_m"]
    if record.get("comparison"):
        scale["difference_kg_m2"] = scale["interval_95_kg_m2"] = record["predicted_kg_m2"]["value"]
    return scale


class Compared(NamedTuple):
    """A number or a word of the two sides."""

    place: str
    relative: float
    bad: bool
    text: str
    scale: float = 0.0



def differences(expected, found, place="", scale=None, name=""):
    """Yields every number and word as compared."""
    scale = scale or {}
    if isinstance(expected, dict) and isinstance(found, dict):
        inner = {**scale, **scale_of(expected, scale)}
        for key in [*expected, *(key for key in found if key not in expected)]:
            where = f"{place}/{key}"
            if key not in expected or key not in found:
                side = "the program" if key in found else "numpy"
                yield Compared(where, 0.0, True, f"{where}: only {side} has it")
            elif key in WORDS:
                same = (expected[key] is None) == (found[key] is None)
                yield Compared(where, 0.0, not same, f"{where}: numpy {expected[key]}, the program {found[key]}")
            else:
                passed_on = name if key in ("value", "u") else key
                # What scatters is never a difference, however small.
                of_it = {} if key == "scatter" else inner
                yield from differences(expected[key], found[key], where, of_it, passed_on)
    elif isinstance(expected, list) and isinstance(found, list) and len(expected) == len(found):
        for index, (left, right) in enumerate(zip(expected, found)):
            yield from differences(left, right, f"{place}/{index}", scale, name)
    elif is_number(expected) and is_number(found):
        left, right = float(expected), float(found)
        of_scale = scale.get(name, 0.0)
        size = abs(left) + OF_SCALE / RELATIVE * of_scale
        relative = abs(right - left) / size if size else float(right != left)
        text = f"{place}: numpy {left!r}, the program {right!r}, {relative:.1e} apart"
        yield Compared(place, relative, not relative <= RELATIVE, text, of_scale)
    else:
        yield Compared(place, 0.0, expected != found, f"{place}: numpy {expected!r}, the program {found!r}")


def is_number(value):
    return not isinstance(value, (bool, str, dict, list)) and value is not None


def pairs(expected, found):
    """Each record as numpy has it and as the program has it, with its name."""

    def whole(results):
        return {key: value for key, value in results.items() if key not in GROUPS}

    yield "lab", whole(expected), whole(found)
    for group in GROUPS:
        for left, right in zip(expected[group], found.get(group, [])):
            yield f"{group}: {left['name']}", left, right


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
        for name, left, right in pairs(expected, found):
            self.record(f"{title}: {name}", left, right)
        for group in GROUPS:
            if len(found.get(group, [])) != len(expected[group]):
                self.line(False, f"{title}: {len(expected[group])} {group}, the program has another number")

    def record(self, title, expected, found):
        compared = list(differences(expected, found))
        wrong = [one.text for one in compared if one.bad]
        worst = max((one.relative for one in compared), default=0.0)
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
    for name, left, right in pairs(expected, found):
        scales = {one.place: one.scale for one in differences(left, right)}
        for path, value in list(leaves(right)):
            # A stretch that the program found is taken over; what is fitted there would tell.
            if "stretch_used_s" in path:
                continue
            place = right
            for key in path[:-1]:
                place = place[key]
            where = "".join(f"/{key}" for key in path)
            place[path[-1]] = changed(path[-1], value, scales.get(where, 0.0))
            if not any(one.bad for one in differences(left, right)):
                missed.append(f"{name}: {where}")
            place[path[-1]] = value
    return missed


def changed(name, value, scale):
    if is_number(value):
        # A millionth part, far less than any digit the page shows, or what is seen on its scale.
        step = 1e-6 * abs(value) + 10 * OF_SCALE * scale
        return value + step if isinstance(value, float) and value else value + 1
    if name in WORDS:
        return SAID if value is None else None
    return "something else"


def run_program(lab):
    program = os.environ.get("WHORL_CLI")
    if not program:
        sys.exit("set WHORL_CLI to the path of the built whorl program")
    done = subprocess.run([program, "analyse", str(lab)], capture_output=True, text=True, encoding="utf-8")
    if done.returncode != 0:
        return None, done.stderr.strip()
    found = json.loads(done.stdout)
    # Sentences about the numbers; whole labs with known faults hold them to account (tests/lab/diagnosis.rs).
    found.pop("findings")
    return found, None


def stretches_found(found):
    """Where the program chose the stretch itself, its choice is taken over."""
    return [run.get("stretch_used_s") for run in found["runs"]]


def main(arguments):
    report = Report()
    for path in [Path(argument).resolve() for argument in arguments] or LABS:
        title = str(path.relative_to(ROOT)) if path.is_relative_to(ROOT) else path.name
        found, problem = run_program(path)
        if problem:
            report.line(False, f"{title}: {problem}")
            continue
        expected = results(read_lab(path), path.parent, stretches_found(found))
        report.records(title, expected, found)
        missed = unnoticed_changes(expected, found)
        report.line(not missed, f"{title}: any one value changed would have been noticed", missed)
    if not arguments:
        for made in (make_example.make(), make_twelve.make(), make_corners.make(), make_kinds.make()):
            for path, content in made.items():
                data = content.encode() if isinstance(content, str) else content
                same = path.exists() and path.read_bytes() == data
                report.line(same, f"{path.relative_to(ROOT)} is what its script makes")
    print(f"{report.checks} checks, {report.numbers} values compared, {report.failed} failed")
    return 1 if report.failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
