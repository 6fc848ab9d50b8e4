# SPDX-License-Identifier: GPL-3.0-or-later
"""Files dragged into the window from another program: a machine opens, readings are added, what is neither is refused.
Prints TAP."""
import os
import subprocess
import time

from driver import WORK, Window, check, done, load, machine_file, same, wait_for

SOURCE = os.environ["TRAMMEL_DRAG_SOURCE"]


def window_of(process):
    listed = subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(process.pid)], capture_output=True, text=True)
    return next(iter(listed.stdout.split()), None)


def drag_in(window, path):
    """Drags @path with the mouse, from a window in the corner of the screen into the middle of @window. Whether it was
    taken."""
    environment = dict(os.environ, GDK_BACKEND="x11", GSK_RENDERER="cairo")
    source = subprocess.Popen([SOURCE, str(path)], env=environment, stderr=subprocess.DEVNULL)
    try:
        shown = wait_for(lambda: window_of(source), 20)
        subprocess.run(["xdotool", "windowmove", "--sync", shown, "0", "840", "windowraise", shown], check=True)
        time.sleep(0.5)
        left, top = window.origin()
        _, _, width, height = window.box(window.frame())
        to_x, to_y = left + width // 2, top + height // 2
        subprocess.run(["xdotool", "mousemove", "100", "890", "mousedown", "1"], check=True)
        for step in range(1, 21):
            x, y = 100 + (to_x - 100) * step // 20, 890 + (to_y - 890) * step // 20
            subprocess.run(["xdotool", "mousemove", str(x), str(y)], check=True)
            time.sleep(0.05)
        time.sleep(0.5)
        subprocess.run(["xdotool", "mouseup", "1"], check=True)
        return source.wait(20) == 0
    finally:
        source.kill()


first, second = machine_file("first.trammel"), machine_file("second.trammel")
second.write_text(second.read_text().replace('"Heron"', '"Egret"'))
readings = WORK / "dial.csv"
readings.write_text("kind,along,nominal,measured\nposition,X,10,10.02\nposition,X,20,20.05\n")
neither = WORK / "song.trammel"
neither.write_text("la la la")
before = len(load(second)["readings"])

with Window(first) as window:
    check(window.says("first.trammel · saved"), "a machine is open")
    check(drag_in(window, second), "the window takes a machine file that is dragged in")
    check(window.says("second.trammel · saved") and window.says("Egret"), "and opens it")
    check(drag_in(window, readings), "it takes a file of readings")
    check(window.says("2 readings added from dial.csv"), "adds them and says so")
    window.keys("ctrl+s")
    check(wait_for(lambda: len(load(second)["readings"]) == before + 2, 10), "the machine has them")
    same([row["measured"] for row in load(second)["readings"][-2:]], ["10.02 mm", "20.05 mm"], "with their values")
    drag_in(window, neither)
    check(window.says("song.trammel"), "a file that is no machine is refused, and said to be")
    check(window.says("second.trammel · saved"), "and what was open stays open")
done()
