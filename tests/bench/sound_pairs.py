"""One shot of a sound by itself, in NumPy: its impacts in pairs, weighed; what they say alone; and the offset they elect together.

The same weights and limits as `crates/timing/src/sound/{pair,verdict,offset,doubt}.rs` for cloth curtains without a mirror. Not here:
the templates of a series (`sound_series`).
"""

from dataclasses import dataclass

import numpy as np

LOUDEST, AROUND_STOPS, BLIND_S = 36, 1.5, (0.8e-3, 6.0)
TRAVEL_S, CLOTH_TRAVEL_S = (1.8e-3, 16e-3), (6.75e-3, 18.75e-3)
BEST_LIKENESS, BEHIND = 0.85, 0.45
# Pairs whose sounds are correlated in one go.
BATCH = 16
SAME_S, VOTES, OTHER_S = 0.25e-3, 14, 1.2e-3
UNKNOWN_CENTRE_S, KNOWN_CENTRE_S = 0.4 * 0.05 * 12e-3, 0.06e-3


@dataclass
class Pairs:
    """Pairs of a shot, the best first; `first_s` and `second_s` are the travels, not a number where none were heard."""

    a: np.ndarray
    b: np.ndarray
    time_s: np.ndarray
    score: np.ndarray
    likeness: np.ndarray
    doublet: np.ndarray
    first_s: np.ndarray
    second_s: np.ndarray
    arrivals: np.ndarray

    def take(self, order):
        return Pairs(*(getattr(self, name)[order] for name in self.__dataclass_fields__))

    def like_cloth(self):
        mean = 0.5 * (self.first_s + self.second_s)
        return (mean >= CLOTH_TRAVEL_S[0]) & (mean <= CLOTH_TRAVEL_S[1])

    def centre_s(self):
        return self.time_s + np.where(self.arrivals, -0.4, 0.6) * (self.second_s - self.first_s)


def likeness(front, at_a, at_b):
    """The best normalised correlation of two impacts' sounds, and by how much later the second one then is [s]; many at once."""
    rate = front.rate
    length = int(4e-3 * rate)
    lead, shift = round(0.2e-3 * rate), round(0.7e-3 * rate)
    window = np.maximum(np.minimum(4e-3 * rate, 0.8 * (at_b - at_a)), 4).astype(int)
    a, b = np.rint(at_a).astype(int), np.rint(at_b).astype(int)
    first = front.windows(a - lead, length) * (np.arange(length) < window[:, None])
    second = front.windows(b - lead - shift, length + 2 * shift)
    lags = np.lib.stride_tricks.sliding_window_view(second, length, axis=1)
    product = np.matmul(lags, first[:, :, None])[:, :, 0].astype(np.float64)
    sums = np.concatenate([np.zeros((len(a), 1)), np.cumsum(second.astype(np.float64) ** 2, axis=1)], axis=1)
    lag = np.arange(2 * shift + 1)
    energy = np.take_along_axis(sums, lag + window[:, None], axis=1) - sums[:, : 2 * shift + 1]
    size = np.sqrt(np.einsum("ij,ij->i", first, first, dtype=np.float64)[:, None] * np.maximum(energy, 0))
    curve = np.where(size > 1e-15, np.clip(product / np.maximum(size, 1e-300), -1, 1), 0)
    # The last of equal ones.
    top = curve.shape[1] - 1 - np.argmax(curve[:, ::-1], axis=1)
    rows = np.arange(len(a))
    inner = np.clip(top, 1, curve.shape[1] - 2)
    left, middle, right = curve[rows, inner - 1], curve[rows, inner], curve[rows, inner + 1]
    bend = left - 2 * middle + right
    summit = np.where((bend < 0) & (inner == top), np.clip(0.5 * (left - right) / np.where(bend < 0, bend, -1), -0.5, 0.5), 0)
    rounding = (b - a) - (at_b - at_a)
    return np.maximum(curve[rows, top], 0), (top + summit - shift + rounding) / rate


