"""The shutter times of a minute of sound in NumPy and SciPy: the same algorithm as `crates/timing/src/sound`, its yardstick in speed.

Takes over: reading the WAV file; clipping; the fourth-order high-pass; energy in steps of an eighth of a millisecond; the sliding
floor; onsets and their moments by Akaike's criterion; beeps, clockwork and rebounds; groups and their order against the marks; pairs of
impacts with likeness and doublets; templates of opening and closing, tried, found in every shot and averaged; the numbering anew
where counts differ; the elected offset; the time of every shot with its doubt, or that it has none.
Leaves out: what keeps a long recording small, words of notices, names of states, several channels, an anchor, mirrors, and shutters other
than cloth.

Arguments: the folder with `takes.json` and the recordings. Prints `name milliseconds` and `agree-name n of m`.
"""

import numpy as np
from common import agreeing, folder, least_ms, read_wav, takes
from sound_front import (
    align,
    beeps,
    clockwork,
    front_of,
    is_busy,
    is_clipped,
    is_narrow,
    outside,
    rebounds,
    shots as shots_of,
)
from sound_pairs import SAME_S, alone, elect, pairs
from sound_series import REPEATS, solve

CONFIRMED_S, UNCONFIRMED_S, UNLIKE_S, CLOCK = 0.03e-3, 0.05e-3, 0.2e-3, 1e-4


def times_without_marks(front, marked, shots):
    """Times by a series that knows no marks but those of shots whose ends lie apart."""
    known = [marked[heard.marked] if heard.apart and heard.marked is not None else None for heard in shots]
    solved = solve(front, shots, known)
    if not solved or solved[1] < REPEATS:
        return None
    intervals = [fit.interval / front.rate if fit and fit.is_clear else None for fit in solved[0]]
    voters = [k for k, interval in enumerate(intervals) if interval is not None]
    own = [pairs(front, shots[k].events, known[k]) for k in voters]
    elected = elect([intervals[k] for k in voters], own, [marked] * len(voters))
    return [None if i is None else i + elected[1] for i in intervals] if elected else None


def renumber(front, marked, shots):
    """Numbers the shots anew where their count is not that of the marks; whether their order is sure."""
    matched = sum(heard.marked is not None for heard in shots)
    if not marked or (matched == len(marked) == len(shots) and not any(heard.short for heard in shots)):
        return shots, True
    times = times_without_marks(front, marked, shots)
    if times is None:
        loud = [front.level[heard.events].max(initial=-np.inf) for heard in shots]
        least = min((level for level, heard in zip(loud, shots) if heard.marked is not None), default=np.inf)
        if matched == len(marked) and all(h.marked is not None or level < least - 10 for level, h in zip(loud, shots)):
            return [heard for heard in shots if heard.marked is not None], True
        for heard in shots:
            heard.marked = None
        return shots, False
    time = np.array([np.nan if t is None else t for t in times])
    with np.errstate(invalid="ignore"):
        x = np.abs(np.log2(np.maximum(time, 1e-5)[:, None] / np.asarray(marked)) / 0.35)
    cost = np.where(x <= 1, 0.5 * x * x, x - 0.5)
    cost[time <= 1e-5] = 10.0
    cost[np.isnan(time)] = 1.2
    found = align(cost[:, None, :], np.where(np.isnan(time), 0.8, 2.6), 2.6)
    for heard in shots:
        heard.marked = None
    for first, _, mark in found:
        shots[first].marked = mark
    return [heard for t, heard in zip(times, shots) if t is not None or heard.marked is not None], True


def stated(front, shots, marked, known, busy):
    """Time and doubt of every shot, or nothing: by the series where it is placed, else by itself."""
    own = [marked[heard.marked] if heard.marked is not None else None for heard in shots]
    found = [pairs(front, heard.events, m) for heard, m in zip(shots, own)]
    single = [alone(front, heard.events, f, m) for heard, f, m in zip(shots, found, own)]
    solved = solve(front, shots, own) if known else None
    fits = solved[0] if solved and solved[1] >= REPEATS else [None] * len(shots)
    intervals = [fit.interval / front.rate if fit else None for fit in fits]
    clear = [bool(fit and fit.is_clear) for fit in fits]
    voters = [k for k in range(len(shots)) if clear[k] and own[k] is not None]
    zero = elect([intervals[k] for k in voters], [found[k] for k in voters], [[own[k]] for k in voters])
    confirmed = [
        bool(zero and i is not None and len(f.a) and abs(f.time_s[0] - i - zero[0]) <= SAME_S) for i, f in zip(intervals, found)
    ]
    away = [np.log2(max(intervals[k] + zero[1], 1e-6) / own[k]) for k in range(len(shots)) if confirmed[k] and own[k]]
    line = sorted(away)[len(away) // 2] if away else 0.0
    times = []
    for k in range(len(shots)):
        if intervals[k] is not None and solved[1] >= REPEATS and (clear[k] or confirmed[k]):
            if zero is None or intervals[k] + zero[1] <= 0:
                times.append(None)
                continue
            time = intervals[k] + zero[1]
            in_line = own[k] is not None and abs(np.log2(time / own[k]) - line) <= 0.7
            if not confirmed[k] and (len(away) < 2 or not in_line):
                times.append(None)
                continue
            doubt = CONFIRMED_S if confirmed[k] else UNCONFIRMED_S if fits[k].share >= 0.4 else UNLIKE_S
            times.append((time, np.sqrt(doubt**2 + zero[3] ** 2 + zero[2] ** 2 + (CLOCK * time) ** 2)))
        else:
            times.append(single[k] if marked or not busy else None)
    return found, times


def measure(data, marked):
    rate, x = read_wav(data)
    if not np.isfinite(x).all():
        raise ValueError("the samples must be finite numbers")
    is_clipped(x)
    front = front_of(rate, x)
    beeps(front)
    clockwork(front)
    rebounds(front)
    is_narrow(front)
    shots, known = renumber(front, marked, shots_of(front, marked))
    busy = is_busy(front, shots)
    outside(front, shots, front.at)
    found, times = stated(front, shots, marked, known and bool(marked), busy)
    told = []
    for heard, pair, time in zip(shots, found, times):
        start = heard.start
        if len(pair.a):
            start = front.at[heard.events[pair.a[0]]]
            if pair.like_cloth()[0] and pair.arrivals[0]:
                start -= pair.first_s[0] * rate
        told.append((max(start / rate, 0.0), time[0] if time else None))
    return told


if __name__ == "__main__":
    ours = takes()
    for name in ("sound", "sound-fewer", "take"):
        data = (folder() / ours[name]["file"]).read_bytes()
        marked = ours[name]["marked_s"]
        agreeing(name, measure(data, marked), ours[name])
        print(f"{name} {least_ms(lambda: measure(data, marked))}")
    data = (folder() / ours["sound"]["file"]).read_bytes()
    print(f"floor-sound {least_ms(lambda: np.frombuffer(data, np.uint8).sum(dtype=np.uint64))}")
