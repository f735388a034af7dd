"""From a linear rendering to a photograph: distortion, blur and noise in linear light, sRGB, JPEG, EXIF."""
import numpy as np
from PIL import Image
from scipy import ndimage


def linear(raw, cam):
    """Linear values 0..1 of a 16-bit rendering, seen through the camera's lens."""
    picture = np.asarray(raw, np.float32) / 65535
    return bend(picture, cam) if cam.margin() else picture


def bend(picture, cam):
    """The distorted picture: every pixel looks up its ideal place in the rendering (cubic)."""
    v, u = np.mgrid[0:cam.height, 0:cam.width].astype(float)
    p = cam.undistort(np.stack([u, v], -1)) + cam.margin()
    at = [p[..., 1], p[..., 0]]
    planes = [ndimage.map_coordinates(picture[..., c], at, order=3, mode="nearest") for c in range(3)]
    return np.clip(np.stack(planes, -1), 0, None)


def srgb(value):
    """sRGB encoding (IEC 61966-2-1) of linear values, clipped to 0..1."""
    v = np.clip(value, 0, 1)
    return np.where(v <= 0.0031308, 12.92 * v, 1.055 * v ** (1 / 2.4) - 0.055)


def develop(picture, spec, seed):
    """8-bit sRGB picture after blur, shot and read noise; noise_levels is noise of the encoded values."""
    light = ndimage.gaussian_filter(picture, (spec["psf_sigma_px"], spec["psf_sigma_px"], 0))
    rng = np.random.default_rng(seed)
    noise = lambda: rng.standard_normal(light.shape, np.float32)
    light += np.sqrt(spec["read_noise"] ** 2 + spec["shot_noise"] * np.maximum(light, 0)).astype(np.float32) * noise()
    levels = srgb(light) * 255
    if "noise_levels" in spec:
        levels += spec["noise_levels"] * noise()
    return np.clip(np.round(levels), 0, 255).astype(np.uint8)


def save(pixels, path, spec, cam_spec):
    """Write the JPEG with its EXIF; orientation 6 stores the upright picture turned to the left."""
    turn = spec.get("orientation", 1)
    stored = {1: pixels, 6: np.rot90(pixels, 1)}[turn]
    exif = Image.Exif()
    exif[271], exif[272], exif[274] = cam_spec["make"], cam_spec["model"], turn
    exif[0x8769] = {0xA405: int(round(cam_spec["f35"]))}
    Image.fromarray(np.ascontiguousarray(stored)).save(path, quality=spec["quality"], subsampling="4:2:0",
                                                       optimize=True, exif=exif)
