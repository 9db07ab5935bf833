"""A series of shots by their sounds, in NumPy and SciPy: a camera's own opening and closing, cut out of one shot and found in all.

The same steps and limits as `crates/timing/src/sound/{series,templates,rows}.rs`, with correlations by `scipy.fft` in single
precision as ours are. Not here: pairs of impacts (`sound_pairs`).
"""

from dataclasses import dataclass

import numpy as np
from scipy import fft

LEAST_GAIN, UNEQUAL_GAIN, LEAST_SHARE, LEAST_MARGIN, REPEATS = 0.15, 5.0, 0.18, 0.03, 0.3
PEAKS, LEAST_PEAK = 10, 0.12


class Region:
    def __init__(self, front, start, end):
        self.start, self.length = int(start), int(max(end - start, 1))
        samples = front.read(self.start, self.length)
        self.energy = np.concatenate([[0.0], np.cumsum(samples.astype(np.float64) ** 2)])
        self.points = fft.next_fast_len(self.length + round(48e-3 * front.rate) + 2, real=True)
        self.spectrum = fft.rfft(samples, self.points)

    def between(self, start, end):
        a, b = (min(max(at - self.start, 0), self.length) for at in (start, end))
        return max(self.energy[b] - self.energy[a], 0.0)


class Prepared:
    def __init__(self, front, heard, low_s, high_s):
        rate = front.rate
        before, after, longest = 30e-3 * rate, 45e-3 * rate, 0.34 * rate
        start, end = heard.start - before, heard.end + after
        self.second, first_end = None, end
        if heard.apart:
            self.second = Region(front, heard.apart[0] - before, min(heard.apart[1] + after, heard.apart[0] + longest))
            first_end = min(end, start + longest)
        elif end - start > 2 * longest:
            self.second = Region(front, end - longest, end)
            first_end = min(end, start + longest)
        self.first = Region(front, start, first_end)
        self.low, self.high = int(low_s * rate), int(high_s * rate)


@dataclass
class Fit:
    opening: float
    interval: float
    share: float
    margin: float
    gains: tuple

    @property
    def is_clear(self):
        return self.share >= LEAST_SHARE and self.margin >= LEAST_MARGIN


def summit(curve):
    bend = curve[0] - 2 * curve[1] + curve[2]
    return min(max(0.5 * (curve[0] - curve[2]) / bend, -0.5), 0.5) if bend < 0 else 0.0


def peaks(curve, apart):
    least = LEAST_PEAK * max(curve.max(initial=0), 0)
    inner = curve[1:-1]
    tops = np.flatnonzero((inner > least) & (inner >= curve[:-2]) & (inner > curve[2:])) + 1
    tops = tops[np.argsort(-curve[tops], kind="stable")]
    chosen = []
    for top in tops.tolist():
        if all(abs(other - top) >= apart for other in chosen):
            chosen.append(top)
            if len(chosen) == PEAKS:
                break
    return chosen


