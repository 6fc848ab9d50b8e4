# SPDX-License-Identifier: GPL-3.0-or-later
"""Bead and flow: the third of width, speed and flow. Numbers by hand."""
import math

from command import close, main, run

AREA = 0.05 + math.pi * 0.01  # 0.45 mm wide, 0.2 mm high: (0.45 − 0.2)·0.2 + π·0.2²/4
WIRE = math.pi / 4 * 1.75 ** 2


def bead(*options):
    return run("bead", "--json", *options).json()


def test_flow_of_a_bead():
    got = bead("--width", "0.45", "--height", "0.2", "--speed", "40", "--filament", "1.75")
    close(got["area"]["value"], AREA)
    close(got["flow"]["value"], 40 * AREA)
    close(got["feed"]["value"], 40 * AREA / WIRE)
    assert got["flow"]["u"] == 0


def test_speed_for_a_bead():
    got = bead("--width", "0.45", "--height", "0.2", "--filament", "1.75±0.0175", "--feed", "2 ± 0.04 mm/s")
    close(got["speed"]["value"], 2 * WIRE / AREA)
    # twice 1 % and 2 %
    close(got["speed"]["u"], got["speed"]["value"] * math.sqrt(8e-4), 1e-9)
    assert got["feed"] == {"value": 2, "u": 0.04}


def test_bead_at_a_speed():
    got = bead("--height", "0.2", "--speed", "40", "--filament", "1.75", "--length", "120", "--time", "1min")
    close(got["area"]["value"], 2 * WIRE / 40)
    close(got["width"]["value"], 2 * WIRE / 40 / 0.2 + 0.2 * (1 - math.pi / 4))
    close(got["feed"]["value"], 2)


def test_measured_mass():
    got = bead("--height", "0.2", "--width", "0.45", "--mass", "1.24±0.0372 g", "--density", "1.24±0.0496 g/cm3", "--time",
               "50")
    close(got["flow"]["value"], 20)
    close(got["flow"]["u"], 1)  # 3 % and 4 % together 5 %
    close(got["speed"]["value"], 20 / AREA)
    assert "feed" not in got
    # A unit behind ± stands for both; one before it for the value alone
    same = bead("--height", "0.2", "--width", "0.45", "--mass", "1.24g±0.0372g", "--density", "1240±49.6", "--time", "50")
    close(same["flow"]["value"], 20)
    close(same["flow"]["u"], 1)


def test_the_wire_drops_out_of_its_own_feed():
    got = bead("--height", "0.2", "--width", "0.45", "--filament", "1.75±0.1", "--length", "100±3", "--time", "50±2")
    close(got["feed"]["value"], 2)
    close(got["feed"]["u"], 0.1)  # 3 % and 4 % together 5 %; not the 11 % of the section


def test_words():
    out = run("bead", "--width", "0.45±0.01", "--height", "0.2", "--speed", "40").out
    for part in ("Bead width", "0.45", "±", "mm³/s", "95 %", "Caution", "burn"):
        assert part in out, (part, out)


def test_wrong_usage():
    flow = ("--filament", "1.75", "--feed", "2")
    for options, part in (
            ((), "--height"), (("--height", "0.2"), "two of"), (("--height", "0.2", "--width", "0.4"), "two of"),
            (("--height", "0.2", "--width", "0.4", "--speed", "40", *flow), "only two"),
            (("--height", "0.2", "--width", "0.4", "--feed", "2"), "--filament"),
            (("--height", "0.2", "--width", "0.4", "--length", "2", "--filament", "1.75"), "--time"),
            (("--height", "0.2", "--width", "0.4", *flow, "--time", "3"), "--time"),
            (("--height", "0.2", "--width", "0.4", "--mass", "1g", "--time", "3"), "--density"),
            (("--height", "0.2", "--width", "0.4", *flow, "--length", "3"), "only one"),
            (("--height", "0", "--width", "0.4", "--speed", "1"), "--height"),
            (("--height", "0.2", "--width", "wide", "--speed", "1"), "--width"),
            (("--height", "0.2", "--width", "0.4±-1", "--speed", "1"), "--width"),
            (("--height", "0.2kg", "--width", "0.4", "--speed", "1"), "--height")):
        assert part in run("bead", *options, status=2).err, options


def test_a_bead_that_does_not_fill_its_layer():
    assert "narrower" in run("bead", "--height", "0.4", "--width", "0.2", "--speed", "10", status=1).err
    assert "narrower" in run("bead", "--height", "0.4", "--speed", "1000", "--filament", "1.75", "--feed", "1",
                             status=1).err


main(globals())
