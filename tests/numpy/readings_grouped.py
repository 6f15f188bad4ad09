"""Files that hold several runs, and files that tell the hanging mass and what the table carries."""

from reading_tables import Corpus, Falls, aligned, lines, number

COMMA = {"mark": ","}


def runs(corpus, falls):
    """Several runs in a file, and what was said of them."""
    three = [
        falls.velocity(n=n, a=a, label=f"Run {k}")
        for k, (n, a) in enumerate(((40, 0.31), (40, 0.52), (40, 0.7)), 1)
    ]
    rows = [sum(row, []) for row in zip(*(run.rows(**COMMA) for run in three))]
    corpus.table(
        "side-by-side-own-time.csv",
        "three runs side by side, each with its time, names in the row above",
        lines([["Run 1", "", "Run 2", "", "Run 3", ""], ["t (s)", "v (m/s)"] * 3, *rows], ";"),
        three,
        ";",
        ",",
    )
    three = [falls.velocity(n=40, a=a, label=f"Lauf {k}") for k, a in enumerate((0.31, 0.52, 0.7), 1)]
    rows = [
        [t, *values] for t, *values in zip(three[0].times(**COMMA), *(run.values(**COMMA) for run in three))
    ]
    corpus.table(
        "side-by-side-one-time.csv",
        "three runs beside one column of times",
        lines([["Zeit (s)", *(f"v Lauf {k} (m/s)" for k in (1, 2, 3))], *rows], ";"),
        three,
        ";",
        ",",
    )
    three = [
        falls.position(n=n, a=a, label=f"Run {k}")
        for k, (n, a) in enumerate(((44, 0.31), (36, 0.52), (30, 0.7)), 1)
    ]
    longest = [run.rows() + [["", ""]] * (44 - len(run.t)) for run in three]
    rows = [sum(row, []) for row in zip(*longest)]
    corpus.table(
        "side-by-side-unequal.csv",
        "runs of different length: empty cells below the shorter ones",
        lines([[f"{name} Run {k}" for k in (1, 2, 3) for name in ("time (s)", "position (m)")], *rows], ","),
        three,
        ",",
        ".",
    )
    two = [falls.velocity(n=40, a=a) for a in (0.31, 0.52)]
    rows = [sum(row, []) for row in zip(*(run.rows() for run in two))]
    corpus.table(
        "side-by-side-same-names.csv",
        "two groups with the same headings and no names",
        lines([["t (s)", "v (m/s)"] * 2, *rows], "\t"),
        two,
        "\t",
        ".",
    )
    two = [falls.velocity(n=40, a=a) for a in (0.31, 0.52)]
    rows = [[*a, "", *b] for a, b in zip(two[0].rows(), two[1].rows())]
    corpus.table(
        "side-by-side-gap.csv",
        "an empty column between two groups",
        lines([["t (s)", "v (m/s)", "", "t (s)", "v (m/s)"], *rows], ","),
        two,
        ",",
        ".",
    )
    two = [
        falls.gates(a=a, mass=m, label=label) for a, m, label in ((0.31, 0.05, "50 g"), (0.52, 0.1, "100 g"))
    ]
    rows = list(zip(*(run.times(**COMMA) for run in two)))
    corpus.table(
        "gate-columns-masses.csv",
        "a column of gate times for each mass",
        lines([["Zeit (s) 50 g", "Zeit (s) 100 g"], *rows], ";"),
        two,
        ";",
        ",",
    )

    two = [falls.velocity(n=40, a=a) for a in (0.31, 0.52)]
    block = ["t (s),v (m/s)\n" + lines(run.rows(), ",") for run in two]
    corpus.table("stacked.csv", "a blank line, and the heading again", "\n".join(block), two, ",", ".")
    three = [falls.position(n=36, a=a, label=f"Run {k}") for k, a in enumerate((0.31, 0.52, 0.7), 1)]
    block = [f"Run {k}\nt (s);x (m)\n" + lines(run.rows(**COMMA), ";") for k, run in enumerate(three, 1)]
    corpus.table("stacked-titles.csv", "a title over each table", "\n".join(block), three, ";", ",")
    two = [falls.velocity(n=40, a=a) for a in (0.31, 0.52)]
    corpus.table(
        "time-starts-again.csv",
        "the clock starts again, and nothing else tells of the second run",
        lines([["t (s)", "v (m/s)"], *two[0].rows(), *two[1].rows()], ","),
        two,
        ",",
        ".",
    )
    two = [falls.gates(a=a, begin=0.01) for a in (0.31, 0.52)]
    text = "\n".join("".join(time + "\n" for time in run.times()) for run in two)
    corpus.table(
        "gates-stacked.txt",
        "two lists of gate times with a blank line between them",
        "gate time (s)\n" + text,
        two,
        None,
        ".",
    )
    three = [falls.velocity(n=36, a=a, label=f"{k}") for k, a in enumerate((0.31, 0.52, 0.7), 1)]
    rows = [[str(k), *row] for k, run in enumerate(three, 1) for row in run.rows()]
    corpus.table(
        "run-column.csv",
        "long format: a column tells the run",
        lines([["run", "t (s)", "v (m/s)"], *rows], ","),
        three,
        ",",
        ".",
    )
    three = [
        falls.velocity(n=36, a=a, label=label, carries=carries, mass=mass)
        for label, carries, mass, a in (
            ("1", "leer", 0.05, 0.7),
            ("2", "Schieferscheibe", 0.15, 0.31),
            ("3", "Messingring", 0.15, 0.44),
        )
    ]
    rows = [
        [run.label, run.carries, number(run.mass * 1e3, 0), *row]
        for run in three
        for row in run.rows(**COMMA)
    ]
    corpus.table(
        "run-object-mass-columns.csv",
        "long format with run, object and hanging mass",
        lines([["Lauf", "Auflage", "Masse (g)", "Zeit (s)", "Geschwindigkeit (m/s)"], *rows], ";"),
        three,
        ";",
        ",",
    )


