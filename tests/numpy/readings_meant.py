"""Files of readings that differ in what their columns mean: quantities, units, languages, gates, runs, masses."""

import numpy as np

from reading_tables import DEGREE, TURN, Corpus, Falls, Run, aligned, lines, number

COMMA = {"mark": ","}
RPM = TURN / 60


def quantities(corpus, falls):
    """Quantities and units in five languages."""
    told = (
        ("spanish-position.csv", falls.position, "tiempo (s)", "posición (m)", {}, ";", COMMA),
        ("spanish-angle.csv", falls.angle, "Tiempo [s]", "Ángulo [rad]", {}, ";", COMMA),
        ("spanish-speed.csv", falls.velocity, "tiempo (ms)", "rapidez (cm/s)", {"t_unit": 1e-3, "t_digits": 0, "y_unit": 0.01, "y_digits": 1}, ",", {}),
        ("french-speed.csv", falls.velocity, "temps (s)", "vitesse (cm/s)", {"y_unit": 0.01, "y_digits": 2}, ";", COMMA),
        ("french-turns-a-minute.csv", falls.angular_velocity, "Temps (s)", "Vitesse angulaire (tr/min)", {"y_unit": RPM, "y_digits": 1}, ";", COMMA),
        ("french-distance.csv", falls.position, "temps (s)", "déplacement (mm)", {"y_unit": 1e-3, "y_digits": 1}, "\t", COMMA),
        ("italian-velocity.csv", falls.velocity, "tempo (s)", "velocità (m/s)", {}, ";", COMMA),
        ("italian-turns-a-minute.csv", falls.angular_velocity, "tempo (s)", "velocità angolare (giri/min)", {"y_unit": RPM, "y_digits": 1}, ";", COMMA),
        ("italian-distance.csv", falls.position, "tempo (s)", "spostamento (cm)", {"y_unit": 0.01, "y_digits": 2}, ";", COMMA),
        ("german-distance.csv", falls.position, "Zeit in ms", "Strecke in cm", {"t_unit": 1e-3, "t_digits": 0, "y_unit": 0.01, "y_digits": 2}, ";", COMMA),
        ("german-turns-a-minute.csv", falls.angular_velocity, "Zeit (s)", "Drehzahl (1/min)", {"y_unit": RPM, "y_digits": 1}, ";", COMMA),
        ("german-angular-velocity.csv", falls.angular_velocity, "Zeit t in s", "Winkelgeschwindigkeit ω in rad/s", {}, ";", COMMA),
        ("english-distance.csv", falls.position, "Elapsed time (s)", "Distance (mm)", {"y_unit": 1e-3, "y_digits": 1}, ",", {}),
        ("english-turns.csv", falls.angle, "time (s)", "angle (turns)", {"y_unit": TURN, "y_digits": 4}, ",", {}),
        ("english-rpm.csv", falls.angular_velocity, "time (s)", "angular velocity (rpm)", {"y_unit": RPM, "y_digits": 1}, ",", {}),
        ("english-degrees-a-second.csv", falls.angular_velocity, "time [s]", "angular speed [deg/s]", {"y_unit": DEGREE, "y_digits": 1}, "\t", {}),
        ("symbols-omega.csv", falls.angular_velocity, "t / s", "ω / (rad/s)", {}, ",", {}),
        ("symbols-theta.csv", falls.angle, "t (s)", "θ (°)", {"y_unit": DEGREE, "y_digits": 1}, ",", {}),
        ("millimeters-a-second.csv", falls.velocity, "t (s)", "v (mm/s)", {"y_unit": 1e-3, "y_digits": 1}, ",", {}),
    )
    for name, fall, time, value, written, delimiter, style in told:
        run = fall(**written)
        corpus.table(name, f"“{time}”, “{value}”", lines([[time, value], *run.rows(**style)], delimiter), [run],
                     delimiter, style.get("mark", "."))
    # A fall a little longer than the clock's milliseconds would overflow a short counter: whole numbers only.
    run = falls.position(t_unit=1e-3, t_digits=0, y_unit=1e-3, y_digits=0, noise=0.0003)
    run = run.but(t=run.t + 48.213, origin=None)
    corpus.table("millis.csv", "a microcontroller's milliseconds since it was switched on, whole millimeters",
                 lines([["millis", "distance_mm"], *run.rows()], ","), [run], ",")
    run = falls.velocity(n=60)
    x = np.concatenate([[0.0], np.cumsum(run.y[:-1]) * 0.05]) + 0.0005 * falls.rng.standard_normal(60)
    run = Run("position", run.t, x)
    rows = [[*row, number(v, 3), number(a, 2)] for row, v, a in
            zip(run.rows(), falls.velocity(n=60).y, 0.42 + 0.1 * falls.rng.standard_normal(60))]
    corpus.table("time-position-velocity-acceleration.csv", "derived columns beside positions, which are what was measured",
                 lines([["t (s)", "x (m)", "v (m/s)", "a (m/s²)"], *rows], ","), [run], ",", ".")
    run = falls.velocity()
    rows = [[str(k + 1), t, v, number(21.4 + 0.01 * k, 1), "0,004"] for k, (t, v) in enumerate(run.rows(**COMMA))]
    rows = [[field.replace(".", ",") for field in row] for row in rows]
    corpus.table("extra-columns.csv", "sample number, temperature and uncertainty beside the readings",
                 lines([["Nr.", "Zeit (s)", "Geschwindigkeit (m/s)", "Temperatur (°C)", "u(v) (m/s)"], *rows], ";"),
                 [run], ";", ",")
    run = falls.position()
    rows = [[x, t] for t, x in run.rows()]
    corpus.table("time-second.csv", "the time stands in the second column", lines([["position (m)", "time (s)"], *rows], ","),
                 [run], ",", ".")


