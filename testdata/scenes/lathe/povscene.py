"""The POV-Ray text of a scene, and running POV-Ray on it."""
import math
import subprocess

import numpy as np

from . import reference, woods
from .damage import shortened
from .turning import meridian

HEAD = """#version 3.7;
global_settings { assumed_gamma 1.0 max_trace_level 3 ambient_light rgb 0.75 }
background { rgb 0 }
"""


def vector(v):
    return "<%.10g, %.10g, %.10g>" % tuple(v)


def camera(cam, margin):
    """POV camera with the exact picture axes; `margin` more pixels on every side."""
    w, h = cam.width + 2 * margin, cam.height + 2 * margin
    return (f"camera {{ perspective location {vector(cam.centre)} direction {vector(cam.R[2])}\n"
            f"  right {vector(cam.R[0] * w / cam.f)} up {vector(-cam.R[1] * h / cam.f)} }}\n")


def piece(scene, texture):
    """The turning, element by element, squares and shoulders cut by their square."""
    parts = [chipped(snapped(e, scene), e, scene.blobs) for e in scene.elements]
    return f"union {{ {' '.join(parts)} {texture} }}\n"


def chipped(body, e, blobs):
    """The element without the blobs that reach it."""
    near = [b for b in blobs if b[0][0] + b[1][0] > e["x0"] and b[0][0] - b[1][0] < e["x1"]]
    gone = " ".join(blob(*b) for b in near)
    return f"difference {{ {body} {gone} }}" if near else body


def blob(at, half, angle):
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    outward = f"matrix <1,0,0, 0,{s:.9f},{c:.9f}, 0,{c:.9f},{-s:.9f}, 0,0,0>"
    return f"sphere {{ 0, 1 scale {vector(half)} translate {vector(at)} {outward} }}"


def snapped(e, scene):
    """The element; where the piece is snapped, whole up to the break and splinters beyond it."""
    if not scene.splinters or e["x1"] <= scene.spec["snap"]["at"]:
        return part(e, scene.yaw)
    sound = shortened([e], scene.spec["snap"]["at"])[0]
    rough = dict(e, x0=sound["x1"], d0=sound["d1"])
    cones = " ".join(f"cone {{ {vector(foot)}, {r:.4f}, {vector(tip)}, 0.02 }}" for foot, r, tip in scene.splinters)
    return (f"union {{ {part(sound, scene.yaw)}"
            f" intersection {{ {part(rough, scene.yaw)} union {{ {cones} }} }} }}")


def part(e, yaw):
    """The element as cones along its meridian: POV-Ray's lathe object shows a false ring where rays meet the axis at
    right angles."""
    pts = meridian([e])[1:-1]
    steps = [(x0, r0, x1, r1) for (x0, r0), (x1, r1) in zip(pts, pts[1:]) if x1 - x0 > 1e-6]
    body = " ".join("cone { <%.6f,0,0>, %.6f, <%.6f,0,0>, %.6f }" % s for s in steps)
    turned = f"union {{ {body} }}" if len(steps) > 1 else body
    if "side" not in e:
        return turned
    s = e["side"] / 2
    c, n = math.cos(math.radians(yaw)), math.sin(math.radians(yaw))
    about = f"matrix <1,0,0, 0,{c:.12f},{n:.12f}, 0,{-n:.12f},{c:.12f}, 0,0,0>"
    return f"intersection {{ {turned} {reference.box((e['x0'] - 1, -s, -s), (e['x1'] + 1, s, s), about)} }}"


def lights(spec, middle):
    """A window-like area light, and a weak fill that casts no shadow."""
    at = np.array(spec["from"], float) + (middle, 0, 0)
    away = at - (middle, 0, 0)
    across = np.cross(away, (0, 0, 1.0))
    across *= spec["size"] / np.linalg.norm(across)
    up = np.cross(across, away)
    up *= spec["size"] / np.linalg.norm(up)
    key, fill = spec.get("key", 1.0), spec.get("fill", 0.2)
    return (f"light_source {{ {vector(at)} rgb <{key}, {key * 0.975:.4f}, {key * 0.935:.4f}>\n"
            f"  area_light {vector(across)}, {vector(up)}, 9, 9 adaptive {spec.get('adaptive', 0)}\n"
            f"  fade_distance {np.linalg.norm(away):.1f} fade_power 1.2 }}\n"
            f"light_source {{ {vector((middle - at[0] + middle, -at[1], at[2]))}"
            f" rgb <{fill * 0.9:.4f}, {fill * 0.96:.4f}, {fill}> shadowless }}\n")


def text(scene):
    """The whole scene."""
    middle = scene.cam_spec["target"][0]
    out = [HEAD, camera(scene.camera, scene.camera.margin()), lights(scene.spec["light"], middle)]
    out.append(f"plane {{ <0,0,1>, {-scene.table} {woods.ground(scene.spec['ground'])} }}\n")
    if scene.elements:
        out.append(piece(scene, woods.wood(scene.spec["wood"], scene.spec["pith"])))
    if "hang" in scene.spec:
        out.append(f"cylinder {{ <-400,0,0>, <0,0,0>, 0.6 {woods.plain((0.5, 0.48, 0.42))} }}\n")
    height = 0 if "hang" in scene.spec else scene.table + scene.plane_z
    for b in scene.boards:
        out.append(reference.placed(reference.board(b, height, woods.plain, scene.card), b, scene.plane_z))
    if scene.rule:
        out.append(reference.placed(reference.rule(scene.rule, height, woods.plain), scene.rule, scene.plane_z))
    return "".join(out)


def mask(scene):
    """The piece alone, white on black, to check the outline."""
    glow = "texture { pigment { rgb 1 } finish { emission 1 ambient 0 diffuse 0 } }"
    return HEAD + camera(scene.camera, 0) + piece(scene, glow)


def render(source, path, width, height, threshold=0.05, side=9):
    """Run POV-Ray on one thread; writes a 16-bit linear PPM.

    Pixels that differ from a neighbour by more than the threshold get side x side jittered rays: their mean, in linear
    light, is the covered share of the pixel. Values over 1 are cut off, so scenes are lit to stay under it.
    """
    pov = path.with_suffix(".pov")
    pov.write_text(source)
    subprocess.run(["nice", "-n", "10", "povray", f"+I{pov}", f"+O{path}", f"+W{width}", f"+H{height}", "+FP16",
                    "File_Gamma=1.0", "Antialias_Gamma=1.0", "+AM1", f"+A{threshold}", f"+R{side}", "+J", "+WT1", "-D",
                    "-GA", "+Q9"], check=True, capture_output=True)


def read_ppm(path):
    """Linear values 0..1 of a 16-bit PPM, as a lazily read (h, w, 3) array of big-endian words."""
    with open(path, "rb") as f:
        fields = []
        while len(fields) < 4:
            line = f.readline()
            fields += line.split(b"#")[0].split()
        offset = f.tell()
    w, h, top = (int(v) for v in fields[1:])
    if top != 65535:
        raise ValueError(f"{path}: not a 16-bit picture")
    return np.memmap(path, ">u2", "r", offset, (h, w, 3))
