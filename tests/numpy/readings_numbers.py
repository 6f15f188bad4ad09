"""Files of readings that differ in how numbers are written, and in rows that are none or out of place."""

from reading_tables import Corpus, Falls, lines

NBSP, NARROW = "\u00a0", "\u202f"


def numbers(corpus, falls):
    """How numbers are written."""
    comma = {"mark": ","}
    long = {"t_unit": 1e-3, "t_digits": 1, "y_unit": 1e-3, "y_digits": 1}
    for name, sign, about in (
        ("space", " ", "spaces"),
        ("nbsp", NBSP, "no-break spaces"),
        ("narrow-nbsp", NARROW, "narrow no-break spaces"),
        ("apostrophe", "'", "apostrophes"),
    ):
        run = falls.position(n=90, **long)
        mark = "." if sign == "'" else ","
        corpus.table(
            f"thousands-{name}.csv",
            f"thousands set apart by {about}",
            lines([["t (ms)", "x (mm)"], *run.rows(mark=mark, group=sign)], ";"),
            [run],
            ";",
            mark,
        )
    run = falls.position(n=90, **long)
    corpus.table(
        "thousands-commas.csv",
        "thousands commas and decimal points, quoted",
        lines([["t (ms)", "x (mm)"], *run.rows(group=",")], ","),
        [run],
        ",",
        ".",
    )
    run = falls.position(n=90, **long)
    corpus.table(
        "thousands-points.csv",
        "thousands points and decimal commas",
        lines([["t (ms)", "x (mm)"], *run.rows(mark=",", group=".")], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.gates(n=40, begin=1.35, t_unit=1e-6, t_digits=0)
    corpus.table(
        "thousands-twice.txt",
        "two commas in a number prove that they part thousands",
        "time (µs)\n" + "".join(time + "\n" for time in run.times(group=",")),
        [run],
    )
    run = falls.position(noise=0.003)
    corpus.table(
        "unicode-minus.csv",
        "the minus of typesetting",
        lines([["t (s)", "x (m)"], *run.rows(minus="−")], ","),
        [run],
        ",",
        ".",
    )
    run = falls.position(noise=0.003)
    corpus.table(
        "plus-signs.csv",
        "plus signs",
        lines([["t (s)", "x (m)"], *run.rows(plus=True)], ","),
        [run],
        ",",
        ".",
    )
    run = falls.velocity(y_digits=5)
    rows = [
        [a, b.replace("-0", "-").replace("0.", ".", 1) if b.startswith(("0.", "-0.")) else b]
        for a, b in run.rows()
    ]
    corpus.table(
        "no-zero-before.csv",
        "no zero before the decimal mark",
        lines([["t (s)", "v (m/s)"], *rows], ","),
        [run],
        ",",
        ".",
    )
    for name, style, delimiter in (
        ("points", {"exponent": "E"}, ","),
        ("commas", {"exponent": "e", "mark": ",", "minus": "−"}, ";"),
    ):
        run = falls.velocity(n=40, wait=-0.3, y_digits=5, t_digits=5)
        text = lines([["t (s)", "v (m/s)"], *run.rows(**style)], delimiter)
        corpus.table(
            f"exponents-{name}.csv",
            "powers of ten",
            text,
            [run.but(t_digits=5)],
            delimiter,
            style.get("mark", "."),
        )
    run = falls.velocity()
    rows = [[f"0:{t:05.2f}", v] for t, v in zip(run.t, run.values())]
    corpus.table(
        "clock-minutes.csv",
        "minutes and seconds",
        lines([["time", "v (m/s)"], *rows], ","),
        [run.but(t_digits=2)],
        ",",
        ".",
    )
    run = falls.velocity()
    rows = [[f"00:00:{t:06.3f}".replace(".", ","), v] for t, v in zip(run.t, run.values(**comma))]
    corpus.table(
        "clock-hours.csv",
        "hours, minutes and seconds, decimal commas",
        lines([["Zeit", "Geschwindigkeit (m/s)"], *rows], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.velocity()
    rows = [
        [f"2026-03-02T09:59:{59 + t:06.3f}" if t < 1 else f"2026-03-02T10:00:{t - 1:06.3f}", v]
        for t, v in zip(run.t, run.values())
    ]
    corpus.table(
        "timestamps.csv",
        "date and time of day (ISO 8601), across a full hour",
        lines([["timestamp", "velocity (m/s)"], *rows], ","),
        [run.but(origin="any")],
        ",",
        ".",
    )
    run = falls.velocity()
    rows = [
        ["02.03.2026", f"10:14:{7 + t:06.3f}".replace(".", ","), v]
        for t, v in zip(run.t, run.values(**comma))
    ]
    corpus.table(
        "date-and-time.csv",
        "the date in a column of its own, the time of day in the next",
        lines([["Datum", "Uhrzeit", "Geschwindigkeit (m/s)"], *rows], ";"),
        [run.but(origin="any")],
        ";",
        ",",
    )
    run = falls.velocity()
    rows = [[f'"{a}"', f'"{b}"'] for a, b in run.rows(**comma)]
    text = '"t (s)","v (m/s)"\n' + "".join(",".join(row) + "\n" for row in rows)
    corpus.table(
        "quoted-decimal-commas.csv",
        "commas between fields and in numbers, which are quoted",
        text,
        [run],
        ",",
        ",",
    )


def strays(corpus, falls):
    """Rows and fields that are not readings, and rows out of place."""
    head, comma = ["t (s)", "v (m/s)"], {"mark": ","}
    run = falls.velocity()
    rows = run.rows()
    for k in (7, 8, 30):
        rows[k][1] = ""
    corpus.table(
        "missing-cells.csv",
        "three velocities were not written",
        lines([head, *rows], ","),
        [run.without(7, 8, 30)],
        ",",
        ".",
        remark=True,
    )
    for name, word, style in (
        ("nan", "NaN", {}),
        ("n-a", "n/a", {}),
        ("hash-n-a", "#N/A", {}),
        ("dashes", "--", {}),
        ("k-a", "k.A.", comma),
        ("num", "#NUM!", {}),
        ("nd", "n.d.", comma),
    ):
        run = falls.velocity()
        rows = run.rows(**style)
        for k in (0, 11, 25):
            rows[k][1] = word
        delimiter = ";" if style else ","
        corpus.table(
            f"no-number-{name}.csv",
            f"{word} where no number was measured",
            lines([head, *rows], delimiter),
            [run.without(0, 11, 25)],
            delimiter,
            style.get("mark", "."),
            remark=True,
        )
    run = falls.velocity()
    rows = run.rows()
    rows[12:12] = [rows[11]]
    rows[31:31] = [rows[30], rows[30]]
    corpus.table(
        "doubled-rows.csv",
        "rows written twice and three times",
        lines([head, *rows], ","),
        [run],
        ",",
        ".",
        remark=True,
    )
    run = falls.velocity()
    rows = run.rows()
    rows[14], rows[15] = rows[15], rows[14]
    rows[33], rows[34] = rows[34], rows[33]
    corpus.table(
        "swapped-rows.csv",
        "two pairs of rows changed places",
        lines([head, *rows], ","),
        [run],
        ",",
        ".",
        remark=True,
    )
    run = falls.velocity()
    corpus.table(
        "newest-first.csv",
        "the last reading comes first",
        lines([head, *run.rows()[::-1]], ","),
        [run],
        ",",
        ".",
        remark=True,
    )
    run = falls.gates(t_digits=4)
    corpus.table(
        "gates-newest-first.txt",
        "gate times in the order of a stack",
        "gate time (s)\n" + "".join(time + "\n" for time in run.times()[::-1]),
        [run],
        None,
        ".",
        remark=True,
    )
    run = falls.velocity()
    tail = [["Mittelwert", "0,398"], ["Standardabw.", "0,262"]]
    corpus.table(
        "summary-rows.csv",
        "mean and standard deviation under the table",
        lines([["Zeit (s)", "Geschwindigkeit (m/s)"], *run.rows(**comma), *tail], ";"),
        [run],
        ";",
        ",",
        remark=True,
    )
    run = falls.velocity()
    corpus.table(
        "trailing-delimiters.csv",
        "a delimiter at the end of every row",
        lines([head, *run.rows(**comma)], ";").replace("\n", ";\n"),
        [run],
        ";",
        ",",
    )
    run = falls.velocity()
    corpus.table(
        "trailing-on-data-only.csv",
        "two delimiters more behind each row than behind the heading",
        lines([head], ";") + lines(run.rows(**comma), ";").replace("\n", ";;\n"),
        [run],
        ";",
        ",",
    )
    run = falls.velocity()
    notes = ["held, then let go", 'said "now"', "first line\nsecond line", "a; b; c"]
    rows = [[*row, notes[k % 4] if k % 9 == 0 else ""] for k, row in enumerate(run.rows())]
    corpus.table(
        "quoted-notes.csv",
        "quoted notes with delimiters, quotes and line ends inside",
        lines([[*head, "note"], *rows], ","),
        [run],
        ",",
        ".",
    )
    run = falls.velocity()
    text = lines([["Time\n(s)", "Velocity\n(m/s)"], *run.rows(**comma)], ";")
    corpus.table(
        "heading-over-two-lines.csv", "quoted headings over two lines", text, [run], ";", ",", eol="\r\n"
    )
    run = falls.velocity()
    rows = run.rows(**comma) + [["", ""]] * 20
    rows = [[*row, "", ""] for row in rows]
    corpus.table(
        "empty-cells-around.csv",
        "twenty rows and two columns of empty cells around the table",
        lines([[*head, "", ""], *rows], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.velocity()
    rows = [["", *row] for row in run.rows()]
    corpus.table(
        "empty-first-column.csv",
        "the table begins in the second column",
        lines([["", *head], *rows], ","),
        [run],
        ",",
        ".",
    )
    run = falls.velocity()
    corpus.table(
        "spaces-around.csv",
        "spaces around fields",
        "t (s) , v (m/s)\n" + "".join(f" {a} ,  {b} \n" for a, b in run.rows()),
        [run],
        ",",
        ".",
    )


def write(corpus: Corpus, falls: Falls):
    numbers(corpus, falls)
    strays(corpus, falls)
