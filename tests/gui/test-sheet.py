# SPDX-License-Identifier: GPL-3.0-or-later
"""The sheet of readings by its keys: to move, type, change, clear, copy, insert and delete; and undo of each. Prints TAP."""
from driver import WORK, Window, check, clipboard, done, load, same, wait_for, write
from sheet import Sheet, machine_with, outside


def measured(path):
    return [reading["measured"] for reading in load(path)["readings"]]


def saved(window, path, wanted, what, of=measured):
    window.keys("ctrl+s")
    wait_for(lambda: of(path) == wanted, 5)
    same(of(path), wanted, what)


def moving(sheet, window):
    same(sheet.cell(), "Kind, row 1: Outside", "the sheet has the focus, and its cell tells where it is and what it holds")
    window.keys("Tab", "Tab", "Tab")
    same(sheet.cell(), "Measured, row 1: 99.71", "Tab goes to the right")
    window.keys("shift+Tab")
    same(sheet.cell(), "Nominal, row 1: 100", "Shift+Tab back")
    window.keys("Tab", "Return")
    same(sheet.cell(), "Kind, row 2: Outside", "Enter goes down to where the run of Tab began")
    window.keys("Down", "Right", "Right", "Right")
    same(sheet.cell(), "Measured, row 3, empty", "arrows go where they point; a cell says that it is empty")
    window.keys("Up", "Left")
    same(sheet.cell(), "Nominal, row 2: 80", "and back")
    window.keys("ctrl+End")
    check(sheet.cell().endswith("row 4, empty"), "Ctrl+End goes to the last cell, in the empty row that waits")
    window.keys("ctrl+Home")
    same(sheet.cell(), "Kind, row 1: Outside", "Ctrl+Home to the first")


def typing(sheet, window, path):
    sheet.go(1, 3)
    window.type("99.9")
    window.keys("Return")
    same(sheet.cell(), "Measured, row 2: 79.9", "typed and confirmed with Enter, the cell below is next")
    saved(window, path, ["99.9 mm", "79.9 mm", None], "what was typed took the place of what was there")
    sheet.go(1, 3)
    window.type("55")
    window.keys("Escape")
    same(sheet.cell(), "Measured, row 1: 99.9", "Escape gives up what was typed")
    window.keys("F2", "Left")
    window.type("5")
    window.keys("Return")
    saved(window, path, ["99.59 mm", "79.9 mm", None], "F2 changes what is there, and the arrows then move in it")
    window.keys("ctrl+z", "ctrl+z")
    saved(window, path, ["99.71 mm", "79.9 mm", None], "two undos take back both")
    window.keys("ctrl+shift+z", "ctrl+y")
    saved(window, path, ["99.59 mm", "79.9 mm", None], "two redos bring them again")
    sheet.go(3, 3)
    window.type("60.2 mm")
    window.keys("Tab")
    check(sheet.cell().startswith("u, row 3"), "Tab confirms, too")
    saved(window, path, ["99.59 mm", "79.9 mm", "60.2 mm"], "a unit may be typed")
    sheet.go(3, 3)
    window.type("2.35 in")
    window.keys("Return")
    saved(window, path, ["99.59 mm", "79.9 mm", "59.69 mm"], "any unit: 2.35 · 25.4 is 59.69")
    window.keys("ctrl+z", "ctrl+z")


def clearing(sheet, window, path):
    sheet.go(1, 3)
    window.keys("Delete")
    same(sheet.cell(), "Measured, row 1, empty", "Delete empties the cell")
    saved(window, path, [None, "79.9 mm", None], "in the file as well")
    window.keys("ctrl+z")
    same(sheet.cell(), "Measured, row 1: 99.59", "and undo fills it again")
    window.keys("shift+Down", "Delete")
    saved(window, path, [None, None, None], "Shift+arrow selects a block, and Delete empties it")
    window.keys("ctrl+z")
    saved(window, path, ["99.59 mm", "79.9 mm", None], "which one undo brings back")


def rows(sheet, window, path):
    sheet.go(2, 3)
    window.keys("ctrl+minus")
    saved(window, path, ["99.59 mm", None], "Ctrl+minus deletes the row")
    window.keys("ctrl+z")
    saved(window, path, ["99.59 mm", "79.9 mm", None], "undo brings it back")
    window.keys("ctrl+plus")
    saved(window, path, ["99.59 mm", None, "79.9 mm", None], "Ctrl+plus inserts one above")
    window.keys("ctrl+z")
    sheet.go(4)
    check(", row 4" in sheet.cell(), "below the last row is one to begin")
    window.keys("Right")
    window.type("Y")
    window.keys("Tab")
    window.type("40")
    window.keys("Tab")
    window.type("40.1")
    window.keys("Return")
    saved(window, path, ["99.59 mm", "79.9 mm", None, "40.1 mm"], "typed into, it is a reading")
    last = load(path)["readings"][3]
    same((last["kind"], last["along"], last["nominal"], last["instrument"]), ("outside", "Y", "40 mm", "caliper"),
         "of the kind and with the instrument of the one above")


def choosing(sheet, window, path):
    sheet.go(1)
    window.type("ins")
    window.keys("Return")
    saved(window, path, ["inside", "outside", "outside", "outside"], "a kind is completed from its first letters",
          lambda path: [reading["kind"] for reading in load(path)["readings"]])
    sheet.go(1)
    window.keys("alt+Down")
    check(window.says("Travel"), "Alt+Down shows a list of the kinds")
    window.keys("Down", "Return")
    window.keys("ctrl+s")
    chosen = wait_for(lambda: load(path)["readings"][0]["kind"] not in ("inside",), 5)
    check(chosen, "to choose from with the keys")
    window.keys("ctrl+z", "ctrl+z")


def copying(sheet, window):
    sheet.go(1, 2)
    window.keys("shift+Right", "shift+Down", "ctrl+c")
    same(clipboard().strip("\n"), "100\t99.59\n80\t79.9", "Ctrl+C copies a block as a spreadsheet takes it")
    sheet.go(4, 2)
    window.keys("ctrl+v")
    same(sheet.cell(), "Nominal, row 4: 100", "Ctrl+V pastes it")
    window.keys("Down", "Right")
    same(sheet.cell(), "Measured, row 5: 79.9", "making rows where there are none")
    window.keys("ctrl+z")


path = write(WORK / "sheet.trammel", machine_with(outside(100, 99.71), outside(80, 79.9), outside(60, None)))
with Window(path) as window:
    sheet = Sheet(window)
    moving(sheet, window)
    typing(sheet, window, path)
    clearing(sheet, window, path)
    rows(sheet, window, path)
    choosing(sheet, window, path)
    copying(sheet, window)
done()
