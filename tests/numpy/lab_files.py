"""Lab files and their readings, read without any part of the program under test."""

import json
from pathlib import Path

UNITS = {"s": 1.0, "ms": 1e-3, "m": 1.0, "mm": 1e-3, "m/s": 1.0}
MEANING = {"s": "time", "ms": "time", "m": "position", "mm": "position", "m/s": "velocity"}


def read_lab(path):
    return json.loads(Path(path).read_text(encoding="utf-8"))


def readings_of(run, folder):
    """Kind, times and values of a run; values are None for gate times."""
    readings = run["readings"]
    if "file" in readings:
        return read_csv(folder / readings["file"])
    kind = readings["kind"]
    column = {"velocity": "velocity_m_per_s", "position": "position_m", "gate-times": None}[kind]
    return kind, readings["time_s"], readings[column] if column else None


def read_csv(path):
    """One heading row with a unit in brackets for each column; `#` begins a comment."""
    lines = path.read_text(encoding="utf-8-sig").splitlines()
    lines = [line for line in lines if line.strip() and not line.startswith("#")]
    separator = ";" if ";" in lines[0] else ","
    columns = {}
    for index, heading in enumerate(lines[0].split(separator)):
        unit = heading.replace("[", "(").replace("]", ")").split("(")[-1].rstrip(") ")
        if unit in UNITS:
            columns[MEANING[unit]] = (index, UNITS[unit])
    rows = [line.split(separator) for line in lines[1:]]

    def column(meaning):
        index, factor = columns[meaning]
        fields = [row[index] for row in rows]
        if separator == ";":
            fields = [field.replace(",", ".") for field in fields]
        return [float(field) * factor for field in fields]

    for kind in ("velocity", "position"):
        if kind in columns:
            return kind, column("time"), column(kind)
    return "gate-times", column("time"), None
