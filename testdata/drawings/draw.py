#!/usr/bin/env python3
"""Draw the corpus: good drawings, each in four turns, and faulty ones named for their fault.

Plain text is written pair by pair, with no DXF library, so that every oddity is exactly as meant.
measure.py beside it computes what the good ones hold.
"""
import math
import os
import struct

HERE = os.path.dirname(os.path.abspath(__file__))


def num(v):
    return repr(round(v, 10) + 0.0) if isinstance(v, float) else str(v)


class Turn:
    """A turn by quarters about the origin, then a shift."""

    def __init__(self, quarters):
        self.q = quarters % 4
        self.cos, self.sin = [(1, 0), (0, 1), (-1, 0), (0, -1)][self.q]

    def v(self, x, y):
        return (x * self.cos - y * self.sin, x * self.sin + y * self.cos)

    def p(self, x, y):
        x, y = self.v(x, y)
        return (x + 40.0, y - 25.0)

    def deg(self, a):
        return (a + 90 * self.q) % 360


CLASSES = {"LWPOLYLINE": "AcDbPolyline", "SPLINE": "AcDbSpline", "ELLIPSE": "AcDbEllipse", "LINE": "AcDbLine",
           "MTEXT": "AcDbMText", "HATCH": "AcDbHatch", "XLINE": "AcDbXline", "DIMENSION": "AcDbDimension"}


class Sheet:
    """The pairs of a drawing as it grows."""

    def __init__(self, turn=0):
        self.t = Turn(turn)
        self.tags = []
        self.blocks = []
        self.layers = []
        self.handle = 0x20

    def ent(self, kind, layer="OUTLINE", *extra):
        self.handle += 1
        self.tags += [(0, kind), (5, "%X" % self.handle), (100, "AcDbEntity"), (8, layer)]
        if kind in CLASSES:
            self.tags.append((100, CLASSES[kind]))
        self.tags += list(extra)

    def xy(self, code, x, y):
        px, py = self.t.p(x, y)
        self.tags += [(code, float(px)), (code + 10, float(py))]

    def line(self, a, b, layer="OUTLINE", *extra):
        self.ent("LINE", layer, *extra)
        self.xy(10, *a)
        self.xy(11, *b)

    def arc(self, c, r, start, end, layer="OUTLINE"):
        self.ent("ARC", layer)
        self.xy(10, *c)
        self.tags += [(40, float(r)), (50, float(self.t.deg(start))), (51, float(self.t.deg(end)))]

    def circle(self, c, r, layer="OUTLINE"):
        self.ent("CIRCLE", layer)
        self.xy(10, *c)
        self.tags += [(40, float(r))]

    def lw(self, pts, closed=True, layer="OUTLINE", *extra):
        self.ent("LWPOLYLINE", layer, (90, len(pts)), (70, 1 if closed else 0), *extra)
        for p in pts:
            self.xy(10, p[0], p[1])
            if len(p) > 2:
                self.tags.append((42, float(p[2])))

    def poly(self, pts, flags=1, layer="OUTLINE"):
        self.ent("POLYLINE", layer, (66, 1), (10, 0.0), (20, 0.0), (30, 0.0), (70, flags))
        for p in pts:
            self.ent("VERTEX", layer)
            self.xy(10, p[0], p[1])
            self.tags.append((30, 0.0))
            if len(p) > 2 and p[2]:
                self.tags.append((42, float(p[2])))
            if len(p) > 3:
                self.tags.append((70, p[3]))
        self.ent("SEQEND", layer)

    def spline(self, degree, knots, ctrl, weights=(), fits=(), flags=8, tangents=None, layer="OUTLINE"):
        self.ent("SPLINE", layer, (70, flags), (71, degree), (72, len(knots)), (73, len(ctrl)), (74, len(fits)))
        if tangents:
            for code, (x, y) in zip((12, 13), tangents):
                vx, vy = self.t.v(x, y)
                self.tags += [(code, float(vx)), (code + 10, float(vy)), (code + 20, 0.0)]
        self.tags += [(40, float(k)) for k in knots]
        self.tags += [(41, float(w)) for w in weights]
        for c in ctrl:
            self.xy(10, *c)
            self.tags.append((30, 0.0))
        for f in fits:
            self.xy(11, *f)
            self.tags.append((31, 0.0))

    def ellipse(self, c, major, ratio, start=0.0, end=2 * math.pi, layer="OUTLINE", extrusion=None):
        self.ent("ELLIPSE", layer)
        self.xy(10, *c)
        vx, vy = self.t.v(*major)
        self.tags += [(11, float(vx)), (21, float(vy)), (31, 0.0), (40, float(ratio)), (41, start), (42, end)]
        if extrusion:
            self.tags += [(210, 0.0), (220, 0.0), (230, extrusion)]

    def insert(self, name, at, layer="OUTLINE", sx=1.0, sy=1.0, deg=0.0, *extra):
        self.ent("INSERT", layer, (2, name))
        self.xy(10, *at)
        self.tags += [(41, float(sx)), (42, float(sy)), (43, 1.0), (50, float(self.t.deg(deg)))]
        self.tags += list(extra)

    def block(self, name, base, draw):
        """Draw into a block: its contents are not turned, only its insertions are."""
        keep, t = self.tags, self.t
        self.tags, self.t = [], Plain()
        draw(self)
        self.blocks += [(0, "BLOCK"), (5, "%X" % (0x900 + len(self.blocks))), (8, "0"), (2, name), (70, 0),
                        (10, float(base[0])), (20, float(base[1])), (30, 0.0), (3, name)]
        self.blocks += self.tags + [(0, "ENDBLK"), (8, "0")]
        self.tags, self.t = keep, t

    def file(self, units=4, version="AC1015", header=(), eof=True, only=False):
        out = []
        if not only:
            out += [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, version)]
            out += list(header)
            if units is not None:
                out += [(9, "$INSUNITS"), (70, units)]
            out += [(0, "ENDSEC")]
            if self.layers:
                out += [(0, "SECTION"), (2, "TABLES"), (0, "TABLE"), (2, "LAYER"), (70, len(self.layers))]
                for name, flags, colour in self.layers:
                    out += [(0, "LAYER"), (2, name), (70, flags), (62, colour), (6, "CONTINUOUS")]
                out += [(0, "ENDTAB"), (0, "ENDSEC")]
            if self.blocks:
                out += [(0, "SECTION"), (2, "BLOCKS")] + self.blocks + [(0, "ENDSEC")]
        out += [(0, "SECTION"), (2, "ENTITIES")] + self.tags + [(0, "ENDSEC")]
        if eof:
            out += [(0, "EOF")]
        return out


