"""Files of readings that differ in bytes and punctuation, and in where headings, units and notes stand."""

import numpy as np

from reading_tables import Corpus, Falls, aligned, lines


def plain(corpus, falls):
    """Delimiters, decimal marks, encodings, line ends."""
    head = ["t (s)", "v (m/s)"]
    tiempo = ["Zeit (s)", "Geschwindigkeit (m/s)"]
    comma = {"mark": ","}

    run = falls.velocity()
    corpus.table("commas.csv", "commas, decimal points", lines([head, *run.rows()], ","), [run], ",", ".")
    run = falls.velocity()
    corpus.table(
        "semicolons.csv",
        "semicolons, decimal commas, CRLF",
        lines([tiempo, *run.rows(**comma)], ";"),
        [run],
        ";",
        ",",
        eol="\r\n",
    )
    run = falls.velocity()
    corpus.table(
        "semicolons-points.csv",
        "semicolons, decimal points",
        lines([tiempo, *run.rows()], ";"),
        [run],
        ";",
        ".",
    )
    run = falls.position()
    corpus.table(
        "tabs.tsv",
        "tabs, decimal points",
        lines([["time (s)", "position (m)"], *run.rows()], "\t"),
        [run],
        "\t",
        ".",
    )
    run = falls.position()
    corpus.table(
        "pasted-cells.txt",
        "cells copied from a spreadsheet: tabs, decimal commas, CRLF",
        lines([["Zeit in s", "Weg in m"], *run.rows(**comma)], "\t"),
        [run],
        "\t",
        ",",
        eol="\r\n",
    )
    run = falls.velocity()
    corpus.table(
        "spaces.txt", "set in columns of spaces", aligned([["t/s", "v/(m/s)"], *run.rows()]), [run], " ", "."
    )
    run = falls.velocity()
    corpus.table(
        "spaces-in-headings.txt",
        "columns of spaces, and spaces inside the headings",
        aligned([["time (s)", "velocity (m/s)"], *run.rows()], 20),
        [run],
        " ",
        ".",
    )
    run = falls.velocity()
    corpus.table(
        "spaces-commas.txt",
        "columns of spaces, decimal commas, no spaces before the first",
        "t/s v/(m/s)\n" + "".join(" ".join(row) + "\n" for row in run.rows(**comma)),
        [run],
        " ",
        ",",
    )
    run = falls.position()
    corpus.table(
        "bars.txt", "bars between the fields", lines([["t (s)", "x (m)"], *run.rows()], "|"), [run], "|", "."
    )
    run = falls.position()
    rows = [["t (s)", "x (m)"], [":---", "---:"], *run.rows()]
    corpus.table(
        "bars-around.md",
        "bars around the fields and a rule under the heading",
        "".join("| " + " | ".join(row) + " |\n" for row in rows),
        [run],
        "|",
        ".",
    )
    run = falls.velocity()
    corpus.table(
        "bom.csv",
        "UTF-8 with a byte-order mark",
        lines([["Zeit (s)", "Geschw. (m/s)"], *run.rows(**comma)], ";"),
        [run],
        ";",
        ",",
        bom=True,
        eol="\r\n",
    )
    run = falls.velocity()
    corpus.table(
        "sep-hint.csv",
        "a first line that names the delimiter",
        "sep=;\n" + lines([head, *run.rows(**comma)], ";"),
        [run],
        ";",
        ",",
        eol="\r\n",
    )

    for name, encoding, bom, delimiter in (
        ("utf-16le-bom.txt", "UTF-16LE", True, "\t"),
        ("utf-16be-bom.csv", "UTF-16BE", True, ";"),
        ("utf-16le.txt", "UTF-16LE", False, "\t"),
        ("utf-16be.csv", "UTF-16BE", False, ";"),
    ):
        run = falls.angle(y_unit=np.pi / 180, y_digits=1)
        text = lines([["Zeit (s)", "Drehwinkel (°)"], *run.rows(**comma)], delimiter)
        corpus.table(
            name,
            f"{encoding}, {'with' if bom else 'without'} a byte-order mark",
            text,
            [run],
            delimiter,
            ",",
            encoding=encoding,
            bom=bom,
            eol="\r\n",
        )

    run = falls.angle(y_unit=np.pi / 180, y_digits=1)
    corpus.table(
        "windows-1252-degrees.csv",
        "Windows-1252: ° and ü",
        "Gerät: Töpferscheibe\n" + lines([["Zeit (s)", "Drehwinkel (°)"], *run.rows(**comma)], ";"),
        [run],
        ";",
        ",",
        encoding="Windows-1252",
        eol="\r\n",
    )
    run = falls.gates(t_unit=1e-6, t_digits=0)
    corpus.table(
        "windows-1252-micro.txt",
        "Windows-1252: µs alone tells the unit of one column",
        "Durchgänge (µs)\n" + "".join(time + "\n" for time in run.times()),
        [run],
        encoding="Windows-1252",
        eol="\r\n",
    )
    run = falls.velocity()
    rows = [[*row, f"{a:.2f}".replace(".", ",")] for row, a in zip(run.rows(**comma), np.full(48, 0.42))]
    corpus.table(
        "windows-1252-french.csv",
        "Windows-1252: ² and é",
        lines([["Temps (s)", "Vitesse (m/s)", "Accélération (m/s²)"], *rows], ";"),
        [run],
        ";",
        ",",
        encoding="Windows-1252",
        eol="\r\n",
    )
    run = falls.velocity()
    corpus.table(
        "carriage-returns.csv",
        "lines end in CR alone",
        lines([head, *run.rows()], ","),
        [run],
        ",",
        ".",
        eol="\r",
    )
    run = falls.velocity()
    corpus.table(
        "last-line-open.csv",
        "no line end behind the last row",
        lines([head, *run.rows()], ",")[:-1],
        [run],
        ",",
        ".",
    )


