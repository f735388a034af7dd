"""What lies in the reference plane: checker boards and a rule. Local frames: x right, y up, mm."""
import math

import numpy as np

SQUARE, MARGIN, CARD = 10.0, 12.0, 0.3
RULE_LEAD, RULE_THICK = 7.0, 1.0
RULE_WIDTH = {"mm": 27.0, "inch": 25.4}
# Graduation in mm, graduations from one numeral to the next, and how far into the rule every n-th graduation reaches.
GRADUATION = {"mm": (1.0, 10, ((10, 8.0), (5, 6.2), (1, 4.2))),
              "inch": (25.4 / 16, 16, ((16, 8.6), (8, 6.9), (4, 5.6), (2, 4.4), (1, 3.3)))}
INK, PAPER, STEEL = (0.022, 0.022, 0.023), (0.80, 0.795, 0.775), (0.50, 0.51, 0.50)


def frame(origin, degrees, z):
    """Function from local (u right, v up) in the plane to world points."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return lambda u, v: np.stack(np.broadcast_arrays(origin[0] + c * u - s * v, origin[1] + s * u + c * v, z), -1)


def grid(board, z):
    """World points of all (rows + 1) x (cols + 1) corners; the origin is the top-left one."""
    to_world = frame(board["origin"], board["angle"], z)
    u = np.arange(board["cols"] + 1) * SQUARE
    v = -np.arange(board["rows"] + 1) * SQUARE
    return to_world(u[None, :], v[:, None])


def unit(rule):
    return rule.get("unit", "mm")


def marks(rule, z):
    """Graduations (mm, world point at the graduated edge) of the rule; the origin is its zero."""
    to_world = frame(rule["origin"], rule["angle"], z)
    step = GRADUATION[unit(rule)][0]
    t = np.arange(round(rule["length"] / step) + 1) * step
    return t, to_world(t, np.zeros(len(t)))


def placed(body, item, z):
    """A POV object drawn in the local frame, set in the plane."""
    c, s = math.cos(math.radians(item["angle"])), math.sin(math.radians(item["angle"]))
    x, y = item["origin"]
    return f"object {{ {body} matrix <{c:.9f},{s:.9f},0, {-s:.9f},{c:.9f},0, 0,0,1, {x},{y},{z}> }}\n"


def box(lo, hi, texture=""):
    return "box { <%.5f,%.5f,%.5f>, <%.5f,%.5f,%.5f> %s }" % (*lo, *hi, texture)


def board(item, height, plain, card=CARD):
    """A printed card (thickness mm) on packing that reaches down `height` mm to the table (none when it lies there)."""
    w, h = item["cols"] * SQUARE, item["rows"] * SQUARE
    ink = (f"texture {{ checker {plain(INK)}, {plain(PAPER)} scale {SQUARE} translate <0,{-SQUARE},-1> }}")
    parts = [box((0, -h, 0), (w, 0, 0.002), ink),
             box((-MARGIN, -h - MARGIN, -card), (w + MARGIN, MARGIN, 0), plain(PAPER))]
    if height > card:
        inset = 2.5
        parts.append(box((-MARGIN + inset, -h - MARGIN + inset, -height), (w + MARGIN - inset, MARGIN - inset, -card),
                         plain((0.42, 0.34, 0.23))))
    return "union { " + " ".join(parts) + " }"


def rule(item, height, plain):
    """A steel rule graduated along v = 0, its body on the side given by `side` (+1 up, -1 down)."""
    side, length, width = item["side"], item["length"], RULE_WIDTH[unit(item)]
    step, numbered, reaches = GRADUATION[unit(item)]
    ink = plain((0.015, 0.015, 0.016))
    span = sorted((0, side * width))
    parts = [box((-RULE_LEAD, span[0], -RULE_THICK), (length + RULE_LEAD, span[1], 0), plain(STEEL, 0.25))]
    for i in range(round(length / step) + 1):
        t, reach = i * step, next(r for n, r in reaches if i % n == 0)
        v = sorted((side * 0.05, side * reach))
        parts.append(box((t - 0.11, v[0], 0), (t + 0.11, v[1], 0.002), ink))
    for i in range(numbered, round(length / step), numbered):
        text = str(i if unit(item) == "mm" else i // numbered)
        size = 3.6
        shift = f"{i * step - 0.31 * size * len(text) + 0.3},{side * 11.5 - size * 0.36},0.002"
        parts.append(f'text {{ internal 1 "{text}" 0.002, 0 scale <{size},{size},1> translate <{shift}> {ink} }}')
    if height > RULE_THICK:
        packing = sorted((side * 2, side * (width - 2)))
        parts.append(box((-RULE_LEAD + 3, packing[0], -height), (length + RULE_LEAD - 3, packing[1], -RULE_THICK),
                         plain((0.42, 0.34, 0.23))))
    return "union { " + " ".join(parts) + " }"
