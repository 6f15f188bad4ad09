"""Files that hold no readings, or hold them behind something that should not be there.

The largest ones are made by the test itself.
"""

import gzip
import io
import struct
import zipfile
import zlib

from reading_tables import Corpus, Falls, lines

HEAD = "t (s),v (m/s)\n"


def says(corpus, name, about, data, *words, line=None, column=None):
    """An error whose message contains each of `words` (in any case; `a|b`: one of them)."""
    data = data.encode() if isinstance(data, str) else data
    place = {key: value for key, value in (("line", line), ("column", column)) if value}
    corpus.bytes(name, about, data, outcome="error", says=list(words), **place)


def reads(corpus, name, about, data, runs, remark=False):
    """Data after all; `remark`: something must have been said of it."""
    data = data.encode() if isinstance(data, str) else data
    corpus.bytes(name, about, data, outcome="data", remark=remark, runs=[run.truth() for run in runs])


def either(corpus, name, about, data):
    """Data, a question or an error: whatever it is, it says what to do."""
    data = data.encode() if isinstance(data, str) else data
    corpus.bytes(name, about, data, outcome="any")


def picture():
    """A PNG of one gray pixel (ISO/IEC 15948)."""

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0))
        + chunk(b"IDAT", zlib.compress(b"\0\x80", 9))
        + chunk(b"IEND", b"")
    )


def archive(**files):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as packed:
        for name, text in files.items():
            packed.writestr(zipfile.ZipInfo(name.replace("__", "/").replace("_", ".")), text)
    return out.getvalue()


def not_tables(corpus, falls):
    says(corpus, "empty.csv", "no bytes", b"", "empty|no readings", line=1, column=1)
    says(
        corpus,
        "blanks.csv",
        "spaces, tabs and line ends",
        " \t\n\n   \r\n\t\t\n",
        "empty|no readings",
        line=1,
        column=1,
    )
    says(
        corpus,
        "bom-alone.csv",
        "a byte-order mark and nothing else",
        b"\xef\xbb\xbf",
        "empty|no readings",
        line=1,
    )
    says(corpus, "bytes.bin", "every byte value, over and over", bytes(range(256)) * 8, "text", line=1)
    says(corpus, "picture.csv", "an image named like a table", picture(), "text|image|picture", line=1)
    says(
        corpus,
        "jpeg.csv",
        "the first bytes of a photograph",
        b"\xff\xd8\xff\xe0\0\x10JFIF\0\x01\x01" + bytes(range(200)),
        "text|image|picture",
        line=1,
    )
    says(
        corpus,
        "archive.csv",
        "a zip archive with a table inside",
        archive(run_csv=HEAD + "0.1,0.2\n"),
        "zip|archive|packed",
        line=1,
    )
    says(
        corpus,
        "gzip.csv",
        "a table compressed by gzip",
        gzip.compress((HEAD + "0.1,0.2\n" * 9).encode(), mtime=0),
        "text|compressed|unpack",
        line=1,
    )
    says(
        corpus,
        "workbook.csv",
        "a spreadsheet's own file (a zip archive, ECMA-376)",
        archive(xl__workbook_xml="<workbook/>", xl__worksheets__sheet1_xml="<worksheet/>"),
        "spreadsheet|workbook",
        "CSV",
        line=1,
    )
    says(
        corpus,
        "workbook-open.csv",
        "a spreadsheet's own file (OpenDocument)",
        archive(
            mimetype="application/vnd.oasis.opendocument.spreadsheet",
            content_xml="<office:document-content/>",
        ),
        "spreadsheet|workbook|zip",
        "CSV",
        line=1,
    )
    says(
        corpus,
        "workbook-old.csv",
        "a spreadsheet of the last century (compound file)",
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504),
        "spreadsheet|workbook",
        "CSV",
        line=1,
    )
    says(
        corpus,
        "document.csv",
        "a PDF",
        b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n<< /Type /Catalog >>\nendobj\ntrailer\n<< /Root 1 0 R >>\n%%EOF\n",
        "PDF|text|document",
        line=1,
    )
    says(
        corpus,
        "page.csv",
        "a web page saved in place of the table",
        "<!DOCTYPE html>\n<html><head><title>Sign in</title></head>\n<body><table><tr><td>0.1</td><td>0.2</td></tr></table></body></html>\n",
        "web page|HTML",
        line=1,
    )
    says(
        corpus,
        "lab.json",
        "a saved lab, dropped among the readings",
        '{\n  "format": "whorl-lab",\n  "version": 2,\n  "title": "Banding wheel",\n  "runs": []\n}\n',
        "lab",
        line=1,
    )
    says(
        corpus,
        "other.json",
        "some JSON",
        '{"t": [0.1, 0.2, 0.3], "v": [0.2, 0.3, 0.4]}\n',
        "table|JSON|readings",
        line=1,
    )
    says(corpus, "headings.csv", "headings and no row", HEAD, "no readings|rows")
    says(
        corpus,
        "prose.txt",
        "words alone",
        "We hung the mass on the string.\nThen we let it go, and it fell.\nIt was fun.\n",
        "no readings|no numbers",
    )
    says(
        corpus,
        "words.csv",
        "a table of words",
        "t (s),v (m/s)\nsoon,slow\nlater,faster\nat last,fast\n",
        "no readings|not a number|number",
    )
    says(
        corpus,
        "temperatures.csv",
        "a table of something else",
        "time (s),temperature (°C)\n" + "".join(f"{10 * k},{21.4 + 0.1 * k:.1f}\n" for k in range(12)),
        "velocit|position|column of values",
    )
    says(
        corpus,
        "state-without-time.csv",
        "the gate's state without any time",
        "state\n" + "0\n1\n1\n0\n1\n" * 8,
        "time",
    )
    unknown = "t (s),v (furlongs/fortnight)\n0.0,0.1\n0.1,0.2\n0.2,0.31\n"
    corpus.bytes(
        "unknown-unit.csv",
        "a unit nobody knows",
        unknown.encode(),
        outcome="asks",
        says=["furlongs/fortnight"],
    )


