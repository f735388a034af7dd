#!/usr/bin/env python3
"""Holds the program's fit against a generic piecewise fit of the same traces.

    apt-get install python3-numpy python3-scipy python3-skimage
    go build -tags migrated_fynedo -o out/spindlestick ./cmd/spindlestick
    /usr/bin/python3 testdata/compare/compare.py out/spindlestick

The generic fit knows nothing of turnings: scikit-image's approximate_polygon cuts the trace into chords, neighbours that one
line or circle explains are merged, and scipy's least_squares moves all joints and arcs together under a Huber loss. Both
fits see the same samples: the traces of the pictures in assets/demo and testdata/photos, and of random turnings with
0.03 mm of noise. Errors are held against the exact truth wherever the trace is visible and no step is near; a station is
found when a joint lies within 1 mm of it. Times are processor time.
"""
import csv
import json
import math
import os
import pathlib
import subprocess
import sys
import tempfile
import time

import numpy as np
from scipy.optimize import least_squares
from skimage.measure import approximate_polygon

ROOT = pathlib.Path(__file__).resolve().parents[2]
PHOTOS = [
    ("demo", "assets/demo/demo", ["--height", "raised"]),
    ("leg", "testdata/photos/leg", ["--height", "level"]),
    ("rule", "testdata/photos/rule", ["--height", "raised"]),  # and the ends of its rule, from the truth
]
NEAR_STEP = 0.5  # mm: what blur does to a step says nothing of a fit
FOUND = 1.0  # mm
STEEP = 3.0  # a chord as steep as this is the face of a step: its two ends are one station


def read_csv(path):
    """Returns stations, radii and the mask of visible samples."""
    with open(path) as f:
        rows = list(csv.DictReader(f))
    x = np.array([float(r["x_mm"]) for r in rows])
    d = np.array([float(r["diameter_mm"]) for r in rows])
    return x, d / 2, np.array([r["state"] == "visible" for r in rows])


def noise(r):
    """The standard deviation of the samples, from the median of second differences over a few samples: neighbours of a
    photograph's trace err together. Never under 0.02 mm, which the program credits a trace with as well."""
    lag = 3
    second = r[2 * lag :] - 2 * r[lag:-lag] + r[: -2 * lag]
    return max(0.02, np.median(np.abs(second)) / 0.6745 / math.sqrt(6))