def doublet(near, level, a, b):
    """Whether both curtains were heard at the other end of their travel too: the evidence, both travels, whether they are arrivals."""
    best = (0.0, -np.inf, np.nan, np.nan, False)
    for before in (True, False):
        (i, travel_a), (j, travel_b) = near[before][a], near[before][b]
        if not len(i) or not len(j):
            continue
        tolerance = np.maximum(0.15e-3, 0.035 * travel_a)
        evidence = 1 - np.minimum(len(i) * len(j) * 2 * tolerance / (TRAVEL_S[1] - TRAVEL_S[0]), 1)
        fits = np.abs(travel_a[:, None] - travel_b) <= tolerance[:, None]
        fits &= np.abs((level[i] - level[a])[:, None] - (level[j] - level[b])) <= 9
        fits &= (i != b)[:, None] & (j != a) & (i[:, None] != j)
        for row, column in zip(*np.nonzero(fits)):
            loud = level[i[row]] + level[j[column]]
            if evidence[row] > best[0] or (evidence[row] == best[0] > 0 and loud > best[1]):
                best = (evidence[row], loud, travel_a[row], travel_b[column], before)
    return best


def pairs(front, events, marked_s):
    """Every pair of a shot's events that may be one, the best first."""
    at, level, rate = front.at[events], front.level[events], front.rate
    usable = np.flatnonzero(~front.rebound[events])
    loud = usable[np.argsort(-level[usable], kind="stable")[:LOUDEST]]
    loudest = level[loud[0]] if len(loud) else 0.0
    loud = np.sort(loud)
    shortest, longest = (marked_s / 2**AROUND_STOPS, marked_s * 2**AROUND_STOPS) if marked_s else BLIND_S
    first, second = np.triu_indices(len(loud), 1)
    a, b = loud[first], loud[second]
    time_s = (at[b] - at[a]) / rate
    fits = (time_s >= shortest) & (time_s <= longest)
    a, b, time_s = a[fits], b[fits], time_s[fits]
    unequal = np.abs(level[a] - level[b])
    quiet = np.maximum(loudest - 3 - level[a], 0) + np.maximum(loudest - 3 - level[b], 0)
    off = np.log2(time_s / marked_s) if marked_s else 0.0
    base = -0.015 * unequal - 0.04 * np.maximum(unequal - 6, 0) - 0.03 * quiet - 0.12 * off * off
    order = np.argsort(-base, kind="stable")
    a, b, time_s, base = a[order], b[order], time_s[order], base[order]
    apart = (at[None, :] - at[:, None]) / rate
    near = {True: [], False: []}
    for before, travel in ((True, -apart), (False, apart)):
        there = (travel >= TRAVEL_S[0]) & (travel <= TRAVEL_S[1])
        for row in range(len(at)):
            places = np.flatnonzero(there[row])
            places = places[::-1] if before else places
            near[before].append((places, travel[row, places]))
    # Doublets and likeness cost time: pairs that could not come near the best even with both are left out, batch by batch.
    best, parts = -np.inf, []
    for begin in range(0, len(a), BATCH):
        if base[begin] + 0.35 + BEST_LIKENESS < best - BEHIND:
            break
        n = np.arange(begin, min(begin + BATCH, len(a)))
        n = n[base[n] + 0.35 + BEST_LIKENESS >= best - BEHIND]
        found = np.array([doublet(near, level, i, j) for i, j in zip(a[n], b[n])])
        score = base[n] + 0.35 * found[:, 0]
        kept = score + BEST_LIKENESS >= best - BEHIND
        n, found, score = n[kept], found[kept], score[kept]
        if not len(n):
            continue
        alike, shift_s = likeness(front, at[a[n]], at[b[n]])
        moved = (alike >= 0.5) & (np.abs(shift_s) <= 0.12e-3)
        own = np.where(moved, np.maximum(time_s[n] + shift_s, shortest * 0.5), time_s[n])
        score = score + alike
        best = max(best, score.max())
        parts.append(Pairs(a[n], b[n], own, score, alike, found[:, 0], found[:, 2], found[:, 3], found[:, 4] > 0))
    if not parts:
        empty = np.zeros(0)
        return Pairs(*([empty.astype(int)] * 2 + [empty] * 6 + [empty > 0]))
    whole = Pairs(*(np.concatenate([getattr(part, name) for part in parts]) for name in Pairs.__dataclass_fields__))
    return whole.take(np.argsort(-whole.score, kind="stable"))


