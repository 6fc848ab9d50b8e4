# SPDX-License-Identifier: GPL-3.0-or-later
"""Gear trains by plain enumeration: every choice of drivers and driven from the bin, one after the other, in exact
fractions. Shares nothing with the program but the description of what a train is."""
import itertools
import math
from collections import Counter
from fractions import Fraction

PLAY = 0.04  # modules, at the pitch circle of every mesh


class Train:
    """@drivers, @driven: lists of (teeth, module); @idler: (teeth, module) or None."""

    def __init__(self, drivers, driven, idler=None):
        self.drivers, self.driven, self.idler = drivers, driven, idler
        self.ratio = Fraction(math.prod(z for z, _ in driven), math.prod(z for z, _ in drivers))
        self.gears = len(drivers) + len(driven) + (1 if idler else 0)
        self.meshes = len(drivers) + (1 if idler else 0)
        diameters = sum(Fraction(m) * z for z, m in drivers + driven)
        self.span = diameters / 2 + (Fraction(idler[1]) * idler[0] if idler else 0)

    def key(self):
        return (tuple(sorted(self.drivers)), tuple(sorted(self.driven)), self.idler)

    def least_play(self):
        """Over every order of the drivers, of the driven, and every place of the idler."""
        best = math.inf
        n = len(self.drivers)
        for drivers in itertools.permutations(self.drivers):
            for driven in itertools.permutations(self.driven):
                if any(a[1] != b[1] for a, b in zip(drivers, driven)):
                    continue
                meshes = [2 * PLAY / driven[i][0]
                          * math.prod(drivers[j][0] / driven[j][0] for j in range(i + 1, n)) for i in range(n)]
                places = [i for i in range(n) if driven[i][1] == self.idler[1]] if self.idler else [None]
                for place in places:
                    best = min(best, sum(meshes) + (meshes[place] if place is not None else 0))
        return best


def subsets(sizes, counts, n):
    """Every multiset of @n gears that the bin has."""
    for chosen in itertools.combinations_with_replacement(sizes, n):
        if all(times <= counts[size] for size, times in Counter(chosen).items()):
            yield list(chosen)


def modules(gears):
    return Counter(m for _, m in gears)


def trains(gears, most_pairs):
    """@gears: {(teeth, module): count}. All trains without the same size on both sides, and the lone pairs 1:1."""
    sizes = sorted(gears)
    for n in range(1, most_pairs + 1):
        for drivers in subsets(sizes, gears, n):
            for driven in subsets(sizes, gears, n):
                if modules(drivers) == modules(driven) and not set(drivers) & set(driven):
                    yield Train(drivers, driven)
    for size in sizes:
        if gears[size] >= 2:
            yield Train([size], [size])


def turned(train, gears, most_pairs, same):
    """@train with what it takes to turn the way that is asked for; None where there is nothing."""
    if (train.meshes % 2 == 0) == same:
        return train
    left = Counter(gears)
    left.subtract(train.drivers + train.driven)
    by_size = sorted(left, key=lambda size: (Fraction(size[1]) * size[0], size[1]))
    for size in by_size:
        if left[size] >= 1 and size[1] in modules(train.drivers):
            return Train(train.drivers, train.driven, size)
    if len(train.drivers) < most_pairs:
        for size in by_size:
            if left[size] >= 2:
                return Train(train.drivers + [size], train.driven + [size])
    return None


def unbeaten(found, target):
    """The keys (|error|, gears, span) that no other one beats."""
    keys = {(abs(train.ratio / target - 1), train.gears, train.span) for train in found}
    return {a for a in keys if not any(b != a and all(x <= y for x, y in zip(b, a)) for b in keys)}