def heads(corpus, falls):
    """Where headings, units, comments and notes stand."""
    comma = {"mark": ","}
    run = falls.velocity(mass=0.15, carries="slate disc")
    note = "Title: banding wheel, run 3\nDate: 2026-03-02\nObject: slate disc\nHanging mass: 150 g\n\n"
    corpus.table(
        "preamble.csv",
        "lines of “key: value” before the table",
        note + lines([["t (s)", "v (m/s)"], *run.rows()], ","),
        [run],
        ",",
        ".",
    )
    run = falls.velocity(mass=0.1, carries="Messingring")
    note = "Versuch;Töpferscheibe\nDatum;02.03.2026\nKörper;Messingring\nHängende Masse;0,100 kg\n\n"
    corpus.table(
        "preamble-cells.csv",
        "notes in two cells a row, German",
        note + lines([["Zeit (s)", "Geschwindigkeit (m/s)"], *run.rows(**comma)], ";"),
        [run],
        ";",
        ",",
        eol="\r\n",
    )
    for name, mark in (("hash", "#"), ("percent", "%"), ("slashes", "//")):
        run = falls.position()
        note = f"{mark} banding wheel, oak bar\n{mark} sampled 20 times a second; do not move the table\n"
        text = note + lines([["t (s)", "x (m)"], *run.rows()[:20]], ",") + f"{mark} bumped the bench here\n"
        corpus.table(
            f"comments-{name}.csv",
            f"comments behind {mark}",
            text + lines(run.rows()[20:], ","),
            [run],
            ",",
            ".",
        )
    run = falls.position()
    note = "; banding wheel, oak bar\n; sampled 20 times a second\n"
    corpus.table(
        "comments-semicolon.txt",
        "comments behind ; in a table of tabs",
        note + lines([["t (s)", "x (m)"], *run.rows()], "\t"),
        [run],
        "\t",
        ".",
    )
    run = falls.position()
    note = "# t (s), x (m)\n"
    corpus.table(
        "heading-in-a-comment.txt",
        "the heading is commented out, as a program that plots likes it",
        note + lines(run.rows(), ","),
        [run],
        ",",
        ".",
    )
    run = falls.velocity()
    corpus.table(
        "title-and-blanks.csv",
        "a title, blank lines, the table, blank lines",
        "Banding wheel with slate disc\n\n\n"
        + lines([["time (s)", "speed (m/s)"], *run.rows()], ",")
        + "\n\n",
        [run],
        ",",
        ".",
    )
    run = falls.velocity()
    corpus.table(
        "blank-between-rows.csv",
        "every row is followed by a blank line",
        lines([["time (s)", "speed (m/s)"], *run.rows()], ",").replace("\n", "\n\n"),
        [run],
        ",",
        ".",
    )
    run = falls.position(y_unit=0.01, y_digits=2)
    corpus.table(
        "units-below.csv",
        "units in the row below the names",
        lines([["time", "position"], ["s", "cm"], *run.rows()], ","),
        [run],
        ",",
        ".",
    )
    run = falls.position(t_unit=1e-3, t_digits=0, y_unit=1e-3, y_digits=1)
    corpus.table(
        "units-above.csv",
        "units in the row above the names",
        lines([["ms", "mm"], ["Zeit", "Weg"], *run.rows(**comma)], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.velocity(y_unit=0.01, y_digits=1)
    corpus.table(
        "units-in-brackets-below.csv",
        "units in brackets in the row below",
        lines([["Zeit", "Geschwindigkeit"], ["[s]", "[cm/s]"], *run.rows(**comma)], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.velocity()
    corpus.table(
        "quantity-over-unit.csv",
        "headings as quantity over unit (ISO 80000-1)",
        lines([["t/s", "v/(m/s)"], *run.rows(**comma)], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.velocity()
    corpus.table(
        "unit-with-powers.csv",
        "the unit with a negative power",
        lines([["t / s", "v / m·s⁻¹"], *run.rows(**comma)], ";"),
        [run],
        ";",
        ",",
    )
    run = falls.velocity()
    corpus.table(
        "underscores.csv",
        "names as a program writes them: unit behind an underscore",
        lines([["time_s", "velocity_m_per_s"], *run.rows()], ","),
        [run],
        ",",
        ".",
    )
    run = falls.velocity()
    corpus.table(
        "names-alone.csv", "names without any unit", lines([["t", "v"], *run.rows()], ","), [run], ",", "."
    )


def write(corpus: Corpus, falls: Falls):
    plain(corpus, falls)
    heads(corpus, falls)
