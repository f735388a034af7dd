"""A pinhole camera with radial distortion; pixel (0, 0) is the centre of the top-left pixel."""
import math

import numpy as np

# Diagonal of the 36 x 24 mm frame to which "35 mm equivalent" focal lengths refer.
FRAME_DIAGONAL_MM = math.hypot(36, 24)


def turn(axis, degrees):
    """Rotation matrix about camera axis 0, 1 or 2."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    m = np.eye(3)
    i, j = [(1, 2), (2, 0), (0, 1)][axis]
    m[i, i], m[i, j], m[j, i], m[j, j] = c, -s, s, c
    return m


class Camera:
    """Camera frame: x right, y down, z forward. World: x along the axis, z towards the camera, mm."""

    def __init__(self, spec):
        self.width, self.height = spec["width"], spec["height"]
        self.f35 = spec["f35"]
        self.f = self.f35 * math.hypot(self.width, self.height) / FRAME_DIAGONAL_MM
        self.cx, self.cy = (self.width - 1) / 2, (self.height - 1) / 2
        self.k1, self.k2 = spec.get("k1", 0.0), spec.get("k2", 0.0)
        turns = turn(2, spec["roll"]) @ turn(0, spec["pitch"]) @ turn(1, spec["yaw"])
        self.R = turns @ np.diag([1.0, -1.0, -1.0])
        self.centre = np.array(spec["target"], float) - spec["distance"] * self.R[2]

    def ideal(self, points):
        """Pixels of world points (..., 3) without distortion."""
        p = (np.asarray(points, float) - self.centre) @ self.R.T
        return np.stack([self.cx + self.f * p[..., 0] / p[..., 2], self.cy + self.f * p[..., 1] / p[..., 2]], -1)

    def distort(self, pixels):
        """Pixels with distortion, of pixels without."""
        n = (np.asarray(pixels, float) - (self.cx, self.cy)) / self.f
        q = (n ** 2).sum(-1, keepdims=True)
        return n * (1 + self.k1 * q + self.k2 * q * q) * self.f + (self.cx, self.cy)

    def undistort(self, pixels):
        """Inverse of distort, by fixed-point iteration, which converges for a picture that does not fold."""
        d = (np.asarray(pixels, float) - (self.cx, self.cy)) / self.f
        n = d.copy()
        for _ in range(30):
            q = (n ** 2).sum(-1, keepdims=True)
            n = d / (1 + self.k1 * q + self.k2 * q * q)
        return n * self.f + (self.cx, self.cy)

    def project(self, points):
        """Pixels of world points (..., 3)."""
        return self.distort(self.ideal(points))

    def margin(self):
        """Pixels that a rendering needs beyond the picture's edges so that distortion finds no gap."""
        if not (self.k1 or self.k2):
            return 0
        corner = self.undistort(np.array([0.0, 0.0]))
        return max(0, math.ceil(-corner.min())) + 2
