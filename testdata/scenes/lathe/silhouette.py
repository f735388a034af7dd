"""The exact outline of a turning in the picture, from curves that lie on its surface.

The outline is the upper envelope, on each side of the axis, of curves on the solid: the contour generators
of smooth parts (where the line of sight touches the surface) and the circles or cut circles at edges.
"""
import math

import numpy as np

from .turning import meridians, radii

HIDDEN_PX = 0.02  # a generator further inside the envelope than this does not show
RING = np.linspace(0, 2 * math.pi, 1441)


class Frame:
    """Picture coordinates along (t) and across (s, positive up) the projected axis, undistorted."""

    def __init__(self, cam, length):
        self.cam = cam
        a, b = cam.ideal(np.array([[0.0, 0, 0], [length, 0, 0]]))
        self.origin, self.e = a, (b - a) / np.linalg.norm(b - a)
        self.n = np.array([self.e[1], -self.e[0]])  # up when the axis runs to the right

    def of(self, world):
        p = self.cam.ideal(world) - self.origin
        return p @ self.e, p @ self.n

    def pixels(self, t, s):
        """Distorted pixels."""
        return self.cam.distort(self.origin + np.outer(t, self.e) + np.outer(s, self.n))


def generator(cam, piece, x):
    """World points where lines of sight touch the surface at stations x: (2, n, 3), NaN where none does.

    Tangency: normal (-r', cos a, sin a) times (point - camera) = 0.
    """
    r, slope = piece.at(x)
    cx, cy, cz = cam.centre
    reach, towards = math.hypot(cy, cz), math.atan2(cz, cy)
    with np.errstate(invalid="ignore"):
        half = np.arccos((r - slope * (x - cx)) / reach)
    angles = np.stack([towards + half, towards - half])
    return np.stack([np.broadcast_to(x, angles.shape), r * np.cos(angles), r * np.sin(angles)], -1)


def ring(x, r, limit=math.inf, yaw=0.0):
    """Section of the solid at x: a circle, cut by the square of half side `limit` turned by yaw degrees."""
    y, z = r * np.cos(RING), r * np.sin(RING)
    k = np.minimum(1, limit / np.maximum(np.maximum(np.abs(y), np.abs(z)), 1e-9)) if r > limit else 1
    if r > limit:
        y, z = (y * k, z * k) if r >= limit * math.sqrt(2) else (np.clip(y, -limit, limit), np.clip(z, -limit, limit))
    y, z = turned(y, z, yaw)
    return np.stack([np.full(RING.shape, x), y, z], -1)


def turned(y, z, yaw):
    """y, z turned by yaw degrees about the axis."""
    c, s = math.cos(math.radians(yaw)), math.sin(math.radians(yaw))
    return c * y - s * z, s * y + c * z


def curves(cam, elements, yaw):
    """Curves on the solid, as world points; a generator goes with its stations, others with None."""
    out = []
    for e in elements:
        limit = e.get("side", math.inf) / 2
        for p in meridians(e):
            x = fine(p)
            for end in (p.x0, p.x1):
                out.append((None, ring(end, float(p.at(np.array([end]))[0][0]), limit, yaw)))
            if "side" in e:
                out += sections(p, e, limit, yaw)
            else:
                out += [(x, g) for g in generator(cam, p, x)]
    return out


def sections(p, e, limit, yaw):
    """Of a square its long edges, of a shoulder its sections every 0.1 mm."""
    if e["kind"] == "square":
        ends = np.linspace(p.x0, p.x1, 400)
        corner = [turned(a * limit, b * limit, yaw) for a in (-1, 1) for b in (-1, 1)]
        return [(None, np.stack([ends, np.full(400, y), np.full(400, z)], -1)) for y, z in corner]
    xs = np.arange(p.x0, p.x1, 0.1)
    return [(None, ring(x, r, limit, yaw)) for x, r in zip(xs, p.at(xs)[0])]