class Templates:
    def __init__(self, opening, closing):
        self.opening, self.closing = opening, closing
        self.e_o, self.e_c = (float(np.dot(t.astype(np.float64), t)) for t in (opening, closing))
        n = fft.next_fast_len(len(opening) + len(closing), real=True)
        product = fft.irfft(fft.rfft(opening, n) * np.conj(fft.rfft(closing, n)), n)
        self.g = np.roll(product, len(closing) - 1)[: len(opening) + len(closing) - 1]
        det = self.e_o * self.e_c - self.g.astype(np.float64) ** 2
        alike = det <= 0.02 * self.e_o * self.e_c
        self.over_det = np.where(alike, 0, 1 / np.where(alike, 1, det)).astype(np.float32)
        # The rows of the inverse of [[E_O, g], [g, E_C]], for every interval at which both overlap.
        self.inverse = self.e_c * self.over_det, self.g * self.over_det, self.e_o * self.over_det
        self.spectra = {}

    @staticmethod
    def of(opening, closing):
        if min(np.dot(opening, opening), np.dot(closing, closing)) < 1e-12:
            return None
        return Templates(opening, closing)

    @staticmethod
    def cut(front, opening, closing):
        lead, tail, longest = 1.5e-3 * front.rate, 18e-3 * front.rate, 48e-3 * front.rate
        parts = []
        for (first, last), end in ((opening, closing[0] - lead), (closing, np.inf)):
            start = first - lead
            length = min(last + tail, start + longest, end) - start
            if length <= 8:
                return None
            parts.append(front.read(int(start), int(length)))
        return Templates.of(*parts)

    @staticmethod
    def impacts(front, opening, closing):
        return Templates.of(*(front.read(int(at - 0.4e-3 * front.rate), round(7.8e-3 * front.rate)) for at in (opening, closing)))

    def correlate(self, region):
        n = region.points
        if n not in self.spectra:
            self.spectra[n] = np.conj(fft.rfft(np.stack([np.pad(t, (0, n - len(t))) for t in (self.opening, self.closing)])))
        return fft.irfft(region.spectrum * self.spectra[n], n)[:, : region.length]

    def overlap(self, interval):
        place = interval + len(self.closing) - 1
        return (float(self.g[place]), float(self.over_det[place])) if 0 <= place < len(self.g) else None

    def gains(self, r_o, r_c, interval):
        beside = self.overlap(interval)
        if beside is None:
            return r_o / self.e_o, r_c / self.e_c
        g, over_det = beside
        return (r_o * self.e_c - r_c * g) * over_det, (r_c * self.e_o - r_o * g) * over_det

    def explained(self, r_o, r_c, interval):
        a, b = self.gains(r_o, r_c, interval)
        fits = a >= LEAST_GAIN and b >= LEAST_GAIN and a <= UNEQUAL_GAIN * b and b <= UNEQUAL_GAIN * a
        return a * r_o + b * r_c if fits else 0.0

    def row(self, r_o, r_c, alone, first):
        """What is explained with one held, for intervals from `first` on: alone outside the overlap, by least squares within."""
        values = alone
        low, high = (min(max(at - first, 0), len(alone)) for at in (1 - len(self.closing), len(self.opening)))
        if low < high:
            place = first + low + len(self.closing) - 1
            oo, oc, cc = (part[place : place + high - low] for part in self.inverse)
            r_o, r_c = (r[low:high] if isinstance(r, np.ndarray) else r for r in (r_o, r_c))
            a, b = r_o * oo - r_c * oc, r_c * cc - r_o * oc
            least, most = np.minimum(a, b), np.maximum(a, b)
            there = (least >= LEAST_GAIN) & (most <= UNEQUAL_GAIN * least)
            values[low:high] = np.where(there, a * r_o + b * r_c, 0)
        return values

    def find(self, shot, rate):
        if shot.high < shot.low:
            return None
        r_o, r_c = self.correlate(shot.first)
        second = shot.second or shot.first
        if shot.second:
            r_c = self.correlate(shot.second)[1]
        offset, low, high = second.start - shot.first.start, shot.low, shot.high
        minus = np.float32(-np.inf)
        alone_o = np.where(r_o > LEAST_GAIN * self.e_o, r_o * r_o * np.float32(1 / self.e_o), minus)
        alone_c = np.where(r_c > LEAST_GAIN * self.e_c, r_c * r_c * np.float32(1 / self.e_c), minus)
        apart = int(0.4e-3 * rate)
        peaks_o, peaks_c = peaks(r_o, apart), peaks(r_c, apart)
        cells = np.zeros(high - low + 1, np.float32)
        for i in peaks_o:
            start, end = max(i + low - offset, 0), min(i + high - offset + 1, len(r_c))
            if start < end:
                first = start + offset - i
                values = self.row(r_o[i], r_c[start:end], alone_o[i] + alone_c[start:end], first)
                part = cells[first - low : first - low + end - start]
                np.maximum(part, values, out=part)
        for j in peaks_c:
            start, end = max(j + offset - high, 0), min(j + offset - low + 1, len(r_o))
            if start < end:
                # Later openings make shorter intervals.
                first = j + offset - end + 1
                values = self.row(r_o[start:end][::-1], r_c[j], alone_c[j] + alone_o[start:end][::-1], first)
                part = cells[first - low : first - low + end - start]
                np.maximum(part, values, out=part)
        best = float(cells.max(initial=0))
        if best <= 0:
            return None
        place = len(cells) - 1 - int(np.argmax(cells[::-1]))
        interval = place + low

        def at(i, d):
            j = i + d - offset
            inside = 0 <= i < len(r_o) and 0 <= j < len(r_c)
            return self.explained(float(r_o[i]), float(r_c[j]), d) if inside else None

        openings = [(at(i, interval), -i) for i in peaks_o + [j + offset - interval for j in peaks_c]]
        openings = [opening for opening in openings if opening[0] is not None]
        if not openings:
            return None
        i = -max(openings)[1]
        before, behind = max(int(np.ceil(place - 1.2e-3 * rate)), 0), min(int(place + 1.2e-3 * rate) + 1, len(cells))
        following = max(float(cells[:before].max(initial=0)), float(cells[behind:].max(initial=0)))
        ends = [at(i, interval + k) for k in (-1, 0, 1)]
        begins = [at(i + k, interval - k) for k in (-1, 0, 1)]
        closing_off = summit(ends) if None not in ends else 0.0
        opening_off = summit(begins) if None not in begins else 0.0
        opening = i + shot.first.start
        closing = opening + interval
        opening_end, closing_end = opening + len(self.opening), closing + len(self.closing)
        covered = shot.first.between(opening, opening_end) + second.between(closing, closing_end)
        if max(opening, closing) < min(opening_end, closing_end):
            covered -= shot.first.between(max(opening, closing), min(opening_end, closing_end))
        covered = max(covered, 1e-20)
        j = i + interval - offset
        return Fit(
            opening + opening_off,
            interval + closing_off - opening_off,
            best / covered,
            (best - following) / covered,
            self.gains(float(r_o[i]), float(r_c[j]), interval),
        )

    def averaged(self, front, fits):
        at = np.rint([fit.opening for fit in fits]).astype(int)
        interval = np.rint([fit.interval for fit in fits]).astype(int)
        a, b = np.array([fit.gains for fit in fits]).T
        means = []
        for start, own, other, shift, gain, beside in (
            (at, self.opening, self.closing, interval, a, b),
            (at + interval, self.closing, self.opening, -interval, b, a),
        ):
            samples = front.windows(start, len(own))
            place = np.arange(len(own)) - shift[:, None]
            inside = (place >= 0) & (place < len(other))
            samples = samples - beside[:, None] * np.where(inside, other[np.clip(place, 0, len(other) - 1)], 0)
            means.append(((gain[:, None] * samples).sum(axis=0) / (gain**2).sum()).astype(np.float32))
        return Templates.of(*means)


