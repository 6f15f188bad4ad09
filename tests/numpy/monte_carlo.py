"""The propagation of distributions of `whorl analyse --monte-carlo`, repeated in numpy, and timed.

    WHORL_CLI=path/to/whorl python tests/numpy/monte_carlo.py [--trials N] [LAB.json ...]

Reads the model's numbers from the program's JSON, and nothing else of it. Own work beside the program:
York's lines are iterated (Am. J. Phys. 72 (2004) 367), where the program solves for them; friction's
scatter is interpolated in logarithms. JCGM 101:2008: normal for a value with its standard uncertainty
(6.4.7), t for a mean of indications (6.4.9), 7.6 and 7.7 for the results. As quick as numpy allows: all
trials of a block at once, blocks that fit into the processor's cache.

One line per check; exit code 1 when a mean, a standard uncertainty or an end of an interval is further off
than the finite number of trials on both sides explains.
"""

import argparse
import json
import math
import os
import re
import subprocess
import sys
import time
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
LABS = [
    ROOT / "web/samples/banding-wheel.json",
    ROOT / "tests/labs/twelve/lab.json",
    ROOT / "tests/labs/corners/shapes.json",
    ROOT / "tests/labs/corners/certain.json",
]
# Trials at once: 23 runs of them are 3 MB, which stays in the cache.
BLOCK = 16_384
# Of some hundred comparisons none may be this many standard deviations off.
MOST = 5.0
# Standard deviations from fifty blocks are known to a tenth; heavy tails (few degrees of freedom) make
# the standard deviation of u itself uncertain, so it is compared only from five degrees of freedom on.
DEGREES_FOR_U = 5
TRAVEL, RADIUS, HEIGHT, _ = range(4)
RISING = 1


class Model:
    """The numbers of a model, read from its text."""

    def __init__(self, text):
        self.lines, self.objects, self.drag = [], [], None
        for key, *words in (line.split(" ") for line in text.splitlines()):
            numbers = [float(word) for word in words]
            if key == "line":
                self.lines.append({"configuration": int(numbers[0]), "friction": numbers[1], "runs": []})
            elif key in ("moment", "torque"):
                self.lines[-1][key] = numbers
            elif key == "run":
                self.lines[-1]["runs"].append(numbers)
            elif key == "object":
                self.objects.append({"id": int(numbers[0]), "predicted": None})
            elif key in ("alone", "predicted", "difference"):
                self.objects[-1][key] = numbers
            elif numbers:
                setattr(self, key, numbers)
        table = np.array([run for line in self.lines for run in line["runs"]]).T
        self.motion, self.scale, self.m, self.a, self.u, self.nu, self.rate, self.u_rate, self.effect = table
        self.of_line = np.repeat(np.arange(len(self.lines)), [len(line["runs"]) for line in self.lines])
        self.starts = np.flatnonzero(np.diff(self.of_line, prepend=-1))
        self.size = np.array([line["friction"] for line in self.lines])[self.of_line][:, None]
        self.best = np.array([line["moment"][0] for line in self.lines])
        self.direction = np.where(self.motion == RISING, -1.0, 1.0)[:, None]

    def sums(self, values):
        """Sums over the runs of each line."""
        return np.add.reduceat(values, self.starts, axis=0)

    def rig(self, draw):
        """The apparatus, each input by `draw(value, u)`."""
        radius = draw(*self.drum) + 0.5 * draw(*self.string)
        travel, height, balance = (draw(1.0, u) for u in self.relative)
        pulley, u, r = self.pulley
        written = self.drum[0] + 0.5 * self.string[0]
        angle = radius / written
        one = np.ones_like(radius)
        ratios = np.stack([one * travel, angle, one * height, one])
        return {
            "R": radius,
            "g": draw(*self.gravity),
            "ratio": ratios[self.scale.astype(int)],
            "balance": balance,
            "pulley": draw(pulley, u) / (r * travel) ** 2,
        }

    def points(self, rig, a, mass, b, slopes):
        """alpha and tau of every run; drag is taken out of a first."""
        radius = rig["R"]
        if self.drag:
            a = a - b / (slopes[self.of_line] + (mass + rig["pulley"]) * radius**2) * self.effect[:, None]
        a = a * rig["ratio"]
        down = self.direction * a
        tension = mass * (rig["g"] - down) - rig["pulley"] * down
        return a / radius, self.direction * tension * radius

    def found_drag(self, rig, slopes):
        total = slopes[self.of_line] + (self.m[:, None] * rig["balance"] + rig["pulley"]) * rig["R"] ** 2
        tells = self.u_rate > 0
        weights = np.where(tells, 1 / np.where(tells, self.u_rate, 1.0) ** 2, 0.0)[:, None] / total**2
        return (weights * self.rate[:, None] * total).sum(0) / weights.sum(0)


