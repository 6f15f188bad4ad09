"""Draws the sketches of web/library, seen from above: wheel, load, string. Standard library alone.

    python3 tests/library/sketch.py tests/library
"""

import math
import struct
import sys
import zlib

SIZE, FINE = 240, 4  # pixels, and how many points along each are averaged
INK, FAINT, ACCENT, PAPER = (0x2A, 0x26, 0x22), (0xD9, 0xCF, 0xBF), (0xA8, 0x26, 0x0F), (0xFF, 0xFD, 0xF8)
CENTER = SIZE / 2
MM = 0.42  # pixels to a millimeter: the bar of 420 mm fits


def circle(radius_mm, thick=1.5, at=(0, 0)):
    return lambda x, y: abs(math.hypot(x - at[0], y - at[1]) - radius_mm * MM) < thick / 2


def between(inner_mm, outer_mm, at=(0, 0)):
    return lambda x, y: inner_mm * MM < math.hypot(x - at[0], y - at[1]) < outer_mm * MM


def bar(length_mm, width_mm, turned):
    c, s = math.cos(turned), math.sin(turned)
    return lambda x, y: abs(c * x + s * y) < length_mm * MM / 2 and abs(c * y - s * x) < width_mm * MM / 2


def string(x, y):
    return x > 0 and abs(y - 25 * MM) < 0.9


WHEEL = [(circle(150, 2), INK), (circle(25), INK), (string, ACCENT)]
CLAY = [(110 * MM * math.cos(t), 110 * MM * math.sin(t)) for t in (-0.6, math.pi - 0.6)]
LOADS = {
    "brass-ring": [(between(70, 90), FAINT), (circle(70), INK), (circle(90), INK)],
    "oak-bar": [(bar(420, 40, -0.5), FAINT)],
    "clay-cylinders": [(between(-1, 30, at), FAINT) for at in CLAY] + [(circle(30, 1.5, at), INK) for at in CLAY],
}


def color(x, y, shapes):
    for inside, ink in reversed(shapes):
        if inside(x, y):
            return ink
    return PAPER


def png(shapes):
    # A palette keeps it small: each pixel's average is rounded to 16 levels of each channel.
    palette, rows = {}, []
    for row in range(SIZE):
        line = bytearray(b"\0")
        for column in range(SIZE):
            points = [
                color(column + (i + 0.5) / FINE - CENTER, row + (j + 0.5) / FINE - CENTER, shapes)
                for i in range(FINE)
                for j in range(FINE)
            ]
            mean = tuple(min(255, round(sum(c) / len(points) / 17) * 17) for c in zip(*points))
            line.append(palette.setdefault(mean, len(palette)))
        rows.append(bytes(line))
    assert len(palette) <= 256

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", SIZE, SIZE, 8, 3, 0, 0, 0)
    colors = b"".join(bytes(one) for one in palette)
    data = zlib.compress(b"".join(rows), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"PLTE", colors) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


for name, load in LOADS.items():
    with open(f"{sys.argv[1]}/{name}.png", "wb") as file:
        file.write(png(load + WHEEL))