def gates(corpus, falls):
    """Gate times and logs of the gate's state."""
    def column(heading, times):
        return heading + "\n" + "".join(time + "\n" for time in times)

    run = falls.gates(t_digits=5)
    corpus.table("gates-seconds.txt", "one time per spoke", column("gate time (s)", run.times()), [run], None, ".")
    run = falls.gates(t_unit=1e-3, t_digits=2)
    corpus.table("gates-milliseconds.csv", "spoke number and time in ms",
                 lines([["spoke", "t (ms)"], *([str(k), t] for k, t in enumerate(run.times(), 1))], ","), [run], ",", ".")
    run = falls.gates(t_unit=1e-6, t_digits=0, begin=8.2)
    corpus.table("micros.txt", "a microcontroller's microseconds", column("micros", run.times()), [run])
    run = falls.gates()
    corpus.table("lone-decimal-commas.txt", "one column of decimal commas, no heading: commas part nothing here",
                 "".join(time + "\n" for time in run.times(**COMMA)), [run], None, ",")
    run = falls.gates(t_digits=5)
    corpus.table("lone-column.txt", "one column of times, no heading", "".join(time + "\n" for time in run.times()), [run], None, ".")
    run = falls.gates(n=45, a=1.6, v=0.5, t_digits=3)
    times = run.times()
    times[30:30] = [times[29]]
    corpus.table("gates-same-millisecond.txt", "the gate chattered: one spoke twice within a clock's millisecond",
                 column("gate time (s)", times), [run], None, ".", remark=True)
    for name, heading, unit, digits, style in (
        ("intervals-ms.txt", "interval (ms)", 1e-3, 2, {}), ("intervals-s.csv", "Zeitdifferenz (s)", 1.0, 5, COMMA),
        ("intervals-us.txt", "delta t (µs)", 1e-6, 0, {}), ("intervals-french.txt", "intervalle (ms)", 1e-3, 2, COMMA),
    ):
        run = falls.gates()
        gaps = np.diff(run.t)
        run = run.but(origin="any", t_tolerance=float(f"{len(gaps) * 0.501 * 10.0**-digits * unit:.3g}"))
        corpus.table(name, "times from each spoke to the next", column(heading, [number(gap / unit, digits, **style) for gap in gaps]),
                     [run], None, style.get("mark", ".") if digits else None)
    run = falls.both_edges()
    corpus.table("both-edges.txt", "both edges of every spoke in one column, which says so",
                 column("gate times of both edges (s)", run.times()), [run], None, ".")
    run = falls.both_edges()
    times = run.times(**COMMA)
    corpus.table("blocked-at-open-at.csv", "a row per spoke: blocked at, open at",
                 lines([["blocked at (s)", "open at (s)"], *zip(times[::2], times[1::2])], ";"), [run], ";", ",")
    run = falls.both_edges()
    times = run.times(**COMMA)
    corpus.table("zu-um-auf-um.csv", "a row per spoke in German, numbered",
                 lines([["Speiche", "zu (s)", "auf (s)"], *([str(k), *pair] for k, pair in enumerate(zip(times[::2], times[1::2]), 1))], ";"),
                 [run], ";", ",")
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
        corpus.table(name, f"every change of the gate: {' / '.join(words)}", lines([heads, *rows], delimiter), [run],
                     delimiter, style.get("mark", "."))
    run = falls.both_edges()
    rows = [["0.0000", "0"], *([t, "10"[k % 2]] for k, t in enumerate(run.times()))]
    corpus.table("state-starts-open.csv", "every change, with the state at the beginning",
                 lines([["time (s)", "gate blocked"], *rows], ","), [run], ",", ".")
    step = 0.002
    run = falls.both_edges(n=12, v=0.2, begin=0.0207)
    run = run.but(t_tolerance=step + 1e-4)
    clock = np.arange(0.0, run.t[-1] + 0.006, step)
    rows = [[number(t * 1e3, 0), str(np.searchsorted(run.t, t, side="right") % 2)] for t in clock]
    corpus.table("state-sampled.csv", "the state every 2 ms, mostly the same as before",
                 lines([["t (ms)", "gate (1 = blocked)"], *rows], ","), [run], ",")


