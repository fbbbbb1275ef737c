# SPDX-License-Identifier: GPL-3.0-or-later
"""scan_numpy.py FILE patches|whole - the same questions put to NumPy, the file mapped where it is not compressed."""
import sys
import numpy as np
import tifffile

name, what = sys.argv[1:]
try:
    scan = tifffile.memmap(name, mode="r")
except ValueError:
    scan = tifffile.imread(name)
height, width, channels = scan.shape

if what == "whole":
    for c in range(channels):
        count = np.zeros(65536, np.int64)
        for y in range(0, height, 256):
            count += np.bincount(scan[y:y + 256, :, c].ravel(), minlength=65536)
        rising = np.cumsum(count)
        print([int(np.searchsorted(rising, s * rising[-1])) for s in (0.001, 0.01, 0.5, 0.99, 0.999)])
else:
    start, top, high = width // 50, height * 2 // 5, height // 5
    step = (width * 49 // 50 - start) / 21
    for i in range(21):
        x = int(start + step * (i + 0.2))
        part = scan[top + high // 5:top + high // 5 + high * 3 // 5, x:x + int(0.6 * step)]
        part = part.reshape(-1, channels)
        print(part.mean(0), part.std(0, ddof=1), np.median(part, 0))
