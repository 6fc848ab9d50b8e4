# SPDX-License-Identifier: GPL-3.0-or-later
"""The main job in the real window: open, read, adopt, undo, save, be killed, recover; with a comma-decimal locale too.

Prints TAP."""
import shutil
import signal
import time

from driver import DEMO, WORK, Window, check, done, load, machine_file, speaks_german, wait_for


def in_force(path, letter):
    axes = load(path)["axes"]
    return next(axis for axis in axes if axis["letter"] == letter)["counts_per_unit"]


def adopt_undo_save():
    machine = machine_file("mine.trammel")
    window = Window(machine)
    check(window.root is not None, "the window opens on a machine file")
    check(window.says("600 steps/mm"), "the card of X tells its exact steps per millimetre (200·16·24/16/8 by hand)")
    check(window.says("0.42 % short"), "and how far off it is")
    for page in ("alt+2", "alt+3", "alt+5", "alt+4"):
        window.keys(page)
    check(window.says("X moves 0.42 % short"), "the result says so in a sentence")

    check(window.press(lambda name: "Adopt X, E" in name), "there is one button to adopt what is checked")
    window.keys("ctrl+s")
    saved = wait_for(lambda: in_force(machine, "X"), 10)
    # e = −0.0042 ± 0.0013 (95 %): 600/(1 − 0.0042) = 602.53
    check(saved and 601 < saved["value"] < 604 and saved["u"] > 0, "adopted and saved, the file holds the corrected value")
    log = load(machine)["log"]
    check(len(log) == 1 and len(log[0]["readings"]) > 20, "and a log entry with the readings behind it")
    check((WORK / "mine.trammel~").read_bytes() == DEMO.read_bytes(), "and the previous version is beside it")

    window.keys("ctrl+z", "ctrl+s")
    check(wait_for(lambda: in_force(machine, "X") is None, 10), "undone and saved, the nominal value is in force again")
    check(load(machine)["readings"] == load(DEMO)["readings"],
          "and the readings are back as they were")

    window.keys("ctrl+shift+z")
    time.sleep(4)  # unsaved work is kept about two seconds after an edit
    window.end(signal.SIGKILL)
    check(in_force(machine, "X") is None, "killed with unsaved work, the file is as it was saved")

    window = Window(machine)
    check(window.says("ended unexpectedly"), "the next start offers what was kept")
    check(window.press(lambda name: name == "Recover it"), "it can be recovered")
    window.keys("ctrl+s")
    check(wait_for(lambda: in_force(machine, "X"), 10), "and saved")
    window.end(signal.SIGTERM)
    shutil.rmtree(WORK / "state", ignore_errors=True)


def comma_locale():
    machine = machine_file("comma.trammel")
    window = Window(machine, lang="de_DE.UTF-8")
    check(window.says("0,42 %"), "under a comma-decimal locale numbers on screen have a comma")
    window.keys("alt+4")
    window.press(lambda name: "Adopt X, E" in name)
    window.keys("ctrl+s")
    saved = wait_for(lambda: in_force(machine, "X"), 10)
    check(saved and 601 < saved["value"] < 604, "and numbers in the file a point")
    window.end(signal.SIGTERM)
    shutil.rmtree(WORK / "state", ignore_errors=True)


adopt_undo_save()
if speaks_german():
    comma_locale()
done()
