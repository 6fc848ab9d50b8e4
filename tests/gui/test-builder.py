# SPDX-License-Identifier: GPL-3.0-or-later
"""From an empty machine, a motor and a bag of gears to a train that gives what is wanted and stands in the holes of a
plate, with keyboard and mouse. Prints TAP. Values by hand:

48 · 8 counts a turn on a rack of 15 teeth of module 1, 15π mm: 128/(5π) a mm. Ten turns in for one out make 256/π of it;
12:30 · 10:40 does that exactly; 12:30 are 21 mm apart without backlash, and on half holes of 10 mm they run at 15 × 15,
21.213 mm. 0.7 of 0.3 N·m of holding torque is 0.21 N·m; through two pairs of 97 % and a rack of 95 % on 7.5 mm:
0.21·10·0.97²·0.95/0.0075 = 250 N."""
import signal

from driver import WORK, Window, check, done, load, same, wait_for, write

EMPTY = {"format": "trammel-machine", "version": 1, "name": "Rig", "axes": []}


def from_nothing_to_a_train():
    path = write(WORK / "rig.trammel", EMPTY)
    with Window(path) as window:
        check(window.press("Linear axis"), "an empty machine offers a first axis")
        check(window.enter("Full steps", "48") and window.enter("Microsteps", "8"), "the motor can be entered")
        window.click(window.find("Kind of Output", roles=["combo box"]))
        window.keys("Down", "Return")
        check(window.says("128/(5π) = 8.14873"), "a rack takes the place of the screw, and the counts follow")
        check(window.press("Find gears"), "the bag of gears comes next")
        check(window.enter("Gears at hand", "10,12,16,20,24x2,30,36,40,48,60"), "it is typed as it is counted")
        check(window.enter("Wanted", "10"), "with what is wanted")
        check(window.says("Gives X 256/π = 81.4873 steps/mm."), "which is told in counts per millimetre")
        check(window.press(lambda name: name.startswith("Use this train: 12:30 · 10:40, exact")), "one press uses a train")
        check(window.says("spur 12:30 → spur 10:40"), "which the axis then has")
        check(window.press("Meshing") and window.enter("Holes every", "10 mm", inside="Meshing"), "a plate with holes can be told")
        check(window.press("Half holes", inside="Meshing"), "with half holes")
        check(window.says("15 × 15 mm: 21.213 mm apart"), "in which the pair runs somewhere")
        check(window.press("Use this", inside="Meshing"), "where it is put")
        check(window.press("Load") and window.enter("Holding torque", "0.3 N·m", inside="Load"), "the motor's strength")
        check(window.says("X holds 250 N before it slips; enter its drag"), "tells what it holds, and what is wanted next")
        check(window.enter("Drag", "5 N", inside="Load"), "the drag")
        check(window.says("X holds 250 N before it slips; the carriage needs 5 N."), "tells whether it can")
        window.keys("ctrl+s")
        check(wait_for(lambda: load(path)["axes"], 10), "and it is saved")
        axis = load(path)["axes"][0]
        same([(stage["driver"], stage["driven"]) for stage in axis["stages"]], [(12, 30), (10, 40)], "with its gears")
        same(axis["stages"][0].get("center"), "21.213 mm", "and where they stand")
        same(axis["load"]["drag"], "5 N", "and its load")


from_nothing_to_a_train()
done()