def masses(corpus, falls):
    """Hanging masses in headings and notes."""
    two = [
        falls.velocity(n=40, a=a, mass=m, label=f"{m * 1e3:.0f} g") for a, m in ((0.31, 0.05), (0.52, 0.1))
    ]
    rows = [sum(row, []) for row in zip(*(run.rows(**COMMA) for run in two))]
    corpus.table(
        "masses-above-groups.csv",
        "the hanging mass over each group",
        lines([["50 g", "", "100 g", ""], ["t (s)", "v (m/s)"] * 2, *rows], ";"),
        two,
        ";",
        ",",
    )
    two = [falls.position(n=40, a=a, mass=m) for a, m in ((0.31, 0.05), (0.52, 0.1))]
    rows = [[t, *values] for t, *values in zip(two[0].times(), *(run.values() for run in two))]
    corpus.table(
        "masses-in-headings.csv",
        "the hanging mass in each column's heading",
        lines([["t (s)", "x (m), 50 g", "x (m), 100 g"], *rows], ","),
        two,
        ",",
        ".",
    )
    run = falls.gates(mass=0.15)
    corpus.table(
        "mass-in-a-comment.txt",
        "the hanging mass in a comment",
        "# hanging mass: 150 g\n# gate times, one per spoke\ngate time (s)\n"
        + "".join(time + "\n" for time in run.times()),
        [run],
        None,
        ".",
    )
    for name, note, mass, carries in (
        ("note-spanish.csv", "Masa colgante: 0,200 kg\nObjeto: anillo de latón\n", 0.2, "anillo de latón"),
        ("note-french.csv", "Masse suspendue : 75 g\nObjet : disque d’ardoise\n", 0.075, "disque d’ardoise"),
        ("note-italian.csv", "Massa appesa: 120 g\nOggetto: anello di ottone\n", 0.12, "anello di ottone"),
    ):
        run = falls.velocity(mass=mass, carries=carries)
        corpus.table(
            name,
            "hanging mass and object in notes above the table",
            note + "\n" + lines([["t (s)", "v (m/s)"], *run.rows(**COMMA)], ";"),
            [run],
            ";",
            ",",
        )
    two = [
        falls.velocity(n=36, a=a, mass=m, label=f"Run {k}")
        for k, (a, m) in enumerate(((0.31, 0.05), (0.52, 0.1)), 1)
    ]
    block = [
        f"Run {k}\nhanging mass: {run.mass * 1e3:.0f} g\nt (s)  v (m/s)\n" + aligned(run.rows(), 8)
        for k, run in enumerate(two, 1)
    ]
    corpus.table(
        "stacked-with-notes.txt",
        "a title and a note over each table, set in columns of spaces",
        "\n".join(block),
        two,
        " ",
        ".",
    )


def write(corpus: Corpus, falls: Falls):
    runs(corpus, falls)
    masses(corpus, falls)
