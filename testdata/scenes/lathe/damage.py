"""Damage to a turning: chips out of its surface, a snapped end."""
import math

import numpy as np

from .turning import radii


def chipped(specs, elements):
    """All chips' ellipsoids, and the truth rows of the stretches they touch."""
    blobs, rows = [], []
    for c in specs:
        own = chip(c, elements)
        a, b = removed(own, elements, c["x"] - c["width"], c["x"] + c["width"])
        rows.append({"x0": a, "x1": b, "side": "top" if c["angle"] > 0 else "bottom", "kind": "chip"})
        blobs += own
    return blobs, rows


def chip(spec, elements):
    """Ellipsoids (centre, half axes, angle) of a chip: `x`, `width`, `depth` mm, `angle` about the axis (90 is up).

    Centre and half axes are along the axis, outward at that angle, and around; each is broad enough around for its whole
    depth to show in the outline.
    """
    rng = np.random.default_rng(spec["seed"])
    own = next(e for e in elements if e["x0"] <= spec["x"] <= e["x1"])
    r = max(own["d0"], own["d1"], own.get("mid", 0)) / 2
    out = []
    for _ in range(5):
        half = spec["width"] / 2 * rng.uniform(0.45, 0.8)
        x = spec["x"] + rng.uniform(-1, 1) * (spec["width"] / 2 - half)
        deep, tall = spec["depth"] * rng.uniform(0.7, 1.0), spec["depth"] * rng.uniform(1.2, 1.8)
        broad = math.sqrt(2 * r * spec["depth"]) * rng.uniform(1.3, 1.8)
        out.append(((x, r + tall - deep, rng.uniform(-0.1, 0.1) * r), (half, tall, broad), spec["angle"]))
    return out


def removed(blobs, elements, lo, hi):
    """First and last station between lo and hi where a blob reaches into the surface."""
    x = np.arange(lo, hi, 0.02)[:, None]
    a = np.linspace(0, 2 * math.pi, 721)
    r = radii(elements, x)
    hit = np.zeros(len(x), bool)
    for (cx, cy, cz), (hx, hy, hz), angle in blobs:
        b = a - math.radians(angle)
        hit |= (((x - cx) / hx) ** 2 + ((r * np.cos(b) - cy) / hy) ** 2 + ((r * np.sin(b) - cz) / hz) ** 2 < 1).any(1)
    return round(float(x[hit][0, 0]), 3), round(float(x[hit][-1, 0]), 3)


def snapped(spec, elements):
    """What is left of the elements, the splinters at its end, and the truth row of the rough stretch."""
    if not spec:
        return elements, [], []
    cones = splinters(spec, radii(elements, np.array([float(spec["at"])]))[0])
    end = round(max(tip[0] for _, _, tip in cones), 3)
    return shortened(elements, end), cones, [{"x0": spec["at"], "x1": end, "side": "both", "kind": "snapped end"}]


def splinters(spec, radius):
    """Cones (foot, foot radius, tip) of a snapped end at `at` mm: bundles of fibres up to `rough` mm long, over a
    slope that leaves one side longer."""
    rng = np.random.default_rng(spec["seed"])
    lean = rng.uniform(0, 2 * math.pi)
    out = []
    for _ in range(70):
        a, q = rng.uniform(0, 2 * math.pi), radius * math.sqrt(rng.uniform(0, 1))
        y, z = q * math.cos(a), q * math.sin(a)
        along = 0.5 + 0.5 * (y * math.cos(lean) + z * math.sin(lean)) / radius
        tip = spec["at"] + spec["rough"] * (0.75 * along + 0.25 * rng.uniform(0, 1) ** 2)
        out.append(((spec["at"] - 1, y, z), radius * rng.uniform(0.14, 0.36), (tip, y, z)))
    return out


def shortened(elements, at):
    """The elements up to station `at`, the cut one (a taper or cylinder) shorter and marked."""
    out = []
    for e in elements:
        if e["x1"] <= at:
            out.append(e)
        elif e["x0"] < at:
            if e["kind"] not in ("taper", "cylinder"):
                raise ValueError(f"a {e['kind']} at {at} cannot be snapped; a taper or cylinder can")
            d = e["d0"] + (at - e["x0"]) / (e["x1"] - e["x0"]) * (e["d1"] - e["d0"])
            out.append(dict(e, x1=at, length=round(at - e["x0"], 4), d1=round(d, 4), status="snapped"))
    return out
