"""The meridian of a turning: elements of lines and circular arcs, millimetres, x along the axis."""
import math
from dataclasses import dataclass

import numpy as np

# Height by which a sampled arc may lie inside the true one: a hundredth of a pixel at 10 px/mm.
SAGITTA_MM = 0.0005


@dataclass
class Piece:
    """One line or arc of the meridian; bow is +1 convex, -1 concave, 0 straight."""
    x0: float
    r0: float
    x1: float
    r1: float
    radius: float = math.inf
    bow: int = 0

    def centre(self):
        """Centre (x, r) of the arc, on the side of the chord away from the bow."""
        dx, dr = self.x1 - self.x0, self.r1 - self.r0
        half = math.hypot(dx, dr) / 2
        d = -self.bow * math.sqrt(max(0.0, self.radius ** 2 - half ** 2))
        return (self.x0 + self.x1) / 2 - dr / (2 * half) * d, (self.r0 + self.r1) / 2 + dx / (2 * half) * d

    def at(self, x):
        """Radius and slope dr/dx at stations x (array)."""
        if not self.bow:
            slope = (self.r1 - self.r0) / (self.x1 - self.x0)
            return self.r0 + (x - self.x0) * slope, np.full_like(x, slope)
        cx, cr = self.centre()
        h = np.sqrt(np.maximum(self.radius ** 2 - (x - cx) ** 2, 1e-12))
        return cr + self.bow * h, -self.bow * (x - cx) / h

    def stations(self):
        """Stations dense enough that chords stay within SAGITTA_MM of the arc."""
        if not self.bow:
            return np.array([self.x0, self.x1])
        cx, _ = self.centre()
        a = [math.asin(max(-1.0, min(1.0, (x - cx) / self.radius))) for x in (self.x0, self.x1)]
        step = 2 * math.acos(1 - min(1.0, SAGITTA_MM / self.radius))
        n = max(2, math.ceil((a[1] - a[0]) / step) + 1)
        x = cx + self.radius * np.sin(np.linspace(a[0], a[1], n))
        x[0], x[-1] = self.x0, self.x1
        return x


def through(x0, d0, x1, d1, mid):
    """The arc through both ends and, half-way, diameter mid."""
    a, b, c = (0.0, d0 / 2), ((x1 - x0) / 2, mid / 2), (x1 - x0, d1 / 2)
    doubled = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])
    return Piece(x0, d0 / 2, x1, d1 / 2, math.dist(a, b) * math.dist(b, c) * math.dist(c, a) / (2 * abs(doubled)),
                 1 if doubled < 0 else -1)


def quarter(x0, d0, x1, d1, bow):
    """The arc level at its large end (convex) or at its small end (concave)."""
    c, h = x1 - x0, abs(d1 - d0) / 2
    return Piece(x0, d0 / 2, x1, d1 / 2, (c * c + h * h) / (2 * h), bow)


def ogee(x0, d0, x1, d1, share=0.5):
    """Two arcs, level at the ends, that meet in a common tangent; the first has `share` of the length."""
    dx, dr = x1 - x0, (d1 - d0) / 2
    radius = (dx * dx + dr * dr) / (2 * abs(dr))
    xi, ri, bow = x0 + share * dx, d0 / 2 + share * dr, -1 if dr > 0 else 1
    return [Piece(x0, d0 / 2, xi, ri, share * radius, bow), Piece(xi, ri, x1, d1 / 2, (1 - share) * radius, -bow)]


def pieces(e):
    """The meridian of one element as written in a scene file."""
    k, x0, x1, d0, d1 = e["kind"], e["x0"], e["x1"], e["d0"], e["d1"]
    if k in ("bead", "cove", "swell"):
        return [through(x0, d0, x1, d1, e["mid"])]
    if k == "ogee" or e.get("style") == "ogee":
        return ogee(x0, d0, x1, d1, e.get("share", 0.5))
    if k in ("half-bead", "half-cove", "shoulder"):
        return [quarter(x0, d0, x1, d1, -1 if k == "half-cove" else 1)]
    if k == "vee":
        m = (x0 + x1) / 2
        return [Piece(x0, d0 / 2, m, e["mid"] / 2), Piece(m, e["mid"] / 2, x1, d1 / 2)]
    if k in ("cylinder", "fillet", "taper"):
        return [Piece(x0, d0 / 2, x1, d1 / 2)]
    raise ValueError(f"unknown kind {k!r}")


