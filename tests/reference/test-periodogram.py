# SPDX-License-Identifier: GPL-3.0-or-later
"""The periodogram of unevenly spaced data against scipy.signal.lombscargle.
   test-periodogram.py PROBE"""
import subprocess
import sys

import numpy as np
from scipy.signal import lombscargle

import tap


def ask(x, y, frequencies):
    numbers = " ".join(repr(float(v)) for v in (*x, *y, *frequencies))
    done = subprocess.run([sys.argv[1]], input=f"{len(x)} {len(frequencies)} {numbers}", text=True, check=True,
                          capture_output=True)
    return np.array([float(line) for line in done.stdout.split()])


def case(seed):
    rng = np.random.default_rng(seed)
    x = np.sort(rng.uniform(0, 180, int(rng.integers(12, 80))))
    y = 0.05 * np.cos(2 * np.pi * x / rng.uniform(5, 40) + 1) + rng.normal(0, 0.02, len(x))
    y -= y.mean()
    frequencies = 2 * np.pi / rng.uniform(3, 90, 50)
    found, wanted = ask(x, y, frequencies), lombscargle(x, y, frequencies)
    assert np.allclose(found, wanted, rtol=1e-9, atol=1e-15), np.abs(found / wanted - 1).max()


tap.run([(f"{seed}: scipy's powers", lambda seed=seed: case(seed)) for seed in range(20)])
