"""Lab files and their readings, read without any part of the program under test."""

import hashlib
import json
import math
from pathlib import Path

# SI units per unit, and what is measured in it.
UNITS = {
    "s": (1.0, "time"),
    "ms": (1e-3, "time"),
    "m": (1.0, "position"),
    "mm": (1e-3, "position"),
    "m/s": (1.0, "velocity"),
    "m/s²": (1.0, "sampled-acceleration"),
    "rad": (1.0, "angle"),
    "°": (math.pi / 180, "angle"),
    "rad/s": (1.0, "angular-velocity"),
    "rpm": (2 * math.pi / 60, "angular-velocity"),
}
COLUMNS = {
    "velocity": "velocity_m_per_s",
    "position": "position_m",
    "sampled-acceleration": "sampled_acceleration_m_per_s2",
    "angle": "angle_rad",
    "angular-velocity": "angular_velocity_rad_per_s",
}


def read_lab(path):
    return json.loads(Path(path).read_text(encoding="utf-8"))


def readings_of(run, folder):
    """Kind, times and values of a run; values are None where times are all."""
    readings = run["readings"]
    if "file" in readings:
        return read_csv(folder / readings["file"], readings.get("kind"))
    kind = readings["kind"]
    return kind, readings["time_s"], readings[COLUMNS[kind]] if kind in COLUMNS else None


def source_of(run, folder):
    """Where a run's readings came from; the fingerprint of a file beside the lab is taken here anew."""
    nothing = {"bytes": None, "sha256": None, "run": "", "remarks": []}
    if run.get("source"):
        return {**nothing, **run["source"]}
    if "file" in run["readings"]:
        content = (folder / run["readings"]["file"]).read_bytes()
        fingerprint = hashlib.sha256(content).hexdigest()
        return {**nothing, "file": run["readings"]["file"], "bytes": len(content), "sha256": fingerprint}
    return None


def read_csv(path, kind):
    """One heading row with a unit in brackets for each column; `#` begins a comment."""
    lines = path.read_text(encoding="utf-8-sig").splitlines()
    lines = [line for line in lines if line.strip() and not line.startswith("#")]
    separator = ";" if ";" in lines[0] else ","
    columns = {}
    for index, heading in enumerate(lines[0].split(separator)):
        unit = heading.replace("[", "(").replace("]", ")").split("(")[-1].rstrip(") ")
        if unit in UNITS:
            factor, meaning = UNITS[unit]
            columns[meaning] = (index, factor)
    rows = [line.split(separator) for line in lines[1:]]

    def column(meaning):
        index, factor = columns[meaning]
        fields = [row[index] for row in rows]
        if separator == ";":
            fields = [field.replace(",", ".") for field in fields]
        return [float(field) * factor for field in fields]

    for known in COLUMNS:
        if known in columns:
            return known, column("time"), column(known)
    # Both edges look like one: the lab says which.
    return kind or "gate-times", column("time"), None