class Chain:
    """The model ready for drawing."""

    def __init__(self, model):
        self.model = model
        best = lambda value, u: np.array([value])
        rig = model.rig(best)
        slopes = model.best[:, None]
        b = model.found_drag(rig, slopes) if model.drag else 0.0
        mass = model.m[:, None]
        alpha, tau = model.points(rig, model.a[:, None], mass, b, slopes)
        u_alpha = model.u[:, None] / rig["R"]
        u_tau = (mass + rig["pulley"]) * rig["R"] * model.u[:, None]
        of_mass = (rig["g"] - model.direction * alpha * rig["R"]) * rig["R"] * model.mass[0]
        self.xx, self.xy, self.own_y = u_alpha**2, -u_alpha * u_tau, u_tau**2 + of_mass**2
        self.alpha, self.tau = alpha, tau
        self.scatter, self.freedom = model.friction
        self.yy = self.own_y + (self.scatter * model.size) ** 2
        line_slopes = slopes[model.of_line]
        self.weights = 1 / (self.yy + line_slopes * (line_slopes * self.xx - 2 * self.xy))
        self.totals = model.sums(self.weights)

    def york(self, alpha, tau, slopes, weights, yy, rounds):
        """Slope and intercept of every line, weights as given; slopes are where it starts."""
        model = self.model
        totals = model.sums(weights)
        mean_x, mean_y = model.sums(weights * alpha) / totals, model.sums(weights * tau) / totals
        u, v = alpha - mean_x[model.of_line], tau - mean_y[model.of_line]
        for _ in range(rounds):
            b = slopes[model.of_line]
            beta = weights * weights * (u * yy + b * v * self.xx - (b * u + v) * self.xy)
            slopes = model.sums(beta * v) / model.sums(beta * u)
        return slopes, mean_y - slopes * mean_x, u, v

    def q(self, variance):
        """Chi-square of all lines at each friction variance, lines and weights anew."""
        variance = np.asarray(variance)
        slopes = np.repeat(self.model.best[:, None], len(variance), axis=1)
        for _ in range(30):
            yy = self.own_y + variance * self.model.size**2
            b = slopes[self.model.of_line]
            weights = 1 / (yy + b * (b * self.xx - 2 * self.xy))
            slopes, _, u, v = self.york(self.alpha, self.tau, slopes, weights, yy, 1)
        b = slopes[self.model.of_line]
        weights = 1 / (yy + b * (b * self.xx - 2 * self.xy))
        return (weights * (v - b * u) ** 2).sum(0)

    def prepare_friction(self):
        """log q against log variance, fine enough to interpolate."""
        scale = float(np.mean(self.yy / self.model.size**2))
        variances = scale * np.geomspace(1e-9, 1e9, 1500)
        q = self.q(variances)
        with np.errstate(all="ignore"):
            self.q_of_none = self.q(np.zeros(1))[0]
        if not np.isfinite(self.q_of_none):
            self.q_of_none = math.inf
        self.table = np.log(q[::-1]), np.log(variances[::-1])

    def draw_scatter(self, rng, n):
        q = rng.chisquare(self.freedom, n)
        s = np.exp(0.5 * np.interp(np.log(q), *self.table))
        return np.where(q >= self.q_of_none, 0.0, s)

    def trials(self, rng, n):
        """n trials: one row per result."""
        model = self.model
        rig = model.rig(lambda value, u: value + u * rng.standard_normal(n) if u else np.full(n, value))
        s = self.draw_scatter(rng, n)
        runs = len(model.m)
        known = np.isinf(model.nu)
        noise = np.empty((runs, n))
        if known.any():
            noise[known] = rng.standard_normal((int(known.sum()), n))
        if not known.all():
            noise[~known] = rng.standard_t(model.nu[~known][:, None], ((~known).sum(), n))
        a = model.a[:, None] + model.u[:, None] * noise
        mass = model.m[:, None] * rig["balance"]
        if model.mass[0]:
            mass = mass + model.mass[0] * rng.standard_normal((runs, n))
        friction = s * model.size * rng.standard_normal((runs, n))
        slopes = np.repeat(model.best[:, None], n, axis=1)
        moved = model.drag[0] * rng.standard_normal(n) if model.drag else 0.0
        for _ in range(2 if model.drag else 1):
            b = model.found_drag(rig, slopes) + moved if model.drag else 0.0
            alpha, tau = model.points(rig, a, mass, b, slopes)
            slopes, intercepts, _, _ = self.york(alpha, tau + friction, slopes, self.weights, self.yy, 2)
        rows = [row for pair in zip(slopes, intercepts) for row in pair]
        place = {line["configuration"]: index for index, line in enumerate(model.lines)}
        for entry in model.objects:
            alone = slopes[place[entry["id"]]] - slopes[place[-1]]
            rows.append(alone)
            if entry["predicted"]:
                value, u, nu = entry["predicted"]
                error = rng.standard_normal(n) if math.isinf(nu) else rng.standard_t(nu, n)
                rows.append(alone - (value + u * error))
        return np.stack(rows)