def complete(elements):
    """Chain x0 from element to element, and fill in equal ends and the diagonal of squares."""
    out, x = [], 0.0
    for i, e in enumerate(elements):
        e = dict(e, x0=x, x1=round(x + e["length"], 4))
        if "side" in e:
            diagonal = round(e["side"] * math.sqrt(2), 4)
            if e["kind"] == "square":
                e["d0"] = e["side"]
            else:
                e["d1" if e.setdefault("square_end", "x0") == "x1" else "d0"] = diagonal
        e.setdefault("d1", e["d0"])
        out.append(dict(e, index=i))
        x = e["x1"]
    return out


def extra(e):
    """What the truth tells of an element beside its stations and end diameters."""
    k = e["kind"]
    if k == "taper":
        return {"half_angle_deg": round(math.degrees(math.atan((e["d1"] - e["d0"]) / 2 / e["length"])), 4)}
    if k == "vee":
        depth = (e["d0"] - e["mid"]) / 2
        angle = 2 * math.degrees(math.atan(e["length"] / 2 / depth))
        return {"included_angle_deg": round(angle, 2), "depth": round(depth, 4), "min_diameter": e["mid"]}
    if k == "square":
        return {"side": e["side"]}
    if k in ("cylinder", "fillet"):
        return {}
    if k == "ogee":
        a, b = pieces(e)
        return {"radius0": round(a.radius, 4), "radius1": round(b.radius, 4), "inflection_x": round(a.x1, 4)}
    out = {"radius": round(pieces(e)[0].radius, 4)}
    named = {"bead": "peak_diameter", "cove": "min_diameter", "swell": "mid_diameter"}
    if k in named:
        out[named[k]] = e["mid"]
    if k == "shoulder":
        far = e["square_end"] == "x1"
        out.update(side=e["side"], round_end_diameter=e["d0" if far else "d1"], style=e.get("style", "quarter"),
                   square_end=e["square_end"])
    return out


def meridian(elements):
    """Closed meridian of the round part, (n, 2) of x, radius; squares enter as their diagonal."""
    pts = []
    for e in elements:
        if e["kind"] == "square":
            r = e["side"] / math.sqrt(2) + 1  # outside the square, which cuts it
            pts += [(e["x0"], r), (e["x1"], r)]
            continue
        for p in pieces(e):
            x = p.stations()
            pts += list(zip(x, p.at(x)[0]))
    return np.array([(pts[0][0], 0.0)] + pts + [(pts[-1][0], 0.0)])


def half_extent(r, side, yaw):
    """Half the breadth seen from afar of a circle cut by a square that is turned by yaw degrees about the axis."""
    a = math.radians(abs((yaw + 45) % 90 - 45))
    s = side / 2
    if r * math.cos(a) <= s:
        return r
    return s * math.cos(a) + math.sqrt(min(r * r - s * s, s * s)) * math.sin(a)


def sampled(elements, step, yaw=0.0):
    """Profile [x, radius] and outline [x, half extent] every step, element ends repeated at steps.

    Of a square the profile is half its diagonal and the outline half its breadth.
    """
    profile, outline = [], []
    for e in elements:
        inner = np.arange(math.floor(e["x0"] / step + 1) * step, e["x1"] - 1e-9, step)
        xs = np.concatenate([[e["x0"]], inner, [e["x1"]]])
        for p in meridians(e):
            x = xs[(xs >= p.x0) & (xs <= p.x1)]
            r = p.at(x)[0]
            seen = [half_extent(b, e.get("side", math.inf), yaw) for b in r]
            outline += [[round(a, 4), round(b, 5)] for a, b in zip(x, seen)]
            profile += [[round(a, 4), round(b, 5)] for a, b in zip(x, r)]
    return unique(profile), unique(outline)


def radii(elements, x):
    """Radius at stations x (array), of a square half its diagonal."""
    r = np.zeros_like(x)
    for p in (p for e in elements for p in meridians(e)):
        on = (x >= p.x0) & (x <= p.x1)
        r[on] = p.at(x[on])[0]
    return r


def meridians(e):
    """Like pieces, with a square as a cylinder on its diagonal."""
    if e["kind"] == "square":
        r = e["side"] / math.sqrt(2)
        return [Piece(e["x0"], r, e["x1"], r)]
    return pieces(e)


def unique(rows):
    """Rows without immediate repeats."""
    return [r for i, r in enumerate(rows) if not i or r != rows[i - 1]]