class Plain(Turn):
    def __init__(self):
        super().__init__(0)

    def p(self, x, y):
        return (x, y)


def text(tags, eol="\n", code="%3d"):
    return "".join((code % c) + eol + num(v) + eol for c, v in tags)


def binary(tags, wide):
    out = b"AutoCAD Binary DXF\r\n\x1a\x00"
    for c, v in tags:
        if wide:
            out += struct.pack("<h", c)
        elif c < 255:
            out += struct.pack("B", c)
        else:
            out += b"\xff" + struct.pack("<h", c)
        if c < 10 or 100 <= c < 110:
            out += str(v).encode() + b"\0"
        elif c < 60 or 210 <= c < 240:
            out += struct.pack("<d", float(v))
        elif c < 80:
            out += struct.pack("<h", int(v))
        elif c < 100:
            out += struct.pack("<i", int(v))
        else:
            raise ValueError(c)
    return out


# Shapes, about the size of a knife. SLOT has the closed form area 170 x 30 + 15^2 pi.
SLOT = [(-85, -15), (85, -15, 1), (85, 15), (-85, 15, 1)]
BOX = [(-90, -14), (95, -14), (95, 16), (-90, 16)]


def slot(s, layer="OUTLINE"):
    s.lw(SLOT, True, layer)


def lines(s):
    for a, b in [(0, 1), (3, 2), (1, 2), (0, 3)]:
        s.line(BOX[a], BOX[b])


def line_arc(s):
    s.arc((85, 0), 15, 270, 90)
    s.line((-85, 15), (85, 15))
    s.line((85, -15), (-85, -15))
    s.arc((-85, 0), 15, 90, 270)


def circles(s):
    s.circle((0, 0), 60)
    s.circle((20, 5), 8)
    s.circle((-25, -5), 0.4)  # a small hole is still a hole


def widths(s):
    s.ent("LWPOLYLINE", "OUTLINE", (90, 4), (70, 1), (43, 2.5), (38, 7.0))
    for x, y, b in [(-85, -15, 0), (85, -15, 1), (85, 15, 0), (-85, 15, 1)]:
        s.xy(10, x, y)
        s.tags += [(40, 1.0), (41, 3.0), (42, float(b)), (91, 0)]


def r12(s):
    s.poly([(-85, -15, 0), (85, -15, 1), (85, 15, 0), (-85, 15, 1)])


def curve_fit(s):
    """A circle of four fitted arcs: the vertices with flag 1 were added by the fit."""
    b = math.tan(math.pi / 8)
    s.poly([(60, 0, b, 0), (0, 60, b, 1), (-60, 0, b, 0), (0, -60, b, 1)], flags=1 | 2)


