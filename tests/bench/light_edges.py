"""A light trace up to its pulses, in NumPy: means of a tenth of a millisecond, noise, clipping, edges at four widths, hum, coupling.

The same steps and limits as `crates/timing/src/light_trace/{survey,edges,hum,coupling}.rs`. Not here: the flanks of a pulse and its
time (`light_flanks`).
"""

from bisect import bisect_right
from dataclasses import dataclass, field

import numpy as np

BLOCK_S, NOISE_S = 1.0e-4, 5.0e-3
SCALES, THRESHOLD, MOST_EDGES = (1, 2, 4, 16), 7.0, 20_000
STRONG, WEAK, SLOW, WHOLE, ALONE_S, WEAK_LONGEST_S, MERGED_S = 0.3, 0.05, 0.35, 0.75, 0.08, 0.02, 4.0e-3
HARMONICS, POINTS, POINT_S, MOST_WINDOWS, SETTLED_S, WORTH, SEARCH_HZ = (1, 2, 3, 5), 40, 1e-3, 240, 6e-3, 0.3, 0.25
SHORTEST_S, LONGEST_S, TAIL_FROM_S, TAIL_TO_S, MOST_TAILS, SEEN = 1.5e-3, 1.5, 8e-3, 0.6, 24, 30.0


def ranked(values, part):
    """The number below which this part of them lies; 0 where there are none."""
    values = np.asarray(values)
    if not len(values):
        return 0.0
    rank = min(int((len(values) - 1) * part + 0.5), len(values) - 1)
    return float(np.partition(values, rank)[rank])


@dataclass
class Survey:
    rate: float
    size: int
    sums: np.ndarray
    noise: float
    centre: float
    clipped: list

    @property
    def count(self):
        return len(self.sums) - 1


def clipped_runs(x, extremes, chunk, sign, noise, told):
    highest = extremes.max()
    if not told or highest <= 8 * noise:
        return []
    least = np.float32(highest * (1 - 5e-4))
    reached = np.flatnonzero(extremes >= least)
    places = (reached[:, None] * chunk + np.arange(chunk)).ravel()
    places = places[places < len(x)]
    places = places[sign * x[places] >= least]
    if not len(places):
        return []
    begins = np.concatenate([[0], np.flatnonzero(np.diff(places) > 1) + 1, [len(places)]])
    runs = [places[a:b] for a, b in zip(begins[:-1], begins[1:]) if b - a >= 12]
    return [(run[0], run[-1] + 1) for run in runs if np.ptp(x[run]) < 0.3 * noise]


def survey(rate, x):
    size, chunk = max(int(BLOCK_S * rate + 0.5), 1), max(int(NOISE_S * rate), 2)
    sums = np.concatenate([[0.0], np.cumsum(x, dtype=np.float64)[size - 1 :: size] / size])
    whole = len(x) // chunk * chunk
    parts = x[:whole].reshape(-1, chunk)
    low, high = parts.min(axis=1), parts.max(axis=1)
    steps = np.diff(parts, axis=1)
    scatter = np.sqrt(np.einsum("ij,ij->i", steps, steps, dtype=np.float64) / (chunk - 1) / 2)
    if whole < len(x):
        low, high = np.append(low, x[whole:].min()), np.append(high, x[whole:].max())
    quanta = np.abs(np.diff(x[:20_001]))
    quantum = float(quanta[quanta > 0].min(initial=np.inf))
    quantum = quantum if np.isfinite(quantum) else 0.0
    noise = max(ranked(scatter, 0.5), quantum / np.sqrt(12), 1e-6)
    runs = []
    for sign, extremes in ((1, high), (-1, -low)):
        told = noise > quantum or extremes.max() >= 0.99
        runs += clipped_runs(x, extremes, chunk, sign, noise, told)
    return Survey(rate, size, sums, noise, sums[-1] / (len(sums) - 1), sorted(runs))


