"""Makes tests/readings: files a class brings, files that must ask, files nobody should send. Simulated.

    python make_readings.py

Each folder has a JSON document beside it that tells what a reader must make of every file. It is written
from the numbers before they became text and from what was decided here; no reader has a part in it.

- good.json: encoding, delimiter, decimal mark, runs with all their readings and tolerances.
- asks.json: what the question must offer, and what is read after each answer.
- hostile.json: data with a remark, or an error with its place and the words it must contain.
"""

import json
from pathlib import Path

import readings_asked
import readings_grouped
import readings_hostile
import readings_meant
import readings_numbers
import readings_written
from reading_tables import Corpus, Falls

READINGS = Path(__file__).resolve().parents[1] / "readings"


def told(value, depth=0):
    """JSON with one line for each list of numbers, so that a change shows as one line."""
    inside = "  " * (depth + 1)
    if isinstance(value, dict) and value:
        parts = [f"{inside}{json.dumps(key)}: {told(each, depth + 1)}" for key, each in value.items()]
        return "{\n" + ",\n".join(parts) + "\n" + "  " * depth + "}"
    if isinstance(value, list) and value and isinstance(value[0], dict):
        parts = [f"{inside}{told(each, depth + 1)}" for each in value]
        return "[\n" + ",\n".join(parts) + "\n" + "  " * depth + "]"
    return json.dumps(value, ensure_ascii=False)


def write(name, *parts):
    corpus, falls = Corpus(), Falls()
    for part in parts:
        part(corpus, falls)
    folder = READINGS / name
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.iterdir():
        old.unlink()
    for file, data in corpus.files.items():
        (folder / file).write_bytes(data)
    (READINGS / f"{name}.json").write_text(told(corpus.entries) + "\n", encoding="utf-8")
    print(f"{name}: {len(corpus.files)} files, {sum(map(len, corpus.files.values())) / 1e3:.0f} kB")


write("good", readings_written.write, readings_numbers.write, readings_meant.write, readings_grouped.write)
write("asks", readings_asked.write)
write("hostile", readings_hostile.write)
