"""Impacts of the shutter's sound by a detector that is not ours: high-pass and envelope of SciPy, peaks of its rise.

Reads the moments that our own measurement rests its shots on, and says how many of them have an onset of SciPy's within a
millisecond. Not here: which impacts are the stops, which only our own measurement decides.
"""

import csv
import sys
from collections import defaultdict
from pathlib import Path

import numpy as np
from scipy.io import wavfile
from scipy.signal import butter, find_peaks, sosfiltfilt

NEAR_S = 1.0e-3

ours = defaultdict(list)
with open(sys.argv[1], newline="", encoding="utf-8") as table:
    for row in csv.DictReader(table):
        ours[row["file"]].append(float(row["moment_s"]))

matched = total = 0
for name, moments in sorted(ours.items()):
    rate, samples = wavfile.read(Path(sys.argv[2]) / name)
    high = sosfiltfilt(butter(4, 2000, "highpass", fs=rate, output="sos"), samples / 32768)
    energy = np.convolve(high**2, np.ones(int(rate * 0.5e-3)) / int(rate * 0.5e-3), "full")[: len(high)]
    level = 10 * np.log10(energy + 1e-12)
    lag = int(rate * 1e-3)
    rise = np.concatenate([np.zeros(lag), level[lag:] - level[:-lag]])
    peaks, _ = find_peaks(rise, height=4, distance=int(rate * 0.5e-3))
    onsets = peaks / rate
    near = [np.min(np.abs(onsets - moment)) < NEAR_S for moment in moments] if len(onsets) else [False] * len(moments)
    matched += sum(near)
    total += len(moments)
    print(f"{name:<40}{sum(near):>4} of {len(moments):>3} impacts have an onset of SciPy's within 1 ms")
print(f"{'all':<40}{matched:>4} of {total:>3}")
if total == 0 or matched < 0.9 * total:
    sys.exit("fewer than nine in ten impacts are found by a detector that is not ours")