def rough_rate(s):
    """The rate of the coupling [1/s] that makes the restored course shortest: a weighted median."""
    spacing = 4 * s.size / s.rate
    level = np.diff(s.sums[: s.count // 4 * 4 + 1 : 4]) / 4 - s.centre
    middle = (level[:-1] + level[1:]) / 2
    large = np.abs(middle) > 6 * s.noise / np.sqrt(4 * s.size)
    ratio, weight = (level[:-1] - level[1:])[large] / (spacing * middle[large]), np.abs(middle[large])
    if not len(weight):
        return 0.0
    large = weight > 0.05 * weight.max()
    ratio, weight = ratio[large], weight[large]
    order = np.argsort(ratio)
    at = np.searchsorted(np.cumsum(weight[order]), weight.sum() / 2)
    return float(np.clip(ratio[order[min(at, len(order) - 1)]], 0, 1 / 1.2e-3))


@dataclass
class Edge:
    start: int
    end: int
    at: float
    step: float
    steep: float


@dataclass
class Edges:
    sign: float = 1.0
    pulses: list = field(default_factory=list)
    unclosed: list = field(default_factory=list)
    pulsed: bool = False


def restored_sums(s, rate):
    level = np.diff(s.sums) - s.centre
    integral = np.cumsum(level) - level
    return np.concatenate([[0.0], np.cumsum(level + rate * s.size / s.rate * (integral + level / 2))])


def difference(sums, k, scale):
    """Mean after block k minus mean before it, 0 where one of them is not whole."""
    k = np.atleast_1d(k)
    inside = (k >= scale) & (k + 1 + scale < len(sums))
    k = np.where(inside, k, scale)
    return np.where(inside, ((sums[k + 1 + scale] - sums[k + 1]) - (sums[k] - sums[k - scale])) / scale, 0)


def edge_of(s, sums, start, end, peak):
    sign = np.sign(difference(sums, peak, 1)[0]) or 1.0
    first, last = max(start - 2, 0), min(end + 4, len(sums) - 1)
    level = sign * np.diff(sums[first : last + 1])
    step = max(level[peak - first :].max() - level[: peak - first + 1].min(), 0)
    steep = np.abs(difference(sums, np.arange(start, end + 1), 3)).max()
    return Edge(start, end, (peak + 0.5) * s.size - 0.5, sign * step, steep)


def edges(s, rate):
    sums = restored_sums(s, rate)
    found, covered = [], []
    for scale in SCALES:
        change = (sums[2 * scale + 1 :] - sums[scale + 1 : -scale]) - (sums[scale : -scale - 1] - sums[: -2 * scale - 1])
        size = np.abs(change)
        white = s.noise * np.sqrt(2 / (scale * s.size))
        least = THRESHOLD * max(white, ranked(size[::16], 0.25) / scale / 0.3186) * scale
        above = np.flatnonzero(size > least)
        if not len(above):
            continue
        begins = np.flatnonzero((np.diff(above) > 1) | (change[above[1:]] * change[above[:-1]] <= 0)) + 1
        fresh, starts = [], [span[0] for span in covered]
        for run in np.split(above, begins):
            start, end = int(run[0]) + scale, int(run[-1]) + scale
            near = covered[max(bisect_right(starts, end + scale) - 4, 0) : bisect_right(starts, end + scale)]
            if len(found) + len(fresh) < MOST_EDGES and all(span[1] < max(start - scale, 0) for span in near):
                fresh.append(edge_of(s, sums, start, end, int(run[np.argmax(size[run])]) + scale))
        covered = sorted(covered + [(edge.start, edge.end) for edge in fresh])
        found += fresh
    found.sort(key=lambda edge: edge.at)
    return pair(keep(drop_spikes(merge(found, s)), s), s)


def merge(found, s):
    merged = []
    for edge in found:
        last = merged[-1] if merged else None
        if (
            last
            and last.step * edge.step > 0
            and edge.at - last.at < MERGED_S * s.rate
            and min(last.steep, edge.steep) > SLOW * max(last.steep, edge.steep)
        ):
            if abs(edge.step) > abs(last.step):
                last.at = edge.at
            last.step += edge.step
            last.steep = max(last.steep, edge.steep)
            last.start, last.end = min(last.start, edge.start), max(last.end, edge.end)
        else:
            merged.append(edge)
    return merged


def drop_spikes(found):
    kept = []
    for edge in found:
        if kept and kept[-1].step * edge.step < 0 and edge.end <= kept[-1].start + 2:
            kept.pop()
        else:
            kept.append(edge)
    return kept


def keep(found, s):
    if not found:
        return []
    step, steep = np.array([abs(e.step) for e in found]), np.array([e.steep for e in found])
    largest = step.max()
    steepest = steep[step >= STRONG * largest].max()
    found = [e for e, good in zip(found, (steep >= SLOW * steepest) | (step >= WHOLE * largest)) if good]
    strong = np.array([e.at for e in found if abs(e.step) >= STRONG * largest])

    def far(first, last):
        before, after = np.searchsorted(strong, first), np.searchsorted(strong, last, side="right")
        alone = ALONE_S * s.rate
        return (before == 0 or first - strong[before - 1] > alone) and (after == len(strong) or strong[after] - last > alone)

    kept, i = [], 0
    while i < len(found):
        edge, following = found[i], found[i + 1] if i + 1 < len(found) else None
        is_strong = abs(edge.step) >= STRONG * largest
        if (
            following
            and not (is_strong and abs(following.step) >= STRONG * largest)
            and min(abs(edge.step), abs(following.step)) >= WEAK * largest
            and following.step * edge.step < 0
            and 0.5 <= abs(following.step / edge.step) < 2
            and following.at - edge.at < WEAK_LONGEST_S * s.rate
            and far(edge.at, following.at)
        ):
            kept += [edge, following]
            i += 2
            continue
        if is_strong:
            kept.append(edge)
        i += 1
    return kept


def pair_with(kept, sign):
    edges, opening = Edges(sign), None
    for edge in kept:
        rising = edge.step * sign > 0
        if opening is None:
            opening = edge if rising else None
        elif not rising:
            edges.pulses.append((opening, edge))
            opening = None
        elif abs(edge.step) > 0.5 * abs(opening.step):
            edges.unclosed.append(opening)
            opening = edge
    if opening:
        edges.unclosed.append(opening)
    return edges


def pair(kept, s):
    if not kept:
        return Edges()
    sign = float(np.sign(kept[0].step)) or 1.0
    edges = pair_with(kept, sign)
    if len(kept) % 2 == 1 and len(kept) >= 3:
        other = pair_with(kept, -sign)
        open_time = [sum(b.at - a.at for a, b in e.pulses) for e in (edges, other)]
        if other.pulses and open_time[1] < 0.5 * open_time[0]:
            edges = other
    gaps = np.diff([a.at for a, _ in edges.pulses]) / s.rate
    edges.pulsed = bool(np.any((gaps[:-1] < 0.025) & (np.abs(np.diff(gaps)) < 0.04 * gaps[:-1] + 0.2e-3)))
    return edges


@dataclass
class Hum:
    frequency: float
    parts: np.ndarray

    def of(self, at, rate):
        turn = 2 * np.pi * self.frequency / rate * np.asarray(at)
        return sum(a * np.cos(k * turn) + b * np.sin(k * turn) for k, (a, b) in zip(HARMONICS, self.parts))


def dark_windows(s, pulses, rate):
    """Middles [s] and restored points of windows in the dark between pulses."""
    wide, settled = int(POINTS * max(POINT_S * s.rate / s.size + 0.5, 1)), int(SETTLED_S * s.rate / s.size) + 1
    places, dark = [], 0
    for opening, closing in pulses:
        places += range(dark, max(opening.start - 12, 0) - wide + 1, wide)
        dark = closing.end + settled
    places += range(dark, s.count - wide + 1, wide)
    at = np.array(places[:: max(-(-len(places) // MOST_WINDOWS), 1)], int)
    if not len(at):
        return at, np.zeros((0, POINTS))
    per_point = POINT_S * s.rate / s.size
    ends = at[:, None] + (np.arange(POINTS + 1) * per_point + 0.5).astype(int)
    length = np.diff(ends, axis=1)
    level = np.diff(s.sums[ends], axis=1) / length - s.centre
    spent = length * s.size / s.rate
    integral = np.cumsum(level * spent, axis=1) - level * spent
    middle = (at * s.size - 0.5) / s.rate + POINTS / 2 * POINT_S
    return middle, level + rate * (integral + level * spent / 2)


def hum(s, pulses, rate):
    middle, points = dark_windows(s, pulses, rate)
    found = [own for own in (hum_of(middle, points, rate, mains) for mains in (50.0, 60.0)) if own]
    best = max(found, key=lambda own: own[1], default=None)
    return best[0] if best and best[1] > WORTH else None


def hum_of(middle, points, rate, mains):
    if len(middle) < 3:
        return None
    t = (np.arange(POINTS) + 0.5 - POINTS / 2) * POINT_S
    columns = [np.ones(POINTS), t * 50, t * t * 2500]
    for k in HARMONICS:
        columns += [np.cos(2 * np.pi * k * mains * t), np.sin(2 * np.pi * k * mains * t)]
    design = np.array(columns)
    fitted = points @ np.linalg.solve(design @ design.T, design).T
    moving = np.sum((points - fitted[:, :3] @ design[:3]) ** 2)
    if np.sum(fitted[:, 3:] ** 2) / 2 * POINTS < WORTH * moving:
        return None
    own = fitted[:, 3::2] - 1j * fitted[:, 4::2]

    def coherent(offsets, most):
        turn = 2 * np.pi * (mains + np.asarray(offsets))[:, None, None] * np.array(HARMONICS[:most])[None, :, None] * middle
        return (np.exp(-1j * turn) * own.T[None, :most]).mean(axis=2)

    step = np.clip(0.2 / max(middle[-1] - middle[0], 1), SEARCH_HZ / 4000, SEARCH_HZ / 4)
    for width, count, most in ((step, int(SEARCH_HZ / step), 2), (step / 12, 12, len(HARMONICS))):
        about = 0.0 if most == 2 else offset
        offsets = about + np.arange(-count, count + 1) * width
        offset = offsets[np.argmax((np.abs(coherent(offsets, most)) ** 2).sum(axis=1))]
    here = coherent([offset], len(HARMONICS))[0]
    back = rate / (2 * np.pi * np.array(HARMONICS) * (mains + offset))
    a, b = here.real, -here.imag
    parts = np.stack([(a + back * b), (b - back * a)], axis=1) / (1 + back**2)[:, None]
    return Hum(mains + offset, parts), np.sum(np.abs(here) ** 2) / 2 * points.size / moving


def without_hum(s, hum):
    means = np.diff(s.sums) - hum.of((s.size - 1) / 2 + np.arange(s.count) * s.size, s.rate)
    s.sums = np.concatenate([[0.0], np.cumsum(means)])


@dataclass
class Coupling:
    constants: list
    doubt: float
    level: float

    @property
    def rate(self):
        return sum(1 / tau for tau in self.constants)

    @property
    def product(self):
        return 1 / (self.constants[0] * self.constants[1]) if len(self.constants) == 2 else 0.0

    @property
    def rate_doubt(self):
        return self.rate * min(self.doubt, 1.0)


class Tails:
    """The dark after closings in bins that grow, the longest exposures first; a bin that a tail has not has no weight."""

    def __init__(self, s, pulses):
        block_s = s.size / s.rate
        ends, wide = [0], 4.0
        while ends[-1] + int(wide) <= int(TAIL_TO_S / block_s) - int(TAIL_FROM_S / block_s):
            ends.append(ends[-1] + int(wide))
            wide *= 1.1
        ends = np.array(ends)
        order = sorted(range(len(pulses)), key=lambda i: pulses[i][0].at - pulses[i][1].at)
        means, counts = [], []
        for i in order:
            closed = pulses[i][1].end
            start = closed + int(TAIL_FROM_S / block_s)
            limit = min(closed + int(TAIL_TO_S / block_s), s.count)
            if i + 1 < len(pulses):
                limit = min(limit, max(pulses[i + 1][0].start - 20, 0))
            count = int(np.searchsorted(ends, limit - start, side="right")) - 1
            if count >= 8:
                own = np.zeros(len(ends) - 1)
                own[:count] = np.diff(s.sums[start + ends[: count + 1]]) / np.diff(ends[: count + 1])
                means.append(own)
                counts.append(count)
                if len(means) == MOST_TAILS:
                    break
        self.tails, self.bins, self.times = len(means), sum(counts), ends * block_s
        self.weight = np.diff(ends) * s.size * (np.arange(len(ends) - 1) < np.array(counts)[:, None]) if counts else np.zeros((0, 1))
        self.mean = np.array(means) if means else np.zeros((0, 1))
        self.weighted = self.weight * self.mean
        self.squares = (self.weighted * self.mean).sum(axis=1)

    def flat(self):
        if not self.tails:
            return None
        level = self.weighted.sum() / self.weight.sum()
        return np.sum(self.weight * (self.mean - level) ** 2), level

    def solve(self, constants):
        """Weighted squares left by one level and each tail's own exponentials, and that level."""
        shapes = [np.ones(len(self.times) - 1)]
        for tau in constants:
            shapes.append(-tau * np.diff(np.exp(-self.times / tau)) / np.diff(self.times))
        shapes, n = np.array(shapes), len(constants) + 1
        m = np.empty((self.tails, n + 1, n + 1))
        products = (shapes[:, None] * shapes[None]).reshape(n * n, -1)
        m[:, :n, :n] = (self.weight @ products.T).reshape(-1, n, n)
        m[:, :n, n] = m[:, n, :n] = self.weighted @ shapes.T
        m[:, n, n] = self.squares
        for k in range(1, n):
            pivot = m[:, k, k].copy()
            factor = np.where(pivot > 1e-9 * m[:, 0, 0], m[:, :, k].T / np.where(pivot == 0, 1, pivot), 0).T
            factor[:, k] = 0
            m -= factor[:, :, None] * m[:, k : k + 1, :]
        against, squares, left = m[:, 0, n].sum(), m[:, 0, 0].sum(), m[:, n, n].sum()
        return (max(left - against * against / squares, 0), against / squares) if squares > 0 else (np.inf, 0.0)


def golden(f, a, b, turns):
    part = (5**0.5 - 1) / 2
    c, d = b - part * (b - a), a + part * (b - a)
    fc, fd = f(c), f(d)
    for _ in range(turns):
        if fc < fd:
            b, d, fd = d, c, fc
            c = b - part * (b - a)
            fc = f(c)
        else:
            a, c, fc = c, d, fd
            d = a + part * (b - a)
            fd = f(d)
    return (a + b) / 2


def simplex(f, start, size):
    """Nelder and Mead for two numbers, eighty rounds."""
    s = [(f(p), p) for p in (np.array(start), np.array(start) + [size, 0], np.array(start) - [0, size])]
    for _ in range(80):
        s.sort(key=lambda one: one[0])
        best, middle, worst = s
        centre = (best[1] + middle[1]) / 2

        def along(t):
            p = centre + t * (centre - worst[1])
            return f(p), p

        new = along(1.0)
        if new[0] < best[0]:
            far = along(2.0)
            new = far if far[0] < new[0] else new
        elif new[0] >= middle[0]:
            new = along(0.5 if new[0] < worst[0] else -0.5)
        if new[0] < worst[0]:
            s[2] = new
        else:
            s = [best] + [(f(p), p) for p in ((one[1] + best[1]) / 2 for one in (middle, worst))]
    return min(s, key=lambda one: one[0])[1]


def coupling(s, pulses, rough):
    tails = Tails(s, pulses)
    guess = Coupling([1 / rough] if rough * LONGEST_S > 1 else [], 0.5, s.centre)
    flat = tails.flat()
    if flat is None:
        return guess
    variance, low, high = s.noise**2, np.log(SHORTEST_S), np.log(LONGEST_S)

    def one(ln):
        return tails.solve([np.exp(ln)])

    grid = np.linspace(low, high, 21)
    best = int(np.argmin([one(ln)[0] for ln in grid]))
    ln = golden(lambda x: one(x)[0], grid[max(best - 1, 0)], grid[min(best + 1, 20)], 24)
    left, level = one(ln)
    if flat[0] - left < SEEN * variance:
        return Coupling([], guess.doubt, flat[1])
    freedom = max(tails.bins - tails.tails - 2, 1)
    scatter, h = max(left / freedom, variance), 0.02
    bend = max((one(ln + h)[0] + one(ln - h)[0] - 2 * left) / h**2, 0)
    found = Coupling([float(np.exp(ln))], min(np.sqrt(2 * scatter / bend), 2) if bend > 0 else 2.0, level)
    if left / freedom > 2 * variance:
        two = two_constants(tails, low, high)
        if two and two[1] < 0.6 * left:
            constants, left, level, doubt = two
            found = Coupling(constants, min(doubt * np.sqrt(max(left / freedom, variance)), 2), level)
    return found


def two_constants(tails, low, high):
    def value(p):
        if p[0] < low or p[1] > high or p[1] - p[0] < 0.05:
            return np.inf
        return tails.solve(np.exp(p))[0]

    grid = np.linspace(low, high, 15)
    pairs = [(i, j) for i in range(14) for j in range(i + 1, 15)]
    i, j = pairs[int(np.argmin([value(grid[[i, j]]) for i, j in pairs]))]
    p = simplex(value, [grid[i], grid[j]], (high - low) / 28)
    constants = [float(tau) for tau in np.exp(p)]
    left, level = tails.solve(constants)
    h = 0.02

    def bend(a, b):
        a, b = h * np.array(a), h * np.array(b)
        return (value(p + a + b) - value(p + a - b) - value(p - a + b) + value(p - a - b)) / (4 * h * h)

    xx, xy, yy = bend([1, 0], [1, 0]), bend([1, 0], [0, 1]), bend([0, 1], [0, 1])
    determinant, (a, b) = xx * yy - xy * xy, 1 / np.array(constants)
    variance = 2 * (a * a * yy - 2 * a * b * xy + b * b * xx) / determinant if determinant else np.inf
    doubt = np.sqrt(variance) / (a + b) if determinant > 0 and variance > 0 else np.inf
    return constants, left, level, doubt
