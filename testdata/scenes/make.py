#!/usr/bin/python3
"""make.py SCENE.json OUT_FOLDER [--scratch DIR] [--scale 0.25] [--check] [--keep]: render a scene and its truth.

--scale renders a small draft (no truth); --check measures the finished picture; --keep reuses the rendering.
"""
import argparse
import csv
import pathlib
import tempfile

import numpy as np
from lathe import check, photo, povscene, truth
from lathe.scene import Scene
from lathe.silhouette import envelope, sound


def arguments():
    p = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    p.add_argument("scene", type=pathlib.Path)
    p.add_argument("out", type=pathlib.Path)
    p.add_argument("--scratch", type=pathlib.Path, default=pathlib.Path(tempfile.gettempdir()))
    p.add_argument("--scale", type=float, default=1.0)
    p.add_argument("--check", action="store_true")
    p.add_argument("--keep", action="store_true")
    return p.parse_args()


def rendered(scene, scratch, keep):
    """Linear picture of the scene at its own size."""
    cam = scene.camera
    path = scratch / f"{scene.name}.ppm"
    size = [v + 2 * cam.margin() for v in (cam.width, cam.height)]
    if not (keep and path.exists()):
        povscene.render(povscene.text(scene), path, *size, **scene.spec.get("antialias", {}))
    return photo.linear(povscene.read_ppm(path), cam)


def write_outline(scene, path):
    """Outline in pixels about every 2 px along the piece, without its damaged stretches."""
    frame, t, top, bottom, _ = envelope(scene.camera, scene.elements, scene.yaw)
    keep = sound(frame, t, scene.elements, scene.damaged)
    rows = np.hstack([frame.pixels(t, top), frame.pixels(t, bottom)])[keep][2::8]
    with open(path, "w", newline="") as f:
        w = csv.writer(f, lineterminator="\n")
        w.writerow(["u_top", "v_top", "u_bottom", "v_bottom"])
        w.writerows([["%.3f" % v for v in r] for r in rows])


def write_truth(scene, out):
    """Truth beside the picture, and its outline where the scene asks for one."""
    t = truth.truth(scene)
    if scene.spec.get("outline"):
        t["outline_csv"] = f"{scene.name}_outline.csv"
        write_outline(scene, out / t["outline_csv"])
    (out / f"{scene.name}.json").write_text(truth.compact(t))


def report(scene, out, scratch):
    if scene.boards:
        e = check.corners(scene, out / f"{scene.name}.jpg")
        print(check.line("corners u", e[:, 0]), check.line("corners v", e[:, 1]), sep="\n")
    if scene.elements and not scene.camera.margin() and scene.camera.width > scene.camera.height:
        above, below = check.outline(scene, scratch)
        print(check.line("edge above", above), check.line("edge below", below), sep="\n")


def main():
    a = arguments()
    scene = Scene(a.scene, a.scale)
    picture = rendered(scene, a.scratch, a.keep)
    spec = scene.spec["photo"]
    photo.save(photo.develop(picture, spec, scene.spec["seed"]), a.out / f"{scene.name}.jpg", spec, scene.cam_spec)
    if a.scale == 1.0 and scene.spec.get("truth", True):
        write_truth(scene, a.out)
    if a.check:
        report(scene, a.out, a.scratch)


if __name__ == "__main__":
    main()
