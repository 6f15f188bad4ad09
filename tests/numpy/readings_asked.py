"""Files that can be read in more than one way, so that a reader must ask."""

import numpy as np

from reading_tables import DEGREE, TURN, Corpus, Falls, Run, lines

COMMA = {"mark": ","}


def asked(corpus, name, about, text, answers, **known):
    """`answers`: choice as text → runs that it gives, and what else has to be said then, behind “ & ”."""
    told = []
    for choice, runs in answers.items():
        choice, _, also = choice.partition(" & ")
        told.append({"choice": choice, "also": also, "runs": [run.truth() for run in runs]})
    corpus.table(name, about, text, None, answers=told, **known)


def scaled(run: Run, kind, unit, told_unit=1.0):
    """The same text taken for another kind, its unit being `unit` SI units instead of `told_unit`."""
    return run.but(kind=kind, y=run.y / told_unit * unit, y_unit=unit)


def write(corpus: Corpus, falls: Falls):
    run = falls.gates(begin=1.1, v=0.6, t_digits=3, n=24)
    text = "Zeit\n" + "".join(time + "\n" for time in run.times(**COMMA))
    asked(
        corpus,
        "comma-lone-column.txt",
        "1,203: a little more than one, or more than a thousand",
        text,
        {"decimal=comma": [run], "decimal=point & 1=time ms": [run]},
    )
    run = falls.position(n=40, wait=0.0, t_digits=3, y_digits=3)
    run = run.but(t=run.t + 1.0, y=run.y + 1.2)
    asked(
        corpus,
        "comma-two-columns.csv",
        "1,050;1,203 with headings that name no unit",
        lines([["Zeit", "Weg"], *run.rows(**COMMA)], ";"),
        {"decimal=comma": [run], "decimal=point & 1=time ms;2=position mm": [run]},
        delimiter=";",
    )
    run = falls.position(n=40, wait=0.0, t_digits=3, y_digits=3)
    run = run.but(t=run.t + 1.0, y=run.y + 1.2)
    asked(
        corpus,
        "point-two-columns.csv",
        "1.050;1.203 in a German table: thousands points are possible",
        lines([["Zeit", "Weg"], *run.rows()], ";"),
        {"decimal=point": [run], "decimal=comma & 1=time ms;2=position mm": [run]},
        delimiter=";",
    )
    for name, delimiter, style in (("two-columns.csv", ",", {}), ("two-columns-pasted.txt", "\t", COMMA)):
        run = falls.velocity(n=40, y_digits=3)
        asked(
            corpus,
            name,
            "two columns without a heading",
            lines(run.rows(**style), delimiter),
            {"2=velocity m/s": [run], "2=position m": [run.but(kind="position")]},
            delimiter=delimiter,
            decimal=style.get("mark", "."),
        )
    run = falls.angle(n=40, y_digits=2)
    asked(
        corpus,
        "angle-without-unit.csv",
        "angles without a unit, up to 6",
        lines([["t (s)", "angle"], *run.rows()], ","),
        {"2=table angle rad": [run], "2=table angle turns": [scaled(run, "angle", TURN)]},
        delimiter=",",
        decimal=".",
    )
    run = falls.angle(n=40, y_digits=1, alpha=250.0)
    asked(
        corpus,
        "angle-without-unit-large.csv",
        "angles without a unit, up to 400",
        lines([["t (s)", "angle"], *run.rows()], ","),
        {"2=table angle rad": [run], "2=table angle °": [scaled(run, "angle", DEGREE)]},
        delimiter=",",
        decimal=".",
    )
    run = falls.gates(n=30)
    asked(
        corpus,
        "gate-times-falling.txt",
        "falling numbers: times from last to first, or times between spokes",
        "gate time (s)\n" + "".join(time + "\n" for time in run.times()[::-1]),
        {
            "1=time s": [run],
            "1=interval s": [run.but(t=np.concatenate([[0.0], np.cumsum(run.t[::-1])]), t_tolerance=2e-3)],
        },
        decimal=".",
    )
    run = falls.position(n=40, y_unit=0.01, y_digits=1)
    run = run.but(y=run.y + 0.3)
    asked(
        corpus,
        "position-without-unit.csv",
        "positions from 30 to 130 without a unit",
        lines([["t (s)", "position"], *run.rows()], ","),
        {"2=position cm": [run], "2=position mm": [scaled(run, "position", 1e-3, 0.01)]},
        delimiter=",",
        decimal=".",
    )
    run = falls.angular_velocity(n=40, y_digits=1, alpha=30.0, noise=0.2)
    asked(
        corpus,
        "angular-velocity-without-unit.csv",
        "angular velocities without a unit",
        lines([["Zeit (s)", "Winkelgeschwindigkeit"], *run.rows(**COMMA)], ";"),
        {
            "2=table angular velocity rad/s": [run],
            "2=table angular velocity °/s": [scaled(run, "angular-velocity", DEGREE)],
            "2=table angular velocity rpm": [scaled(run, "angular-velocity", TURN / 60)],
        },
        delimiter=";",
        decimal=",",
    )
    run = falls.velocity(n=40, y_unit=0.01, y_digits=1)
    asked(
        corpus,
        "velocity-without-unit.csv",
        "velocities up to 80 without a unit",
        lines([["t (s)", "vitesse"], *run.rows(**COMMA)], ";"),
        {"2=velocity cm/s": [run], "2=velocity mm/s": [scaled(run, "velocity", 1e-3, 0.01)]},
        delimiter=";",
        decimal=",",
    )
    run = falls.velocity(n=40, y_digits=3)
    asked(
        corpus,
        "channels.csv",
        "headings that say nothing",
        lines([["Channel 1", "Channel 2"], *run.rows()], ","),
        {"2=velocity m/s": [run], "2=position m": [run.but(kind="position")]},
        delimiter=",",
        decimal=".",
    )
    run = falls.position(n=40, y_digits=3)
    asked(
        corpus,
        "second-column-unnamed.csv",
        "only the time is named",
        lines([["t (s)", ""], *run.rows()], ","),
        {"2=velocity m/s": [run.but(kind="velocity")], "2=position m": [run]},
        delimiter=",",
        decimal=".",
    )
