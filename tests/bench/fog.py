"""Fog on a strip of film in a picture of twelve megapixels in NumPy and SciPy: the algorithm of `crates/imaging/src/{film_strip,fog}`.

Takes over: light averaged down by areas strip by strip; the gate's homography; the film laid out twice, by the corners and by its own
edges; the rows of holes folded at their pitch; holes window by window, their rims and the bare table; the table's quadratic surface with
outliers left out; density in cells of half a millimetre; noise, base and peak of the smoothed cells; the rims inside and outside each
side of the gate; spots against the ring about them; the group, side and part of the answer with its confidence.
Leaves out: roll film, other ways the strip may lie, the letters of the drawn map, words of notices, and the branches of an answer
that this picture does not come to (front, pinhole, window).

Argument: the folder with `film.json`. Prints `name milliseconds` and `agree-name n of m`.
"""

import numpy as np
from common import least_ms
from pictures import LEFT, SCALE, TOP, averaged, held_against, ours, strip_picture
from scipy.signal import oaconvolve

PX, LEFT_MM, TOP_MM, ACROSS, DOWN = 16.0, -3.0, -1.5, 672, 608
CELLS, CELL_MM = (76, 84), 0.5
GATE, FILM_MM, PITCH_MM = (0.0, 5.5, 36.0, 29.5), 35.0, 4.75
X = LEFT_MM + (np.arange(ACROSS) + 0.5) / PX
Y = TOP_MM + (np.arange(DOWN) + 0.5) / PX
CELL_X = LEFT_MM + (np.arange(CELLS[1]) + 0.5) * CELL_MM
CELL_Y = TOP_MM + (np.arange(CELLS[0]) + 0.5) * CELL_MM
CORNERS = [(LEFT + x * SCALE, TOP + y * SCALE) for x, y in ((0, 5.5), (36, 5.5), (36, 29.5), (0, 29.5))]


def homography(to):
    rows, right = [], []
    for (x, y), (u, v) in zip(((GATE[0], GATE[1]), (GATE[2], GATE[1]), (GATE[2], GATE[3]), (GATE[0], GATE[3])), to):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return np.append(np.linalg.solve(rows, right), 1).reshape(3, 3)


def sampled(light, h, y):
    """log10 of the light at every canvas pixel, read between the pixels of the photo. `y` is across the film [mm], by place."""
    scale = h[2, 0] * X + h[2, 1] * y + 1
    height, width = light.shape
    px = np.clip((h[0, 0] * X + h[0, 1] * y + h[0, 2]) / scale - 0.5, 0, width - 1)
    py = np.clip((h[1, 0] * X + h[1, 1] * y + h[1, 2]) / scale - 0.5, 0, height - 1)
    i, j = px.astype(np.int32), py.astype(np.int32)
    fx, fy = (px - i).astype(np.float32), (py - j).astype(np.float32)
    right, below = np.minimum(i + 1, width - 1), np.minimum(j + 1, height - 1)
    upper_row, lower_row, flat = j * width, below * width, light.ravel()
    upper, lower = flat.take(upper_row + i), flat.take(lower_row + i)
    upper += (flat.take(upper_row + right) - upper) * fx
    lower += (flat.take(lower_row + right) - lower) * fx
    upper += (lower - upper) * fy
    return np.log10(np.maximum(upper, np.float32(1e-5), out=upper), out=upper)


