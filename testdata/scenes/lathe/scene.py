"""A scene file, read."""
import json
import math

from . import damage, reference
from .camera import Camera
from .turning import complete


class Scene:
    """Camera, turning and references of one scene file (README.md tells its fields)."""

    def __init__(self, path, scale=1.0):
        self.spec = json.loads(path.read_text())
        self.name = path.stem
        self.cam_spec = self.spec["camera"]
        for k in ("width", "height"):
            self.cam_spec[k] = round(self.cam_spec[k] * scale)
        self.camera = Camera(self.cam_spec)
        self.yaw = self.spec.get("square_yaw", 0)
        self.design = complete(self.spec["elements"]) if self.spec.get("elements") else []
        self.elements, self.splinters, lost = damage.snapped(self.spec.get("snap"), self.design)
        self.blobs, chips = damage.chipped(self.spec.get("chips", []), self.design)
        self.damaged = lost + chips
        self.boards = self.spec.get("boards", [])
        self.rule = self.spec.get("rule")
        self.caliper = self.spec.get("caliper")
        self.table = self.spec.get("hang", self.rest_height())
        raised = self.spec.get("placement") == "axis"
        self.card = self.spec.get("card", reference.CARD)
        thick = reference.RULE_THICK if self.rule else self.card
        self.plane_z = 0.0 if raised else -self.table + thick

    def rest_height(self):
        """Height of the axis over the table the piece lies on, mm."""
        turn = math.radians(self.yaw)
        square = (abs(math.cos(turn)) + abs(math.sin(turn))) / 2
        return max((e["side"] * square if "side" in e else max(e["d0"], e["d1"], e.get("mid", 0)) / 2
                    for e in self.design), default=0.0)

    @property
    def length(self):
        return self.elements[-1]["x1"]
