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
    check(window.enter("Gears at hand", "12,16,20,24x2,36,40"), "the former bin again")
    check(window.enter("Wanted", "5"), "and the former wish")
    check(window.enter("Holes every", "10 mm"), "on a plate with holes, which is the machine's")
    # By hand: 12:40 are 26 mm apart and 12:24 are 18, where no two holes at whole tens are; 16:40 run at 20 and 20
    check(window.says("The nearest:"), "nothing of what runs in its holes comes near")
    check(window.press("Half holes"), "with half of it")
    check(window.says("From hole to hole 15 × 10, 20 × 20 mm."), "a train is found, and the holes are told")
    check(window.press(lambda name: name.startswith("Use this train: 12:24 · 16:40")), "used")
    window.keys("ctrl+s")
    check(wait_for(lambda: len(stages(machine)) == 2, 10), "and saved")
    same([stage["center"] for stage in stages(machine)], ["18.028 mm", "28.284 mm"], "it stands in those holes")
    same(load(machine)["grid"], {"type": "holes", "pitch": "10 mm", "half": True}, "of the machine's plate")
    window.keys("ctrl+z", "ctrl+z", "ctrl+z", "ctrl+s")
    check(wait_for(lambda: stages(machine) == before, 10), "three undos put back train and plate")
    window.end(signal.SIGTERM)


find_use_undo()
done()
