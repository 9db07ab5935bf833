"""The shutter times of a minute of frames at 240 a second in NumPy: the same algorithm as `crates/timing/src/frames`, its yardstick.

Takes over: the frames' grid by a first-order loop and regression, missing and uneven frames; for each of three strips black and its
noise, open runs, spread, drift and a sunken plateau; lit frames and releases; each release's runs, sum, end frames, missing frames and
light that comes again; the duty learned from full end frames; time and doubt of each strip; the taper.
Leaves out: pixels, codes and tone curves (the table holds light), words of notices.

Argument: the folder with `takes.json`. The table is made here as the native run makes it. Prints `name milliseconds` and `agree-name n of m`.
"""

from dataclasses import dataclass

import numpy as np
from common import agreeing, median_ms, takes
from scipy.signal import lfilter

FPS, SECONDS = 240, 60
OPEN_RUN, MARGIN, SAME_RELEASE_S, SAME_RELEASE_FRAMES = 4, 2, 0.012, 3
EXPONENT_DOUBT, CLOCK, FLOOR, LARGEST_DOUBT, BLIND = 0.1, 1e-4, 0.005, 0.25, 2.0


def clip():
    times = np.arange(SECONDS * FPS) * (1 / FPS)
    light = 0.01 + np.where(times % 1 < 0.25, 0.6, 0.0)
    return times, np.stack([light] * 3), np.zeros(len(times))


def numbers_of(times, interval):
    """Numbers on the grid by a loop that follows the frames with a gain of a tenth.

    Which step each frame takes depends on the frames before it: guessed from the differences, then put right until nothing changes,
    which is the loop's own answer.
    """
    steps = np.maximum(np.rint(np.diff(times) / interval), 1)
    while True:
        # predicted[i] before the frame: 0.9·predicted[i − 1] + 0.1·time[i − 1], and the step on.
        driven = 0.1 * times[:-1]
        driven[1:] += 0.9 * steps[:-1] * interval
        after = lfilter([1.0], [1.0, -0.9], driven, zi=[0.9 * times[0]])[0]
        # Both are counted from the place that the frame before left.
        better = np.clip(np.rint((times[1:] - after) / interval), 1, 1e12)
        if np.array_equal(better, steps):
            return np.concatenate([[0], np.cumsum(steps)]).astype(np.int64)
        steps = better


