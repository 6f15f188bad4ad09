"""Falls to be written down, and the many ways to write a table. Simulated, with noise; fixed seed.

A `Run` holds what was measured, in SI units, and how it is written: unit and decimals of each column.
Its truth is told from the numbers before they were written, with half a unit of the last decimal as
tolerance, so a reader is checked against something it had no part in.
"""

import csv
import io
from dataclasses import dataclass, replace

import numpy as np

SEED = 60_217
DEGREE, TURN = np.pi / 180, 2 * np.pi
SPACING = 0.015  # m of string from spoke to spoke
BLOCKED = 0.4  # part of the spacing that a spoke covers


def number(x, digits, mark=".", group="", minus="-", plus=False, exponent=None):
    """A number as text: decimals, decimal mark, sign between thousands, sign before it.

    `exponent` is the letter between mantissa and power of ten; `digits` then counts the mantissa's.
    """
    text = f"{x:,.{digits}f}" if exponent is None else f"{x:.{digits}e}"
    if exponent is not None:
        mantissa, power = text.split("e")
        text = f"{mantissa}{exponent}{int(power)}"
    if float(text.replace(",", "").replace(exponent or "e", "e")) == 0.0 and exponent is None:
        text = text.lstrip("-")
    text = text.replace(",", "\0").replace(".", mark).replace("\0", group)
    if plus and not text.startswith("-"):
        text = "+" + text
    return text.replace("-", minus)


@dataclass(frozen=True)
class Run:
    """Readings in SI units, with the unit and the decimals they are written in."""

    kind: str
    t: np.ndarray
    y: np.ndarray | None = None
    t_unit: float = 1.0
    y_unit: float = 1.0
    t_digits: int = 3
    y_digits: int = 4
    label: str | None = None
    carries: str | None = None
    mass: float | None = None  # kg
    # Times that count from some moment of the clock's own: only differences are compared.
    origin: str | None = None
    t_tolerance: float | None = None

    def times(self, **style):
        return [number(x / self.t_unit, self.t_digits, **style) for x in self.t]

    def values(self, **style):
        return [number(x / self.y_unit, self.y_digits, **style) for x in self.y]

    def rows(self, **style):
        return [list(row) for row in zip(self.times(**style), self.values(**style))]

    def but(self, **changes):
        return replace(self, **changes)

    def without(self, *rows):
        kept = [k for k in range(len(self.t)) if k not in rows]
        return replace(self, t=self.t[kept], y=None if self.y is None else self.y[kept])

    def truth(self):
        def half(digits, unit):
            return float(f"{0.501 * 10.0**-digits * unit:.3g}")

        told = {"kind": self.kind}
        for key, value in (("label", self.label), ("carries", self.carries), ("hanging_mass_kg", self.mass)):
            if value is not None:
                told[key] = value
        if self.origin:
            told["time_origin"] = self.origin
        told["count"] = len(self.t)
        told["time_tolerance_s"] = self.t_tolerance or half(self.t_digits, self.t_unit)
        told["time_s"] = [float(f"{x:.10g}") for x in self.t]
        if self.y is not None:
            told["value_tolerance"] = half(self.y_digits, self.y_unit)
            told["value"] = [float(f"{x:.10g}") for x in self.y]
        return told


class Falls:
    """Makes falls of the banding wheel's hanging mass, each from the generator's next numbers."""

    def __init__(self, seed=SEED):
        self.rng = np.random.default_rng(seed)

    def _course(self, n, dt, a, wait):
        t = np.arange(n) * dt
        falling = np.maximum(t - wait, 0.0)
        return t, a * falling, a * falling**2 / 2

    def velocity(self, n=48, dt=0.05, a=0.42, wait=0.2, noise=0.004, **written):
        t, v, _ = self._course(n, dt, a, wait)
        return Run("velocity", t, v + noise * self.rng.standard_normal(n), **written)

    def position(self, n=48, dt=0.05, a=0.42, wait=0.2, noise=0.0006, **written):
        t, _, x = self._course(n, dt, a, wait)
        return Run("position", t, x + noise * self.rng.standard_normal(n), **written)

    def angle(self, n=48, dt=0.05, alpha=4.1, wait=0.2, noise=0.004, **written):
        t, _, angle = self._course(n, dt, alpha, wait)
        return Run("angle", t, angle + noise * self.rng.standard_normal(n), **written)

    def angular_velocity(self, n=48, dt=0.05, alpha=4.1, wait=0.2, noise=0.03, **written):
        t, omega, _ = self._course(n, dt, alpha, wait)
        return Run("angular-velocity", t, omega + noise * self.rng.standard_normal(n), **written)

    def _edges(self, places, a, v, begin):
        times = begin + (np.sqrt(v * v + 2 * a * places) - v) / a
        return times + 2e-5 * self.rng.standard_normal(len(times))

    def gates(self, n=40, a=0.42, v=0.12, begin=0.35, **written):
        """One time per spoke."""
        times = self._edges(np.arange(n) * SPACING, a, v, begin)
        return Run("gate-times", times, **({"t_digits": 4} | written))

    def both_edges(self, n=30, a=0.42, v=0.12, begin=0.35, **written):
        """Blocked and opened in turn, by `n` spokes."""
        places = (np.arange(n)[:, None] + np.array([0.0, BLOCKED])).ravel() * SPACING
        return Run("both-edges", self._edges(places, a, v, begin), **({"t_digits": 4} | written))


def lines(rows, delimiter):
    """Rows of fields as lines, quoted where RFC 4180 says so (by Python's csv module)."""
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, lineterminator="\n").writerows(rows)
    return out.getvalue()


def aligned(rows, width=14):
    """Rows of fields set right in columns of spaces, as a program prints them."""
    return "".join("".join(f"{field:>{width}}" for field in row).rstrip() + "\n" for row in rows)


WORDS = {",": "commas", ";": "semicolons", "\t": "tabs", " ": "spaces", "|": "bars"}
MARKS = {".": "point", ",": "comma"}
CODECS = {"UTF-8": "utf-8", "UTF-16LE": "utf-16-le", "UTF-16BE": "utf-16-be", "Windows-1252": "cp1252"}


class Corpus:
    """A folder of files with one JSON document of what they are."""

    def __init__(self):
        self.files = {}
        self.entries = []

    def bytes(self, name, about, data, **entry):
        assert name not in self.files, name
        self.files[name] = data
        self.entries.append({"file": name, "about": about} | entry)

    def table(
        self,
        name,
        about,
        text,
        runs,
        delimiter=None,
        decimal=None,
        encoding="UTF-8",
        bom=False,
        eol="\n",
        **entry,
    ):
        """`delimiter` and `decimal` as characters; `None` where the file does not tell."""
        text = ("\ufeff" if bom else "") + text.replace("\n", eol)
        entry["encoding"] = encoding
        if delimiter:
            entry["delimiter"] = WORDS[delimiter]
        if decimal:
            entry["decimal"] = MARKS[decimal]
        if runs is not None:
            entry["runs"] = [run.truth() for run in runs]
        self.bytes(name, about, text.encode(CODECS[encoding]), **entry)