def line_or_circle(p):
    """The root mean square distance of points from their best line or circle, whichever is less, and the sagitta."""
    c = p.mean(axis=0)
    q = p - c
    _, _, v = np.linalg.svd(q, full_matrices=False)
    flat = math.sqrt(np.mean((q @ v[1]) ** 2))
    if len(p) < 5:
        return flat, 0.0
    a = np.column_stack([2 * q, np.ones(len(q))])
    s, *_ = np.linalg.lstsq(a, (q**2).sum(axis=1), rcond=None)
    radius = math.sqrt(max(0, s[2] + s[0] ** 2 + s[1] ** 2))
    bent = math.sqrt(np.mean((np.hypot(q[:, 0] - s[0], q[:, 1] - s[1]) - radius) ** 2))
    half = np.linalg.norm(p[-1] - p[0]) / 2
    if bent > 0.8 * flat or radius < half:
        return flat, 0.0
    chord = p[-1] - p[0]
    middle = p[len(p) // 2] - p[0]
    side = chord[0] * middle[1] - chord[1] * middle[0]
    return bent, math.copysign(radius - math.sqrt(radius**2 - half**2), side)


def cut(p, sigma):
    """Cuts the points into runs that a line or a circle explains: indices of the joints, and a sagitta for each run."""
    corners = approximate_polygon(p, 3 * sigma)
    index = [int(np.argmin(((p - c) ** 2).sum(axis=1))) for c in corners]
    index = sorted(set(index) | {0, len(p) - 1})
    limit = 1.3 * sigma
    while len(index) > 2:
        joined = [line_or_circle(p[index[k - 1] : index[k + 1] + 1])[0] for k in range(1, len(index) - 1)]
        k = int(np.argmin(joined))
        if joined[k] > limit:
            break
        del index[k + 1]
    bends = [line_or_circle(p[a : b + 1])[1] for a, b in zip(index, index[1:])]
    return index, np.array(bends)


def distances(p, owner, joints, bends):
    """Signed distances of points from the lines and arcs that own them."""
    a, b = joints[owner], joints[owner + 1]
    chord = b - a
    length = np.maximum(np.hypot(chord[:, 0], chord[:, 1]), 1e-9)
    along, across = chord / length[:, None], np.column_stack([-chord[:, 1], chord[:, 0]]) / length[:, None]
    q = p - (a + b) / 2
    u, v = (q * along).sum(axis=1), (q * across).sum(axis=1)
    h = bends[owner]
    flat = np.abs(h) < 1e-6
    safe = np.where(flat, 1.0, h)
    radius = (length**2 / 4 + safe**2) / (2 * np.abs(safe))
    centre = safe - np.sign(safe) * radius
    return np.where(flat, v, np.sign(safe) * (np.hypot(u, v - centre) - radius))


def generic(x, r):
    """Fits lines and arcs; returns joints (stations and radii) and sagittas."""
    p = np.column_stack([x, r])
    sigma = noise(r)
    index, bends = cut(p, sigma)
    owner = np.clip(np.searchsorted(index, np.arange(len(p)), side="right") - 1, 0, len(index) - 2)
    n = len(index)

    def residuals(v):
        return distances(p, owner, v[: 2 * n].reshape(n, 2), v[2 * n :]) / sigma

    start = np.concatenate([p[index].ravel(), bends])
    got = least_squares(residuals, start, loss="huber", f_scale=3, max_nfev=15, jac_sparsity=sparsity(owner, n))
    return got.x[: 2 * n].reshape(n, 2), got.x[2 * n :]


def sparsity(owner, n):
    """Which numbers move which point."""
    from scipy.sparse import lil_matrix

    m = lil_matrix((len(owner), 3 * n - 1), dtype=int)
    for i, k in enumerate(owner):
        m[i, 2 * k : 2 * k + 4] = 1
        m[i, 2 * n + k] = 1
    return m


def radii(joints, bends, x):
    """The radius of the generic fit at stations."""
    out = np.full(len(x), np.nan)
    for (x0, r0), (x1, r1), h in zip(joints, joints[1:], bends):
        inside = (x >= x0) & (x <= x1)
        if x1 - x0 < 1e-6 or not inside.any():
            continue
        length = math.hypot(x1 - x0, r1 - r0)
        w = (x[inside] - x0) / (x1 - x0)
        line = r0 + w * (r1 - r0)
        if abs(h) > 1e-6:
            radius = (length**2 / 4 + h**2) / (2 * abs(h))
            nx, nr = -(r1 - r0) / length, (x1 - x0) / length
            k = h - math.copysign(radius, h)
            cx, cr = (x0 + x1) / 2 + nx * k, (r0 + r1) / 2 + nr * k
            d = np.sqrt(np.maximum(0, radius**2 - (x[inside] - cx) ** 2))
            line = cr + math.copysign(1, h) * d
        out[inside] = line
    return out


def stations(joints):
    """The generic fit's stations: the two ends of a step's face are one."""
    out = []
    for k, (x, r) in enumerate(joints):
        if k and abs(r - joints[k - 1][1]) > STEEP * abs(x - joints[k - 1][0]):
            out[-1] = (out[-1] + x) / 2
        else:
            out.append(x)
    return np.array(out)


def truth_of(name, folder):
    """Returns stations, radii of the truth and where its elements meet, and where they step."""
    path = folder / f"{name}_truth.json"
    truth = json.loads(path.read_text())
    if "profile" in truth:
        p = np.array(truth["profile"])
        x, r = p[:, 0], p[:, 1]
    else:
        x, r, _ = read_csv(folder / f"{name}_truth.csv")
    es = truth["elements"]
    edges = np.array([e["x0"] for e in es] + [es[-1]["x1"]])
    steps = np.array([b["x0"] for a, b in zip(es, es[1:]) if abs(a["d1"] - b["d0"]) > 0.02] + [edges[0], edges[-1]])
    squares = [(e["x0"], e["x1"]) for e in es if e["kind"] in ("square", "shoulder")]
    return x, r, edges, steps, squares


def score(x, r, found, truth, seen):
    """Root mean square error of the diameter, and the shares of true stations found and of found ones true."""
    tx, tr, edges, steps, squares = truth
    grid = np.arange(0.25, edges[-1], 0.25)
    keep = np.min(np.abs(grid[:, None] - steps[None, :]), axis=1) > NEAR_STEP
    keep &= np.min(np.abs(grid[:, None] - seen[None, :]), axis=1) < 0.2
    for a, b in squares:
        keep &= (grid < a) | (grid > b)
    error = 2 * (np.interp(grid, x, r) - np.interp(grid, tx, tr))[keep]
    near = np.abs(edges[:, None] - found[None, :])
    return math.sqrt(np.mean(error**2)), np.mean(near.min(axis=1) < FOUND), np.mean(near.min(axis=0) < FOUND)


def photographs(program, folder):
    """Traces the pictures, and puts their truth beside the traces."""
    for name, path, flags in PHOTOS:
        truth = json.loads((ROOT / f"{path}.json").read_text())
        if truth["reference"]["kind"] == "rule":
            a, b = truth["reference"]["first_visible"], truth["reference"]["last_visible"]
            (x0, y0), (x1, y1) = a["px"], b["px"]
            flags = [*flags, f"--rule={x0},{y0},{x1},{y1}={b['mm'] - a['mm']}mm"]
        out = ["--trace", folder / f"{name}_trace.csv", "--csv", folder / f"{name}_camera.csv", "--pattern", folder / f"{name}_camera.json"]
        try:
            subprocess.run([program, "trace", ROOT / f"{path}.jpg", *flags, *out], check=True, capture_output=True, text=True)
        except subprocess.CalledProcessError as e:
            sys.exit(f"compare.py: {e.stderr}")
        (folder / f"{name}_truth.json").write_text(json.dumps(truth))


def compare(name, folder):
    x, r, visible = read_csv(folder / f"{name}_trace.csv")
    order = np.argsort(x, kind="stable")
    x, r, visible = x[order], r[order], visible[order]
    truth = truth_of(name, folder)
    start = time.process_time()
    joints, bends = generic(x[visible], r[visible])
    took = time.process_time() - start
    grid = np.arange(0, x[-1], 0.05)
    other = radii(joints, bends, grid)
    there = ~np.isnan(other)
    g = score(grid[there], other[there], stations(joints), truth, x[visible])
    seconds = float((folder / f"{name}_fit.seconds").read_text())
    own, f = ours(f"{name}_fit", folder, truth, x[visible])
    camera = ours(f"{name}_camera", folder, truth, x[visible]) if (folder / f"{name}_camera.json").exists() else None
    return visible.sum(), len(truth[2]) - 1, own, f, seconds, len(stations(joints)) - 1, g, took, camera


def ours(name, folder, truth, seen):
    """The number of elements that the program found, and their score."""
    x, r, _ = read_csv(folder / f"{name}.csv")
    es = json.loads((folder / f"{name}.json").read_text())["elements"]
    return len(es), score(x, r, np.array([e["x0"] for e in es] + [es[-1]["x1"]]), truth, seen)


def show(name, n, true, own, f, s, other, g, t):
    print(f"{name:12} {n:6.0f} {true:6.1f} | {own:6.1f} {f[0]:7.3f} {100*f[1]:5.0f} {100*f[2]:5.0f} {s:7.2f} | {other:6.1f} {g[0]:7.3f} {100*g[1]:5.0f} {100*g[2]:5.0f} {t:7.2f}")


def main():
    if len(sys.argv) != 2:
        sys.exit("usage: compare.py PROGRAM (see the head of this file)")
    folder = pathlib.Path(tempfile.mkdtemp(prefix="compare"))
    photographs(os.path.abspath(sys.argv[1]), folder)
    subprocess.run(["go", "test", "-count=1", "-run", "WriteComparison", "./profile/fit"], check=True, cwd=ROOT,
                   env={**os.environ, "SPINDLESTICK_COMPARE": str(folder)}, stdout=subprocess.DEVNULL)
    names = sorted(p.name[: -len("_trace.csv")] for p in folder.glob("*_trace.csv"))
    print(f"{'':26} | {'this program':^34} | {'generic piecewise fit':^34}")
    head = f"{'pieces':>6} {'rms mm':>7} {'found':>5} {'true':>5} {'s':>7}"
    print(f"{'trace':12} {'samples':>6} {'true':>5} | {head} | {head}")
    rows = [compare(name, folder) for name in names]
    for name, row in zip(names, rows):
        if not name.startswith("random"):
            show(name, *row[:8])
            n, f = row[8]
            print(f"{'  in picture':26} | {n:6.1f} {f[0]:7.3f} {100*f[1]:5.0f} {100*f[2]:5.0f} {'':7} |")
    mean = lambda k: float(np.mean([row[k] for n, row in zip(names, rows) if n.startswith("random")]))
    pair = lambda k: [float(np.mean([row[k][j] for n, row in zip(names, rows) if n.startswith("random")])) for j in range(3)]
    show(f"{sum(n.startswith('random') for n in names)} random", mean(0), mean(1), mean(2), pair(3), mean(4), mean(5), pair(6), mean(7))
    print("in picture: what the whole program makes of the photograph, whose fit goes through the camera")
    print("found: true stations with a joint within 1 mm, %; true: joints within 1 mm of a true station, %; traces are in", folder)


if __name__ == "__main__":
    main()
