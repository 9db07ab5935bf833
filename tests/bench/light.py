"""The shutter times of a minute of a light trace in NumPy: the same algorithm as `crates/timing/src/light_trace`, its yardstick in speed.

Takes over: reading the WAV file; means of a tenth of a millisecond, noise and clipping; the rough rate of the coupling; edges at four
widths and their pulses; hum of 50 and 60 Hz in the dark and taking it away; the coupling's one or two time constants from the tails;
each release's window with the coupling undone, its flanks, levels, areas, roughness, flicker and bounce; the open level; the time of
every shot with its doubt, or that it has none.
Leaves out: what keeps a long recording small, words of notices, a second sensor.

Arguments: the folder with `takes.json` and the recordings. Prints `name milliseconds` and `agree-name n of m`.
"""

import numpy as np
from common import agreeing, folder, least_ms, read_wav, takes
from light_edges import coupling, edges, hum, rough_rate, survey, without_hum
from light_flanks import (
    LEAST_SIGNAL,
    RIPPLE,
    Conditions,
    Scene,
    Trace,
    grain,
    is_clean,
    look,
    reference,
    releases,
    ripple,
    time_of,
)


def measure(data):
    rate, x = read_wav(data)
    if not np.isfinite(x).all():
        raise ValueError("the samples must be finite numbers")
    s = survey(rate, x)
    rough = rough_rate(s)
    found = edges(s, rough)
    own_hum = hum(s, found.pulses, rough)
    if own_hum:
        without_hum(s, own_hum)
        found = edges(s, rough)
    if not found.pulses:
        return []
    trace = Trace(rate, x, found.sign, own_hum, coupling(s, found.pulses, rough))
    shots = releases(found.pulses, rate)
    noise = s.noise * grain(trace, s, shots)
    beside = 2e-3 * rate
    clipped = [any(a < r.ended.at + beside and b >= r.opening.at - beside for a, b in s.clipped) for r in shots]
    swing = ripple(trace, shots, clipped, noise)
    how = Conditions(rate, noise, swing > RIPPLE)
    scene = Scene(rate, noise, swing, found.pulsed, trace.coupling.rate_doubt)
    near = 1e-3 * rate
    seen = []
    for i, release in enumerate(shots):
        before = shots[i - 1].ended.at + near if i else 0.0
        after = shots[i + 1].opening.at - near if i + 1 < len(shots) else np.inf
        seen.append(look(trace, s, release, (before, after), how))
    usable = [own for own, cut, r in zip(seen, clipped, shots) if own and not cut and not r.broken and is_clean(own, scene)]
    level = reference(usable, scene)
    told = []
    for own, cut, release in zip(seen, clipped, shots):
        if own is None:
            told.append((max(release.opening.at / rate, 0), None))
            continue
        good = not (found.pulsed or cut or release.broken) and is_clean(own, scene) and own.level >= LEAST_SIGNAL * noise
        time = time_of(own, scene, level) if good else None
        told.append((max(own.opening / rate, 0), time[0] if time and time[0] > 0 else None))
    return told


if __name__ == "__main__":
    ours = takes()["light"]
    data = (folder() / ours["file"]).read_bytes()
    agreeing("light", measure(data), ours)
    print(f"light {least_ms(lambda: measure(data))}")