def runs(corpus, falls):
    """Several runs in a file, and what was said of them."""
    three = [falls.velocity(n=n, a=a, label=f"Run {k}") for k, (n, a) in enumerate(((40, 0.31), (40, 0.52), (40, 0.7)), 1)]
    rows = [sum(row, []) for row in zip(*(run.rows(**COMMA) for run in three))]
    corpus.table("side-by-side-own-time.csv", "three runs side by side, each with its time, names in the row above",
                 lines([["Run 1", "", "Run 2", "", "Run 3", ""], ["t (s)", "v (m/s)"] * 3, *rows], ";"), three, ";", ",")
    three = [falls.velocity(n=40, a=a, label=f"Lauf {k}") for k, a in enumerate((0.31, 0.52, 0.7), 1)]
    rows = [[t, *values] for t, *values in zip(three[0].times(**COMMA), *(run.values(**COMMA) for run in three))]
    corpus.table("side-by-side-one-time.csv", "three runs beside one column of times",
                 lines([["Zeit (s)", *(f"v Lauf {k} (m/s)" for k in (1, 2, 3))], *rows], ";"), three, ";", ",")
    three = [falls.position(n=n, a=a, label=f"Run {k}") for k, (n, a) in enumerate(((44, 0.31), (36, 0.52), (30, 0.7)), 1)]
    longest = [run.rows() + [["", ""]] * (44 - len(run.t)) for run in three]
    rows = [sum(row, []) for row in zip(*longest)]
    corpus.table("side-by-side-unequal.csv", "runs of different length: empty cells below the shorter ones",
                 lines([[f"{name} Run {k}" for k in (1, 2, 3) for name in ("time (s)", "position (m)")], *rows], ","), three, ",", ".")
    two = [falls.velocity(n=40, a=a) for a in (0.31, 0.52)]
    rows = [sum(row, []) for row in zip(*(run.rows() for run in two))]
    corpus.table("side-by-side-same-names.csv", "two groups with the same headings and no names",
                 lines([["t (s)", "v (m/s)"] * 2, *rows], "\t"), two, "\t", ".")
    two = [falls.velocity(n=40, a=a) for a in (0.31, 0.52)]
    rows = [[*a, "", *b] for a, b in zip(two[0].rows(), two[1].rows())]
    corpus.table("side-by-side-gap.csv", "an empty column between two groups",
                 lines([["t (s)", "v (m/s)", "", "t (s)", "v (m/s)"], *rows], ","), two, ",", ".")
    two = [falls.gates(a=a, mass=m, label=label) for a, m, label in ((0.31, 0.05, "50 g"), (0.52, 0.1, "100 g"))]
    rows = list(zip(*(run.times(**COMMA) for run in two)))
    corpus.table("gate-columns-masses.csv", "a column of gate times for each mass",
                 lines([["Zeit (s) 50 g", "Zeit (s) 100 g"], *rows], ";"), two, ";", ",")

    two = [falls.velocity(n=40, a=a) for a in (0.31, 0.52)]
    block = ["t (s),v (m/s)\n" + lines(run.rows(), ",") for run in two]
    corpus.table("stacked.csv", "a blank line, and the heading again", "\n".join(block), two, ",", ".")
    three = [falls.position(n=36, a=a, label=f"Run {k}") for k, a in enumerate((0.31, 0.52, 0.7), 1)]
    block = [f"Run {k}\nt (s);x (m)\n" + lines(run.rows(**COMMA), ";") for k, run in enumerate(three, 1)]
    corpus.table("stacked-titles.csv", "a title over each table", "\n".join(block), three, ";", ",")
    two = [falls.velocity(n=40, a=a) for a in (0.31, 0.52)]
    corpus.table("time-starts-again.csv", "the clock starts again, and nothing else tells of the second run",
                 lines([["t (s)", "v (m/s)"], *two[0].rows(), *two[1].rows()], ","), two, ",", ".")
    two = [falls.gates(a=a, begin=0.01) for a in (0.31, 0.52)]
    text = "\n".join("".join(time + "\n" for time in run.times()) for run in two)
    corpus.table("gates-stacked.txt", "two lists of gate times with a blank line between them", "gate time (s)\n" + text, two, None, ".")
    three = [falls.velocity(n=36, a=a, label=f"{k}") for k, a in enumerate((0.31, 0.52, 0.7), 1)]
    rows = [[str(k), *row] for k, run in enumerate(three, 1) for row in run.rows()]
    corpus.table("run-column.csv", "long format: a column tells the run", lines([["run", "t (s)", "v (m/s)"], *rows], ","), three, ",", ".")
    three = [falls.velocity(n=36, a=a, label=label, carries=carries, mass=mass) for label, carries, mass, a in
             (("1", "leer", 0.05, 0.7), ("2", "Schieferscheibe", 0.15, 0.31), ("3", "Messingring", 0.15, 0.44))]
    rows = [[run.label, run.carries, number(run.mass * 1e3, 0), *row] for run in three for row in run.rows(**COMMA)]
    corpus.table("run-object-mass-columns.csv", "long format with run, object and hanging mass",
                 lines([["Lauf", "Auflage", "Masse (g)", "Zeit (s)", "Geschwindigkeit (m/s)"], *rows], ";"), three, ";", ",")


