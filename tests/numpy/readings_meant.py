"""Files of readings that differ in what their columns mean: quantities, units, languages, gates."""

import numpy as np

from reading_tables import DEGREE, TURN, Corpus, Falls, Run, lines, number

COMMA = {"mark": ","}
# How times and values are written, unit and decimals.
MS = {"t_unit": 1e-3, "t_digits": 0}
CM = {"y_unit": 0.01, "y_digits": 2}
MM = {"y_unit": 1e-3, "y_digits": 1}
DEGREES = {"y_unit": DEGREE, "y_digits": 1}
TURNS = {"y_unit": TURN, "y_digits": 4}
RPM = {"y_unit": TURN / 60, "y_digits": 1}


def quantities(corpus, falls):
    """Quantities and units in five languages."""
    told = (
        ("spanish-position.csv", falls.position, "tiempo (s)", "posición (m)", {}, ";", ","),
        ("spanish-angle.csv", falls.angle, "Tiempo [s]", "Ángulo [rad]", {}, ";", ","),
        ("spanish-speed.csv", falls.velocity, "tiempo (ms)", "rapidez (cm/s)", MS | CM, ",", "."),
        ("french-speed.csv", falls.velocity, "temps (s)", "vitesse (cm/s)", CM, ";", ","),
        (
            "french-turns.csv",
            falls.angular_velocity,
            "Temps (s)",
            "Vitesse angulaire (tr/min)",
            RPM,
            ";",
            ",",
        ),
        ("french-distance.csv", falls.position, "temps (s)", "déplacement (mm)", MM, "\t", ","),
        ("italian-velocity.csv", falls.velocity, "tempo (s)", "velocità (m/s)", {}, ";", ","),
        (
            "italian-turns.csv",
            falls.angular_velocity,
            "tempo (s)",
            "velocità angolare (giri/min)",
            RPM,
            ";",
            ",",
        ),
        ("italian-distance.csv", falls.position, "tempo (s)", "spostamento (cm)", CM, ";", ","),
        ("german-distance.csv", falls.position, "Zeit in ms", "Strecke in cm", MS | CM, ";", ","),
        ("german-turns.csv", falls.angular_velocity, "Zeit (s)", "Drehzahl (1/min)", RPM, ";", ","),
        (
            "german-omega.csv",
            falls.angular_velocity,
            "Zeit t in s",
            "Winkelgeschwindigkeit ω in rad/s",
            {},
            ";",
            ",",
        ),
        ("english-distance.csv", falls.position, "Elapsed time (s)", "Distance (mm)", MM, ",", "."),
        ("english-turns.csv", falls.angle, "time (s)", "angle (turns)", TURNS, ",", "."),
        ("english-rpm.csv", falls.angular_velocity, "time (s)", "angular velocity (rpm)", RPM, ",", "."),
        (
            "english-degrees.csv",
            falls.angular_velocity,
            "time [s]",
            "angular speed [deg/s]",
            DEGREES,
            "\t",
            ".",
        ),
        ("symbols-omega.csv", falls.angular_velocity, "t / s", "ω / (rad/s)", {}, ",", "."),
        ("symbols-theta.csv", falls.angle, "t (s)", "θ (°)", DEGREES, ",", "."),
        ("seconds-short.csv", falls.velocity, "time (sec)", "velocity (m/sec)", {}, ",", "."),
        ("units-in-words.csv", falls.position, "time in seconds", "position in centimeters", CM, ",", "."),
        ("german-words.csv", falls.angle, "Zeit (Sekunden)", "Winkel (Grad)", DEGREES, ";", ","),
        ("spanish-words.csv", falls.angle, "tiempo (segundos)", "ángulo (grados)", DEGREES, ";", ","),
        ("power-caret.csv", falls.velocity, "t (s)", "v (m s^-1)", {}, ",", "."),
        ("power-point.csv", falls.velocity, "t [s]", "v [m.s-1]", {}, "\t", "."),
        ("s-for-distance.csv", falls.position, "t (s)", "s (m)", {}, ";", ","),
        ("capitals.csv", falls.position, "TIME (S)", "DISTANCE (CM)", CM, ",", "."),
        ("revolutions.csv", falls.angular_velocity, "Time (s)", "Rotation rate (rev/min)", RPM, ",", "."),
        ("millimeters.csv", falls.velocity, "t (s)", "v (mm/s)", MM, ",", "."),
    )
    for name, fall, time, value, written, delimiter, mark in told:
        run = fall(**written)
        text = lines([[time, value], *run.rows(mark=mark)], delimiter)
        corpus.table(name, f"“{time}”, “{value}”", text, [run], delimiter, mark)
    run = falls.position(t_unit=1e-3, t_digits=0, y_unit=1e-3, y_digits=0, noise=0.0003)
    run = run.but(t=run.t + 48.213, origin=None)
    corpus.table(
        "millis.csv",
        "a microcontroller's milliseconds since it was switched on, whole millimeters",
        lines([["millis", "distance_mm"], *run.rows()], ","),
        [run],
        ",",
    )
    run = falls.velocity(n=60)
    run = Run("sampled-acceleration", run.t, 0.42 + 0.05 * falls.rng.standard_normal(60), y_digits=3)
    corpus.table(
        "acceleration.csv",
        "acceleration against time",
        lines([["Zeit (s)", "Beschleunigung (m/s²)"], *run.rows(**COMMA)], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.position(**CM)
    run = run.but(y=0.95 - run.y)
    corpus.table(
        "height.csv",
        "the height of the mass, which falls",
        lines([["t (s)", "height (cm)"], *run.rows()], ","),
        [run],
        ",",
        ".",
    )
    run = falls.velocity(n=60)
    run = run.but(t=run.t - 0.5)
    corpus.table(
        "before-the-trigger.csv",
        "times before the trigger are negative",
        lines([["t (s)", "v (m/s)"], *run.rows(**COMMA)], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.velocity(n=60)
    x = np.concatenate([[0.0], np.cumsum(run.y[:-1]) * 0.05]) + 0.0005 * falls.rng.standard_normal(60)
    run = Run("position", run.t, x)
    rows = [
        [*row, number(v, 3), number(a, 2)]
        for row, v, a in zip(run.rows(), falls.velocity(n=60).y, 0.42 + 0.1 * falls.rng.standard_normal(60))
    ]
    corpus.table(
        "time-position-velocity-acceleration.csv",
        "derived columns beside positions, which are what was measured",
        lines([["t (s)", "x (m)", "v (m/s)", "a (m/s²)"], *rows], ","),
        [run],
        ",",
        ".",
    )
    run = falls.velocity()
    rows = [
        [str(k + 1), t, v, number(21.4 + 0.01 * k, 1), "0,004"] for k, (t, v) in enumerate(run.rows(**COMMA))
    ]
    rows = [[field.replace(".", ",") for field in row] for row in rows]
    corpus.table(
        "extra-columns.csv",
        "sample number, temperature and uncertainty beside the readings",
        lines([["Nr.", "Zeit (s)", "Geschwindigkeit (m/s)", "Temperatur (°C)", "u(v) (m/s)"], *rows], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.position()
    rows = [[x, t] for t, x in run.rows()]
    corpus.table(
        "time-second.csv",
        "the time stands in the second column",
        lines([["position (m)", "time (s)"], *rows], ","),
        [run],
        ",",
        ".",
    )


def gates(corpus, falls):
    """Gate times and logs of the gate's state."""

    def column(heading, times):
        return heading + "\n" + "".join(time + "\n" for time in times)

    run = falls.gates(t_digits=5)
    corpus.table(
        "gates-seconds.txt", "one time per spoke", column("gate time (s)", run.times()), [run], None, "."
    )
    run = falls.gates(t_unit=1e-3, t_digits=2)
    corpus.table(
        "gates-milliseconds.csv",
        "spoke number and time in ms",
        lines([["spoke", "t (ms)"], *([str(k), t] for k, t in enumerate(run.times(), 1))], ","),
        [run],
        ",",
        ".",
    )
    run = falls.gates(t_unit=1e-6, t_digits=0, begin=8.2)
    corpus.table("micros.txt", "a microcontroller's microseconds", column("micros", run.times()), [run])
    run = falls.gates()
    corpus.table(
        "lone-decimal-commas.txt",
        "one column of decimal commas, no heading: commas part nothing here",
        "".join(time + "\n" for time in run.times(**COMMA)),
        [run],
        None,
        ",",
    )
    run = falls.gates(t_digits=5)
    corpus.table(
        "lone-column.txt",
        "one column of times, no heading",
        "".join(time + "\n" for time in run.times()),
        [run],
        None,
        ".",
    )
    run = falls.gates(n=45, a=1.6, v=0.5, t_digits=3)
    times = run.times()
    times[30:30] = [times[29]]
    corpus.table(
        "gates-same-millisecond.txt",
        "the gate chattered: one spoke twice within a clock's millisecond",
        column("gate time (s)", times),
        [run],
        None,
        ".",
        remark=True,
    )
    for name, heading, unit, digits, style in (
        ("intervals-ms.txt", "interval (ms)", 1e-3, 2, {}),
        ("intervals-s.csv", "Zeitdifferenz (s)", 1.0, 5, COMMA),
        ("intervals-us.txt", "delta t (µs)", 1e-6, 0, {}),
        ("intervals-french.txt", "intervalle (ms)", 1e-3, 2, COMMA),
    ):
        run = falls.gates()
        gaps = np.diff(run.t)
        run = run.but(origin="any", t_tolerance=float(f"{len(gaps) * 0.501 * 10.0**-digits * unit:.3g}"))
        corpus.table(
            name,
            "times from each spoke to the next",
            column(heading, [number(gap / unit, digits, **style) for gap in gaps]),
            [run],
            None,
            style.get("mark", ".") if digits else None,
        )
    run = falls.both_edges()
    corpus.table(
        "both-edges.txt",
        "both edges of every spoke in one column, which says so",
        column("gate times of both edges (s)", run.times()),
        [run],
        None,
        ".",
    )
    run = falls.both_edges()
    times = run.times(**COMMA)
    corpus.table(
        "blocked-at-open-at.csv",
        "a row per spoke: blocked at, open at",
        lines([["blocked at (s)", "open at (s)"], *zip(times[::2], times[1::2])], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.both_edges()
    times = run.times(**COMMA)
    corpus.table(
        "zu-um-auf-um.csv",
        "a row per spoke in German, numbered",
        lines(
            [
                ["Speiche", "zu (s)", "auf (s)"],
                *([str(k), *pair] for k, pair in enumerate(zip(times[::2], times[1::2]), 1)),
            ],
            ";",
        ),
        [run],
        ";",
        ",",
    )
    for name, heads, words, delimiter, style in (
        ("state-changes.csv", ["time (s)", "state"], ["1", "0"], ",", {}),
        ("state-words.csv", ["time (s)", "gate"], ["blocked", "open"], ",", {}),
        ("state-german.csv", ["Zeit (s)", "Lichtschranke"], ["zu", "frei"], ";", COMMA),
        ("state-french.csv", ["temps (s)", "état"], ["bloqué", "libre"], ";", COMMA),
        ("state-spanish.csv", ["tiempo (s)", "estado"], ["bloqueado", "libre"], ";", COMMA),
        ("state-italian.csv", ["tempo (s)", "stato"], ["chiuso", "aperto"], ";", COMMA),
    ):
        run = falls.both_edges()
        rows = [[t, words[k % 2]] for k, t in enumerate(run.times(**style))]
        corpus.table(
            name,
            f"every change of the gate: {' / '.join(words)}",
            lines([heads, *rows], delimiter),
            [run],
            delimiter,
            style.get("mark", "."),
        )
    run = falls.both_edges()
    rows = [["0.0000", "0"], *([t, "10"[k % 2]] for k, t in enumerate(run.times()))]
    corpus.table(
        "state-starts-open.csv",
        "every change, with the state at the beginning",
        lines([["time (s)", "gate blocked"], *rows], ","),
        [run],
        ",",
        ".",
    )
    step = 0.002
    run = falls.both_edges(n=12, v=0.2, begin=0.0207)
    run = run.but(t_tolerance=step + 1e-4)
    clock = np.arange(0.0, run.t[-1] + 0.006, step)
    rows = [[number(t * 1e3, 0), str(np.searchsorted(run.t, t, side="right") % 2)] for t in clock]
    corpus.table(
        "state-sampled.csv",
        "the state every 2 ms, mostly the same as before",
        lines([["t (ms)", "gate (1 = blocked)"], *rows], ","),
        [run],
        ",",
    )


def write(corpus: Corpus, falls: Falls):
    quantities(corpus, falls)
    gates(corpus, falls)
