# SPDX-License-Identifier: GPL-3.0-or-later
"""The sheet of readings in a window, for the tests that work in it."""
import time

import pyatspi

from driver import DEMO, load, nodes, plain, wait_for


def machine_with(*readings, unit="mm", axes="XY"):
    """The demo's axes with these readings; each a dict of the file's keys."""
    machine = load(DEMO)
    machine["axes"] = [axis for axis in machine["axes"] if axis["letter"] in axes]
    machine["display_unit"] = unit
    machine["readings"] = list(readings)
    return machine


def outside(nominal, measured, along="X"):
    reading = {"kind": "outside", "along": along, "nominal": f"{nominal} mm", "instrument": "caliper"}
    return dict(reading, measured=f"{measured} mm") if measured is not None else reading


class Sheet:
    def __init__(self, window):
        self.window = window
        window.keys("alt+3")
        self.entry = wait_for(lambda: next(n for n in nodes(window.root)
                                           if n.getRoleName() == "text" and "Readings" in path_of(n)))
        time.sleep(0.5)

    def cell(self):
        """What the current cell is said to be: its column, its row and what it holds."""
        self.entry.clearCache()
        return plain(self.entry.name)

    def trouble(self):
        self.entry.clearCache()
        return plain(self.entry.description)

    def is_invalid(self):
        self.entry.clearCache()
        return self.entry.getState().contains(pyatspi.STATE_INVALID_ENTRY)

    def go(self, row, right=0):
        """To a row from 1 on, and as many columns from the first."""
        self.window.keys("ctrl+Home", "Home", *["Down"] * (row - 1), *["Right"] * right, pause=0.1)
        time.sleep(0.2)


def path_of(node):
    names = []
    while node is not None and node.getRoleName() != "application":
        names.append(node.name)
        node = node.parent
    return names
