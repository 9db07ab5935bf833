"""The light of a patch as large as a picture of twelve megapixels in NumPy: the same algorithm as `crates/imaging/src/raster/tally.rs`.

Takes over: strips of 600 rows; codes to light by tables and weights; sums and counts of 8 × 8 blocks; clipped and nearly black pixels by
their largest code; mean and spread of the blocks.
Leaves out: what the light comes to in EV.

Argument: the folder with `pictures.json`. Prints `name milliseconds` and `agree-name n of m`.
"""

import numpy as np
from common import least_ms
from pictures import HEIGHT, ROWS, held_against, luminance, opening_picture, ours

BLOCKS = 8


def patch(picture):
    height, width = picture.shape[:2]
    edges = -(-np.arange(BLOCKS) * width // BLOCKS)
    light, counts, clipped, black = np.zeros((BLOCKS, BLOCKS)), np.zeros((BLOCKS, BLOCKS)), 0, 0
    columns = np.diff(np.append(edges, width))
    for top in range(0, height, ROWS):
        strip = picture[top : top + ROWS]
        own = np.add.reduceat(luminance(strip), edges, axis=1)
        down = np.arange(top, top + len(strip)) * BLOCKS // height
        begins = np.flatnonzero(np.diff(down, prepend=-1))
        light[down[begins]] += np.add.reduceat(own, begins, axis=0)
        counts[down[begins]] += np.diff(np.append(begins, len(strip)))[:, None] * columns
        most = np.maximum(np.maximum(strip[..., 0], strip[..., 1]), strip[..., 2])
        clipped += np.count_nonzero(most >= 250)
        black += np.count_nonzero(most <= 8)
    levels = np.sort(np.log2(np.maximum(light / counts, 1e-5)).ravel())
    spread = levels[round((len(levels) - 1) * 0.9)] - levels[round((len(levels) - 1) * 0.1)]
    pixels = counts.sum()
    return {"mean": light.sum() / pixels, "clipped": clipped / pixels, "black": black / pixels, "spread": spread}


if __name__ == "__main__":
    picture = opening_picture()
    assert picture.shape[0] == HEIGHT
    held_against("patch", ours("pictures.json"), patch(picture), {"mean": 1e-6, "clipped": 0, "black": 0})
    print(f"patch {least_ms(lambda: patch(picture))}")
