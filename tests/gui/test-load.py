# SPDX-License-Identifier: GPL-3.0-or-later
"""What an axis can bear, entered and told in the real window. Prints TAP. Values by hand."""
import signal

from driver import WORK, Window, check, done, load, same, wait_for, write

# 0.4 N·m on a screw of 8 mm at 50 %: 0.4·2π/0.008·0.5 = 157 N
AXIS = {"letter": "X", "kind": "linear", "travel": "100 mm",
        "motor": {"type": "stepper", "full_steps": 200, "microsteps": 16, "torque": "0.4 N·m", "max_speed": "600 rpm"},
        "stages": [],
        "output": {"type": "screw", "pitch": "2 mm", "starts": 4, "hand": "right", "turning": "screw", "count": 1,
                   "efficiency": 0.5, "lash": "0.25 mm"},
        "counts_per_unit": None}
MACHINE = {"format": "trammel-machine", "version": 1, "name": "Rig", "note": "", "display_unit": "mm", "axes": [AXIS],
           "instruments": [], "stated": {}, "readings": [], "log": []}


def axis_of(path):
    return load(path)["axes"][0]


def enter_a_load():
    machine = write(WORK / "load.trammel", MACHINE)
    window = Window(machine)
    check(window.press("Load"), "there is a panel of the load")
    check(window.enter("Torque", "0.5 N·m", inside="Load"), "the motor's torque can be changed here")
    check(window.says("X holds 196 N before it slips; enter its drag"), "what it holds then is told at once")
    window.keys("ctrl+z")
    check(window.says("X holds 157 N before it slips"), "undone")
    check(window.enter("Moving mass", "2 kg") and window.enter("Drag", "3 N"), "what is moved can be typed")
    check(window.says("X holds 157 N before it slips; the carriage needs 3 N."), "whether the motor can is told")
    window.keys("ctrl+s")
    check(wait_for(lambda: axis_of(machine).get("load", {}).get("mass") == "2 kg", 10), "the load is saved")
    same(axis_of(machine)["load"]["drag"], "3 N", "all of it")
    check(window.enter("Moving mass", "heavy") and window.says("found “heavy”"), "what cannot be read is told")

    check(window.press("Limits"), "there is a panel of limits")
    # 600 rpm · 8 mm
    check(window.says("It goes 80 mm/s at most, limited by the motor's speed."), "which tells the top speed")
    check(window.press("Play"), "there is a panel of play")
    check(window.says("The play comes to 0.25 mm"), "which tells where it comes from")
    window.keys("ctrl+z", "ctrl+z", "ctrl+s")
    check(wait_for(lambda: "load" not in axis_of(machine), 10), "undo takes the load away again")
    window.end(signal.SIGTERM)


enter_a_load()
done()