def simulate(chain, trials, seed=1):
    """Values of all results, and each block's mean, u and interval ends."""
    rng = np.random.default_rng(seed)
    chain.prepare_friction()
    blocks = max(1, round(trials / BLOCK))
    values = np.concatenate([chain.trials(rng, BLOCK) for _ in range(blocks)], axis=1)
    return summary(values), values


def summary(values):
    low, high = np.quantile(values, (0.025, 0.975), axis=1)
    return np.stack([values.mean(axis=1), values.std(axis=1, ddof=1), low, high], axis=1)


def deviations(values):
    """Standard deviations of the four numbers of each result, from blocks."""
    blocks = np.stack([summary(part) for part in np.array_split(values, 50, axis=1)])
    return blocks.std(axis=0, ddof=1) / math.sqrt(len(blocks))


def run_program(lab, trials):
    program = os.environ.get("WHORL_CLI")
    if not program:
        sys.exit("set WHORL_CLI to the path of the built whorl program")
    command = [program, "analyse", str(lab), "--monte-carlo", str(trials)]
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=True)
    seconds = float(re.search(r"trials in ([\d.]+) s", done.stderr)[1])
    return json.loads(done.stdout)["monte_carlo"], seconds


def check(path, trials):
    found, program_seconds = run_program(path, trials)
    model = Model(found["model"])
    start = time.perf_counter()
    ours, values = simulate(Chain(model), trials)
    seconds = time.perf_counter() - start
    ours_off = deviations(values)
    worst, failed = 0.0, 0
    for result, numbers, off in zip(found["results"], ours, ours_off, strict=True):
        theirs = [result["value"], result["u"], *result["interval_95"]]
        spread = result["u_from_trials"]
        spreads = [spread["value"], spread["u"], *spread["interval_95"]]
        names = ("mean", "u", "lower end", "upper end")
        for name, left, right, s_left, s_right in zip(names, numbers, theirs, off, spreads, strict=True):
            if name in ("mean", "u") and model.friction[1] < DEGREES_FOR_U:
                continue
            distance = (left - right) / math.hypot(s_left, s_right)
            worst = max(worst, abs(distance))
            if abs(distance) > MOST:
                failed += 1
                place = f"{result['name']}, {result['result']}, {name}"
                print(f"     {place}: numpy {left!r}, the program {right!r}")
    name = path.relative_to(ROOT) if path.is_relative_to(ROOT) else path.name
    speeds = found["trials"] / program_seconds, values.shape[1] / seconds
    print(
        f"{'FAIL' if failed else 'ok  '} {name}: {len(ours)} results, {found['trials']} trials against "
        f"{values.shape[1]}: largest difference {worst:.1f} standard deviations; the program "
        f"{speeds[0]:.0f} trials/s, numpy {speeds[1]:.0f}: {speeds[0] / speeds[1]:.1f} times as fast"
    )
    return failed


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--trials", type=int, default=400_000)
    parser.add_argument("labs", nargs="*", type=Path)
    arguments = parser.parse_args()
    labs = [lab.resolve() for lab in arguments.labs] or LABS
    return 1 if sum(check(lab, arguments.trials) for lab in labs) else 0


if __name__ == "__main__":
    sys.exit(main())
