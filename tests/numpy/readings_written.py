"""Files of readings that differ in how they are written: bytes, punctuation, numbers, heads, stray rows."""

import numpy as np

from reading_tables import Corpus, Falls, aligned, lines

NBSP, NARROW = "\u00a0", "\u202f"


def plain(corpus, falls):
    """Delimiters, decimal marks, encodings, line ends."""
    head = ["t (s)", "v (m/s)"]
    tiempo = ["Zeit (s)", "Geschwindigkeit (m/s)"]
    comma = {"mark": ","}

    run = falls.velocity()
    corpus.table("commas.csv", "commas, decimal points", lines([head, *run.rows()], ","), [run], ",", ".")
    run = falls.velocity()
    corpus.table("semicolons.csv", "semicolons, decimal commas, CRLF",
                 lines([tiempo, *run.rows(**comma)], ";"), [run], ";", ",", eol="\r\n")
    run = falls.velocity()
    corpus.table("semicolons-points.csv", "semicolons, decimal points",
                 lines([tiempo, *run.rows()], ";"), [run], ";", ".")
    run = falls.position()
    corpus.table("tabs.tsv", "tabs, decimal points", lines([["time (s)", "position (m)"], *run.rows()], "\t"),
                 [run], "\t", ".")
    run = falls.position()
    corpus.table("pasted-cells.txt", "cells copied from a spreadsheet: tabs, decimal commas, CRLF",
                 lines([["Zeit in s", "Weg in m"], *run.rows(**comma)], "\t"), [run], "\t", ",", eol="\r\n")
    run = falls.velocity()
    corpus.table("spaces.txt", "set in columns of spaces", aligned([["t/s", "v/(m/s)"], *run.rows()]),
                 [run], " ", ".")
    run = falls.velocity()
    corpus.table("spaces-in-headings.txt", "columns of spaces, and spaces inside the headings",
                 aligned([["time (s)", "velocity (m/s)"], *run.rows()], 20), [run], " ", ".")
    run = falls.velocity()
    corpus.table("spaces-commas.txt", "columns of spaces, decimal commas, no spaces before the first",
                 "t/s v/(m/s)\n" + "".join(" ".join(row) + "\n" for row in run.rows(**comma)), [run], " ", ",")
    run = falls.position()
    corpus.table("bars.txt", "bars between the fields", lines([["t (s)", "x (m)"], *run.rows()], "|"),
                 [run], "|", ".")
    run = falls.position()
    rows = [["t (s)", "x (m)"], [":---", "---:"], *run.rows()]
    corpus.table("bars-around.md", "bars around the fields and a rule under the heading",
                 "".join("| " + " | ".join(row) + " |\n" for row in rows), [run], "|", ".")
    run = falls.velocity()
    corpus.table("bom.csv", "UTF-8 with a byte-order mark", lines([["Zeit (s)", "Geschw. (m/s)"], *run.rows(**comma)], ";"),
                 [run], ";", ",", bom=True, eol="\r\n")
    run = falls.velocity()
    corpus.table("sep-hint.csv", "a first line that names the delimiter",
                 "sep=;\n" + lines([head, *run.rows(**comma)], ";"), [run], ";", ",", eol="\r\n")

    for name, encoding, bom, delimiter in (
        ("utf-16le-bom.txt", "UTF-16LE", True, "\t"), ("utf-16be-bom.csv", "UTF-16BE", True, ";"),
        ("utf-16le.txt", "UTF-16LE", False, "\t"), ("utf-16be.csv", "UTF-16BE", False, ";"),
    ):
        run = falls.angle(y_unit=np.pi / 180, y_digits=1)
        text = lines([["Zeit (s)", "Drehwinkel (°)"], *run.rows(**comma)], delimiter)
        corpus.table(name, f"{encoding}, {'with' if bom else 'without'} a byte-order mark", text, [run],
                     delimiter, ",", encoding=encoding, bom=bom, eol="\r\n")

    run = falls.angle(y_unit=np.pi / 180, y_digits=1)
    corpus.table("windows-1252-degrees.csv", "Windows-1252: ° and ü",
                 "Gerät: Töpferscheibe\n" + lines([["Zeit (s)", "Drehwinkel (°)"], *run.rows(**comma)], ";"),
                 [run], ";", ",", encoding="Windows-1252", eol="\r\n")
    run = falls.gates(t_unit=1e-6, t_digits=0)
    corpus.table("windows-1252-micro.txt", "Windows-1252: µs alone tells the unit of one column",
                 "Durchgänge (µs)\n" + "".join(time + "\n" for time in run.times()), [run],
                 encoding="Windows-1252", eol="\r\n")
    run = falls.velocity()
    rows = [[*row, f"{a:.2f}".replace(".", ",")] for row, a in zip(run.rows(**comma), np.full(48, 0.42))]
    corpus.table("windows-1252-french.csv", "Windows-1252: ² and é",
                 lines([["Temps (s)", "Vitesse (m/s)", "Accélération (m/s²)"], *rows], ";"), [run], ";", ",",
                 encoding="Windows-1252", eol="\r\n")
    run = falls.velocity()
    corpus.table("carriage-returns.csv", "lines end in CR alone", lines([head, *run.rows()], ","), [run], ",", ".",
                 eol="\r")
    run = falls.velocity()
    corpus.table("last-line-open.csv", "no line end behind the last row", lines([head, *run.rows()], ",")[:-1],
                 [run], ",", ".")