def spline_fit(s):
    frame = [(-80, -20), (80, -20), (80, 20), (-80, 20)]
    pts = [(60 * math.cos(a * math.pi / 12), 15 * math.sin(a * math.pi / 12), 0, 8) for a in range(24)]
    s.poly([(x, y, 0, 16) for x, y in frame] + pts, flags=1 | 4)


def poly3d(s):
    s.ent("POLYLINE", "OUTLINE", (66, 1), (10, 0.0), (20, 0.0), (30, 0.0), (70, 1 | 8))
    for i, (x, y) in enumerate(BOX):
        s.ent("VERTEX", "OUTLINE")
        s.xy(10, x, y)
        s.tags += [(30, float(3 * i)), (70, 32)]
    s.ent("SEQEND", "OUTLINE")


def spline_control(s):
    ctrl = [(-90, 0), (-90, 20), (-40, 22), (10, 12), (60, 18), (95, 0)]
    s.spline(3, [0, 0, 0, 0, 1, 2, 3, 3, 3, 3], ctrl)
    s.lw([(-90, 0), (-60, -14), (40, -14), (95, 0)], False)


def spline_rational(s):
    w = math.sqrt(0.5)
    ring = [(60, 0), (60, 60), (0, 60), (-60, 60), (-60, 0), (-60, -60), (0, -60), (60, -60), (60, 0)]
    s.spline(2, [0, 0, 0, .25, .25, .5, .5, .75, .75, 1, 1, 1], ring, [1, w, 1, w, 1, w, 1, w, 1], flags=4 | 8)


def spline_periodic(s):
    ring = [(80, 0), (50, 25), (0, 14), (-60, 24), (-85, 0), (-50, -20), (10, -24), (60, -16)]
    ctrl = ring + ring[:3]
    s.spline(3, list(range(-3, len(ctrl) + 1)), ctrl, flags=1 | 2)


def spline_unclamped(s):
    """An open curve whose knots do not repeat at its ends: it does not reach its outer controls."""
    ctrl = [(-120, 0), (-80, 10), (-40, 20), (0, 22), (40, 20), (80, 10), (120, 0)]
    s.spline(3, [0, 1, 2.5, 3, 4, 5, 6.5, 7, 8, 9, 10], ctrl)

    def end(i, t):  # de Boor at the first and last inner knot
        k = [0, 1, 2.5, 3, 4, 5, 6.5, 7, 8, 9, 10]
        d = [list(ctrl[j + i - 3]) for j in range(4)]
        for r in range(1, 4):
            for j in range(3, r - 1, -1):
                a = (t - k[j + i - 3]) / (k[j + 1 + i - r] - k[j + i - 3])
                d[j] = [(1 - a) * d[j - 1][m] + a * d[j][m] for m in (0, 1)]
        return d[3]

    a, b = end(3, 3), end(6, 7)
    s.lw([a, (a[0], -15), (b[0], -15), b], False)


def spline_knots(s):
    """Knots of another scale, unevenly spaced, one of them doubled; degree 2 beside it."""
    ctrl = [(-90, 0), (-80, 25), (-30, 12), (0, 25), (40, 4), (70, 22), (95, 0)]
    s.spline(3, [5, 5, 5, 5, 40, 40, 90, 250, 250, 250, 250], ctrl)
    s.spline(2, [0, 0, 0, 1, 5, 5, 5], [(95, 0), (60, -25), (-20, -8), (-90, 0)])


FITS = [(-90, 0), (-60, 12), (-20, 15), (30, 13), (70, 8), (95, -4)]


def spline_through(s):
    s.spline(3, [], [], fits=FITS, tangents=((0.5, 1), (1, -1)))
    s.lw([(-90, 0), (-60, -14), (40, -14), (95, -4)], False)


def spline_through_free(s):
    s.spline(3, [], [], fits=FITS)
    s.lw([(-90, 0), (-60, -14), (40, -14), (95, -4)], False)


def ellipse_full(s):
    s.ellipse((0, 0), (100, 20), 0.2)
    s.ellipse((10, 2), (3, -1), 0.5)


def ellipse_arc(s):
    """Parameters, not angles: 0.3 to 2.5 on a flat ellipse."""
    m, r, a, b = (90, 15), 0.25, 0.3, 2.5
    s.ellipse((0, 0), m, r, a, b)
    at = lambda t: (m[0] * math.cos(t) - r * m[1] * math.sin(t), m[1] * math.cos(t) + r * m[0] * math.sin(t))
    s.lw([at(a), (70, -20), (-70, -20), at(b)], False)


def ellipse_mirrored(s):
    m, r, a, b = (90, 15), 0.25, 0.3, 2.5
    s.ellipse((0, 0), m, r, a, b, extrusion=-1.0)
    at = lambda t: (m[0] * math.cos(t) + r * m[1] * math.sin(t), m[1] * math.cos(t) - r * m[0] * math.sin(t))
    s.lw([at(a), (70, 25), (-70, 25), at(b)], False)


