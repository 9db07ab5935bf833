"""The sound of a take up to its shots, in NumPy and SciPy: high-pass, energy, floor, onsets, what is no stop, groups, marks.

The same steps and limits as `crates/timing/src/sound/{signal,onsets,picker,not_a_stop,quality,clusters,align}.rs`. Not here: what
the shots' sounds say (`sound_pairs`, `sound_series`).
"""

from dataclasses import dataclass, field

import numpy as np
from scipy import fft
from scipy.signal import butter, sosfilt, sosfilt_zi

STEP_S, AFTER, BEFORE, APART = 0.125e-3, 6, 12, 8
RISE, ABOVE_FLOOR = 10**0.5, 10.0
BLOCK, AROUND, EVERY, LEAST_FLOOR = 40, 300, 16, 1e-10
TICKS, TICK_EVEN, TICK_ALIKE_DB, TICK_LONGEST_S, SELF_TIMER_S = 7, 0.15, 7.0, 0.35, 30e-3
MARGIN_S, SLOW_S, SPACING, TOGETHER_S, MOST_SHOTS = 45e-3, 0.12, 2.4, 0.22, 300
FURTHEST = 40


def decibels(mean_square):
    return 10 * np.log10(np.maximum(mean_square, 1e-20))


@dataclass
class Front:
    rate: float
    samples: np.ndarray
    at: np.ndarray = None
    level: np.ndarray = None
    rebound: np.ndarray = None
    floor_db: float = 0.0
    train: tuple = ()
    self_timer: int = 0

    def windows(self, starts, length):
        """Samples from each start on, silence where there are none."""
        places = np.asarray(starts, int)[:, None] + np.arange(length)
        inside = (places >= 0) & (places < len(self.samples))
        if inside.all():
            return self.samples[places]
        return np.where(inside, self.samples[np.clip(places, 0, len(self.samples) - 1)], np.float32(0))

    def read(self, start, length):
        if start >= 0 and start + length <= len(self.samples):
            return self.samples[start : start + length]
        return self.windows([start], length)[0]

    def levels(self, starts, length):
        part = self.windows(starts, length)
        return decibels(np.einsum("ij,ij->i", part, part, dtype=np.float64) / length)

    def keep(self, kept):
        self.at, self.level = self.at[kept], self.level[kept]


def is_clipped(x):
    size = np.abs(x)
    peak = size.max(initial=0)
    if peak < 0.02:
        return False
    places = np.flatnonzero(size >= 0.998 * peak)
    runs = np.split(places, np.flatnonzero(np.diff(places) > 1) + 1)
    return sum(len(run) for run in runs if len(run) >= 3) > 20


def floors(energy):
    whole = len(energy) // BLOCK * BLOCK
    blocks = energy[:whole].reshape(-1, BLOCK).mean(axis=1)
    if whole < len(energy):
        blocks = np.append(blocks, energy[whole:].mean())
    bins = np.minimum(np.maximum((decibels(blocks) + 120) * 2, 0).astype(np.uint16), 259)
    level = 10 ** ((np.arange(260) + 0.5) / 20 - 12)
    least = max(level[np.partition(bins, int(0.05 * len(bins)))[int(0.05 * len(bins))]], LEAST_FLOOR)
    # The quiet quarter of what lies within 300 blocks, told anew at every sixteenth.
    places = np.arange(0, len(bins), EVERY)
    padded = np.concatenate([np.full(AROUND, 999, np.uint16), bins, np.full(AROUND, 999, np.uint16)])
    around = np.lib.stride_tricks.sliding_window_view(padded, 2 * AROUND + 1)[places]
    count = np.minimum(places + AROUND + 1, len(bins)) - np.maximum(places - AROUND, 0)
    rank = (0.25 * count).astype(int)
    quiet = np.take_along_axis(np.sort(around, axis=1), rank[:, None], axis=1)[:, 0]
    return np.repeat(np.maximum(level[quiet], least), EVERY)[: len(bins)]