def broken(corpus, falls):
    run = falls.velocity(n=20)
    table = HEAD + lines(run.rows(), ",")
    says(corpus, "one-row.csv", "one reading", HEAD + "0.1,0.2\n", "one|few|two|three|more")
    says(
        corpus,
        "infinite.csv",
        "numbers that no computer holds",
        HEAD + "0.0,0.1\n0.1,1e999\n0.2,inf\n0.3,-Infinity\n",
        "1e999",
        line=3,
        column=2,
    )
    says(
        corpus,
        "times-equal.csv",
        "the clock stands still",
        HEAD + "".join(f"0.5,{v}\n" for _, v in run.rows()),
        "time",
    )
    order = falls.rng.permutation(20)
    either(
        corpus,
        "times-at-random.csv",
        "rows in no order at all",
        HEAD + lines([run.rows()[k] for k in order], ","),
    )
    either(corpus, "two-gate-times.txt", "a fall past two spokes", "gate time (s)\n0.4312\n0.5108\n")
    reads(
        corpus,
        "nul-after-the-table.csv",
        "zero bytes behind the last row, as a logger without power leaves them",
        table.encode() + bytes(64),
        [run],
        remark=True,
    )
    either(
        corpus,
        "nul-inside.csv",
        "zero bytes in the middle of a row",
        (HEAD + "0.0,0.1\n0.1,0\0.2\n0.2,0.3\n").encode(),
    )
    half = table.encode()
    either(
        corpus,
        "invalid-utf-8.csv",
        "bytes that are no character, in a note in the middle",
        "t (s),v (m/s),Notiz\n".encode()
        + b"0.0,0.1,sch\xf6n\n0.1,0.2,sch\xc3\xb6n\n0.2,0.3,\xff\xfe\n0.3,0.4,\n",
    )
    reads(
        corpus,
        "cut-short.csv",
        "the last row ends in the middle of a number's row",
        half + b"1.00,",
        [run],
        remark=True,
    )
    either(
        corpus,
        "odd-utf-16.txt",
        "UTF-16 with half a character at the end",
        b"\xff\xfe" + table.encode("utf-16-le") + b"\x0a",
    )
    data = b"\xff\xfe" + "t (s)\tv (m/s)\t".encode("utf-16-le") + b"\x00\xd8" + "\n".encode("utf-16-le")
    data += lines(run.rows(), "\t").encode("utf-16-le")
    either(corpus, "lone-surrogate.txt", "half of a pair of UTF-16 units in a heading", data)
    either(
        corpus, "quote-never-closed.csv", "a quote that is never closed", table.replace("\n0.3", '\n"0.3', 1)
    )
    either(
        corpus,
        "mixed-delimiters.csv",
        "every row with another delimiter",
        "t (s),v (m/s)\n0.0,0.1\n0.1;0.2\n0.2\t0.3\n0.3|0.4\n0.4 0.5\n",
    )
    either(
        corpus,
        "mixed-decimals.csv",
        "decimal points and decimal commas",
        "t (s);v (m/s)\n0.0;0,1\n0,1;0.2\n0.2;0,3\n0,3;0.4\n",
    )
    says(
        corpus,
        "decimal-commas-between-commas.csv",
        "0,05,0,31: commas in numbers and between them",
        "t (s),v (m/s)\n0,00,0,10\n0,05,0,31\n0,10,0,52\n0,15,0,73\n",
        "decimal",
        "semicolon",
        line=2,
    )
    either(
        corpus,
        "transposed.csv",
        "times in the first row",
        lines([[h, *c] for h, c in zip(("t (s)", "v (m/s)"), (run.times(), run.values()))], ","),
    )
    either(
        corpus,
        "units-in-cells.csv",
        "every number has its unit beside it",
        "time,velocity\n" + "".join(f"{t} s,{v} m/s\n" for t, v in run.rows()),
    )
    either(
        corpus,
        "huge-numbers.csv",
        "row numbers beyond any counter",
        "row,t (s),v (m/s)\n" + "".join(f"{10**30 + k},{t},{v}\n" for k, (t, v) in enumerate(run.rows())),
    )
    either(
        corpus,
        "long-numbers.csv",
        "numbers of a thousand digits",
        HEAD + "".join(f"{t}{'0' * 1000},{v}{'1' * 1000}\n" for t, v in run.rows()),
    )