def alone(front, events, found, marked_s):
    """The time [s] that one shot's pairs give by themselves with its doubt [s], or nothing."""
    if not len(found.a):
        return None
    time, level = found.time_s[0], front.level[events]
    with np.errstate(divide="ignore", invalid="ignore"):
        other = (np.abs(found.time_s - time) > OTHER_S) & (np.abs(np.log2(found.time_s / time)) > 0.08)
    margin = found.score[0] - (found.score[other][0] if other.any() else -np.inf)
    extra = 0.0 if marked_s else 0.1
    alike = found.likeness[0] >= (0.5 if time < 8e-3 else 0.4) - 0.15 * found.doublet[0] + extra
    clear = margin >= (0.3 if time > 0.3 else 0.2) + extra
    rest = np.delete(level, [found.a[0], found.b[0]]).max(initial=-np.inf)
    hidden = np.isnan(found.first_s[0]) and CLOTH_TRAVEL_S[0] <= time <= CLOTH_TRAVEL_S[1]
    by_loudness = marked_s and time > 5e-3 and min(level[found.a[0]], level[found.b[0]]) >= rest + 3
    by_loudness = by_loudness and not (hidden and found.likeness[0] < 0.5)
    anybody = not marked_s and (hidden or len(events) < 3)
    if time < 2.5e-3 or anybody or not (by_loudness or (alike and clear)):
        return None
    if hidden:
        doubt = 1e-3
    elif found.likeness[0] >= 0.5 or found.doublet[0] >= 0.5:
        doubt = 0.05e-3
    else:
        doubt = 0.1e-3 if time > 30e-3 else 1e-3
    if found.like_cloth()[0]:
        return found.centre_s()[0], np.hypot(doubt, KNOWN_CENTRE_S)
    return time, np.hypot(doubt, UNKNOWN_CENTRE_S)


def elect(intervals, all_pairs, marks):
    """The one offset between a series' intervals and its times: edge, centre and its doubt, scatter, supporters; or nothing.

    `marks` holds the marked times that each shot may be.
    """
    if not len(intervals):
        return None
    offsets = np.full((len(intervals), VOTES), np.nan)
    scores = np.full((len(intervals), VOTES), -np.inf)
    for row, (interval, found) in enumerate(zip(intervals, all_pairs)):
        count = min(VOTES, len(found.a))
        offsets[row, :count] = found.time_s[:count] - interval
        scores[row, :count] = np.minimum(found.score[:count], 1.2)
    flat = np.sort(offsets[np.isfinite(offsets)])
    if not len(flat):
        return None
    candidates = [flat[0]]
    for value in flat[1:]:
        if value - candidates[-1] >= 0.03e-3:
            candidates.append(value)
    candidates = np.array(candidates)
    near = np.abs(offsets[None] - candidates[:, None, None]) <= SAME_S
    votes = np.where(near & (scores > 0)[None], scores[None], 0).max(axis=2)
    time = np.asarray(intervals)[None, :] + candidates[:, None]
    off = np.full(time.shape, np.inf)
    for k in range(max(len(own) for own in marks)):
        mark = np.array([own[min(k, len(own) - 1)] for own in marks])
        x = np.where(time > 1e-5, np.abs(np.log2(np.maximum(time, 1e-5) / mark)) / 0.35, 30)
        off = np.minimum(off, np.where(x <= 1, 0.5 * x * x, x - 0.5))
    totals = (votes - 0.22 * np.minimum(off, 30)).sum(axis=1)
    top = len(totals) - 1 - int(np.argmax(totals[::-1]))
    best = candidates[top]
    following = totals[np.abs(candidates - best) > OTHER_S].max(initial=0)
    if totals[top] <= 0 or totals[top] < 1.15 * following:
        return None
    weights, sums, centres = [], [], []
    for row, found in enumerate(all_pairs):
        fits = np.flatnonzero((np.abs(offsets[row] - best) <= SAME_S) & (scores[row] > 0))
        if len(fits):
            pick = fits[len(fits) - 1 - int(np.argmax(scores[row, fits][::-1]))]
            weights.append(scores[row, pick])
            sums.append(offsets[row, pick])
            if found.like_cloth()[pick]:
                centres.append(found.centre_s()[pick] - intervals[row])
    weights, sums, centres = np.array(weights), np.array(sums), np.sort(centres)
    if len(weights) < 2 or 2 * len(weights) < len(intervals):
        return None
    edge = np.average(sums, weights=weights)
    scatter = np.sqrt(np.average((sums - edge) ** 2, weights=weights))
    centre, doubt = edge, UNKNOWN_CENTRE_S
    if len(centres):
        middle = centres[len(centres) // 2]
        if np.sum(np.abs(centres - middle) < 0.12e-3) >= 2 and abs(middle - edge) < 3 * UNKNOWN_CENTRE_S:
            centre, doubt = middle, KNOWN_CENTRE_S
    return edge, centre, doubt, scatter, len(weights)
