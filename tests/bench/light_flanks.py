"""The pulses of a light trace one by one, in NumPy: the coupling undone, both flanks, flicker, bounces, the time and its doubt.

The same steps and limits as `crates/timing/src/light_trace/{restore,flank,flicker,bounce,seen,verdict}.rs`. Not here: finding the
pulses (`light_edges`).
"""

from dataclasses import dataclass, replace

import numpy as np
from light_edges import ranked

LONG_S, LOOKED_S = 0.016, 0.012
LEVEL_S, AFTER_LEVEL_S, FLICKER_LEVEL_S = 3e-3, 4e-3, 1.2e-3
REFERENCE_S, ASSUMED_S, LAMP, RIPPLE, RIPPLE_FAST, RIPPLE_ALL = 6e-3, 1.5e-3, 0.005, 0.02, 0.2, 0.45
LAG, CLOCK, LEAST_SIGNAL, ROUGHEST = 0.06, 1e-4, 4.5, 0.1


@dataclass
class Trace:
    rate: float
    samples: np.ndarray
    sign: float
    hum: object
    coupling: object

    def window(self, start, end, lead):
        """First sample and restored light between two places; the first `lead` seconds level it where two couplings make it lean."""
        first, last = (int(min(max(at, 0), len(self.samples))) for at in (start, end))
        if last <= first:
            return None
        x = self.samples[first:last].astype(np.float64)
        if self.hum:
            x -= self.hum.of(first + np.arange(len(x)), self.rate)
        y = (x - self.coupling.level) * self.sign
        middle = np.cumsum(y) - y / 2
        light = y + self.coupling.rate / self.rate * middle
        if self.coupling.product > 0:
            light += self.coupling.product / self.rate**2 * (np.cumsum(middle) - middle / 2)
            part = light[: int(lead * self.rate)]
            if len(part) >= 16:
                t = np.arange(len(part)) - (len(part) - 1) / 2
                light -= (t @ part) / (t @ t) * np.arange(len(light))
        return first, light


class View:
    """A window in the direction in which the light comes on."""

    def __init__(self, values):
        self.values = values
        self.sums = np.concatenate([[0.0], np.cumsum(values)])
        self.smoothed = {}

    def __len__(self):
        return len(self.values)

    def index(self, at):
        return min(int(max(at, 0)), len(self.values))

    def part(self, start, end):
        return self.values[self.index(start) : self.index(end)]

    def smooth(self, half):
        """Means within `half` of each place."""
        if half not in self.smoothed:
            n, i = len(self.values), np.arange(len(self.values))
            a, b = np.maximum(i - half, 0), np.minimum(i + half + 1, n)
            self.smoothed[half] = (self.sums[b] - self.sums[a]) / (b - a)
        return self.smoothed[half]


@dataclass
class Conditions:
    rate: float
    noise: float
    flickers: bool


@dataclass
class Search:
    guess: float
    reach: float
    limit: float
    after_closing: bool


@dataclass
class Flank:
    moment: float
    half: float
    foot: float
    top: float
    length: float
    dark: float
    open: float
    plateau: float
    darkness: float
    variance: float
    lopsided: float
    lean: float

    @property
    def step(self):
        return self.open - self.dark


def walk(view, search, dark, step, half):
    """Where 20 %, 50 % and 80 % of the step are passed, from the passage of the middle nearest to the guess."""
    last = len(view) - 2
    if last < 0:
        return None
    reach = int(search.reach + 3 * half + 8)
    start, s = min(view.index(search.guess), last), view.smooth(half)
    low, middle, high = (dark + part * step for part in (0.2, 0.5, 0.8))
    places = np.flatnonzero((s[:-1] < middle) & (s[1:] >= middle))
    away = np.abs(places - start)
    near = places[away <= min(reach, start)]
    if len(near):
        at = int(near[np.argmin(np.abs(near - start))])
    else:
        right = places[(places >= start) & (away <= reach)]
        if not len(right):
            return None
        at = int(right[0])
    below, above = np.flatnonzero(s[: at + 1] < low), np.flatnonzero(s[at + 1 :] >= high)
    if not len(below) or not len(above):
        return None

    def between(i, to):
        a, b = s[i], s[i + 1]
        return i + (min(max((to - a) / (b - a), 0), 1) if b > a else 0.5)

    return between(int(below[-1]), low), between(at, middle), between(at + int(above[0]), high)


