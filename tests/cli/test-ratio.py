# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts per unit from teeth alone. Everyday figures: common practice, no source; the fractions by hand."""
import math

from command import axis, close, machine, main, run, written

SCREW_8 = {"type": "screw", "pitch": "2 mm", "starts": 4, "hand": "right"}


def ratio_of(*axes):
    done = run("ratio", written("ratio.trammel", machine(axes=list(axes))), "--json")
    return done.json()["axes"]


def check(found, exact, pi, value, direction):
    assert found["counts_per_unit"]["exact"] == exact, found
    assert found["counts_per_unit"]["pi"] == pi, found
    assert found["direction"] == direction, found
    close(found["counts_per_unit"]["value"], value)
    close(found["travel_per_count"], 1 / value)
    close(found["travel_per_motor_turn"], 3200 / value)
    close(found["in_force"]["value"], value)
    assert found["in_force"]["u"] == 0


def test_everyday_figures():
    belt, screw = ratio_of(axis("X"), axis("Y", output=SCREW_8))
    check(belt, "80", 0, 80, 1)
    check(screw, "400", 0, 400, 1)


def test_geared_screw():
    # 3200 per turn · 36/12 / 8 mm; the pair turns the other way
    check(ratio_of(axis("X", output=SCREW_8, stages=[{"type": "spur", "driver": 12, "driven": 36}]))[0],
          "1200", 0, 1200, -1)


def test_a_fraction_stays_a_fraction():
    # 3200 / 9 mm
    check(ratio_of(axis("X", output={"type": "screw", "pitch": "9 mm", "starts": 1}))[0], "3200/9", 0, 3200 / 9, 1)


def test_rack_keeps_pi_apart():
    # 3200 / (12 · 1 mm · π) = 800/3 · 1/π
    check(ratio_of(axis("Y", output={"type": "rack", "teeth": 12, "module": "1 mm"}))[0],
          "800/3", -1, 800 / (3 * math.pi), 1)


def test_gearbox_with_a_fraction():
    # 3200 · 57/11 / (8π)
    feed = axis("E", "feed", {"type": "roller", "diameter": "8 mm"}, [{"type": "gearbox", "ratio": "57/11"}])
    check(ratio_of(feed)[0], "22800/11", -1, 22800 / (11 * math.pi), 1)


def test_planetary_set():
    # Sun 20, ring 80 held: five turns of the sun are one of the carrier (Willis)
    stage = {"type": "planetary", "sun": 20, "ring": 80, "held": "ring", "in": "sun", "out": "carrier"}
    check(ratio_of(axis("X", stages=[stage]))[0], "400", 0, 400, 1)


def test_inch_is_exact():
    # 1/4 in × 20 tpi: lead 1.27 mm; 3200/1.27 = 320000/127
    check(ratio_of(axis("X", output={"type": "screw", "pitch": "20 tpi", "starts": 1}))[0],
          "320000/127", 0, 320000 / 127, 1)


def test_rotary_table_counts_degrees():
    found = ratio_of(axis("A", "rotary", {"type": "table"}, [{"type": "worm", "starts": 1, "wheel": 90}], travel="360 deg"))
    # 3200 · 90 / 360°
    assert found[0]["counts_per_unit"]["exact"] == "800" and found[0]["counts_per_unit"]["pi"] == 0


def test_value_in_force():
    found = ratio_of(axis("X", counts={"value": 80.337, "u": 0.025}))[0]
    assert found["in_force"] == {"value": 80.337, "u": 0.025}
    assert found["counts_per_unit"]["exact"] == "80"


def test_exactly_the_keys_of_the_contract():
    found = ratio_of(axis("X"))[0]
    assert list(found) == ["letter", "counts_per_unit", "in_force", "travel_per_count", "travel_per_motor_turn",
                           "direction"]
    assert list(found["counts_per_unit"]) == ["exact", "pi", "value"]


def test_words():
    out = run("ratio", written("words.trammel", machine(axes=[axis("X"), axis("Y", output=SCREW_8)]))).out
    assert "80 steps/mm" in out and "400 steps/mm" in out and "0.0125 mm" in out, out


def test_a_train_that_does_not_work_names_its_place():
    broken = axis("X", stages=[{"type": "planetary", "sun": 20, "ring": 80, "held": "sun", "in": "sun", "out": "ring"}])
    done = run("ratio", written("broken.trammel", machine(axes=[broken])), status=1)
    assert "axes[0].stages[0]" in done.err and done.out == "", done.err


main(globals())
