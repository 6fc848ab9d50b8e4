# SPDX-License-Identifier: GPL-3.0-or-later
"""Play off a ladder of lines: the piece chosen, its program and rows, what was read typed in, and the ways in which lash
was found compared. Prints TAP."""
from driver import DEMO, WORK, Window, check, done, load, same, wait_for, write
from sheet import Sheet


def choose(window, label):
    """From the list of test pieces, with the keyboard."""
    box = window.find("Which test piece", roles=("combo box",))
    window.click(box)
    window.keys("Home", *(["Down"] if label == "Ladder of lines" else []), "Return", pause=0.6)


def piece(path):
    return load(path).get("piece", {})


def saved(window, path, wanted):
    window.keys("ctrl+s")
    return wait_for(lambda: wanted(load(path)), 5)


def choosing():
    path = write(WORK / "choose.trammel", dict(load(DEMO), readings=[]))
    size = piece(path).get("size", "100 mm")
    with Window(path) as window:
        window.keys("alt+2")
        window.enter("Bead width", "0.4 mm")
        choose(window, "Ladder of lines")
        check(window.entry("Vernier") is not None, "the ladder has parameters of its own")
        same(window.text("Bead width"), "0.4 mm", "what both pieces have stays as it was")
        check(window.says("this piece will tell the lash of X to ± 0.028 mm, the lash of Y to ± 0.028 mm"),
              "what it will tell of play is said")
        check(saved(window, path, lambda machine: machine["piece"]["type"] == "ladder"), "the file has the choice")
        check(window.press("Save program…"), "its program can be saved")
        window.choose_file(WORK / "ladder.gcode", save=True)
        program = wait_for(lambda: (WORK / "ladder.gcode").read_text(), 5) or ""
        check("lines approached moving up" in program and "G1" in program, "it is that of the ladder")
        window.enter("Spacing", "0.5 mm")
        check(window.says("0.5 mm is too close"), "what cannot be drawn is refused")
        window.keys("ctrl+z")
        choose(window, "Calibration square")
        check(window.entry("Wall") is not None, "the square can be chosen again")
        same(window.text("Size"), size, "with its own parameters")
        window.keys("ctrl+z")
        check(window.entry("Vernier") is not None, "and that can be undone")


def rows():
    machine = dict(load(DEMO), readings=[
        {"kind": "position", "along": "X", "nominal": f"{at} mm", "measured": f"{at - side * 0.05} mm", "u": "0.01 mm",
         "approach": "+" if side > 0 else "-"} for at in (0, 50, 100) for side in (1, -1)])
    path = write(WORK / "rows.trammel", machine)
    with Window(path) as window:
        window.keys("alt+2")
        choose(window, "Ladder of lines")
        check(window.press("Add rows to readings"), "its rows can be added to the readings")
        check(window.says("2 rows added to the readings, waiting to be measured."), "that is said")
        added = (saved(window, path, lambda m: m["readings"][6:]) or [])
        same([(row["kind"], row["along"], row["measured"]) for row in added],
             [("reversal", "X", None), ("reversal", "Y", None)], "a reversal along each axis")
        sheet = Sheet(window)
        sheet.go(7, right=3)
        window.type("0.1")
        window.keys("Return")
        window.type("0.35")
        window.keys("Return")
        measured = saved(window, path, lambda m: m["readings"][7]["measured"] and m["readings"][6:]) or []
        same([row["measured"] for row in measured], ["0.1 mm", "0.35 mm"], "what was read is typed into them")
        window.keys("alt+4")
        check(window.says("X loses 0.10"), "the play is found")
        check(window.says("Lash of X:") and window.says("they agree"), "and agrees with that of the positions")
        sheet = Sheet(window)
        sheet.go(7, right=3)
        window.type("0.4")
        window.keys("Return")
        window.keys("alt+4")
        check(window.says("they do not agree") and window.says("The ways in which the lash of X was found do not agree"),
              "where it does not, that is said, and what it may mean")


choosing()
rows()
done()
