"""All results of a lab, in the order and with the names of `whorl analyse`, calculated in numpy."""

import copy

import accelerations
import chain
import lines
from lab_files import readings_of, source_of

# What stands for a sentence: only whether it is there is compared, the words are the program's.
SAID = "said"
TYPED = {"acceleration": "acceleration_m_per_s2", "angular-acceleration": "angular_acceleration_rad_per_s2"}


def fitted_run(run, folder, setup, stretch):
    """Kind of the record, and its acceleration or None."""
    record = run["readings"]
    kind = record.get("kind")
    if kind == "stopwatch":
        return kind, accelerations.by_hand(record["times_s"], setup.height)
    if kind in TYPED:
        angular = kind == "angular-acceleration"
        factor, scale = (setup.radius, "effective-radius") if angular else (1.0, None)
        return kind, accelerations.entered(record.get(TYPED[kind]), factor, scale)
    kind, times, values = readings_of(run, folder)
    return kind, accelerations.fit_readings(kind, times, values, run.get("motion", "falling"), stretch, setup)


def run_results(run, folder, apparatus, complete, stretch):
    kind, fitted = fitted_run(run, folder, chain.setup_of(apparatus), stretch)
    motion = run.get("motion", "falling")
    found = {
        "name": run["name"],
        "object": run["object"],
        "hanging_mass_kg": run["hanging_mass_kg"],
        "motion": motion,
        "record_kind": kind,
        "source": source_of(run, folder),
    }
    if fitted is None:
        return {**found, "problem": SAID}, None
    slowing = fitted.slowing
    found["readings_fitted"] = fitted.readings
    found["stretch_used_s"] = stretch and sorted(stretch)
    found["acceleration_m_per_s2"] = chain.m(fitted.acceleration, fitted.u, fitted.degrees_of_freedom)
    found["proportional_to"] = fitted.scale
    found["fit"] = fitted.details
    found["slowing"] = slowing and {
        "rate_per_s": chain.m(slowing.rate, slowing.u, slowing.degrees_of_freedom),
        "effect_m_per_s": slowing.effect,
    }
    found["drawn_line"] = fitted.drawn
    mass = 0.0 if motion == "coasting" else run["hanging_mass_kg"] or 0.0
    downwards = -fitted.acceleration if motion == "rising" else fitted.acceleration
    usable = complete and (mass > 0 or motion == "coasting")
    if not usable or downwards >= apparatus["gravity_m_per_s2"]["value"]:
        return {**found, "problem": SAID}, None
    heavy = chain.HeavyRun(run["name"], mass, motion, fitted)
    point = chain.torque_point(heavy, chain.rig_of(apparatus))
    found["acceleration_u_shared"] = chain.shared_part(heavy, apparatus, "a")
    found["tension_N"] = point["tension"]
    found["torque_N_m"] = point["torque"]
    found["torque_u_shared"] = chain.shared_part(heavy, apparatus, "torque")
    found["angular_acceleration_rad_per_s2"] = point["alpha"]
    found["angular_acceleration_u_shared"] = chain.shared_part(heavy, apparatus, "alpha")
    return found, heavy


def numbered(lab):
    """The program numbers the objects from 1, whatever their ids in the file."""
    lab = copy.deepcopy(lab)
    number = {None: None}
    for index, entry in enumerate(lab["objects"]):
        number[entry["id"]] = entry["id"] = index + 1
    for run in lab["runs"]:
        run["object"] = number[run["object"]]
    return lab


def is_complete(apparatus):
    """Whether the apparatus has all it needs."""
    needed = ["drum_radius_m", "string_diameter_m", "gravity_m_per_s2"]
    if apparatus.get("pulley_inertia_kg_m2"):
        needed += ["spokes", "travel_per_spoke_m"]
    return all(apparatus[name] for name in needed)


def makes_line(group):
    return len(group) >= 3 and len({run.fitted.acceleration for run in group}) > 1


def results(lab, folder, found_stretches):
    """`found_stretches`: for each run the stretch used where none was chosen, or None for all readings."""
    lab = numbered(lab)
    apparatus = lab["apparatus"]
    complete = is_complete(apparatus)
    outcomes = [
        run_results(run, folder, apparatus, complete, run["stretch_s"] or found_stretch)
        for run, found_stretch in zip(lab["runs"], found_stretches)
    ]
    names = {None: "empty table", **{entry["id"]: entry["name"] for entry in lab["objects"]}}
    groups, left_out = {}, {}
    for key in names:
        # A coasting table tells of friction, not of the line.
        of_it = [
            heavy
            for run, (_, heavy) in zip(lab["runs"], outcomes)
            if run["object"] == key and run.get("motion") != "coasting"
        ]
        groups[key] = [heavy for heavy in of_it if heavy]
        left_out[key] = len(of_it) - len(groups[key])
    whole = dict.fromkeys(("friction_scatter", "degrees_of_freedom", "chi_square", "drag"))
    found = {}
    if complete:
        with_line = [key for key in names if makes_line(groups[key])]
        whole, each = lines.Joint([groups[key] for key in with_line], apparatus).results()
        found = dict(zip(with_line, each))
    all_lines = {
        key: {"object": key, "name": name, "runs_left_out": left_out[key], **found.get(key, {"problem": SAID})}
        for key, name in names.items()
    }
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
        **whole,
        "runs": [found for found, _ in outcomes],
        "lines": list(all_lines.values()),
        "objects": [object_results(entry, all_lines) for entry in lab["objects"]],
    }


def object_results(entry, all_lines):
    loaded, empty = all_lines[entry["id"]], all_lines[None]
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
    measured = lines.subtract(loaded, empty)
    if predicted:
        found["comparison"] = chain.compare(measured["moment_of_inertia_kg_m2"], predicted)
    return {**found, **measured}
