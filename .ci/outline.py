#!/usr/bin/python3
"""Measures a drawing's outline with ezdxf and shapely and compares what formbuck says of it.

Usage: outline.py DRAWING.dxf PROFILE.json
"""

import json
import math
import sys

import ezdxf
import ezdxf.path
from shapely.geometry import LineString, Polygon
from shapely.ops import polygonize, unary_union

MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}  # of $INSUNITS
CHORD = 1e-4  # mm, of the curves' flattening
JOIN = 1e-3  # mm, to which points are rounded so that ends meet
KINDS = {"LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "ELLIPSE", "SPLINE"}


def curves(drawing, scale):
    """The drawing's curves by layer, as lists of points in mm."""
    for entity in drawing.modelspace():
        if entity.dxftype() not in KINDS:
            continue
        path = ezdxf.path.make_path(entity)
        points = [
            (round(p.x * scale / JOIN) * JOIN, round(p.y * scale / JOIN) * JOIN)
            for p in path.flattening(CHORD / scale, segments=16)
        ]
        yield entity.dxf.layer, points


def outline(drawing, layer):
    scale = MM[drawing.header["$INSUNITS"]]
    lines = [LineString(p) for on, p in curves(drawing, scale) if on == layer and len(p) > 1]
    face = max(polygonize(unary_union(lines)), key=lambda face: face.area)
    return Polygon(face.exterior)  # holes are no part of the outline


def main():
    name, answer = sys.argv[1], sys.argv[2]
    with open(answer, encoding="utf-8") as f:
        ours = json.load(f)
    theirs = outline(ezdxf.readfile(name), ours["layer"])
    mine = ours["outline"]
    # Rounding to JOIN and chords of CHORD move the line by that much: the area by at most that
    # times the perimeter, the perimeter and points by a few times as much.
    slack = JOIN + CHORD
    length = theirs.exterior.length
    pairs = [
        ("area_mm2", mine["area_mm2"], theirs.area, slack * length),
        ("perimeter_mm", mine["perimeter_mm"], length, 0.02),
        ("x of the centroid", mine["centroid_mm"][0], theirs.centroid.x, 10 * slack),
        ("y of the centroid", mine["centroid_mm"][1], theirs.centroid.y, 10 * slack),
    ]
    bounds = mine["bounds_mm"]["min"] + mine["bounds_mm"]["max"]
    pairs += [(f"bound {i}", a, b, 2 * slack) for i, (a, b) in enumerate(zip(bounds, theirs.bounds))]
    bad = [f"{what}: formbuck {a}, ezdxf and shapely {b}" for what, a, b, tol in pairs if not math.isclose(a, b, rel_tol=0, abs_tol=tol)]
    for line in bad:
        print(f"{name}: {line}")
    if not bad:
        print(f"{name}: area {theirs.area:.3f} mm2 (formbuck: {mine['area_mm2']:.3f}), perimeter {length:.3f} mm ({mine['perimeter_mm']:.3f})")
    return bool(bad)


if __name__ == "__main__":
    sys.exit(main())