def film_edge(log, height_mm):
    """Offset and slope of the film's edge against where it should be [mm], or nothing."""
    outward = 1.0 if height_mm > FILM_MM / 2 else -1.0
    first = int(max(np.rint((height_mm - 1.1 - TOP_MM) * PX), 3))
    last = min(int(np.rint((height_mm + 1.1 - TOP_MM) * PX)), DOWN - 4)
    part = log[first - 3 : last + 3, 48:624]
    mean = part.reshape(len(part), 12, 48).mean(axis=2, dtype=np.float64)
    step = outward * (mean[5:] - mean[:-5])
    step = step[: last - first + 1]
    best = len(step) - 1 - np.argmax(step[::-1], axis=0)
    seen = step[best, np.arange(12)] > 0.08
    if seen.sum() < 6:
        return None
    x = (np.arange(12)[seen] + 0.5) * 3
    off = TOP_MM + (first + best[seen]) / PX - height_mm
    near = np.abs(off - np.sort(off)[len(off) // 2]) < 0.4
    x, off = x[near], off[near]
    below = np.sum((x - x.mean()) ** 2)
    slope = np.sum((x - x.mean()) * (off - off.mean())) / below if below > 1 else 0.0
    return off.mean() - slope * x.mean(), slope


def lay_out(light, corners):
    h = homography(corners)
    y = np.broadcast_to(Y[:, None], (DOWN, ACROSS))
    plain = sampled(light, h, y)
    top, bottom = film_edge(plain, 0.0), film_edge(plain, FILM_MM)
    if top is None or bottom is None:
        return plain, False
    upper, lower = top[0] + top[1] * X, bottom[0] + bottom[1] * X
    return sampled(light, h, y + upper + (lower - upper) * y / FILM_MM), True


def holes(log):
    """+1 where both margins have bright holes at the pitch of a film, −1 for dark ones, 0 for none."""
    half, kinds = int(PITCH_MM * PX), []
    phase = np.arange(ACROSS) / (PITCH_MM * PX)
    step = np.minimum(((phase - np.floor(phase)) * 38).astype(int), 37)
    for lower in (False, True):
        a, b = sorted(int(((FILM_MM - mm if lower else mm) - TOP_MM) * PX) for mm in (2.6, 4.2))
        line = log[a:b].mean(axis=0, dtype=np.float64)
        sums, at = np.concatenate([[0.0], np.cumsum(line)]), np.arange(ACROSS)
        begin, end = np.maximum(at - half, 0), np.minimum(at + half, ACROSS)
        flat = line - (sums[end] - sums[begin]) / (end - begin)
        fold = np.bincount(step, flat, 38) / np.maximum(np.bincount(step, minlength=38), 1)
        whole, explained = flat @ flat, np.sum(fold[step] ** 2)
        if whole <= 0 or explained < 0.5 * whole or np.ptp(fold) < 0.06:
            kinds.append(0)
        else:
            kinds.append(1 if 2 * np.count_nonzero(fold > (fold.min() + fold.max()) / 2) < 38 else -1)
    return kinds[0] if kinds[0] == kinds[1] else 0


def table(log):
    """Pixels of the bare table without rims, pixels of holes, and the holes' contrast in the weaker margin."""
    hole, weakest = np.zeros(log.shape, bool), np.inf
    half, step = 56, 28
    for lower in (False, True):
        a, b = sorted(FILM_MM - mm if lower else mm for mm in (2.01 - 0.45, 4.80 + 0.45))
        rows = slice(int((a - TOP_MM) * PX), int((b - TOP_MM) * PX))
        contrasts = []
        for middle in range(0, ACROSS, step):
            values = np.sort(log[rows.start : rows.stop : 3, max(middle - half, 0) : middle + half : 3], axis=None)
            film, bare = values[int(len(values) * 0.2)], values[int(len(values) * 0.8)]
            contrasts.append(bare - film)
            if bare - film >= 0.06:
                part = (rows, slice(max(middle - step // 2, 0), middle + step // 2))
                hole[part] = log[part] > (film + bare) / 2
        weakest = min(weakest, np.sort(contrasts)[len(contrasts) // 2])
    bare = np.zeros(log.shape, bool)
    inner = slice(2, -2)
    bare[inner, inner] = hole[inner, inner] & hole[:-4, inner] & hole[4:, inner] & hole[inner, :-4] & hole[inner, 4:]
    outside = (Y < -0.4) | (Y > FILM_MM + 0.4)
    bare[2:-2][outside[2:-2]] = True
    return bare, hole, weakest


def terms(x, y):
    x, y = (x - 18) / 20, (y - 17.5) / 20
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y])


def surface(x, y, values):
    """A quadratic by least squares, four times, with what lies three deviations off left out; its coefficients and deviation."""
    basis, kept = terms(x, y), slice(None)
    for _ in range(4):
        own = basis[:, kept]
        fitted = np.linalg.solve(own @ own.T, own @ values[kept])
        off = values - fitted @ basis
        spread = max(np.sqrt(np.mean(off[kept] ** 2)), 1e-4)
        kept = np.abs(off) <= 3 * spread
    return fitted, spread


def density(log):
    """Density in cells, what the reference scatters, the share of it that is burnt out, whether there is one."""
    bare, hole, contrast = table(log)
    near = np.zeros(log.shape, bool)
    padded = np.pad(hole, 4, mode="edge")
    for row in (0, 4, 8):
        for column in (0, 4, 8):
            near |= padded[row : row + DOWN, column : column + ACROSS]
    rows, columns = np.nonzero(bare[::2, ::2])
    values = log[::2, ::2][rows, columns].astype(np.float64)
    burnt = np.count_nonzero(values > -0.02) / max(np.count_nonzero(bare) / 4, 1)
    if len(values) < 60:
        return None, 1.0, burnt, False
    fitted, residual = surface(X[2 * columns], Y[2 * rows], values)
    # A quadratic is the sum of what it has along, across and in both.
    x, y = (X - 18) / 20, ((Y - 17.5) / 20)[:, None]
    c = fitted
    level = (c[0] + c[1] * x + c[3] * x * x) + (c[2] * y + c[5] * y * y) + (c[4] * y) * x
    counts = ~near & ((Y >= 0.15) & (Y <= FILM_MM - 0.15))[:, None]
    own = np.where(counts, level - log, 0).reshape(CELLS[0], 8, CELLS[1], 8).sum(axis=(1, 3))
    count = np.count_nonzero(counts.reshape(CELLS[0], 8, CELLS[1], 8), axis=(1, 3))
    cells = np.where(count >= 16, own / np.maximum(count, 1), np.nan)
    return cells, residual, burnt, contrast >= 0.06


def around(cells):
    padded = np.pad(cells, 1, constant_values=np.nan)
    return np.stack([padded[r : r + CELLS[0], c : c + CELLS[1]] for r in range(3) for c in range(3)])


def smoothed(cells):
    """The median of each cell and its neighbours, on the film."""
    near = np.sort(around(cells), axis=0)
    count = np.count_nonzero(np.isfinite(near), axis=0)
    middle = np.take_along_axis(near, (count // 2)[None], axis=0)[0]
    return np.where(np.isfinite(cells), middle, np.nan)


def noise(cells):
    near = around(cells)
    off = np.abs(cells - near[[1, 3, 5, 7]].mean(axis=0))
    off = np.sort(off[np.isfinite(off)])
    return 1.4826 * (off[len(off) // 2] if len(off) else 0.0) / np.sqrt(1.25)


class Map:
    """Cells above the base, with running sums so that the mean of any rectangle is four readings."""

    def __init__(self, cells):
        self.cells, finite = cells, np.isfinite(cells)
        filled = np.where(finite, cells, 0)
        self.sums, self.counts = (np.pad(v.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0))) for v in (filled, finite.astype(int)))

    def mean(self, left, top, right, bottom):
        def cell(value, origin, most):
            return np.clip(np.trunc((value - origin) / CELL_MM), 0, most - 1).astype(int)

        a, b = cell(left + 0.01, LEFT_MM, CELLS[1]), cell(right - 0.01, LEFT_MM, CELLS[1]) + 1
        c, d = cell(top + 0.01, TOP_MM, CELLS[0]), cell(bottom - 0.01, TOP_MM, CELLS[0]) + 1
        total, count = (v[d, b] - v[c, b] - v[d, a] + v[c, a] for v in (self.sums, self.counts))
        return np.where(count > 0, total / np.maximum(count, 1), np.nan)

    def rim(self, side):
        """Densest stretch inside the gate, outside at the same place, the densest outside, and where it lies."""
        first, last = (GATE[0], GATE[2]) if side in ("top", "bottom") else (GATE[1], GATE[3])
        middle = first + 2 + 0.5 * np.arange(int((last - first - 4) / 0.5) + 1)
        a, b = middle - 2, middle + 2
        wide = np.ones_like(a)
        if side == "top":
            inner, outer = self.mean(a, wide * (GATE[1] + 0.6), b, wide * (GATE[1] + 2.6)), self.mean(a, wide * 0.5, b, wide * 5.0)
        elif side == "bottom":
            inner = self.mean(a, wide * (GATE[3] - 2.6), b, wide * (GATE[3] - 0.6))
            outer = self.mean(a, wide * (FILM_MM - 5.0), b, wide * (FILM_MM - 0.5))
        elif side == "left":
            inner = self.mean(wide * (GATE[0] + 0.6), a, wide * (GATE[0] + 2.6), b)
            outer = self.mean(wide * (GATE[0] - 1.75), a, wide * (GATE[0] - 0.25), b)
        else:
            inner = self.mean(wide * (GATE[2] - 2.6), a, wide * (GATE[2] - 0.6), b)
            outer = self.mean(wide * (GATE[2] + 0.25), a, wide * (GATE[2] + 1.75), b)
        outer = np.where(np.isnan(outer), 0, outer)
        best = int(np.argmax(np.where(np.isnan(inner), -np.inf, inner)))
        return inner[best], outer[best], outer.max(), middle[best]

    def spots(self, threshold):
        """Compact places within the gate that exceed the ring about them, the densest first: middle, peak, ring, elongation."""
        x, y = np.meshgrid(CELL_X, CELL_Y)
        gate = (x > GATE[0]) & (x < GATE[2]) & (y > GATE[1]) & (y < GATE[3])
        finite = np.isfinite(self.cells)
        own = np.where(finite & gate, self.cells, 0)
        reach = np.arange(-13, 14) * CELL_MM
        off = np.hypot(reach, reach[:, None])
        kernel = ((off >= 4.0) & (off < 6.5)).astype(float)
        count = np.rint(oaconvolve((finite & gate).astype(float), kernel, mode="same"))
        ring = np.where(count > 0, oaconvolve(own, kernel, mode="same") / np.maximum(count, 1), 0)
        with np.errstate(invalid="ignore"):
            stands = (self.cells > threshold) & (x > 1.2) & (x < 34.8) & (y > 6.7) & (y < 28.3)
            stands &= (self.cells - ring > 0.4 * self.cells) & (self.cells - ring > 0.8 * threshold)
        found = []
        places = np.flatnonzero(stands)
        for at in places[np.argsort(-self.cells.ravel()[places], kind="stable")]:
            cx, cy, peak, low = x.flat[at], y.flat[at], self.cells.flat[at], ring.flat[at]
            if any(np.hypot(cx - s[0], cy - s[1]) < 4 for s in found):
                continue
            near = finite & (np.hypot(x - cx, y - cy) < 4)
            weight = np.maximum(self.cells[near] - low - 0.25 * (peak - low), 0)
            dx, dy, total = x[near] - cx, y[near] - cy, max(weight.sum(), 1e-12)
            xx, yy, xy = (weight @ v / total for v in (dx * dx, dy * dy, dx * dy))
            xx, yy = xx + 0.04, yy + 0.04
            root = np.sqrt((xx - yy) ** 2 / 4 + xy * xy)
            found.append((cx, cy, peak, low, np.sqrt(((xx + yy) / 2 + root) / max((xx + yy) / 2 - root, 0.01))))
            if len(found) > 24:
                break
        return found


def at_the_pitch(spots):
    """Three spots and more in a row along the film, at the pitch of the perforation."""
    for x, y, *_ in spots:
        row = [s for s in spots if abs(s[1] - y) < 1.5 and s[4] < 2.5]
        fits = sum(abs(s[0] - x - round((s[0] - x) / PITCH_MM) * PITCH_MM) < 0.7 for s in row)
        if fits >= 3 and fits * 3 >= len(row) * 2:
            return True
    return False


def decide(map_, threshold):
    rims = {side: map_.rim(side) for side in ("top", "bottom", "left", "right")}
    smooth = smoothed(map_.cells)
    peak = np.nanmax(smooth)
    weight = min(max(0.3 + (peak / threshold - 1) / 1.5, 0), 1)
    spots = map_.spots(threshold)
    brightest = max(max(rim[0], rim[2]) for rim in rims.values())
    side = max(rims, key=lambda name: rims[name][0])
    inner, outer = rims[side][:2]
    rho = max(outer / inner, 0)
    x, y = np.meshgrid(CELL_X, CELL_Y)
    centre = np.nanmax(smooth[(x > 7) & (x < 29) & (y > 12.5) & (y < 22.5)])
    told = {"group": "cannot tell", "side": "", "part": "", "peak_density": peak, "confidence": 0.0}
    pinhole = spots and spots[0][2] > 2 * spots[0][3] and spots[0][2] > 1.3 * brightest
    if peak < threshold or at_the_pitch(spots) or pinhole or inner < threshold or rho <= 0.60 or centre > 0.75 * inner:
        return told
    parts = {"top": "door-top", "bottom": "door-bottom", "left": "latch", "right": "hinge"}
    left, right = (0.6, 2.6) if side == "left" else (GATE[2] - 2.6, GATE[2] - 0.6)
    middle = float(map_.mean(left, 13.5, right, 21.5))
    edges = np.nanmean([float(map_.mean(left, 0.4, right, 1.8)), float(map_.mean(left, FILM_MM - 1.8, right, FILM_MM - 0.4))])
    window = side in ("left", "right") and middle > 1e-6 and edges / middle < 0.22
    confidence = min(max((rho - 0.60) / 0.25 + 0.3, 0), 1) * weight
    return {**told, "group": "back", "side": side, "part": "window" if window else parts[side], "confidence": confidence}


def fog(picture):
    finer = np.hypot(CORNERS[1][0] - CORNERS[0][0], CORNERS[1][1] - CORNERS[0][1]) / (GATE[2] * PX)
    factor = int(min(finer, 64)) if finer > 1.6 else 1
    light = averaged(picture, factor)
    if not np.isfinite(light).all():
        raise ValueError("the picture must have finite values")
    log, _ = lay_out(light, [(x / factor, y / factor) for x, y in CORNERS])
    cells, residual, burnt, referenced = density(log)
    if burnt > 0.02 or holes(log) != 1 or not referenced:
        raise ValueError("there is no film with holes")
    values = smoothed(cells)
    values = np.sort(values[np.isfinite(values)])
    base = values[len(values) * 8 // 100]
    systematic = max(0.012, 1.2 * residual, 0.05 * base)
    threshold = max(0.05, 2.5 * noise(cells), 2.5 * systematic)
    return decide(Map(cells - base), threshold)


if __name__ == "__main__":
    picture = strip_picture()
    tolerances = {"group": None, "side": None, "part": None, "peak_density": 2e-3, "confidence": 0.02}
    held_against("fog", ours("film.json"), fog(picture), tolerances)
    print(f"fog {least_ms(lambda: fog(picture))}")
