"""The shutter times of a minute of frames at 240 a second in NumPy: the same algorithm as `crates/timing/src/frames`, its yardstick.

Takes over: the frames' grid by a first-order loop and regression, missing and uneven frames; for each of three strips black and its
noise, open runs, spread, drift and a sunken plateau; lit frames and releases; each release's runs, sum, end frames, missing frames and
light that comes again; the duty learned from full end frames; time and doubt of each strip; the taper.
Leaves out: pixels, codes and tone curves (the table holds light), words of notices.

Argument: the folder with `takes.json`. The table is made here as the native run makes it. Prints `name milliseconds` and `agree-name n of m`.
"""

from dataclasses import dataclass

import numpy as np
from common import agreeing, least_ms, takes
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


def runs_of(places, numbers):
    """First and one after the last of unbroken runs of places: a missing frame ends a run."""
    if not len(places):
        return np.zeros((0, 2), int)
    cut = np.flatnonzero((np.diff(places) > 1) | (np.diff(numbers[places]) > 1)) + 1
    return np.stack([places[np.append(0, cut)], places[np.append(cut, len(places)) - 1] + 1], axis=1)


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
    runs = runs_of(np.flatnonzero(values > limit), numbers)
    runs = runs[runs[:, 1] - runs[:, 0] >= 3]
    sums, squares = running(values - black), running((values - black) ** 2)
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


def running(values):
    return np.concatenate([[0.0], np.cumsum(values)])


@dataclass
class Pulses:
    """What a strip saw of every release, all at once; not a number where it saw nothing. Times in intervals."""

    total: np.ndarray
    frames: np.ndarray
    first_light: np.ndarray
    last_light: np.ndarray
    noise: np.ndarray
    drops: np.ndarray
    first: np.ndarray
    again: np.ndarray


def pulses(light, own, starts, numbers):
    over = light - own.black
    lit = np.flatnonzero(over > own.threshold)
    # Runs of frames in a row, each within its release.
    release = np.searchsorted(starts, lit, side="right") - 1
    cut = np.flatnonzero((np.diff(lit) > 1) | (np.diff(release) > 0)) + 1
    begin, end = lit[np.append(0, cut)], lit[np.append(cut, len(lit)) - 1] + 1
    release = release[np.append(0, cut)]
    sums, squares = running(over), running(np.maximum(over, 0) ** 2)
    # The brightest run of each release, the last of equal ones.
    order = np.lexsort((sums[end] - sums[begin], release))
    best = order[np.append(np.flatnonzero(np.diff(release[order]) > 0), len(order) - 1)]
    of = release[best]
    first, last = begin[best], end[best]
    level = np.broadcast_to(own.open_at((first + last - 1) / 2), first.shape)
    earlier = (best > 0) & (release[best - 1] == of)
    later = (best + 1 < len(begin)) & (release[np.minimum(best + 1, len(begin) - 1)] == of)
    following = np.minimum(best + 1, len(begin) - 1)
    a = np.maximum(first - MARGIN, np.where(earlier, end[best - 1], 0))
    b = np.minimum(last + MARGIN, np.where(later, begin[following], len(light)))
    total = (sums[b] - sums[a]) / level
    noise = np.sqrt((b - a) * (own.dark_noise / level) ** 2 + (squares[b] - squares[a]) * (own.open_noise / level) ** 2)
    drops = np.zeros(len(first))
    # Frames that are missing within a pulse, one gap after another: there are few.
    gaps = np.diff(numbers) - 1
    for k in np.flatnonzero(gaps):
        n = int(np.searchsorted(a, k, side="right")) - 1
        if n >= 0 and k + 1 < b[n]:
            here, after = over[k] / level[n], over[k + 1] / level[n]
            total[n] += gaps[k] * (here + after) / 2
            open_there, lit_there = min(here, after) >= 0.97, max(over[k], over[k + 1]) > own.threshold
            drops[n] += 0 if open_there or not lit_there else gaps[k]
    again = np.where(later, (sums[end[following]] - sums[begin[following]]) / level, 0)
    whole = [np.full(len(starts), np.nan) for _ in range(8)]
    own_values = (
        np.maximum(total, 0),
        numbers[last - 1] - numbers[first] + 1,
        over[first] / level,
        over[last - 1] / level,
        noise,
        drops,
        first,
        again,
    )
    for values, there in zip(whole, own_values):
        values[of] = there
    return Pulses(*whole)


def doubts(p, gap, own, jitter, clipped):
    """Standard doubt of every time and what the tone curve has in it, in intervals."""
    t = np.maximum(p.total, 0)
    with np.errstate(divide="ignore", invalid="ignore"):
        curve = np.where(t >= 1, 0.5 * EXPONENT_DOUBT, EXPONENT_DOUBT * t * (t / 2 - np.log(t)))
    burnt = 0.03 * np.maximum(t, np.minimum(2 * t, 1)) if clipped else 0.0
    shared = curve**2 + (t * own.doubt) ** 2 + burnt**2 + FLOOR**2 + (t * CLOCK) ** 2
    missed = np.minimum(np.sqrt(2 / 12) * gap, t * np.sqrt(gap / max(1 - gap, 0.01)))
    return np.sqrt(shared + missed**2 + p.noise**2 + 2 * jitter**2 + p.drops * 0.3**2), curve


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
    starts, ends = lit[np.append(0, cut)], lit[np.append(cut, len(lit)) - 1] + 1
    seen = [pulses(light, own, starts, numbers) for light, own in lanes]
    main = seen[len(lanes) // 2]
    # An unknown gap, from how often an edge fell into it: two beliefs and every end frame that is full.
    edges = main.frames >= 2
    full = 1 + np.count_nonzero(main.first_light[edges] >= 0.95) + np.count_nonzero(main.last_light[edges] >= 0.95)
    count = 3 + 2 * np.count_nonzero(edges)
    gap = np.sqrt(full * (full + 1) / (count * (count + 1)))
    stated = []
    for (_, own), p in zip(lanes, seen):
        doubt, curve = doubts(p, gap, own, jitter, clipped)
        with np.errstate(invalid="ignore"):
            refused = (p.drops > 0) & (p.total * interval < 1 / 128)
            refused |= ~((p.total >= BLIND) & (doubt <= LARGEST_DOUBT * p.total))
        refused |= (starts == 0) | (ends == len(times))
        stated.append((np.where(refused, np.nan, p.total) * interval, doubt * interval, curve * interval))
    if len(stated) == 3:
        # Left and right differ beyond their doubts.
        own = sum(doubt**2 - curve**2 for _, doubt, curve in (stated[0], stated[2]))
        np.abs(stated[0][0] - stated[2][0]) > 2.576 * np.sqrt(np.maximum(own, 0))
    there = np.isfinite(main.first)
    first = np.where(there, main.first, starts).astype(int)
    opening = np.where(there, interval * 0.8 * (1 - np.clip(main.first_light, 0, 1)), 0)
    return [(start, time if np.isfinite(time) else None) for start, time in zip(times[first] + opening, stated[len(lanes) // 2][0])]


if __name__ == "__main__":
    table = clip()
    agreeing("frames", measure(*table), takes()["frames"])
    # As often as ours, which take a millisecond.
    print(f"frames {least_ms(lambda: measure(*table), 99)}")
