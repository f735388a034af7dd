"""Measure the finished picture against its truth: checker corners, and the outline on a mask."""
import numpy as np
from PIL import Image, ImageOps
from scipy import ndimage

from . import povscene
from .reference import grid
from .silhouette import envelope, sound


def corner(gu, gv, start, half):
    """The saddle next to `start`: the point whose direction to every pixel is at right angles to the gradient."""
    p = np.array(start, float)
    for _ in range(12):
        u0, v0 = np.round(p).astype(int)
        v, u = np.mgrid[v0 - half:v0 + half + 1, u0 - half:u0 + half + 1]
        w = np.exp(-((u - p[0]) ** 2 + (v - p[1]) ** 2) / (2 * (half / 2) ** 2))
        a, b = gu[v, u], gv[v, u]
        m = np.array([[(w * a * a).sum(), (w * a * b).sum()], [(w * a * b).sum(), (w * b * b).sum()]])
        y = np.array([(w * (a * a * u + a * b * v)).sum(), (w * (a * b * u + b * b * v)).sum()])
        p = np.linalg.solve(m, y)
    return p


def corners(scene, jpeg):
    """Measured minus true inner corners of the JPEG, (n, 2) px."""
    grey = np.asarray(ImageOps.exif_transpose(Image.open(jpeg)).convert("L"), float)
    gv, gu = (ndimage.gaussian_filter(grey, 0.7, order=o) for o in ((1, 0), (0, 1)))
    out = []
    for b in scene.boards:
        true = scene.camera.project(grid(b, scene.plane_z))
        half = max(3, int(np.linalg.norm(true[0, 1] - true[0, 0]) * 0.3))
        out += [corner(gu, gv, q, half) - q for q in true[1:-1, 1:-1].reshape(-1, 2)]
    return np.array(out)


def mask(scene, folder):
    """Coverage of the piece per pixel, from 64 rays in pixels on its edge."""
    path = folder / f"{scene.name}_mask.ppm"
    povscene.render(povscene.mask(scene), path, scene.camera.width, scene.camera.height)
    return np.asarray(povscene.read_ppm(path)[..., 0], float) / 65535


def outline(scene, folder):
    """Measured minus true edge, px, above and below, column by column; for a piece lying along the picture.

    The edge in a column is where its coverage, summed from the axis, ends. Damaged stretches are left out.
    """
    cover = mask(scene, folder)
    frame, t, top, bottom, _ = envelope(scene.camera, scene.elements, scene.yaw)
    plain = lambda s: frame.origin + np.outer(t, frame.e) + np.outer(s, frame.n)
    (ut, vt), (ub, vb) = plain(top).T, plain(bottom).T
    us = np.arange(int(ut[0]) + 4, int(ut[-1]) - 3)
    up, low = np.interp(us, ut, vt), np.interp(us, ub, vb)
    middle = np.round((up + low) / 2).astype(int)
    above = np.array([m + 0.5 - cover[:m + 1, u].sum() for u, m in zip(us, middle)])
    below = np.array([m + 0.5 + cover[m + 1:, u].sum() for u, m in zip(us, middle)])
    keep = np.interp(us, ut, sound(frame, t, scene.elements, scene.damaged)) == 1
    return (above - up)[keep], (below - low)[keep]


def line(name, e):
    """One line of figures."""
    return f"{name}: mean {e.mean():+.4f} median {np.median(e):+.4f} rms {np.sqrt((e ** 2).mean()):.4f} px (n {e.size})"