def grid(times, clock_step=0.0):
    gaps = np.diff(times)
    middle = np.partition(gaps, len(gaps) // 2)[len(gaps) // 2]
    interval = gaps[np.abs(gaps - middle) <= 0.5 * middle].mean()
    for _ in range(2):
        numbers = numbers_of(times, interval)
        off = numbers - numbers.mean()
        interval = (off @ (times - times.mean())) / (off @ off)
    steps = np.diff(numbers)
    error = np.clip(gaps / interval - steps, -1, 1)
    variance = (error @ error) / len(error) / 2 - (clock_step / interval) ** 2 / 12
    jitter = np.sqrt(variance) if variance > 1e-4 else 0.0
    return interval, numbers, int((steps - 1).sum()), jitter, np.mean(steps != 1)


def runs_of(flags, numbers):
    """First and one after the last index of unbroken runs: a missing frame ends a run."""
    places = np.flatnonzero(flags)
    if not len(places):
        return np.zeros((0, 2), int)
    cut = np.flatnonzero((np.diff(places) > 1) | (np.diff(numbers[places]) > 1)) + 1
    return np.stack([places[np.concatenate([[0], cut])], places[np.append(cut, len(places)) - 1] + 1], axis=1)


@dataclass
class Levels:
    black: float
    dark_noise: float
    open: float
    open_noise: float
    doubt: float
    unsteady: float
    drift: float
    middles: np.ndarray
    own: np.ndarray

    @property
    def threshold(self):
        return max(6 * self.dark_noise, 0.012 * self.open)

    def open_at(self, frame):
        # np.interp holds the ends, as the first and the last run do.
        return self.open if self.drift == 0 or not len(self.own) else np.interp(frame, self.middles, self.own)


def levels(values, numbers):
    rank = min(len(values) // 50, 24)
    low, top = np.partition(values, rank)[rank], values.max()
    dark = values[np.abs(values - low) <= 0.03 * (top - low)]
    black = np.median(dark)
    dark_noise = 1.4826 * np.median(np.abs(dark - black))
    limit = black + 0.85 * (top - black)
    runs = runs_of(values > limit, numbers)
    runs = runs[runs[:, 1] - runs[:, 0] >= 3]
    sums, squares = (np.concatenate([[0.0], np.cumsum(v)]) for v in (values - black, (values - black) ** 2))
    steps = np.concatenate([[0.0, 0.0], np.cumsum(np.diff(values) ** 2)])
    a, b = runs[:, 0] + 1, runs[:, 1] - 1
    long = runs[:, 1] - runs[:, 0] >= OPEN_RUN
    inside = np.zeros(len(values) + 1, int)
    np.add.at(inside, a[long], 1)
    np.add.at(inside, b[long], -1)
    inner = values[np.cumsum(inside)[:-1] > 0]
    if not len(inner):
        return None
    open_level = np.median(inner) - black
    if not (open_level >= 0.02 and open_level > 20 * dark_noise):
        return None
    count = b - a
    own = (sums[b] - sums[a]) / count
    total, pairs = max(count[long].sum(), 1), max((count[long] - 1).sum(), 1)
    within = np.sum((squares[b] - squares[a] - count * own**2)[long]) / total / open_level**2
    noise = np.sum((steps[b] - steps[a + 1])[long]) / pairs / 2 / open_level**2
    spread = np.sqrt(max(within - noise * (1 + 3 / np.sqrt(total)), 0))
    four = np.lib.stride_tricks.sliding_window_view(values, OPEN_RUN)
    least, most = four.min(axis=1), four.max(axis=1)
    flat = (numbers[OPEN_RUN - 1 :] - numbers[: -OPEN_RUN + 1] == OPEN_RUN - 1) & (most < limit) & (most - least < 0.1 * most)
    flat &= least > black + 0.25 * (top - black)
    sunken = (open_level + black - ((least + most) / 2)[flat].min()) / open_level if flat.any() else 0.0
    reach = max(np.ptp(own) / open_level, 0)
    drifts = reach > 0.005 + 4 * np.sqrt(noise) and len(own) > 1
    drift = reach / np.sqrt(12) if drifts else 0.0
    spread = max(spread, sunken / 2)
    return Levels(
        black,
        dark_noise,
        open_level,
        np.sqrt(noise),
        np.sqrt(spread**2 + drift**2 + noise / max(len(inner), 1)),
        max(np.sqrt(max(within, 0)), reach if drifts else 0.0, sunken),
        drift,
        (runs[:, 0] + runs[:, 1] - 1)[count >= 6] / 2,
        own[count >= 6],
    )


@dataclass
class Pulse:
    total: float
    frames: int
    first_light: float
    last_light: float
    noise: float
    drops: int
    first: int
    last: int
    again: tuple = None


def pulse(light, own, release, numbers):
    start, end = release
    over = light[start:end] - own.black
    runs = runs_of(over > own.threshold, np.arange(end - start))
    if not len(runs):
        return None
    sums = np.concatenate([[0.0], np.cumsum(over)])
    best = len(runs) - 1 - int(np.argmax((sums[runs[:, 1]] - sums[runs[:, 0]])[::-1]))
    runs = runs + start
    first, last = runs[best, 0], runs[best, 1]
    open_level = own.open_at((first + last - 1) / 2)
    if not open_level > 0:
        return None
    before = runs[best - 1, 1] if best else 0
    after = runs[best + 1, 0] if best + 1 < len(runs) else len(light)
    a, b = max(first - MARGIN, 0, before), min(last + MARGIN, after)
    share = (light[a:b] - own.black) / open_level
    noise = np.sqrt(len(share) * (own.dark_noise / open_level) ** 2 + np.sum((np.maximum(share, 0) * own.open_noise) ** 2))
    gaps, total, drops = np.diff(numbers[a:b]) - 1, share.sum(), 0
    if gaps.any():
        lit = light[a:b] - own.black > own.threshold
        alike = (np.minimum(share[:-1], share[1:]) >= 0.97) | ~(lit[:-1] | lit[1:])
        total += np.sum(gaps * (share[:-1] + share[1:]) / 2)
        drops = int(gaps[~alike].sum())
    again = None
    if best + 1 < len(runs):
        more = (light[runs[best + 1, 0] : runs[best + 1, 1]] - own.black) / open_level
        again = runs[best + 1, 0], more.max(), more.sum()
    ends = share[first - a], share[last - 1 - a]
    return Pulse(max(total, 0), numbers[last - 1] - numbers[first] + 1, *ends, noise, drops, first, last - 1, again)


def doubt_of(time, gap, own, p, jitter, clipped):
    """Standard doubt and what the tone curve has in it, in intervals."""
    t = max(time, 0)
    curve = 0.5 * EXPONENT_DOUBT if t >= 1 else EXPONENT_DOUBT * t * (t / 2 - np.log(t)) if t > 0 else 0.0
    burnt = 0.03 * max(t, min(2 * t, 1)) if clipped else 0.0
    shared = curve**2 + (t * own.doubt) ** 2 + burnt**2 + FLOOR**2 + (t * CLOCK) ** 2
    return np.sqrt(shared + gap**2 + p.noise**2 + 2 * jitter**2 + p.drops * 0.3**2), curve


def measure(times, strips, share):
    if not (np.isfinite(times).all() and (np.diff(times) > 0).all() and (strips >= -0.1).all() and (strips <= 1.5).all()):
        raise ValueError("this is no table of frames")
    interval, numbers, _, jitter, _ = grid(times)
    lanes = [(light, own) for light, own in ((light, levels(light, numbers)) for light in strips) if own]
    if not lanes:
        return []
    light, own = lanes[0]
    burnt = share[light > own.black + 0.85 * own.open]
    clipped = any(o.black + o.open > 0.98 for _, o in lanes) or (len(burnt) > 0 and burnt.mean() > 0.02)
    lit = np.flatnonzero(np.any([light - own.black > own.threshold for light, own in lanes], axis=0))
    dark = max(SAME_RELEASE_FRAMES, int(SAME_RELEASE_S / interval))
    cut = np.flatnonzero(np.diff(numbers[lit]) - 1 > dark) + 1
    found = [(part[0], part[-1] + 1) for part in np.split(lit, cut) if len(part)]
    pulses = [[pulse(light, own, release, numbers) for light, own in lanes] for release in found]
    middle = len(lanes) // 2
    # An unknown gap, from how often an edge fell into it: two beliefs and every end frame that is full.
    ends = [p[middle] for p in pulses if p[middle] and p[middle].frames >= 2]
    full = 1 + sum((p.first_light >= 0.95) + (p.last_light >= 0.95) for p in ends)
    count = 3 + 2 * len(ends)
    gap = np.sqrt(full * (full + 1) / (count * (count + 1)))
    told = []
    for release, own_pulses in zip(found, pulses):
        if release[0] == 0 or release[1] == len(times):
            told.append((times[release[0]], None))
            continue
        stated = []
        for (_, own), p in zip(lanes, own_pulses):
            if p is None:
                stated.append(None)
                continue
            missed = min(np.sqrt(2 / 12) * gap, p.total * np.sqrt(gap / max(1 - gap, 0.01)))
            doubt, curve = doubt_of(p.total, missed, own, p, jitter, clipped)
            refused = (p.drops > 0 and p.total * interval < 1 / 128) or p.total < BLIND or not doubt <= LARGEST_DOUBT * p.total
            stated.append(None if refused else (p.total * interval, doubt * interval, curve * interval))
        if len(stated) == 3 and stated[0] and stated[2]:
            # Left and right differ beyond their doubts.
            own = sum(s[1] ** 2 - s[2] ** 2 for s in (stated[0], stated[2]))
            abs(stated[0][0] - stated[2][0]) > 2.576 * np.sqrt(max(own, 0))
        p = own_pulses[middle]
        start = times[p.first] + interval * 0.8 * (1 - np.clip(p.first_light, 0, 1)) if p else times[release[0]]
        told.append((start, stated[middle][0] if stated[middle] else None))
    return told


if __name__ == "__main__":
    table = clip()
    agreeing("frames", measure(*table), takes()["frames"])
    print(f"frames {median_ms(lambda: measure(*table))}")
