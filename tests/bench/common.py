"""What all scripts of the benchmark share: timing by the least, reading a WAV file, and holding shots against our own.

Not here: anything that is measured.
"""

import json
import sys
import time
from pathlib import Path

import numpy as np

RUNS = 9
# A shot is the same when it begins this near ours [s], and its time agrees within this [s] or this share of it.
SAME_START_S = 0.05
SAME_TIME_S = 0.1e-3
SAME_TIME = 0.005
# Fewer than this share of our shots found again is no comparison.
ENOUGH = 0.9


def least_ms(work, runs=RUNS):
    times = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        times.append(1e3 * (time.perf_counter() - begun))
    return min(times)


def folder():
    return Path(sys.argv[1])


def takes():
    """Our own results by name, as the native run wrote them: marked times, and every shot's beginning and time."""
    return {take["name"]: take for take in json.loads((folder() / "takes.json").read_text(encoding="utf-8"))}


def read_wav(data):
    """Rate and samples of the first channel, full scale 1, of a WAV file of 16-bit PCM in memory."""
    if data[:4] != b"RIFF" or data[8:12] != b"WAVE":
        sys.exit("this is no WAV file")
    at, rate, channels = 12, 0, 1
    while at + 8 <= len(data):
        kind, size = data[at : at + 4], int.from_bytes(data[at + 4 : at + 8], "little")
        if kind == b"fmt ":
            channels = int.from_bytes(data[at + 10 : at + 12], "little")
            rate = int.from_bytes(data[at + 12 : at + 16], "little")
        elif kind == b"data":
            codes = np.frombuffer(data, "<i2", min(size, len(data) - at - 8) // 2, at + 8)[::channels]
            samples = codes.astype(np.float32)
            samples *= np.float32(1 / 32768)
            return rate, samples
        at += 8 + size + size % 2
    sys.exit("the WAV file ends before its samples")


def agreeing(name, shots, ours):
    """Says how many of our shots with a time the script found with the same time; ends the program where they are too few.

    `shots` are pairs of beginning and time [s], the time `None` where none is stated.
    """
    stated = [(shot["start_s"], shot["time_s"]) for shot in ours["shots"] if shot["time_s"] is not None]
    found = [(start, time_s) for start, time_s in shots if time_s is not None]
    same = 0
    for start, time_s in stated:
        near = [t for s, t in found if abs(s - start) < SAME_START_S]
        same += any(abs(t - time_s) <= max(SAME_TIME_S, SAME_TIME * time_s) for t in near)
    print(f"agree-{name} {same} of {len(stated)}")
    if not stated or same < ENOUGH * len(stated):
        sys.exit(f"{name}: only {same} of {len(stated)} shots have the time that our own measurement gives: no comparison")
