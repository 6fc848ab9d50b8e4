# SPDX-License-Identifier: GPL-3.0-or-later
"""From a bag of gears to a train that gives what is wanted, in the real window. Prints TAP."""
import signal

from driver import WORK, Window, check, done, load, machine_file, same, wait_for


def stages(path):
    return load(path)["axes"][0]["stages"]


def find_use_undo():
    machine = machine_file("gears.trammel")
    before = stages(machine)
    window = Window(machine)
    check(window.press("Find gears"), "there is a panel that finds gears")
    check(window.enter("Gears at hand", "12,16,20,24x2,36,40"), "what is at hand can be typed")
    check(window.enter("Wanted", "5"), "and what is wanted")
    # 3200 · 5 / 8 mm, by hand
    check(window.says("Gives X 2000 steps/mm."), "which is told as steps per millimetre")
    check(window.says("Exactly what is wanted."), "a train is found")
    # 24/16 · 40/12 = 5
    check(window.press(lambda name: name.startswith("Use this train: 16:24 · 12:40")), "it can be used")
    window.keys("ctrl+s")
    check(wait_for(lambda: len(stages(machine)) == 2, 10), "and saved")
    same([(stage["driver"], stage["driven"]) for stage in stages(machine)], [(16, 24), (12, 40)],
         "its pairs stand in the place of the stages")
    window.keys("ctrl+z", "ctrl+s")
    check(wait_for(lambda: stages(machine) == before, 10), "one undo puts the former stages back")
    check((WORK / "data" / "trammel" / "gear-bin.txt").read_text() == "12,16,20,24x2,36,40\n", "the bin is kept for the user")

    check(window.enter("Wanted", "25/3"), "where nothing is within the tolerance")
    check(window.says("The nearest:"), "the nearest is shown, and said to be that")
    check(window.enter("Gears at hand", "12,many"), "a bin that cannot be read")
    check(window.says("found “many”"), "is told where it stands")
    window.end(signal.SIGTERM)


find_use_undo()
done()
