# SPDX-License-Identifier: GPL-3.0-or-later
"""From the test piece to the controller: its program and rows, the stated values, a suspect left out, adopting and its
undo, and each form of what the controller gets, copied and saved. Prints TAP."""
from driver import DEMO, WORK, Window, check, clipboard, done, load, machine_file, same, wait_for, write


def test_piece():
    path = write(WORK / "piece.trammel", dict(load(DEMO), readings=[]))
    with Window(path) as window:
        window.keys("alt+2")
        check(window.says("Never leave a heated machine alone"), "the cautions are where the program is made")
        check(window.press("Save program…"), "the program can be saved")
        window.choose_file(WORK / "square.gcode", save=True)
        program = wait_for(lambda: (WORK / "square.gcode").read_text(), 5) or ""
        check("G1" in program and "M2" in program and "CAUTION" in program, "it is words of ISO 6983, with the cautions")
        check(window.says("square.gcode"), "where it went is told")
        check(window.press("Copy program"), "it can be copied")
        same(clipboard(), program, "to the same text")
        check(window.press("Add rows to readings"), "its rows can be added to the readings")
        window.keys("ctrl+s")
        rows = wait_for(lambda: load(path)["readings"], 5) or []
        kinds = {(row["kind"], row["along"]) for row in rows}
        check({("outside", "X"), ("inside", "X"), ("outside", "Y"), ("inside", "Y"), ("outside", "X+Y"),
               ("outside", "X-Y"), ("height", "Z")} <= kinds, "outsides, insides, both diagonals and heights")
        check(all(row.get("measured") is None for row in rows), "all of them waiting to be measured")
        window.press("Add rows to readings")
        check(window.says("All rows of the test piece wait to be measured already."), "they are not added twice")
        window.enter("Size", "400 mm")
        check(window.says("400"), "a square too large for the machine is refused with its numbers")
        window.keys("ctrl+z")


def stated_values():
    path = machine_file("stated.trammel")
    with Window(path) as window:
        window.keys("alt+4")
        check(window.enter("Standard uncertainty of the stated value of shrink", "0"), "a stated value can be made certain")
        window.enter("Stated value of shrink", "0.25 %")
        window.keys("ctrl+s")
        stated = wait_for(lambda: load(path)["stated"].get("shrink"), 5)
        check(stated and abs(stated["value"] - 0.0025) < 1e-12, "the file has its value, as a fraction")
        window.enter("Stated value of bead", "much")
        check(window.says("“much”"), "one that cannot be read is refused where it was typed")
        check("bead" not in load(path)["stated"], "and not used")


def leave_out():
    path = machine_file("suspect.trammel")
    with Window(path) as window:
        window.keys("alt+4")
        check(window.says("below 0.0001") and window.says("The suspect row may be all there is to that scatter"),
              "one gross reading is named as what may widen all intervals")
        check(window.press("Leave out reading 10"), "it can be left out")
        check(window.says_no_longer("may be all there is to that scatter"), "and the readings then agree")
        window.keys("ctrl+s")
        row = wait_for(lambda: load(path)["readings"][9]["measured"] is None and load(path)["readings"][9], 5)
        check(row and "80.8" in row.get("note", ""), "its value is kept in the note")
        window.keys("ctrl+z", "ctrl+s")
        check(wait_for(lambda: load(path)["readings"] == load(DEMO)["readings"], 5), "undo brings it back")


def hand_over():
    path = machine_file("hand.trammel")
    with Window(path) as window:
        window.keys("alt+5")
        check(window.says("The readings ask for other values than these"), "what is not adopted yet is said")
        texts = {}
        for form in ("Machine profile", "C header", "Plain table"):
            window.press(form)
            check(window.press("Copy"), f"{form}: it can be copied")
            texts[form] = clipboard()
            check("600" in texts[form], "with the value in force")
            window.press("Save as…")
            file = WORK / (form.replace(" ", "-") + ".txt")
            window.choose_file(file, save=True)
            check(wait_for(file.exists, 5), "and saved")
        same(len(set(texts.values())), 3, "the three differ")
        check("#define" in texts["C header"] or "static const" in texts["C header"], "the header is C")
        window.keys("alt+4")
        check(window.press(lambda name: "Adopt X, E" in name), "what the readings ask for can be adopted")
        window.keys("alt+5")
        check(window.says("602.5"), "adopted, the corrected value is in the log")
        window.press("Copy")
        check("602.5" in clipboard(), "and in what the controller gets")
        window.keys("ctrl+z")
        check(window.says("Nothing adopted yet"), "undone, it is in neither")
        window.press("Copy")
        check("602.5" not in clipboard(), "and the nominal value is handed over")


test_piece()
stated_values()
leave_out()
hand_over()
done()