def masses(corpus, falls):
    """Hanging masses in headings and notes."""
    two = [falls.velocity(n=40, a=a, mass=m, label=f"{m * 1e3:.0f} g") for a, m in ((0.31, 0.05), (0.52, 0.1))]
    rows = [sum(row, []) for row in zip(*(run.rows(**COMMA) for run in two))]
    corpus.table("masses-above-groups.csv", "the hanging mass over each group",
                 lines([["50 g", "", "100 g", ""], ["t (s)", "v (m/s)"] * 2, *rows], ";"), two, ";", ",")
    two = [falls.position(n=40, a=a, mass=m) for a, m in ((0.31, 0.05), (0.52, 0.1))]
    rows = [[t, *values] for t, *values in zip(two[0].times(), *(run.values() for run in two))]
    corpus.table("masses-in-headings.csv", "the hanging mass in each column's heading",
                 lines([["t (s)", "x (m), 50 g", "x (m), 100 g"], *rows], ","), two, ",", ".")
    run = falls.gates(mass=0.15)
    corpus.table("mass-in-a-comment.txt", "the hanging mass in a comment",
                 "# hanging mass: 150 g\n# gate times, one per spoke\ngate time (s)\n" + "".join(time + "\n" for time in run.times()),
                 [run], None, ".")
    for name, note, mass, carries in (
        ("note-spanish.csv", "Masa colgante: 0,200 kg\nObjeto: anillo de latón\n", 0.2, "anillo de latón"),
        ("note-french.csv", "Masse suspendue : 75 g\nObjet : disque d’ardoise\n", 0.075, "disque d’ardoise"),
        ("note-italian.csv", "Massa appesa: 120 g\nOggetto: anello di ottone\n", 0.12, "anello di ottone"),
    ):
        run = falls.velocity(mass=mass, carries=carries)
        corpus.table(name, "hanging mass and object in notes above the table",
                     note + "\n" + lines([["t (s)", "v (m/s)"], *run.rows(**COMMA)], ";"), [run], ";", ",")
    two = [falls.velocity(n=36, a=a, mass=m, label=f"Run {k}") for k, (a, m) in enumerate(((0.31, 0.05), (0.52, 0.1)), 1)]
    block = [f"Run {k}\nhanging mass: {run.mass * 1e3:.0f} g\nt (s)  v (m/s)\n" + aligned(run.rows(), 8) for k, run in enumerate(two, 1)]
    corpus.table("stacked-with-notes.txt", "a title and a note over each table, set in columns of spaces", "\n".join(block), two, " ", ".")


def write(corpus: Corpus, falls: Falls):
    quantities(corpus, falls)
    gates(corpus, falls)
    runs(corpus, falls)
    masses(corpus, falls)
