"""A scene file, read."""
import json

from .camera import Camera
from .povscene import rest_height
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
        self.elements = complete(self.spec["elements"]) if self.spec.get("elements") else []
        self.boards = self.spec.get("boards", [])
        self.rule = self.spec.get("rule")
        self.table = rest_height(self.elements)
        raised = self.spec.get("placement") == "axis"
        thick = 1.0 if self.rule else 0.3
        self.plane_z = 0.0 if raised else -self.table + thick

    @property
    def length(self):
        return self.elements[-1]["x1"]