def rises(energy, floor):
    sums = np.concatenate([[0.0], np.cumsum(energy)])
    m = np.arange(BEFORE // 3, len(energy) - AFTER)
    after = (sums[m[0] + AFTER : m[-1] + 1 + AFTER] - sums[m[0] : m[-1] + 1]) / AFTER
    early = np.maximum(m - BEFORE, 0)
    before = (sums[m[0] : m[-1] + 1] - sums[early]) / (m - early)
    own = np.repeat(floor, BLOCK)[m[0] : m[-1] + 1]
    rise = np.zeros(len(energy) + 2 * APART)
    rise[APART + m[0] : APART + m[-1] + 1] = after / np.maximum(before, own)
    high = m[(rise[APART + m[0] : APART + m[-1] + 1] >= RISE) & (after >= ABOVE_FLOOR * own)]
    near = rise[high[:, None] + np.arange(2 * APART + 1)]
    top = near[:, APART : APART + 1]
    return high[(near[:, :APART] < top).all(axis=1) & (near[:, APART + 1 :] <= top).all(axis=1)]


def onset(front, rough):
    """Akaike's criterion: the sample at which the mean square changes most clearly."""
    before, after = round(2e-3 * front.rate), round(1e-3 * front.rate)
    length = before + after
    square = front.windows(rough - before, length).astype(np.float64) ** 2
    sums = np.cumsum(square, axis=1)
    k = np.arange(4, length - 3)
    first = sums[:, k - 1]
    rest = np.maximum(sums[:, -1:] - first, 0)
    value = k * np.log(first / k + 1e-14) + (length - k) * np.log(rest / (length - k) + 1e-14)
    return rough - before + k[np.argmin(value, axis=1)]


def front_of(rate, x):
    sos = butter(4, 2000, "highpass", fs=rate, output="sos")
    high, _ = sosfilt(sos, x, zi=sosfilt_zi(sos) * x[0])
    front = Front(rate, high.astype(np.float32))
    step = round(rate * STEP_S)
    parts = front.samples[: len(x) // step * step].reshape(-1, step)
    energy = np.einsum("ij,ij->i", parts, parts, dtype=np.float64) / step
    floor = floors(energy)
    at = onset(front, rises(energy, floor) * step)
    level = front.levels(at, round(3e-3 * rate))
    order = np.argsort(at, kind="stable")
    at, level = at[order].tolist(), level[order].tolist()
    # Two rises may be refined to one moment; the louder stands for both.
    kept = []
    for pair in zip(at, level):
        if kept and pair[0] - kept[-1][0] < 0.4e-3 * rate:
            if pair[1] > kept[-1][1]:
                kept[-1] = pair
        else:
            kept.append(pair)
    front.at, front.level = np.array([p[0] for p in kept], float), np.array([p[1] for p in kept])
    front.floor_db = decibels(np.partition(floor, len(floor) // 2)[len(floor) // 2])
    return front


def beeps(front):
    start, length = front.at.astype(int) + round(4e-3 * front.rate), round(20e-3 * front.rate)
    part = length // 5
    held = front.levels(start, length)
    even = np.abs(held - front.level) <= 4
    for k in range(5):
        even[even] = np.abs(front.levels(start[even] + k * part, part) - held[even]) <= 2.5
    window = (0.5 - 0.5 * np.cos(2 * np.pi * (np.arange(length) + 0.5) / length)).astype(np.float32)
    silent_until, keep = -1.0, np.ones(len(front.at), bool)
    if not even.any():
        return 0
    points = 1 << (length - 1).bit_length()
    for i, at in enumerate(front.at):
        if at < silent_until:
            keep[i] = False
        elif even[i]:
            power = np.abs(fft.rfft(front.read(start[i], length) * window, points)[:-1]) ** 2
            top = int(power.argmax())
            if power[max(top - 2, 0) : top + 3].sum() < 0.8 * power.sum():
                continue
            step = round(2e-3 * front.rate)
            ends = start[i] + np.arange(step, round(1.5 * front.rate), step)
            over = np.flatnonzero(front.levels(ends, step) <= held[i] - 10)
            silent_until = (ends[over[0]] if len(over) else ends[-1] + step) + 4e-3 * front.rate
            keep[i] = False
    front.keep(keep)
    return int((~keep).sum())


def clockwork(front):
    """Runs of even and alike ticks. What comes next depends on what was taken before: a loop over the events."""
    from bisect import insort

    at, level, taken = front.at.tolist(), front.level.tolist(), [False] * len(front.at)
    longest, slow, train = TICK_LONGEST_S * front.rate, 0, []
    for first in range(len(at)):
        if taken[first]:
            continue
        run, steps, levels = [first], [], [level[first]]
        middle = level[first]
        for i in range(first + 1, len(at)):
            louder = level[i] - middle
            if louder < -TICK_ALIKE_DB or taken[i]:
                continue
            if louder > TICK_ALIKE_DB:
                break
            if len(run) < 2:
                if at[i] - at[first] > longest:
                    break
            else:
                step = at[i] - at[run[-2]]
                if step > longest:
                    break
                if steps:
                    even = step / steps[len(steps) // 2]
                    if even > 1 + TICK_EVEN:
                        break
                    if even < 1 - TICK_EVEN:
                        continue
                if len(steps) < 64:
                    insort(steps, step)
            if len(levels) < 64:
                insort(levels, level[i])
                middle = levels[len(levels) // 2]
            run.append(i)
        if len(run) > TICKS:
            if steps[len(steps) // 2] >= SELF_TIMER_S * front.rate:
                slow += len(run)
            else:
                train.extend(run)
            for i in run:
                taken[i] = True
    front.train, front.self_timer = (front.at[train], front.level[train]), slow
    front.keep(~np.array(taken, bool))


def rebounds(front):
    front.rebound = np.zeros(len(front.at), bool)
    for back in range(1, len(front.at)):
        near = front.at[back:] - front.at[:-back] < 8e-3 * front.rate
        if not near.any():
            break
        front.rebound[back:] |= near & (front.level[:-back] > front.level[back:] + 11)


def is_narrow(front):
    loudest = front.at[np.argsort(-front.level, kind="stable")[:8]].astype(int)
    n = 1 << (round(10e-3 * front.rate) - 1).bit_length()
    power = (np.abs(fft.rfft(front.windows(loudest, n), axis=1)[:, :-1]) ** 2).sum(axis=0)
    high = power[np.arange(n // 2) * front.rate / n > 4500].sum()
    return bool(high < 3e-3 * power.sum())


@dataclass
class Heard:
    start: float
    end: float
    apart: tuple = None
    marked: int = None
    short: bool = False
    events: np.ndarray = field(default=None, repr=False)

    @property
    def last(self):
        return self.apart[1] if self.apart else self.end


def outside(front, shots, at):
    margin = MARGIN_S * front.rate
    starts = np.array([shot.start - margin for shot in shots])
    ends = np.array([shot.last + margin for shot in shots])
    last = np.searchsorted(starts, at, side="right") - 1
    return int(np.sum((last < 0) | (at > ends[np.maximum(last, 0)]))) if shots else len(at)


def is_busy(front, shots):
    train_at, train_level = front.train
    loudest = np.concatenate([front.level, train_level]).max(initial=-np.inf)
    lasting = sum((shot.last - shot.start) / front.rate + 2 * MARGIN_S for shot in shots)
    count = outside(front, shots, front.at[front.level > loudest - 26])
    count += outside(front, shots, train_at[train_level > loudest - 26])
    return count / max(len(front.samples) / front.rate - lasting, 0.25) > 4


def clusters(front):
    def group(threshold):
        strong = front.level >= threshold
        at, level = front.at[strong], front.level[strong]
        if not len(at):
            return np.zeros((3, 0))
        begins = np.concatenate([[0], np.flatnonzero(np.diff(at) >= TOGETHER_S * front.rate) + 1])
        ends = np.append(begins[1:], len(at)) - 1
        return np.array([at[begins], at[ends], np.maximum.reduceat(level, begins)])

    levels = np.sort(group(-np.inf)[2])[::-1]
    if not len(levels):
        return np.zeros((3, 0))
    levels = levels[levels >= levels[0] - 24]
    return group(levels[len(levels) // 2] - 16)


def align(matched, extra, missing):
    """The cheapest way to put things heard and marks side by side, both in order. `matched[i, n, k]`: things i to i + n for mark k.

    One thing after another, all marks at once; a mark without a thing costs the same for each, so that those are a running least.
    """
    things, furthest, marks = matched.shape
    cost = np.full((things + 1, marks + 1), np.inf)
    step = np.full((things + 1, marks + 1), -1)  # 0 extra, n > 0 matched with n things, −2 missing
    cost[0, 0] = 0
    ramp = missing * np.arange(marks + 1)
    for i in range(things + 1):
        level = np.minimum.accumulate(cost[i] - ramp) + ramp
        skipped = level < cost[i] - 1e-12
        cost[i][skipped], step[i][skipped] = level[skipped], -2
        if i == things:
            break
        here = cost[i] + extra[i]
        better = here < cost[i + 1]
        cost[i + 1][better], step[i + 1][better] = here[better], 0
        most = min(furthest, things - i)
        offers = cost[i][None, :-1] + matched[i, :most]
        rows = np.flatnonzero(np.isfinite(offers).any(axis=1))
        for n in rows:
            better = offers[n] < cost[i + n + 1, 1:]
            cost[i + n + 1, 1:][better], step[i + n + 1, 1:][better] = offers[n][better], n + 1
    i, k, found = things, marks, []
    while i > 0 or k > 0:
        how = step[i, k]
        if how == -2:
            k -= 1
        elif how == 0:
            i -= 1
        elif how > 0:
            found.append((i - how, i - 1, k - 1))
            i, k = i - how, k - 1
        else:
            break
    return found[::-1]


def spacing_costs(groups, marked, rate):
    """Costs of clusters `first` to `first + n` for each mark, from their spans and spacings."""
    start, end, level = groups
    count, usual = len(start), np.sort(level)[len(level) // 2]
    n = np.arange(min(FURTHEST, count))
    last = np.minimum(np.arange(count)[:, None] + n, count - 1)
    valid = np.arange(count)[:, None] + n < count
    spacing = ((start[last] - start[:, None]) / rate)[:, :, None]
    with np.errstate(divide="ignore"):
        off = np.abs(np.log2(spacing / marked))
    weak = np.maximum(usual - np.minimum(level[:, None], level[last]) - 10, 0)[:, :, None] * 0.1
    cost = 0.5 * off + (n - 1)[None, :, None] * 0.15 + weak
    cost[~((off <= np.log2(SPACING)) & (marked >= SLOW_S) & valid[:, :, None])] = np.inf
    span = ((end - start) / rate)[:, None]
    short = np.where(span < marked / SPACING - 4e-3, np.where(marked >= SLOW_S, 1.8, 0.8), 0.0)
    longest = 2.83 * marked + 90e-3
    cost[:, 0] = short + np.where(span > longest, np.minimum(span / longest - 1, 1), 0)
    return cost, np.maximum(1.4 - 0.1 * np.maximum(usual - level, 0), 0.3)


def shots(front, marked):
    groups = clusters(front)
    if groups.shape[1] > 2 * MOST_SHOTS:
        groups = groups[:, groups[2] > np.sort(groups[2])[::-1][2 * MOST_SHOTS]]
    matches = {}
    if len(marked) and groups.shape[1]:
        cost, extra = spacing_costs(groups, np.asarray(marked), front.rate)
        matches = {first: (last, mark) for first, last, mark in align(cost, extra, 1.7)}
    found, c = [], 0
    while c < groups.shape[1]:
        last, mark = matches.get(c, (c, None))
        apart = (groups[0, last], groups[1, last]) if last > c else None
        heard = Heard(groups[0, c], groups[1, c], apart, mark)
        collect(front, marked, heard)
        found.append(heard)
        c = last + 1
    return found[:MOST_SHOTS]


def collect(front, marked, heard):
    at, rate = front.at, front.rate
    marked_s = marked[heard.marked] if heard.marked is not None else None
    if marked_s is not None and heard.apart is None:
        longest = (2.83 * marked_s + 90e-3) * rate
        if heard.end - heard.start > longest:
            first, last = np.searchsorted(at, heard.start), np.searchsorted(at, heard.end, side="right")
            energy = np.concatenate([[0], np.cumsum(10 ** (front.level[first:last] / 10))])
            until = np.searchsorted(at[first:last], at[first:last] + longest, side="right")
            heard.start = at[first + int(np.argmax(energy[until] - energy[:-1]))]
            inside = at[at <= min(heard.start + longest, heard.end)]
            heard.end = max(inside[-1], heard.start)
    if marked_s is not None:
        heard.short = (heard.last - heard.start) / rate < marked_s / SPACING - 4e-3
    first = np.searchsorted(at, heard.start - MARGIN_S * rate)
    heard.events = np.arange(first, np.searchsorted(at, heard.last + MARGIN_S * rate, side="right"))