def strong(front, heard, threshold):
    level = front.level[heard.events]
    return front.at[heard.events][level >= level.max(initial=-np.inf) - threshold]


def gap(front, heard, threshold, marked):
    """The largest gap between strong events that can be the time the shutter stood open."""
    at = strong(front, heard, threshold)
    if heard.apart:
        before, after = at[at <= heard.end + 1], at[at >= heard.apart[0] - 1]
        return (before[-1], after[0]) if len(before) and len(after) else None
    least, most = (max(0.25 * marked, 7e-3), 1.7 * marked) if marked else (7e-3, np.inf)
    gaps = np.diff(at)
    fits = np.flatnonzero((gaps >= least * front.rate) & (gaps <= most * front.rate))
    if not len(fits):
        return None
    best = fits[len(fits) - 1 - int(np.argmax(gaps[fits][::-1]))]
    return at[best], at[best + 1]


def choices(front, shots, marked):
    order = []
    for k, heard in enumerate(shots):
        about = marked[k]
        if about is None:
            own = gap(front, heard, 15, None)
            about = (own[1] - own[0]) / front.rate if own else None
        if about is not None and about >= 0.012:
            order.append((abs(np.log2(about * 16)), k))
    found = []
    for _, k in sorted(order)[:3]:
        for threshold in (10.0, 15.0, 20.0):
            own = gap(front, shots[k], threshold, marked[k])
            if own is None:
                continue
            at = strong(front, shots[k], threshold)
            for span in (26e-3 * front.rate, 12e-3 * front.rate):
                first, last = at[at >= own[0] - span], at[at <= own[1] + span]
                choice = (k, (first[0] if len(first) else own[0], own[0]), (own[1], last[-1] if len(last) else own[1]))
                if choice not in found:
                    found.append(choice)
    return found[:12]