def insert_turned(s):
    s.block("blade", (10, 5), lambda b: slot(b))
    s.insert("blade", (3, -2), deg=30)


def insert_mirrored(s):
    def half(b):
        b.line((-90, 0), (-70, 12))
        b.arc((-70, 32), 20, 270, 300)
        x, y = -70 + 20 * math.cos(math.radians(300)), 32 + 20 * math.sin(math.radians(300))
        b.lw([(x, y), (60, 18, -0.3), (95, 0)], False)
    s.block("half", (0, 0), half)
    s.insert("half", (0, 0))
    s.insert("HALF", (0, 0), sy=-1.0)


def insert_stretched(s):
    s.block("blade", (0, 0), lambda b: (slot(b), b.circle((20, 0), 4)))
    s.insert("blade", (0, 0), sx=1.1, sy=0.7, deg=10)


def insert_nested(s):
    s.block("hole", (0, 0), lambda b: b.circle((0, 0), 2, "0"))
    s.block("pair", (0, 0), lambda b: (b.insert("hole", (-12, 0), "0"), b.insert("hole", (12, 3), "0", 2.0, 2.0)))
    slot(s)
    s.insert("pair", (-10, 0), "OUTLINE", 1.2, 0.8, 25)


def minsert(s):
    slot(s)
    s.block("hole", (0, 0), lambda b: b.circle((0, 0), 1.5, "0"))
    s.insert("hole", (-60, -4), "OUTLINE", 1, 1, 0, (70, 5), (71, 2), (44, 12.0), (45, 8.0))


def ocs_polyline(s):
    """Extrusion 0,0,-1: x is mirrored, so the drawing gives -x and the bulges of the mirror image."""
    s.ent("LWPOLYLINE", "OUTLINE", (90, 4), (70, 1))
    for x, y, b in [(-85, -15, 0), (85, -15, 1), (85, 15, 0), (-85, 15, 0.4)]:
        px, py = s.t.p(x, y)
        s.tags += [(10, float(-px)), (20, float(py)), (42, -float(b))]
    s.tags += [(210, 0.0), (220, 0.0), (230, -1.0)]


def ocs_arc(s):
    s.line((-85, -15), (85, -15))
    s.line((-85, 15), (85, 15))
    for c, a0 in (((85, 0), 270), ((-85, 0), 90)):
        px, py = s.t.p(*c)
        start, end = (180 - s.t.deg(a0 + 180)) % 360, (180 - s.t.deg(a0)) % 360
        s.ent("ARC", "OUTLINE", (10, float(-px)), (20, float(py)), (40, 15.0), (50, float(start)), (51, float(end)),
              (210, 0.0), (220, 0.0), (230, -1.0))


def rounded(s):
    """Whole turns whose angles the file rounds, and pieces without size."""
    s.ellipse((0, 0), (100, 20), 0.2, 0.0, 6.28319)
    s.arc((0, 0), 5, 0.0, 0.0)
    s.tags[-1] = (51, s.tags[-2][1] + 359.9999)
    s.circle((0, 3), 0)
    s.line((3, 3), (3, 3))


def skipped(s):
    slot(s)
    s.ent("TEXT", "OUTLINE", (10, 0.0), (20, 0.0), (40, 5.0), (1, "not geometry"))
    s.ent("MTEXT", "OUTLINE", (10, 0.0), (20, 0.0), (40, 5.0), (1, "nor this"))
    s.ent("POINT", "OUTLINE", (10, 500.0), (20, 0.0))
    s.ent("XLINE", "OUTLINE", (10, 0.0), (20, 0.0), (11, 1.0), (21, 0.0))
    s.ent("SOLID", "OUTLINE", (10, 0.0), (20, 0.0), (11, 1.0), (21, 0.0), (12, 0.0), (22, 1.0), (13, 1.0), (23, 1.0))
    s.ent("HATCH", "OUTLINE", (10, 0.0), (20, 0.0), (2, "SOLID"), (70, 1), (91, 0))
    s.ent("DIMENSION", "OUTLINE", (10, 0.0), (20, 0.0), (70, 0))
    s.lw([(-300, -90), (300, -90), (300, 90), (-300, 90)], True, "BORDER")


def hidden(s):
    slot(s)
    s.layers = [("OUTLINE", 0, 7), ("OFF", 0, -7), ("ICE", 1, 7)]
    s.line((-200, 0), (200, 0), "OUTLINE", (60, 1))
    s.line((-200, 1), (200, 1), "OUTLINE", (67, 1))
    s.circle((0, 0), 300, "OFF")
    s.circle((0, 0), 400, "ICE")