def inert(corpus, falls):
    """Names that would do harm if anything took them for more than text. Their readings are good."""
    for name, about, label in (
        ("markup.csv", "a heading with markup", "<img src=x onerror=alert(1)>"),
        ("formula.csv", "a heading that a spreadsheet would run", '=HYPERLINK("http://localhost/","Run")'),
        ("statement.csv", "a heading that a database would run", '"; DROP TABLE runs; --'),
        ("right-to-left.csv", "a heading that turns the line around", "\u202egnir ssarb\u202c"),
        ("zero-width.csv", "a heading with characters nobody sees", "ring\u200b\u200d\u2060\ufeff"),
        ("template.csv", "a heading with braces", "{{constructor.constructor('alert(1)')()}}"),
        ("folders.csv", "a heading that climbs out of a folder", "../../../etc/hosts"),
    ):
        run = falls.velocity(n=20)
        rows = [[*row, "0"] for row in run.rows()]
        reads(corpus, name, about, lines([["t (s)", "v (m/s)", label], *rows], ","), [run])
    either(
        corpus,
        "control.csv",
        "a heading with escape codes of a terminal",
        lines(
            [
                ["t (s)", "v (m/s)", "\x1b[31mred\x1b[0m"],
                *([*row, "0"] for row in falls.velocity(n=20).rows()),
            ],
            ",",
        ),
    )
    runs = [
        falls.velocity(n=20, a=a, label=label)
        for a, label in ((0.3, "<script>alert(1)</script>"), (0.5, "=1+1"))
    ]
    rows = [[run.label, *row] for run in runs for row in run.rows()]
    reads(
        corpus,
        "run-names.csv",
        "markup and formulas as names of runs",
        lines([["run", "t (s)", "v (m/s)"], *rows], ","),
        runs,
    )


def write(corpus: Corpus, falls: Falls):
    not_tables(corpus, falls)
    broken(corpus, falls)
    inert(corpus, falls)