def darkness(view, foot, after_closing, how):
    part = view.part(foot - (AFTER_LEVEL_S if after_closing else LEVEL_S) * how.rate, foot)
    if len(part) < 4:
        part = view.part(0, max(foot, 2))
        return (part.mean(), len(part)) if len(part) else None
    piece = int(0.2e-3 * how.rate)
    if not after_closing or piece < 4 or len(part) < 6 * piece:
        return part.mean(), len(part)
    pieces = part[: len(part) // piece * piece].reshape(-1, piece).mean(axis=1)
    return ranked(pieces, 0.5), len(part) * 0.64


def plateau(view, top, length, limit, how):
    """Level, slope, what it counts for, what it is taken over and its scatter; nothing where there is no plateau."""
    room = limit - top
    if room < max(5.0, 1.2e-4 * how.rate):
        return None
    start = top if how.flickers else top + min(0.6 * length, 0.3 * room)
    long = (FLICKER_LEVEL_S if how.flickers else LEVEL_S) * how.rate
    part = view.part(np.ceil(start), min(start + long, limit) + 1)
    if not len(part):
        return None
    n, level = len(part), part.mean()
    t, off = np.arange(n) - (n - 1) / 2, part - level
    squares, up = t @ t, t @ off
    slope = up / squares if squares > 0 else 0.0
    noise = np.sqrt(max((off @ off - slope * up) / (n - 2), 0)) if n >= 24 else 0.0
    if how.flickers and n >= 12:
        return level - slope * (n - 1) / 2, slope, n / 5, n / 3, noise
    return level, 0.0, n, n, noise


def flank(view, search, how):
    wide, level = max(search.limit - search.guess, 1), LEVEL_S * how.rate
    before = search.guess - search.reach
    part = view.part(before - level, before)
    part = part if len(part) else view.part(0, search.guess / 2)
    if not len(part):
        return None
    dark = part.mean()
    start = view.index(search.guess)
    end = min(max(view.index(min(search.limit, search.guess + search.reach)), start + 1), max(len(view), 1))
    s = view.smooth(min(int(wide / 10), int(level / 6)))[start:end]
    peak = open_level = s.max(initial=-np.inf)
    found = None
    for _ in range(3):
        step = open_level - dark
        if step <= 2 * how.noise / np.sqrt(max(wide / 5, 1)):
            return None
        length = found.length if found else 0.0
        half = int(min(max((how.noise / (0.06 * step)) ** 2, 0.3 * length), wide / 3) / 2)
        walked = walk(view, search, dark, step, half)
        if not walked:
            return None
        length = max((walked[2] - walked[0]) / 0.6, 1)
        foot, top = walked[0] - 0.5 * length - 1, walked[2] + 0.5 * length + 1
        below = darkness(view, foot, search.after_closing, how)
        if not below:
            return None
        dark, dark_count = below
        line = plateau(view, top, length, search.limit, how)
        open_level = line[0] if line else peak
        step = open_level - dark
        if step <= 0:
            return None
        a, b = view.index(foot), view.index(np.ceil(top) + 1)
        slope, weight, taken, scatter = line[1:] if line else (0.0, 0.0, 0.0, 0.0)
        if slope == 0:
            shaded = (view.sums[max(b, a)] - view.sums[a] - dark * (b - a)) / step
        else:
            shaded = np.sum((view.values[a:b] - dark) / (step + slope * (np.arange(a, b) - top)))
        high, low, noise = max(shaded, 0), max(b - a - shaded, 0), how.noise / step
        lit = scatter / step if scatter > 1.3 * how.noise else noise
        variance = noise**2 * (low + low * low / dark_count) + lit**2 * (high + (high * high / weight if weight > 0 else 0))
        found = Flank(
            b - 0.5 - shaded,
            walked[1],
            foot,
            top,
            length,
            dark,
            open_level,
            weight,
            dark_count,
            variance,
            walked[2] - 2 * walked[1] + walked[0],
            low * (length + dark_count) / 2 + high * (length + taken) / 2,
        )
    return found


def both(view, back, first, last, how):
    def turned(at):
        return len(view) - 1 - at

    found = None
    for _ in range(3):
        a, b = flank(view, first, how), flank(back, last, how)
        if a is None or b is None:
            return None
        first = replace(first, guess=a.half, reach=max(a.length, 2), limit=turned(b.top))
        last = replace(last, guess=b.half, reach=max(b.length, 2), limit=turned(a.top))
        if turned(b.half) <= a.half:
            return None
        found = a, b
    return found


def bounce(view, moment, foot, dark, open_level, noise, rate):
    """What light that came in again after the closing adds [s]; nothing where none did."""
    half = int(0.08e-3 * rate)
    scatter = noise / np.sqrt(2 * half + 1)
    start, end = view.index(foot + 1), view.index(foot + LOOKED_S * rate)
    height = view.smooth(half) - dark
    if end <= start:
        return None
    peak = end - 1 - int(np.argmax(height[start:end][::-1]))
    most = height[peak]
    if most < max(7 * scatter, 0.03 * open_level):
        return None
    side, gone = int(1.5e-3 * rate), min(max(0.15 * most, 2.5 * scatter), 0.5 * most)
    left = np.flatnonzero(height[max(peak - side, start) : peak] < gone)
    right = np.flatnonzero(height[peak : peak + side] < gone)
    if not len(left) or not len(right):
        return None
    first = max(max(peak - side, start) + left[-1] - half, start)
    last = min(peak + right[0] + half + 1, len(view))
    area = view.sums[last] - view.sums[first] - dark * (last - first)
    return max(area / open_level, 0) / rate


@dataclass
class Seen:
    opening: float
    closing: float
    half: float
    level: float
    level_doubt: float
    plateau: bool
    variance: float
    lag: float
    flanks: tuple
    mismatch: float
    area: tuple = None
    roughness: float = 0.0
    bounce_s: float = None

    @staticmethod
    def of(a, b, moments, half, lean, how):
        level = (a.step + b.step) / 2
        samples = [1 / max(f.plateau, 1) + 1 / f.darkness for f in (a, b)]
        return Seen(
            *moments,
            half,
            level,
            how.noise / level * np.sqrt(sum(samples) / 4),
            a.plateau > 0 and b.plateau > 0,
            a.variance + b.variance + ((a.lean + b.lean) * lean) ** 2,
            abs(a.lopsided - b.lopsided),
            (a.length, b.length),
            abs(a.step - b.step) / level,
        )


def roughness(view, a, how):
    piece = max(int(0.2e-3 * how.rate), 1)
    part = view.part(a.foot - 6e-3 * how.rate, a.foot)
    means = part[: len(part) // piece * piece].reshape(-1, piece).mean(axis=1)
    if len(means) < 3:
        return 0.0
    return np.sqrt(max(means.var(ddof=1) - 2 * how.noise**2 / piece, 0)) / a.step


@dataclass
class Release:
    opening: object
    closing: object
    ended: object
    broken: bool = False


def releases(pulses, rate):
    found = []
    for opening, closing in pulses:
        if found and opening.at - found[-1].ended.at < 0.012 * rate:
            found[-1].broken |= abs(opening.step) > 0.7 * abs(found[-1].opening.step)
            found[-1].ended = closing
        else:
            found.append(Release(opening, closing, closing))
    return found


def reach(edge, s):
    return (edge.end - edge.start + 6) * s.size


def grain(trace, s, found):
    piece, scatter = max(int(0.4e-3 * s.rate), 2), []
    for release in found[:: max(-(-len(found) // 24), 1)]:
        end = release.opening.at - reach(release.opening, s)
        window = trace.window(end - 0.012 * s.rate, end, 0.012)
        if window is None:
            continue
        light = window[1]
        means = light[: len(light) // piece * piece].reshape(-1, piece).mean(axis=1)
        if len(means) >= 8:
            steps = np.diff(means)
            scatter.append(np.sqrt(steps @ steps / len(steps) / 2 * piece) / s.noise)
    typical = ranked(scatter, 0.5)
    return typical if typical > 1.25 else 1.0


def flicker(trace, release, noise):
    """Amplitude of 100 or 120 Hz over the open level and its doubt; nothing for short exposures."""
    rate, step = trace.rate, max(abs(release.opening.step), abs(release.closing.step))
    margin = [1.5e-3 * rate + (edge.end - edge.start) * 1e-4 * rate for edge in (release.opening, release.closing)]
    start = release.opening.at + margin[0]
    end = min(release.closing.at - margin[1], start + 0.06 * rate)
    if end - start < 0.011 * rate:
        return None
    first, light = trace.window(release.opening.at - 0.01 * rate, end, 8e-3)
    light = light[int(max(start - first, 0)) :]
    size = max(int(0.25e-3 * rate), 1)
    points = light[: len(light) // size * size].reshape(-1, size).mean(axis=1)
    n, spacing = len(points), size / rate
    if n * spacing < 0.011 * 0.95:
        return None
    t = (np.arange(n) + 0.5) / n * 2 - 1
    amplitudes = []
    for frequency in (100, 120):
        turn = 2 * np.pi * frequency * np.arange(n) * spacing
        columns = [np.cos(turn), np.sin(turn), np.ones(n), t] + ([t * t] if n * spacing > 0.02 else [])
        fitted, *_ = np.linalg.lstsq(np.array(columns).T, points, rcond=None)
        amplitudes.append(np.hypot(fitted[0], fitted[1]))
    return max(amplitudes) / step, noise / step * np.sqrt(2 / (n * size))


def ripple(trace, found, clipped, noise):
    sizes = [flicker(trace, release, noise) for release, cut in zip(found, clipped) if not cut]
    return max((size for size, doubt in filter(None, sizes) if size > RIPPLE and size > 4 * doubt), default=0.0)


def look(trace, s, release, bounds, how):
    opening, closing, rate = release.opening, release.closing, how.rate
    before, after = (25e-3 if trace.coupling.product > 0 else 8e-3) * rate, (LOOKED_S + 3e-3) * rate
    lean = trace.coupling.rate_doubt / rate
    end = min(closing.at + after, bounds[1])
    reach_open, reach_close = reach(opening, s), reach(closing, s)
    start = max(opening.at - before, bounds[0])
    lead = max(opening.at - reach_open - start, 0) / rate
    if closing.at - opening.at < LONG_S * rate:
        window = trace.window(start, end, lead)
        if window is None:
            return None
        first, light = window
        view, back = View(light), View(light[::-1])

        def turned(at):
            return len(view) - 1 - at

        up, down = opening.at - first, closing.at - first
        found = both(view, back, Search(up, reach_open, down, False), Search(turned(down), reach_close, turned(up), True), how)
        if not found:
            return None
        a, b = found
        shut = turned(b.moment)
        seen = Seen.of(a, b, (first + a.moment, first + shut), turned(b.half) - a.half, lean, how)
        i, j = view.index(a.foot), view.index(np.ceil(turned(b.foot)) + 1)
        wide = j - i
        area = view.sums[j] - view.sums[i] - (a.dark + b.dark) / 2 * wide
        seen.area = area, how.noise**2 * (wide + wide * wide / 4 * (1 / a.darkness + 1 / b.darkness))
        seen.roughness = roughness(view, a, how)
        seen.bounce_s = bounce(view, shut, turned(b.foot), b.dark, a.step, how.noise, rate)
        return seen
    middle = (opening.at + closing.at) / 2
    window = trace.window(start, min(opening.at + after, middle), lead)
    late_start = max(closing.at - before, middle)
    late = trace.window(late_start, end, max(closing.at - reach_close - late_start, 0) / rate)
    if window is None or late is None:
        return None
    view, late_view, back = View(window[1]), View(late[1]), View(late[1][::-1])

    def turned(at):
        return len(back) - 1 - at

    a = refined(view, Search(opening.at - window[0], reach_open, len(view), False), how)
    b = refined(back, Search(turned(closing.at - late[0]), reach_close, len(back), True), how)
    if a is None or b is None:
        return None
    moments = window[0] + a.moment, late[0] + turned(b.moment)
    seen = Seen.of(a, b, moments, late[0] + turned(b.half) - window[0] - a.half, lean, how)
    seen.roughness = roughness(view, a, how)
    seen.bounce_s = bounce(late_view, turned(b.moment), turned(b.foot), b.dark, b.step, how.noise, rate)
    return seen


def refined(view, search, how):
    first = flank(view, search, how)
    return first and flank(view, replace(search, guess=first.half, reach=max(first.length, 2)), how)


@dataclass
class Scene:
    rate: float
    noise: float
    ripple: float
    pulsed: bool
    rate_doubt: float


def is_clean(seen, scene):
    return seen.roughness < ROUGHEST and (
        not seen.plateau or seen.mismatch < 0.25 + 2.5 * scene.ripple + 6 * seen.level_doubt
    )


def reference(usable, scene):
    """The open level and its relative doubt; nothing where no shot gives it."""
    flat = [s for s in usable if s.plateau]
    of = [s for s in flat if (s.closing - s.opening) / scene.rate > REFERENCE_S]
    if not of:
        if not flat:
            return None
        longest = max(flat, key=lambda s: s.half)
        doubt = longest.level_doubt
        alike = [s for s in flat if abs(s.level / longest.level - 1) < 0.02 + 2.5 * (s.level_doubt + doubt)]
        proved = scene.ripple <= RIPPLE and any(s.half < 0.8 * longest.half and s.level_doubt + doubt < 0.03 for s in alike)
        if not proved and (longest.closing - longest.opening) / scene.rate < ASSUMED_S:
            return None
        of = alike if proved else [longest]
    levels = np.array([s.level for s in of])
    level = ranked(levels, 0.5)
    away = np.abs(levels / level - 1)
    spread = 1.48 * ranked(away, 0.5) if len(away) > 2 else away.sum()
    noise = max(s.level_doubt for s in of)
    doubt = np.sqrt(LAMP**2 + spread**2 + noise**2 + scene.ripple**2 / 2)
    return (level, doubt) if level > 0 else None


def time_of(seen, scene, level):
    """Time [s] and doubt [s]; nothing where it cannot be told."""
    rate, ripple = scene.rate, scene.ripple
    edges = (seen.closing - seen.opening) / rate
    if ripple > RIPPLE_ALL or (ripple > RIPPLE_FAST and edges < 1 / 30):
        return None
    swing, lag = 0.5 * ripple * max(seen.flanks) / rate, LAG * seen.lag / rate
    base = (0.03 / rate) ** 2 + (CLOCK * edges) ** 2 + lag**2
    by_edges = edges, np.sqrt(seen.variance / rate**2 + swing**2 + base)
    if edges > REFERENCE_S and seen.plateau:
        return by_edges
    if level is None:
        return None
    return against(seen, scene, level, by_edges)


def against(seen, scene, reference, by_edges):
    level, level_doubt = reference
    rate, part = scene.rate, seen.level / level
    part_doubt = np.sqrt(max(seen.level_doubt**2 + level_doubt**2 - LAMP**2, 0))
    by_area = None
    if seen.area:
        time = seen.area[0] / level / rate
        noise = np.sqrt(seen.area[1]) / level / rate
        droop = 0.5 * time * time * scene.rate_doubt
        ambiguous = time * max(1 - part, 0) / 3 if seen.plateau and part > 0.9 else 0.0
        base = (0.03 + LAG * seen.lag) / rate
        by_area = time, np.sqrt(noise**2 + droop**2 + (time * level_doubt) ** 2 + ambiguous**2 + base**2)
    if scene.ripple > RIPPLE:
        least = 1 - 1.3 * scene.ripple - 0.02 - 2 * seen.level_doubt
        return (by_edges if seen.plateau else by_area) if part > least else None
    fully_open = seen.plateau and part > 1 - max(2.5 * part_doubt, 0.015)
    as_open = by_edges[0], np.hypot(by_edges[1], by_edges[0] * max(part_doubt, 1 - part) / 2)
    if by_area is None:
        return as_open if fully_open else None
    if fully_open and (as_open[1] < by_area[1] or part > 1 + max(2.5 * part_doubt, 0.03)):
        return as_open
    return by_area