def joined(s):
    s.line((-90, -14), (95, -14.03))
    s.line((95, -14), (95.02, 16))
    s.line((95, 16), (-90, 16))
    s.line((-90.03, 16), (-90, -14))


def twice(s):
    lines(s)
    s.line(BOX[1], BOX[0])
    s.line(BOX[2], (BOX[3][0], BOX[3][1] + 0.003))
    s.line(BOX[2], BOX[2])
    s.circle((0, 0), 5)
    s.circle((0, 0), 5)


def holes(s):
    slot(s)
    s.circle((-30, 0), 3, "HOLES")
    s.lw([(20, -4), (40, -4, 1), (40, 4), (20, 4, 1)], True, "OUTLINE")


def points_close(s):
    """A closed flag beside a last vertex that repeats the first."""
    s.lw(BOX + [BOX[0]], True)


def by_size(s):
    """No layer called OUTLINE: the largest closed loop tells."""
    slot(s, "cut")
    s.lw([(-20, -3), (20, -3), (20, 3), (-20, 3)], True, "logo")


def foreign_name(layer):
    def draw(s):
        slot(s, layer)
    return draw


def write(name, data):
    with open(os.path.join(HERE, name), "wb") as f:
        f.write(data if isinstance(data, bytes) else data.encode())


GOOD = {
    "lines-shuffled": lines, "line-and-arc": line_arc, "circles": circles, "lwpolyline-bulges": slot,
    "lwpolyline-widths": widths, "polyline-r12": r12, "polyline-curve-fit": curve_fit,
    "polyline-spline-fit": spline_fit, "polyline-3d": poly3d, "spline-control": spline_control,
    "spline-rational": spline_rational, "spline-periodic": spline_periodic, "spline-unclamped": spline_unclamped,
    "spline-odd-knots": spline_knots, "spline-through-points": spline_through,
    "spline-through-points-free": spline_through_free, "ellipse": ellipse_full, "whole-turns-rounded": rounded, "ellipse-arc": ellipse_arc,
    "ellipse-mirrored": ellipse_mirrored, "insert-turned": insert_turned, "insert-mirrored": insert_mirrored,
    "insert-stretched": insert_stretched, "insert-nested": insert_nested, "minsert": minsert,
    "ocs-polyline": ocs_polyline, "ocs-arc": ocs_arc, "skipped-kinds": skipped, "hidden": hidden,
    "gap-joined": joined, "drawn-twice": twice, "holes": holes, "first-point-repeated": points_close,
    "largest-loop": by_size,
}


def good():
    for name, draw in GOOD.items():
        for q in range(4):
            s = Sheet(q)
            draw(s)
            write("good/%s-%d.dxf" % (name, 90 * q), text(s.file()))


def structure():
    """One shape in every wrapping that a file may come in."""
    s = Sheet()
    slot(s)
    plain = s.file()
    write("good/eol-crlf.dxf", text(plain, "\r\n"))
    write("good/eol-cr.dxf", text(plain, "\r"))
    write("good/codes-padded.dxf", text([(c, "  %s  " % num(v)) for c, v in plain], code="   %5d "))
    write("good/codes-bare.dxf", text(plain, code="%d"))
    commented = []
    for t in plain:
        commented += [(999, "0"), t]
    write("good/comments.dxf", text(commented))
    write("good/bom.dxf", b"\xef\xbb\xbf" + text(plain).encode())
    write("good/entities-only.dxf", text(s.file(only=True)).replace("ENTITIES", "entities"))
    write("good/eof-missing.dxf", text(s.file(eof=False)))
    write("good/blank-tail.dxf", text(plain) + "\n\n  \n\x1a")
    write("good/long-line.dxf", text([(0, "SECTION"), (2, "HEADER"), (9, "$PROJECTNAME"), (1, "x" * 70000)] + plain[2:]))
    write("good/binary-wide.dxf", binary(plain, True))
    write("good/binary-narrow.dxf", binary(s.file(version="AC1009"), False))
    write("good/xdata.dxf", text(s.file()[:-2] + [(102, "{ACAD_REACTORS"), (330, "1F"), (102, "}"), (1001, "APP"), (1010, 1e300), (1020, "x")] + s.file()[-2:]))
    write("good/count-wrong.dxf", text([(c, 2000000000 if c == 90 else v) for c, v in plain]))
    for name, layer, version, page, raw in [
        ("codepage-1252", "KLINGE \u00fc", "AC1015", "ANSI_1252", "cp1252"),
        ("codepage-1251", "\u043d\u043e\u0436", "AC1015", "ANSI_1251", "cp1251"),
        ("codepage-932", "\u5203", "AC1015", "ANSI_932", "shift_jis"),
        ("utf8", "\u5203 \u00fc", "AC1021", "ANSI_1252", "utf-8"),
        ("unicode-escape", "\\U+5203", "AC1015", "ANSI_1252", "ascii"),
    ]:
        d = Sheet()
        slot(d, layer)
        write("good/%s.dxf" % name, text(d.file(version=version, header=[(9, "$DWGCODEPAGE"), (3, page)])).encode(raw))
    for name, units, scale in [("inch", 1, 25.4), ("centimetre", 5, 10.0), ("metre", 6, 1000.0)]:
        d = Sheet()
        d.lw([tuple(v / scale if i < 2 else v for i, v in enumerate(p)) for p in SLOT])
        d.t = Plain()
        write("good/units-%s.dxf" % name, text(d.file(units=units)))
    write("good/units-none-mm.dxf", text(s.file(units=None)))
    write("good/units-none-metric.dxf", text(s.file(units=0, header=[(9, "$MEASUREMENT"), (70, 1)])))
    d = Sheet()
    d.t = Plain()
    d.lw([tuple(v / 25.4 if i < 2 else v for i, v in enumerate(p)) for p in SLOT])
    write("good/units-none-imperial.dxf", text(d.file(units=0, header=[(9, "$MEASUREMENT"), (70, 0)])))
    write("bad/no-units.dxf", text(d.file(units=None)))


