#!/usr/bin/python3
"""Compares the motions that an interpreter made of a program with formbuck's own.

Usage: canonical.py CANONICAL MOVES. CANONICAL is what linuxcnc's rs274 prints, MOVES what formbuck prove --moves
does, in mm. Every end of a motion and every arc's centre and direction has to agree within 1e-4, in the program's
units. What a program has not stated yet is left out, and so are rapids that go nowhere.
"""
import math
import re
import sys

LIMIT = 1e-4


def canonical(path):
    """The motions as lists: kind, x, y, z and an arc's centre; the length of a unit in mm."""
    unit, moves, at = 1.0, [], None
    for line in open(path, encoding="utf-8"):
        found = re.search(r"\b([A-Z_]+)\((.*)\)\s*$", line)
        if not found or found[1] == "COMMENT":
            continue
        name, words = found[1], found[2].split(",")
        if name == "USE_LENGTH_UNITS":
            unit = {"CANON_UNITS_MM": 1.0, "CANON_UNITS_INCHES": 25.4}[words[0].strip()]
        if name not in ("STRAIGHT_TRAVERSE", "STRAIGHT_FEED", "ARC_FEED"):
            continue
        v = [float(w) for w in words]
        if name == "ARC_FEED":
            kind = "anticlockwise" if v[4] > 0 else "clockwise"
            move = [kind, v[0], v[1], v[5], v[2], v[3]]
        else:
            move = ["rapid" if name == "STRAIGHT_TRAVERSE" else "feed"] + v[:3]
        if move[1:4] != at or move[0] != "rapid":
            moves.append(move)
        at = move[1:4]
    return moves, unit


def own(path, unit):
    """The same of formbuck, in the program's units; None for what is not stated."""
    moves, at = [], None
    for line in open(path, encoding="utf-8"):
        words = line.split()
        v = [None if w == "-" else float(w) / unit for w in words[2:]]
        kind = {"counter-clockwise": "anticlockwise"}.get(words[1], words[1])
        if kind == "dwell":
            continue
        place = [w or 0.0 for w in v[:3]]  # the interpreter begins at 0
        if place != at or kind != "rapid":
            moves.append([kind] + v)
        at = place
    return moves


def main():
    theirs, unit = canonical(sys.argv[1])
    ours = own(sys.argv[2], unit)
    if len(theirs) != len(ours):
        sys.exit(f"{len(theirs)} motions there, {len(ours)} here")
    worst = 0.0
    for n, (a, b) in enumerate(zip(theirs, ours), 1):
        if a[0] != b[0] or len(a) != len(b):
            sys.exit(f"motion {n}: {a} there, {b} here")
        for x, y in zip(a[1:], b[1:]):
            if y is None:
                continue
            if not math.isfinite(x) or abs(x - y) > LIMIT:
                sys.exit(f"motion {n}: {a} there, {b} here")
            worst = max(worst, abs(x - y))
    print(f"{len(ours)} motions, {worst:.6f} apart at the most")


main()
