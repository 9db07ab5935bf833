"""Pictures for the benchmark as the native run makes them, and light averaged down from them strip by strip, as the page hands them over.

Not here: what is measured in them (`patch.py`, `openings.py`, `fog.py`).
"""

import json
import sys

import numpy as np
from common import folder

WIDTH, HEIGHT, ROWS = 4000, 3000, 600
BLADES, APOTHEM = 7, 650.0
SCALE, LEFT, TOP = 80.0, 560.0, 100.0

codes = np.arange(256) / 255.0
LIGHT = np.where(codes <= 0.04045, codes / 12.92, ((codes + 0.055) / 1.055) ** 2.4)
RED, GREEN, BLUE = (weight * LIGHT for weight in (0.2126, 0.7152, 0.0722))


def opaque(code):
    code = code.astype(np.uint8)
    return np.stack([code, code, code, np.full_like(code, 255)], axis=-1)


def opening_picture():
    """A bright opening with seven straight blades on a dark field."""
    x, y = np.arange(WIDTH) - WIDTH / 2, np.arange(HEIGHT)[:, None] - HEIGHT / 2
    off = np.full((HEIGHT, WIDTH), -np.inf)
    for angle in np.arange(BLADES) * 2 * np.pi / BLADES:
        np.maximum(off, np.cos(angle) * x + np.sin(angle) * y, out=off)
    return opaque(12 + 138 * np.clip(APOTHEM - off + 0.5, 0, 1))


def strip_picture():
    """A strip of film with light past its left side."""
    rows, columns = (np.arange(HEIGHT)[:, None] - TOP) / SCALE, (np.arange(WIDTH)[None, :] - LEFT) / SCALE
    edge = np.minimum(rows, 35.0 - rows)
    hole = ((columns + 475.0) % 4.75 < 1.98) & (edge >= 2.01) & (edge < 4.80)
    bare = hole | (rows < 0) | (rows > 35)
    density = 0.28 + 0.7 * np.exp(-np.maximum(columns + 2.0, 0) / 6.0)
    light = np.maximum(0.6 * 10 ** np.where(bare, 0.0, -density), 0.0032)
    return opaque(255 * (1.055 * light ** (1 / 2.4) - 0.055))


def luminance(pixels):
    """Light of each pixel, by tables."""
    light = RED.take(pixels[..., 0])
    light += GREEN.take(pixels[..., 1])
    light += BLUE.take(pixels[..., 2])
    return light


def averaged(picture, factor):
    """Light averaged over squares of `factor × factor` pixels, in single precision; what is left over is passed over."""
    columns, parts = picture.shape[1] // factor, []
    high = ROWS // factor * factor
    for top in range(0, picture.shape[0], high):
        strip = picture[top : top + high]
        rows = len(strip) // factor
        light = luminance(strip[: rows * factor, : columns * factor])
        light = sum(light[k::factor] for k in range(factor))
        light = sum(light[:, k::factor] for k in range(factor))
        light /= factor * factor
        parts.append(light.astype(np.float32))
    return np.concatenate(parts)


def held_against(name, ours, found, tolerances):
    """Says how many of our numbers the script has too, each within its tolerance; ends the program where one is missing."""
    same = [key for key, tolerance in tolerances.items() if is_same(ours[key], found[key], tolerance)]
    print(f"agree-{name} {len(same)} of {len(tolerances)}")
    for key in tolerances.keys() - set(same):
        sys.exit(f"{name}: {key} is {found[key]} here and {ours[key]} natively: no comparison")


def is_same(own, other, tolerance):
    return own == other if tolerance is None else abs(own - other) <= tolerance


def ours(file):
    return json.loads((folder() / file).read_text(encoding="utf-8"))