def heads(corpus, falls):
    """Where headings, units, comments and notes stand."""
    comma = {"mark": ","}
    run = falls.velocity(mass=0.15, carries="slate disc")
    note = "Title: banding wheel, run 3\nDate: 2026-03-02\nObject: slate disc\nHanging mass: 150 g\n\n"
    corpus.table("preamble.csv", "lines of “key: value” before the table",
                 note + lines([["t (s)", "v (m/s)"], *run.rows()], ","), [run], ",", ".")
    run = falls.velocity(mass=0.1, carries="Messingring")
    note = "Versuch;Töpferscheibe\nDatum;02.03.2026\nKörper;Messingring\nHängende Masse;0,100 kg\n\n"
    corpus.table("preamble-cells.csv", "notes in two cells a row, German",
                 note + lines([["Zeit (s)", "Geschwindigkeit (m/s)"], *run.rows(**comma)], ";"), [run], ";", ",",
                 eol="\r\n")
    for name, mark in (("hash", "#"), ("percent", "%"), ("slashes", "//")):
        run = falls.position()
        note = f"{mark} banding wheel, oak bar\n{mark} sampled 20 times a second; do not move the table\n"
        text = note + lines([["t (s)", "x (m)"], *run.rows()[:20]], ",") + f"{mark} bumped the bench here\n"
        corpus.table(f"comments-{name}.csv", f"comments behind {mark}", text + lines(run.rows()[20:], ","),
                     [run], ",", ".")
    run = falls.position()
    note = "; banding wheel, oak bar\n; sampled 20 times a second\n"
    corpus.table("comments-semicolon.txt", "comments behind ; in a table of tabs",
                 note + lines([["t (s)", "x (m)"], *run.rows()], "\t"), [run], "\t", ".")
    run = falls.position()
    note = "# t (s), x (m)\n"
    corpus.table("heading-in-a-comment.txt", "the heading is commented out, as a program that plots likes it",
                 note + lines(run.rows(), ","), [run], ",", ".")
    run = falls.velocity()
    corpus.table("title-and-blanks.csv", "a title, blank lines, the table, blank lines",
                 "Banding wheel with slate disc\n\n\n" + lines([["time (s)", "speed (m/s)"], *run.rows()], ",") + "\n\n",
                 [run], ",", ".")
    run = falls.velocity()
    corpus.table("blank-between-rows.csv", "every row is followed by a blank line",
                 lines([["time (s)", "speed (m/s)"], *run.rows()], ",").replace("\n", "\n\n"), [run], ",", ".")
    run = falls.position(y_unit=0.01, y_digits=2)
    corpus.table("units-below.csv", "units in the row below the names",
                 lines([["time", "position"], ["s", "cm"], *run.rows()], ","), [run], ",", ".")
    run = falls.position(t_unit=1e-3, t_digits=0, y_unit=1e-3, y_digits=1)
    corpus.table("units-above.csv", "units in the row above the names",
                 lines([["ms", "mm"], ["Zeit", "Weg"], *run.rows(**comma)], ";"), [run], ";", ",")
    run = falls.velocity(y_unit=0.01, y_digits=1)
    corpus.table("units-in-brackets-below.csv", "units in brackets in the row below",
                 lines([["Zeit", "Geschwindigkeit"], ["[s]", "[cm/s]"], *run.rows(**comma)], ";"), [run], ";", ",")
    run = falls.velocity()
    corpus.table("quantity-over-unit.csv", "headings as quantity over unit (ISO 80000-1)",
                 lines([["t/s", "v/(m/s)"], *run.rows(**comma)], ";"), [run], ";", ",")
    run = falls.velocity()
    corpus.table("unit-with-powers.csv", "the unit with a negative power",
                 lines([["t / s", "v / m·s⁻¹"], *run.rows(**comma)], ";"), [run], ";", ",")
    run = falls.velocity()
    corpus.table("underscores.csv", "names as a program writes them: unit behind an underscore",
                 lines([["time_s", "velocity_m_per_s"], *run.rows()], ","), [run], ",", ".")
    run = falls.velocity()
    corpus.table("names-alone.csv", "names without any unit", lines([["t", "v"], *run.rows()], ","), [run], ",", ".")


