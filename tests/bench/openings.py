"""An opening of a lens in a picture of twelve megapixels in NumPy and SciPy: the same algorithm as `crates/imaging/src/blades`.

Takes over: light averaged down by areas strip by strip; field, dark and the pixel to begin from; the connected region without holes;
every pixel's depth; a quadratic field and a plane of dark with outliers left out; clipping and reflections; coverage over the window,
area, middle and edge; the outline along 360 rays; perimeter and doubts; roundness; the vote for the number of blades; each blade's
flat about the best centre, for three photos as the native run judges them.
Differs: depth is Euclid's (SciPy has no weighted chamfer), which moves the area by less than the tolerance.
Leaves out: what the inspection says of it, words of notices.

Argument: the folder with `pictures.json`. Prints `name milliseconds` and `agree-name n of m`.
"""

import numpy as np
from common import least_ms
from pictures import LIGHT, averaged, held_against, opening_picture, ours
from scipy import ndimage

RAYS, SECTOR, STEP = 360, 0.56, 0.25


def ranked(values, share):
    at = int((len(values) - 1) * share + 0.5)
    return float(np.partition(values, at)[at])


def find(light, tap):
    """A pixel within the opening, the light of the field, and that of the dark."""
    x, y = (int(at) for at in tap)
    field = ranked(light[max(y - 8, 0) : y + 9, max(x - 8, 0) : x + 9].ravel(), 0.75)
    dark = ranked(light.ravel()[:: max(light.size // 40_000, 1)], 0.10)
    if field < 4 * dark or field <= 0:
        raise ValueError("no opening at the tap")
    top, left = max(y - 24, 0), max(x - 24, 0)
    rows, columns = np.nonzero(light[top : y + 25, left : x + 25] > dark + (field - dark) / 2)
    nearest = np.argmin((rows + top - y) ** 2 + (columns + left - x) ** 2)
    return (rows[nearest] + top, columns[nearest] + left), field, dark


def window_about(light, seed, threshold):
    """The connected region without its holes, in a window with room for the edge; window, radius and half the edge's width."""
    labels, _ = ndimage.label(light > threshold)
    own = labels[seed]
    rows, columns = ndimage.find_objects(labels, max_label=own)[own - 1]
    filled = ndimage.binary_fill_holes(labels[rows, columns] == own)
    radius = np.sqrt(np.count_nonzero(filled) / np.pi)
    if radius < 12:
        raise ValueError("the opening is too small")
    half_width = min(max(0.30 * radius, 6.0), 14.0)
    margin = int(np.ceil(2 * half_width)) + 2
    touches = rows.start == 0 or columns.start == 0 or rows.stop == light.shape[0] or columns.stop == light.shape[1]
    top, left = max(rows.start - margin, 0), max(columns.start - margin, 0)
    part = light[top : rows.stop + margin, left : columns.stop + margin]
    inside = np.zeros(part.shape, bool)
    inside[rows.start - top : rows.stop - top, columns.start - left : columns.stop - left] = filled
    return part, inside, (left, top), half_width, touches


class Surface:
    """A plane (3 terms) or quadratic (6) through pixels, fitted four times with what lies three deviations off left out."""

    def __init__(self, x, y, light, terms):
        self.middle, self.terms = (x.mean(), y.mean()), terms
        self.scale = max(np.abs(x - self.middle[0]).max(), np.abs(y - self.middle[1]).max(), 1.0)
        basis = self.basis(x, y)
        kept = slice(None)
        for _ in range(4):
            own = basis[:, kept]
            self.coefficients = np.linalg.solve(own @ own.T, own @ light[kept])
            off = light - self.coefficients @ basis
            within = off[kept]
            self.scatter = max(np.sqrt((within @ within) / max(len(within) - terms, 1)), 1e-6)
            kept = np.abs(off) <= 3 * self.scatter

    def basis(self, x, y):
        x, y = (x - self.middle[0]) / self.scale, (y - self.middle[1]) / self.scale
        return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y][: self.terms])

    def at(self, x, y):
        return self.coefficients @ self.basis(x, y)


def outline(alpha, centre, farthest):
    """Along each ray, where the coverage first falls below a half."""
    angle = np.arange(RAYS) * 2 * np.pi / RAYS
    r = np.arange(0, farthest, STEP)
    places = [centre[1] + np.sin(angle)[:, None] * r, centre[0] + np.cos(angle)[:, None] * r]
    cover = ndimage.map_coordinates(alpha, places, order=1, mode="constant", prefilter=False)
    first = np.argmax(cover < 0.5, axis=1)
    rows = np.arange(RAYS)
    here, before = cover[rows, first], np.where(first > 0, cover[rows, np.maximum(first - 1, 0)], 1.0)
    return np.maximum((first - 1) * STEP + STEP * (before - 0.5) / np.maximum(before - here, 1e-9), 0)


def measure(light, tap):
    seed, field, dark = find(light, tap)
    part, inside, (left, top), half_width, touches = window_about(light, seed, np.float32(dark + (field - dark) / 2))
    depth = ndimage.distance_transform_edt(inside) - ndimage.distance_transform_edt(~inside)
    core_depth = min(half_width, 0.45 * depth.max())
    core, ring = depth > core_depth, (depth < -half_width) & (depth > -2 * half_width)
    rows, columns = np.nonzero(core)
    lit_light = part[core].astype(np.float64)
    clipped = np.count_nonzero(lit_light >= LIGHT[250]) > 0.005 * len(rows)
    lit = Surface(columns.astype(float), rows.astype(float), lit_light, 6)
    rows, columns = np.nonzero(ring)
    ring_light = part[ring].astype(np.float64)
    shade = Surface(columns.astype(float), rows.astype(float), ring_light, 3)
    off = ring_light - shade.at(columns.astype(float), rows.astype(float))
    reflected = np.count_nonzero(off > 0.1 * (field - dark)) > 0.02 * len(rows)
    alpha = core.astype(np.float32)
    edge = ~core & (depth >= -half_width)
    rows, columns = np.nonzero(edge)
    full, none = lit.at(columns.astype(float), rows.astype(float)), shade.at(columns.astype(float), rows.astype(float))
    alpha[edge] = np.clip((part[edge] - none) / np.maximum(full - none, 1e-6), -1, 2)
    across, down = alpha.sum(axis=0, dtype=np.float64), alpha.sum(axis=1, dtype=np.float64)
    area = across.sum()
    centre = (across @ np.arange(len(across))) / area, (down @ np.arange(len(down))) / area
    rim = np.hypot(columns - centre[0], rows - centre[1]).max() + 2
    rays = outline(alpha, centre, rim)
    following, turn = np.roll(rays, -1), 2 * np.pi / RAYS
    perimeter = np.sqrt((following - rays) ** 2 + rays * following * turn * turn).sum()
    partial = np.count_nonzero((alpha > 0.1) & (alpha < 0.9))
    noise = lit.scatter / (field - dark) * np.sqrt(2 * max(partial, 1)) / area
    return {
        "area_px": area,
        "perimeter_px": perimeter,
        "edge_doubt_px": 0.08 + 0.06 * partial / max(perimeter, 1),
        "noise": np.hypot(noise, 0.002),
        "centre_px": (centre[0] + left, centre[1] + top),
        "outline": rays,
        "notices": (field < 6 * dark, touches, clipped, reflected),
    }


def flats(rays, harmonics, count):
    """How far each blade lies off: its angle, and its distance about the centre that leaves the least deviations."""
    # exp(−inφ) sums to cosine less i times sine.
    first = (np.arctan2(-harmonics[count].imag, harmonics[count].real) + np.pi) / count
    turn, reach = 2 * np.pi / RAYS, SECTOR * np.pi / count
    angle = first + np.arange(count) * 2 * np.pi / count
    distances = []
    for middle in angle:
        ray = np.arange(int(np.ceil((middle - reach) / turn)), int(np.floor((middle + reach) / turn)) + 1)
        distances.append(np.median(rays[ray % RAYS] * np.cos(ray * turn - middle)))
    distances = np.array(distances)
    basis = np.stack([np.cos(angle), np.sin(angle), np.ones(count)])
    fitted = np.array([0, 0, distances.mean()])
    for _ in range(40):
        weight = 1 / np.maximum(np.abs(distances - fitted @ basis), 1e-4)
        fitted = np.linalg.solve((weight * basis) @ basis.T, (weight * basis) @ distances)
    own = distances - fitted[:2] @ basis[:2]
    return angle, own / np.median(own) - 1


def shape(outlines):
    """Roundness of each, the number of blades they vote for, and the blades that sit off at all but the widest."""
    spectra = [np.fft.rfft(rays)[:33] * 2 / RAYS / rays.mean() for rays in outlines]
    roundness = [np.sqrt((np.abs(own[2:5]) ** 2).sum() / 2) for own in spectra]
    votes = np.zeros(17)
    counts = np.arange(5, 17)
    for own in spectra[1:]:
        scores = np.abs(own[counts]) + 0.7 * np.abs(own[2 * counts])
        best = int(np.argmax(scores))
        lead = scores[best] / max(np.delete(scores, best).max(), 1e-9)
        if lead > 1.35:
            votes[counts[best]] += np.log(lead)
    count = int(np.argmax(votes))
    if votes[count] <= 0 or votes[count] <= 1.5 * np.delete(votes, count).max():
        return roundness, None, []
    odd = []
    for rays, own in zip(outlines[1:], spectra[1:]):
        angle, off = flats(rays, own, count)
        odd.append((angle[np.abs(off) > 0.04], off[np.abs(off) > 0.04]))
    return roundness, count, odd


def opening(picture):
    factor = -(-max(picture.shape[:2]) // 1600)
    light = averaged(picture, factor)
    if not np.isfinite(light).all():
        raise ValueError("the picture must have finite values")
    found = measure(light, (light.shape[1] / 2, light.shape[0] / 2))
    roundness, blades, _ = shape([found["outline"]] * 3)
    return {**found, "roundness": roundness[0], "blades": blades}


if __name__ == "__main__":
    picture = opening_picture()
    own = ours("pictures.json")
    tolerances = {"area_px": 5e-4 * own["area_px"], "perimeter_px": 1e-3 * own["perimeter_px"], "roundness": 2e-4, "blades": None}
    held_against("openings", own, opening(picture), tolerances)
    print(f"openings {least_ms(lambda: opening(picture))}")