def fine(p):
    """Stations of a piece: at most 0.02 mm apart, closer where an arc is steep."""
    n = max(2, math.ceil((p.x1 - p.x0) / 0.02))
    even = np.linspace(p.x0, p.x1, n)
    return np.unique(np.concatenate([even, p.stations()]))


def runs(t, s):
    """Monotone runs of a plane curve, each with t increasing; breaks at NaN."""
    step = np.sign(np.diff(t))
    start = 0
    for i in range(1, len(t)):
        if i == len(t) - 1 or step[i] != step[start] or not np.isfinite(step[i]):
            a, b = t[start:i + 1], s[start:i + 1]
            good = np.isfinite(a) & np.isfinite(b)
            if good.sum() > 1 and step[start] != 0:
                yield (a[good], b[good]) if step[start] > 0 else (a[good][::-1], b[good][::-1])
            start = i


def envelope(cam, elements, yaw=0.0, step=0.25):
    """Frame, grid t (px along the axis), and the outline's s above and below the axis."""
    frame = Frame(cam, elements[-1]["x1"])
    flat = [(x, *frame.of(c)) for x, c in curves(cam, elements, yaw)]
    lo = min(np.nanmin(t) for _, t, _ in flat)
    hi = max(np.nanmax(t) for _, t, _ in flat)
    grid = np.arange(math.ceil(lo / step) * step, hi, step)
    top, bottom = np.full(grid.shape, -np.inf), np.full(grid.shape, np.inf)
    for _, t, s in flat:
        for a, b in runs(t, s):
            i, j = np.searchsorted(grid, (a[0], a[-1]))
            v = np.interp(grid[i:j], a, b)
            top[i:j], bottom[i:j] = np.maximum(top[i:j], v), np.minimum(bottom[i:j], v)
    return frame, grid, top, bottom, flat


def sound(frame, grid, elements, damaged):
    """Whether no damaged stretch, nor 1 mm beside it, can show at each t of the grid."""
    keep = np.ones(grid.shape, bool)
    for d in damaged:
        a, b = d["x0"] - 1, d["x1"] + 1
        r = radii(elements, np.linspace(a, b, 200)).max()
        t = frame.of(np.concatenate([ring(a, r), ring(b, r)]))[0]
        keep &= (grid < t.min()) | (grid > t.max())
    return keep


def hidden(grid, top, bottom, flat):
    """Stretches of stations whose contour stays inside the outline, by side."""
    stretches = {"top": [], "bottom": []}
    generators = [f for f in flat if f[0] is not None]
    for x, t, s in generators:
        # the two generators of a piece follow one another: s tells which side
        side, sign, edge = ("top", 1, top) if np.nanmean(s) > 0 else ("bottom", -1, bottom)
        inside = ~(sign * (np.interp(t, grid, edge) - s) < HIDDEN_PX)
        stretches[side] += spans(x, inside)
    return merge(stretches)


def spans(x, flags):
    """[x0, x1] of runs of true flags."""
    d = np.diff(np.concatenate([[0], flags.astype(int), [0]]))
    return [(float(x[a]), float(x[b - 1])) for a, b in zip(np.where(d > 0)[0], np.where(d < 0)[0]) if b - 1 > a]


def merge(stretches):
    """Stretches as truth rows, those hidden above and below marked "both"."""
    cuts = sorted({v for s in stretches.values() for ab in s for v in ab})
    rows = []
    for a, b in zip(cuts, cuts[1:]):
        m = (a + b) / 2
        on = [k for k, s in stretches.items() if any(p <= m <= q for p, q in s)]
        if not on or b - a < 0.02:
            continue
        side = "both" if len(on) == 2 else on[0]
        if rows and rows[-1]["side"] == side and a - rows[-1]["x1"] < 0.05:
            rows[-1]["x1"] = round(b, 3)
        else:
            rows.append({"x0": round(a, 3), "x1": round(b, 3), "side": side})
    return rows