def numbers(corpus, falls):
    """How numbers are written."""
    comma = {"mark": ","}
    long = {"t_unit": 1e-3, "t_digits": 1, "y_unit": 1e-3, "y_digits": 1}
    for name, sign, about in (("space", " ", "spaces"), ("nbsp", NBSP, "no-break spaces"),
                              ("narrow-nbsp", NARROW, "narrow no-break spaces"), ("apostrophe", "'", "apostrophes")):
        run = falls.position(n=90, **long)
        mark = "." if sign == "'" else ","
        corpus.table(f"thousands-{name}.csv", f"thousands set apart by {about}",
                     lines([["t (ms)", "x (mm)"], *run.rows(mark=mark, group=sign)], ";"), [run], ";", mark)
    run = falls.position(n=90, **long)
    corpus.table("thousands-commas.csv", "thousands commas and decimal points, quoted",
                 lines([["t (ms)", "x (mm)"], *run.rows(group=",")], ","), [run], ",", ".")
    run = falls.position(n=90, **long)
    corpus.table("thousands-points.csv", "thousands points and decimal commas",
                 lines([["t (ms)", "x (mm)"], *run.rows(mark=",", group=".")], ";"), [run], ";", ",")
    run = falls.gates(n=40, begin=1.35, t_unit=1e-6, t_digits=0)
    corpus.table("thousands-twice.txt", "two commas in a number prove that they part thousands",
                 "time (µs)\n" + "".join(time + "\n" for time in run.times(group=",")), [run])
    run = falls.position(noise=0.003)
    corpus.table("unicode-minus.csv", "the minus of typesetting", lines([["t (s)", "x (m)"], *run.rows(minus="−")], ","),
                 [run], ",", ".")
    run = falls.position(noise=0.003)
    corpus.table("plus-signs.csv", "plus signs", lines([["t (s)", "x (m)"], *run.rows(plus=True)], ","),
                 [run], ",", ".")
    run = falls.velocity(y_digits=5)
    rows = [[a, b.replace("-0", "-").replace("0.", ".", 1) if b.startswith(("0.", "-0.")) else b] for a, b in run.rows()]
    corpus.table("no-zero-before.csv", "no zero before the decimal mark", lines([["t (s)", "v (m/s)"], *rows], ","),
                 [run], ",", ".")
    for name, style, delimiter in (("points", {"exponent": "E"}, ","),
                                   ("commas", {"exponent": "e", "mark": ",", "minus": "−"}, ";")):
        run = falls.velocity(n=40, wait=-0.3, y_digits=5, t_digits=5)
        text = lines([["t (s)", "v (m/s)"], *run.rows(**style)], delimiter)
        corpus.table(f"exponents-{name}.csv", "powers of ten", text, [run.but(t_digits=5)], delimiter, style.get("mark", "."))
    run = falls.velocity()
    rows = [[f"0:{t:05.2f}", v] for t, v in zip(run.t, run.values())]
    corpus.table("clock-minutes.csv", "minutes and seconds", lines([["time", "v (m/s)"], *rows], ","), [run.but(t_digits=2)], ",", ".")
    run = falls.velocity()
    rows = [[f"00:00:{t:06.3f}".replace(".", ","), v] for t, v in zip(run.t, run.values(**comma))]
    corpus.table("clock-hours.csv", "hours, minutes and seconds, decimal commas",
                 lines([["Zeit", "Geschwindigkeit (m/s)"], *rows], ";"), [run], ";", ",")
    run = falls.velocity()
    rows = [[f"2026-03-02T09:59:{59 + t:06.3f}" if t < 1 else f"2026-03-02T10:00:{t - 1:06.3f}", v]
            for t, v in zip(run.t, run.values())]
    corpus.table("timestamps.csv", "date and time of day (ISO 8601), across a full hour",
                 lines([["timestamp", "velocity (m/s)"], *rows], ","), [run.but(origin="any")], ",", ".")
    run = falls.velocity()
    rows = [[f'"{a}"', f'"{b}"'] for a, b in run.rows(**comma)]
    text = '"t (s)","v (m/s)"\n' + "".join(",".join(row) + "\n" for row in rows)
    corpus.table("quoted-decimal-commas.csv", "commas between fields and in numbers, which are quoted", text, [run], ",", ",")


