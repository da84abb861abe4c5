#!/usr/bin/env python3
"""Measure the bars of a page that was rasterised at 254 dpi, 10 pixels a mm, as a grey PGM (P5).

The upright and the lying bar of 100 mm must be 1000 +- 1 pixels long, those of 4 in 1016 +- 1. A bar is
found by its length alone: the longest unbroken dark run of a row or column near 1000 or 1016.
"""
import sys


def read(path):
    with open(path, "rb") as f:
        data = f.read()
    fields, at = [], 0
    while len(fields) < 4:
        end = at
        while not data[end:end + 1].isspace():
            end += 1
        fields.append(data[at:end])
        at = end + 1
    return int(fields[1]), int(fields[2]), data[at:]


DARK = bytes(35 if v < 128 else 32 for v in range(256))


def runs(lines):
    found = set()
    for line in lines:
        for run in line.translate(DARK).split():
            if 950 < len(run) < 1060:
                found.add(len(run))
    return found


width, height, pixels = read(sys.argv[1])
rows = [pixels[y * width:(y + 1) * width] for y in range(height)]
along = runs(rows)
up = runs([pixels[x::width] for x in range(width)])
print(sys.argv[1].split("/")[-1], "bars along x", sorted(along), "along y", sorted(up), "pixels of 0.1 mm")
for want in (1000, 1016):
    for name, found in (("x", along), ("y", up)):
        if not any(abs(n - want) <= 1 for n in found):
            sys.exit(f"no bar of {want} pixels along {name}")