def median(values):
    return sorted(values)[len(values) // 2] if len(values) else 0.0


def keeping_step(steps):
    if len(steps) < 2:
        return 1.0
    interval, marked = np.array(steps).T
    time = interval[None, :] + (marked - interval)[:, None]
    with np.errstate(invalid="ignore", divide="ignore"):
        kept = (time > 0) & (np.abs(np.log2(np.maximum(time, 1e-12) / marked)) < 0.7)
    return kept.sum(axis=1).max() / len(steps)


def loudest(front, heard, span):
    events = heard.events[(front.at[heard.events] >= span[0] - 1) & (front.at[heard.events] <= span[1] + 1)]
    return front.at[events[np.argsort(-front.level[events], kind="stable")[:3]]]


def solve(front, shots, marked):
    """Each shot's place in the series, and the median share explained; nothing where no shot offers templates."""
    if len(shots) < 3:
        return None
    rate = front.rate
    prepared = [
        Prepared(front, heard, *((m / 2.83 - 22e-3, m * 2.83 + 22e-3) if m else (-22e-3, 0.4))) for heard, m in zip(shots, marked)
    ]
    best = None

    def consider(reference, templates):
        nonlocal best
        if templates is None:
            return
        others = [k for k in range(len(shots)) if k != reference]
        shares, steps = [], []
        for n, k in enumerate(others[:: max(-(-len(others) // 7), 1)]):
            fit = templates.find(prepared[k], rate)
            shares.append(fit.share if fit else 0.0)
            if fit and marked[k]:
                steps.append((fit.interval / rate, marked[k]))
            if n == 2 and best and median(shares) * keeping_step(steps) < 0.8 * best[0]:
                return
        share = median(shares) * keeping_step(steps)
        if best is None or share > best[0]:
            best = (share, reference, templates)

    ways = choices(front, shots, marked)
    for k, opening, closing in ways:
        consider(k, Templates.cut(front, opening, closing))
    if (best[0] if best else 0.0) < REPEATS and ways:
        k, opening, closing = ways[0]
        for first in loudest(front, shots[k], opening):
            for second in loudest(front, shots[k], closing):
                consider(k, Templates.impacts(front, first, second))
    if best is None:
        return None
    _, reference, templates = best
    found = [templates.find(shot, rate) for shot in prepared]

    def share(fits):
        return median([fit.share if fit else 0.0 for k, fit in enumerate(fits) if k != reference])

    good = [fit for fit in found if fit and fit.is_clear]
    mean = templates.averaged(front, good) if len(good) >= 3 else None
    if mean:
        again = [mean.find(shot, rate) for shot in prepared]
        if share(again) >= share(found):
            found = again
    return [fit if fit and fit.share >= LEAST_SHARE else None for fit in found], share(found)
