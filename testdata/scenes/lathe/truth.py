"""The truth of a scene as JSON: camera, references in pixels, elements, profile, what cannot be seen."""
import json
import re

import numpy as np

from . import reference, turning
from .silhouette import envelope, hidden

CONVENTION = ("(0,0) = centre of top-left pixel; "
              "coordinates refer to the image AFTER applying EXIF orientation")


def px(points):
    return np.round(points, 4).tolist()


def camera(scene):
    c, s = scene.camera, scene.cam_spec
    return {
        "make": s["make"], "model": s["model"], "width": c.width, "height": c.height,
        "f_px": round(c.f, 5), "cx": c.cx, "cy": c.cy,
        "dist": {"model": "x_d = x(1+k1 r^2+k2 r^4), r in normalised ideal coordinates", "k1": c.k1, "k2": c.k2},
        "f35_true": c.f35, "f35_exif": int(round(c.f35)), "f35_rule": "f_px = f35 * image_diagonal_px / 43.2666",
        "R_world_to_cam": np.round(c.R, 12).tolist(), "centre_world_mm": np.round(c.centre, 7).tolist(),
        "distance_to_target_mm": s["distance"], "pitch_deg": s["pitch"], "yaw_deg": s["yaw"], "roll_deg": s["roll"],
    }


def board(scene, b):
    g = reference.grid(b, scene.plane_z)
    corners = [g[0, 0], g[0, -1], g[-1, -1], g[-1, 0]]
    return {"rows": b["rows"], "cols": b["cols"], "origin_world_mm": [*b["origin"], round(scene.plane_z, 4)],
            "angle_deg": b["angle"], "outer_corners_px": px(scene.camera.project(corners)),
            "grid_px": px(scene.camera.project(g))}


def rule(scene):
    r, c = scene.rule, scene.camera
    unit = reference.unit(r)
    step, numbered, _ = reference.GRADUATION[unit]
    t, p = reference.marks(r, scene.plane_z)
    rows = [{"mm": round(float(a), 4), "px": px(b)} for a, b in zip(t, c.project(p))]
    seen = [m for m in rows if 0 <= m["px"][0] <= c.width - 1 and 0 <= m["px"][1] <= c.height - 1]
    major = {round(v, 4) for v in t[::numbered].tolist()}
    return {"unit": unit, "length_mm": r["length"], "width_mm": reference.RULE_WIDTH[unit],
            "graduation_mm": round(step, 4), "graduated_edge": "toward piece", "upside_down": abs(r["angle"]) > 90,
            "first_visible": seen[0], "last_visible": seen[-1], "major_marks": [m for m in seen if m["mm"] in major]}


def caliper(scene):
    """A diameter known at the middle of an element."""
    e = scene.elements[scene.caliper["element"]]
    x = round((e["x0"] + e["x1"]) / 2, 4)
    d = 2 * turning.radii([e], np.array([x]))[0]
    return {"thickness_mm": 0, "element": e["index"], "station_mm": x, "diameter_mm": round(d, 2),
            "name": scene.caliper["name"], "station_px": px(scene.camera.project([[x, 0, 0]])[0])}


def references(scene):
    """Reference block; its kind is none where nothing lies beside the piece."""
    kind = next((k for k in ("boards", "rule", "caliper") if getattr(scene, k)), "none")
    out = {"kind": kind, "plane_offset_mm": round(-scene.plane_z, 4), "plane_world_z_mm": round(scene.plane_z, 4),
           "placement": scene.spec.get("placement", "table")}
    if scene.boards:
        out.update(thickness_mm=scene.card, square_mm=reference.SQUARE, margin_mm=reference.MARGIN,
                   boards=[board(scene, b) for b in scene.boards])
    if scene.rule:
        out.update(thickness_mm=reference.RULE_THICK, **rule(scene))
    if scene.caliper:
        out.update(caliper(scene))
    return out


def elements(scene):
    missing = [dict(e, status="missing") for e in scene.design[len(scene.elements):]]
    row = lambda e: {"index": e["index"], "kind": e["kind"], "x0": e["x0"], "x1": e["x1"], "d0": e["d0"],
                     "d1": e["d1"], "extra": turning.extra(e)}
    return [row(e) | ({"status": e["status"]} if "status" in e else {}) for e in scene.elements + missing]


def shape(scene):
    """What concerns the piece; empty where there is none."""
    if not scene.elements:
        return {"elements": []}
    profile, outline = turning.sampled(scene.elements, scene.spec.get("truth_step", 0.25), scene.yaw)
    _, grid, top, bottom, flat = envelope(scene.camera, scene.elements, scene.yaw)
    design = scene.design[-1]["x1"]
    far = px(scene.camera.project([[design, 0, 0]]))[0]
    a, b = px(scene.camera.project([[0.0, 0, 0], [scene.length, 0, 0]]))
    return {"axis_px": {"x0_end": a, "xL_end": far, "x_visible_end": b},
            "flip": {"x0_end": "left" if abs(b[0] - a[0]) > abs(b[1] - a[1]) else "top", "reversed": False},
            "overall_length_mm": scene.length, "design_length_mm": design,
            "max_half_extent_mm": max(r for _, r in outline), "square_yaw_deg": scene.yaw, "elements": elements(scene),
            "profile": profile, "outline_half_extent": outline, "damaged": scene.damaged,
            "hidden_by_perspective": hidden(grid, top, bottom, flat),
            "obscured": [{"x0": 0, "x1": 0.5, "side": "end", "kind": "string at end face"}] if hung(scene) else []}


def hung(scene):
    return "hang" in scene.spec


def truth(scene):
    s, p = scene.spec, scene.spec["photo"]
    return {"id": scene.name, "image": f"{scene.name}.jpg", "scene_class": s["class"], "design": s["design"],
            "wood": s.get("wood"), "background": s.get("background", s["ground"]),
            "support": "hang" if hung(scene) else "table", "seed": s["seed"],
            "pixel_convention": CONVENTION, "camera": camera(scene),
            "image_processing": {"psf_sigma_px": p["psf_sigma_px"], "psf_space": "linear light",
                                 **{k: p[k] for k in ("read_noise", "shot_noise", "noise_levels") if k in p},
                                 "encoding": "sRGB",
                                 "exif_orientation": p.get("orientation", 1)},
            "reference": references(scene), **shape(scene)}


def compact(value):
    """JSON with one line per row of numbers."""
    text = json.dumps(value, indent=1)
    return re.sub(r"\[[^\[\]{}\"]*\]", lambda m: re.sub(r"\s+", " ", m.group()).replace("[ ", "[").replace(" ]", "]"),
                  text) + "\n"