def strays(corpus, falls):
    """Rows and fields that are not readings, and rows out of place."""
    head, comma = ["t (s)", "v (m/s)"], {"mark": ","}
    run = falls.velocity()
    rows = run.rows()
    for k in (7, 8, 30):
        rows[k][1] = ""
    corpus.table("missing-cells.csv", "three velocities were not written", lines([head, *rows], ","),
                 [run.without(7, 8, 30)], ",", ".", remark=True)
    for name, word, style in (("nan", "NaN", {}), ("n-a", "n/a", {}), ("hash-n-a", "#N/A", {}), ("dashes", "--", {}),
                              ("k-a", "k.A.", comma), ("num", "#NUM!", {}), ("nd", "n.d.", comma)):
        run = falls.velocity()
        rows = run.rows(**style)
        for k in (0, 11, 25):
            rows[k][1] = word
        delimiter = ";" if style else ","
        corpus.table(f"no-number-{name}.csv", f"{word} where no number was measured", lines([head, *rows], delimiter),
                     [run.without(0, 11, 25)], delimiter, style.get("mark", "."), remark=True)
    run = falls.velocity()
    rows = run.rows()
    rows[12:12] = [rows[11]]
    rows[31:31] = [rows[30], rows[30]]
    corpus.table("doubled-rows.csv", "rows written twice and three times", lines([head, *rows], ","), [run], ",", ".",
                 remark=True)
    run = falls.velocity()
    rows = run.rows()
    rows[14], rows[15] = rows[15], rows[14]
    rows[33], rows[34] = rows[34], rows[33]
    corpus.table("swapped-rows.csv", "two pairs of rows changed places", lines([head, *rows], ","), [run], ",", ".",
                 remark=True)
    run = falls.velocity()
    corpus.table("newest-first.csv", "the last reading comes first", lines([head, *run.rows()[::-1]], ","), [run], ",", ".",
                 remark=True)
    run = falls.gates(t_digits=4)
    corpus.table("gates-newest-first.txt", "gate times in the order of a stack",
                 "gate time (s)\n" + "".join(time + "\n" for time in run.times()[::-1]), [run], None, ".", remark=True)
    run = falls.velocity()
    tail = [["Mittelwert", "0,398"], ["Standardabw.", "0,262"]]
    corpus.table("summary-rows.csv", "mean and standard deviation under the table",
                 lines([["Zeit (s)", "Geschwindigkeit (m/s)"], *run.rows(**comma), *tail], ";"), [run], ";", ",", remark=True)
    run = falls.velocity()
    corpus.table("trailing-delimiters.csv", "a delimiter at the end of every row",
                 lines([head, *run.rows(**comma)], ";").replace("\n", ";\n"), [run], ";", ",")
    run = falls.velocity()
    corpus.table("trailing-on-data-only.csv", "two delimiters more behind each row than behind the heading",
                 lines([head], ";") + lines(run.rows(**comma), ";").replace("\n", ";;\n"), [run], ";", ",")
    run = falls.velocity()
    notes = ["held, then let go", 'said "now"', "first line\nsecond line", "a; b; c"]
    rows = [[*row, notes[k % 4] if k % 9 == 0 else ""] for k, row in enumerate(run.rows())]
    corpus.table("quoted-notes.csv", "quoted notes with delimiters, quotes and line ends inside",
                 lines([[*head, "note"], *rows], ","), [run], ",", ".")
    run = falls.velocity()
    text = lines([["Time\n(s)", "Velocity\n(m/s)"], *run.rows(**comma)], ";")
    corpus.table("heading-over-two-lines.csv", "quoted headings over two lines", text, [run], ";", ",", eol="\r\n")
    run = falls.velocity()
    rows = [["", *row] for row in run.rows()]
    corpus.table("empty-first-column.csv", "the table begins in the second column",
                 lines([["", *head], *rows], ","), [run], ",", ".")
    run = falls.velocity()
    corpus.table("spaces-around.csv", "spaces around fields", "t (s) , v (m/s)\n" + "".join(f" {a} ,  {b} \n" for a, b in run.rows()),
                 [run], ",", ".")


def write(corpus: Corpus, falls: Falls):
    plain(corpus, falls)
    heads(corpus, falls)
    numbers(corpus, falls)
    strays(corpus, falls)