def replaced(tags, n, code, value):
    """The pairs with the n-th of a code given another value."""
    out = []
    for c, v in tags:
        if c == code:
            n -= 1
            if n == 0:
                v = value
        out.append((c, v))
    return out


# A knife with two lines along the axes; its drawings in good habits and bad all hold this outline.
KNIFE = [(-105, -9), (-99, -14), (-12, -12), (0, -13.5), (70, -13.5, 0.15), (115, 7, 0.02), (60, 13), (-98, 13, 0.1)]


def bulge_arc(a, b, bulge):
    """Centre, radius and angles, counter-clockwise, of a polyline's arc."""
    (ax, ay), (bx, by) = a, b
    k = (1 - bulge * bulge) / (4 * bulge)
    c = ((ax + bx) / 2 - k * (by - ay), (ay + by) / 2 + k * (bx - ax))
    ang = [math.degrees(math.atan2(p[1] - c[1], p[0] - c[0])) for p in (a, b)]
    return c, math.dist(a, c), *(ang if bulge > 0 else ang[::-1])


def pieces(s, pts, layer="0", short=0.0):
    """The closed polyline as single lines and arcs, its lines short at their end."""
    for i, p in enumerate(pts):
        q = pts[(i + 1) % len(pts)]
        if len(p) > 2 and p[2]:
            s.arc(*bulge_arc(p[:2], q[:2], p[2]), layer)
            continue
        n = math.dist(p[:2], q[:2])
        s.line(p[:2], tuple(q[k] - short * (q[k] - p[k]) / n for k in (0, 1)), layer)


def rect(x0, y0, x1, y1):
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def rect_lines(s, x0, y0, x1, y1, layer="0"):
    r = rect(x0, y0, x1, y1)
    for i in range(4):
        s.line(r[i], r[(i + 1) % 4], layer)


def cells(s, layer="0"):
    """A title block whose lines are trimmed from crossing to crossing, so that three and four meet."""
    xs, ys = [100, 140, 230], [-148, -130, -112]
    for x in xs:
        for a, b in zip(ys, ys[1:]):
            s.line((x, a), (x, b), layer)
    for y in ys:
        for a, b in zip(xs, xs[1:]):
            s.line((a, y), (b, y), layer)


