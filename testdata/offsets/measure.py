#!/usr/bin/env python3
"""Move concave outlines with shapely, independently of the Go code.

Reads outlines.json, a list of [name, distance, [[x, y], ...]] in mm, and writes expected.json: the area
and the perimeter of each moved outline and the number of its rings. With --check it compares instead
and fails on a difference. With --draw it first draws outlines.json anew. Debian: python3-shapely.
"""
import json
import math
import os
import random
import sys

from shapely.geometry import Polygon

HERE = os.path.dirname(os.path.abspath(__file__))


def star(rng, corners, low, high):
    """A closed outline round the origin with corners at uneven distances: concave nearly everywhere."""
    turns = sorted(rng.uniform(0, 2 * math.pi) for _ in range(corners))
    return [[round(r * math.cos(a), 3), round(r * math.sin(a), 3)] for a in turns for r in [rng.uniform(low, high)]]


def knife(n):
    """A blade with a choil and a recurve, in short straight pieces."""
    top = [[120 - 120 * i / n, 12 - 9 * max(0, 1 - 4 * i / n) ** 2] for i in range(n)]
    low = [[x, -9 - 4 * math.sin(x / 12) if x > 14 else -9 + 4 * math.cos(x / 4)] for x in (120 * i / n for i in range(n))]
    return [[round(x, 4), round(y, 4)] for x, y in low + [[128, 2]] + top]


def outlines():
    rng = random.Random(8)
    out = [["ell", d, [[0, 0], [20, 0], [20, 10], [10, 10], [10, 20], [0, 20]]] for d in (2, -2, 7)]
    out += [["comb", d, [[0, 0], [60, 0], [60, 20], [50, 20], [50, 5], [40, 5], [40, 20], [30, 20], [30, 5], [20, 5], [20, 20], [0, 20]]]
            for d in (3, -1.5, 6)]
    out += [["bone", d, [[0, 0], [10, 0], [16, 4], [34, 4], [40, 0], [50, 0], [50, 12], [40, 12], [34, 8], [16, 8], [10, 12], [0, 12]]]
            for d in (1.5, -1.9, -2.5)]
    out += [["knife", d, knife(60)] for d in (3.211, 8.461, 16.4, -2)]
    for i in range(12):
        shape = star(rng, 9 + 2 * i, 12, 45)
        if Polygon(shape).is_valid:
            out += [["star %d" % i, d, shape] for d in (1, 5, 14, -1.5)]
    return out


def measure(distance, points):
    moved = Polygon(points).buffer(distance, resolution=2000)
    parts = getattr(moved, "geoms", [moved])
    rings = sum(1 + len(p.interiors) for p in parts if not p.is_empty)
    return {"area": moved.area, "perimeter": moved.length, "rings": rings}


def main():
    given = os.path.join(HERE, "outlines.json")
    if "--draw" in sys.argv:
        with open(given, "w") as f:
            f.write("[\n" + ",\n".join(json.dumps(o) for o in outlines()) + "\n]\n")
    with open(given) as f:
        result = [measure(d, points) for _, d, points in json.load(f)]
    target = os.path.join(HERE, "expected.json")
    if "--check" in sys.argv:
        with open(target) as f:
            want = json.load(f)
        off = [i for i, w in enumerate(want) if w["rings"] != result[i]["rings"] or abs(w["area"] - result[i]["area"]) > 1e-6 * w["area"]]
        print("%d outlines moved, %d differ: %s" % (len(result), len(off), off))
        sys.exit(1 if off or len(want) != len(result) else 0)
    with open(target, "w") as f:
        f.write("[\n" + ",\n".join(json.dumps({k: round(v, 6) for k, v in r.items()}) for r in result) + "\n]\n")


if __name__ == "__main__":
    main()