def habits():
    """The knife as people with different habits draw it."""
    def one(name, draw, **kw):
        s = Sheet()
        draw(s)
        write("habits/%s.dxf" % name, text(s.file(**kw)))

    knife = lambda s, layer="0": s.lw(KNIFE, True, layer)
    a3 = rect(-190, -148, 230, 149)
    one("plain", knife)
    one("pieces", lambda s: pieces(s, KNIFE))
    one("frame-polyline-layer-0", lambda s: (s.lw(a3, True, "0"), s.lw(rect(100, -148, 230, -112), True, "0"),
                                             s.lw(rect(100, -148, 140, -130), True, "0"), knife(s)))
    one("frame-lines-layer-0", lambda s: (rect_lines(s, -190, -148, 230, 149), cells(s), pieces(s, KNIFE)))

    def rounded_frame(s):
        s.lw([(-180, -148), (220, -148, math.tan(math.pi / 8)), (230, -138), (230, 139, math.tan(math.pi / 8)), (220, 149),
              (-180, 149, math.tan(math.pi / 8)), (-190, 139), (-190, -138, math.tan(math.pi / 8))], True, "0")
        x0, y0, x1, y1, r = -185, -143, 225, 144, 8
        for a, b in [((x0 + r, y0), (x1 - r, y0)), ((x1, y0 + r), (x1, y1 - r)), ((x1 - r, y1), (x0 + r, y1)), ((x0, y1 - r), (x0, y0 + r))]:
            s.line(a, b, "0")
        for c, a in [((x1 - r, y0 + r), 270), ((x1 - r, y1 - r), 0), ((x0 + r, y1 - r), 90), ((x0 + r, y0 + r), 180)]:
            s.arc(c, r, a, a + 90, "0")
        knife(s)
    one("frame-rounded-double", rounded_frame)

    def zones(s):
        rect_lines(s, -190, -148, 230, 149)
        rect_lines(s, -180, -138, 220, 139)
        for x in range(-140, 221, 60):
            s.line((x, -148), (x, -138), "0")
            s.line((x, 139), (x, 155), "0")  # centring marks stand out of the border
        pieces(s, KNIFE)
    one("frame-double-zones", zones)
    one("frame-named", lambda s: (knife(s, "knife"), s.lw(a3, True, "frame")))
    one("frame-named-sheet-with-knife", lambda s: (knife(s, "Sheet1"), s.lw(a3, True, "Sheet1")))
    one("title-beside", lambda s: (knife(s), s.lw(rect(20, -60, 120, -30), True, "TITLE")))
    one("table-beside", lambda s: (knife(s), cells(s)))

    def symbol(s):
        s.lw(a3, True, "0")
        s.lw(rect(100, -148, 230, -112), True, "0")
        s.circle((120, -130), 5, "0")
        s.circle((120, -130), 3, "0")
        s.lw([(130, -134), (140, -136), (140, -124), (130, -126)], True, "0")
        knife(s)
    one("frame-with-symbol", symbol)

    def in_block(s):
        s.block("A3", (0, 0), lambda b: (b.lw(a3, True, "0"), cells(b)))
        s.insert("A3", (0, 0), "0")
        knife(s)
    one("frame-in-block", in_block)
    one("frame-tight", lambda s: (knife(s), rect_lines(s, -110, -20, 120, 20)))
    one("frame-about-slot", lambda s: (s.lw(a3, True, "0"), knife(s), rect_lines(s, -90, -3, -70, 3)))
    one("tube-in-hole", lambda s: (knife(s), s.circle((-80, 0), 3, "0"), s.circle((-80, 0), 2, "0"), s.circle((-20, 0), 4, "0"),
                                   s.lw([(-21, -1), (-19, -1), (-20, 1)], True, "0")))
    one("bolt-on-holes-layer", lambda s: (knife(s), s.circle((-80, 0), 5, "HOLES"), s.circle((-80, 0), 3, "HOLES")))


def bad():
    def one(name, draw, **kw):
        s = Sheet()
        draw(s)
        write("bad/%s.dxf" % name, text(s.file(**kw)))

    s = Sheet()
    lines(s)
    plain = s.file()
    whole = text(plain)
    write("bad/empty.dxf", b"")
    write("bad/empty-blanks.dxf", b"\r\n  \r\n")
    write("bad/not-dxf-dwg.dxf", b"AC1027\0\0\0\0\0\0" + bytes(range(256)))
    write("bad/not-dxf-utf16.dxf", b"\xff\xfe" + whole.encode("utf-16-le"))
    write("bad/not-dxf-utf16-be-no-mark.dxf", whole.encode("utf-16-be"))
    write("bad/not-dxf-text.dxf", "dear sir,\nplease find the knife attached\n")
    write("bad/truncated-half.dxf", whole[:len(whole) * 2 // 3])
    write("bad/truncated-in-pair.dxf", text(plain[:-5]) + " 11\n")
    write("bad/truncated-between.dxf", text(plain[:-2]))
    write("bad/truncated-binary.dxf", binary(plain, True)[:-60])
    write("bad/bad-number-word.dxf", text(replaced(plain, 2, 10, "12,5")))
    write("bad/bad-number-hex.dxf", text(replaced(plain, 2, 10, "0x1p4")))
    write("bad/bad-number-code.dxf", whole.replace(" 11\n", "eleven\n", 1))
    write("bad/out-of-range-nan.dxf", text(replaced(plain, 3, 21, "nan")))
    write("bad/out-of-range-inf.dxf", text(replaced(plain, 3, 21, "1e999")))
    write("bad/out-of-range-far.dxf", text(replaced(plain, 1, 11, 1000001.0)))
    write("bad/out-of-range-radius.dxf", text(s.file()[:-2] + [(0, "CIRCLE"), (8, "OUTLINE"), (10, 0.0), (20, 0.0), (40, -3.0)] + plain[-2:]))
    write("bad/missing-value-line.dxf", text([t for t in plain if t[0] != 21]))
    write("bad/two-faults.dxf", text(replaced(replaced(plain, 1, 10, "x"), 4, 21, "y")))
    one("no-outline-nothing", lambda s: None)
    one("no-outline-text", lambda s: s.ent("TEXT", "OUTLINE", (10, 0.0), (20, 0.0), (40, 5.0), (1, "a")))
    one("open-outline-gap", lambda s: (s.lw(BOX, False), s.line((-90, 16), (-90, -13.8))))
    one("open-outline-wide", lambda s: s.lw(BOX, False))
    one("open-outline-beside-hole", lambda s: (s.lw(BOX, False), s.circle((0, 0), 3)))
    one("self-intersection-bow", lambda s: s.lw([(-90, -14), (95, 16), (95, -14), (-90, 16)]))
    one("self-intersection-arc", lambda s: s.lw([(-90, -14), (95, -14), (95, 16), (20, 16, -2.0), (-20, 16), (-90, 16)]))
    one("self-intersection-touch", lambda s: s.lw([(-90, -14), (95, -14), (95, 16), (0, -14), (-90, 16)]))
    one("two-outlines-beside", lambda s: (s.lw(BOX), s.lw([(x, y + 60) for x, y in BOX])))
    one("two-outlines-layers", lambda s: (s.lw(BOX, True, "A"), s.lw([(x, y + 60) for x, y in BOX], True, "B")))
    one("two-outlines-inset", lambda s: (slot(s), s.lw([(-85, -13), (85, -13, 1), (85, 13), (-85, 13, 1)])))
    one("open-outline-in-frame", lambda s: (s.lw(rect(-190, -148, 230, 149), True, "0"), pieces(s, KNIFE, "0", 0.2)))
    one("open-outline-many-gaps", lambda s: [s.line((100 * math.cos(a), 20 * math.sin(a)), (100 * math.cos(b), 20 * math.sin(b)))
                                             for a, b in [(i * math.pi / 100, (i + 0.9) * math.pi / 100) for i in range(200)]])
    one("implausible-size-inches", lambda s: s.lw([tuple(v / 25.4 if i < 2 else v for i, v in enumerate(p)) for p in KNIFE]))
    one("implausible-size-not-inches", lambda s: s.lw(KNIFE), units=1)
    one("implausible-size-not-inches-open", lambda s: pieces(s, KNIFE, "0", 0.01), units=1)
    one("implausible-size-wide", lambda s: s.lw(rect(-190, -148, 230, 149)))
    one("implausible-size-ten-times", lambda s: s.lw([tuple(10 * v if i < 2 else v for i, v in enumerate(p)) for p in KNIFE]))
    one("hole-crosses-outline", lambda s: (s.lw(BOX), s.circle((95, 0), 5)))
    one("hole-crosses-outline-layer", lambda s: (s.lw(BOX), s.circle((120, 0), 5, "HOLES")))
    one("holes-cross", lambda s: (s.lw(BOX), s.circle((0, 0), 5), s.circle((6, 0), 5)))
    one("branch", lambda s: (lines(s), s.line(BOX[0], (0, 0))))
    one("branch-four", lambda s: [s.line(a, b) for a, b in [((-90, 0), (0, 0)), ((0, 0), (0, 30)), ((0, 30), (-90, 0)),
                                                            ((0, 0), (90, 0)), ((90, 0), (90, -30)), ((90, -30), (0, 0))]])
    one("overlap", lambda s: (s.lw(BOX), s.line((-40, -14), (20, -14))))
    one("unsupported-region", lambda s: (s.line(BOX[0], BOX[1]), s.ent("REGION", "OUTLINE", (70, 1), (1, "x"))))
    one("no-block", lambda s: (s.lw(BOX), s.insert("none", (0, 0))))

    def cycle(s):
        s.lw(BOX)
        s.block("a", (0, 0), lambda b: b.insert("b", (0, 0)))
        s.block("b", (0, 0), lambda b: b.insert("a", (0, 0)))
        s.insert("a", (0, 0))
    one("block-cycle", cycle)

    def bomb(s):
        s.lw(BOX)
        s.block("b0", (0, 0), lambda b: b.circle((0, 0), 1))
        for i in range(1, 8):
            s.block("b%d" % i, (0, 0), lambda b: b.insert("b%d" % (i - 1), (0, 0), "0", 1, 1, 0, (70, 30), (71, 30)))
        s.insert("b7", (0, 0))
    one("block-limit", bomb)


if __name__ == "__main__":
    for d in ("good", "bad", "habits"):
        os.makedirs(os.path.join(HERE, d), exist_ok=True)
    good()
    structure()
    habits()
    bad()
