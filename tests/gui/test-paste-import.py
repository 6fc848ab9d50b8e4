# SPDX-License-Identifier: GPL-3.0-or-later
"""Readings from elsewhere: a block from a spreadsheet, bad cells that are marked and kept, CSV files good and bad, and
a published calibration that is imported and fitted in the window. Prints TAP."""
import os
import pathlib

from driver import WORK, Window, check, copy_to_clipboard, done, load, same, speaks_german, wait_for, write
from sheet import Sheet, machine_with, outside

NORRIS = pathlib.Path(os.environ["TRAMMEL_REFERENCE"]) / "nist-norris.csv"


def paste_block():
    path = write(WORK / "paste.trammel", machine_with(outside(100, 99.71)))
    with Window(path) as window:
        sheet = Sheet(window)
        sheet.go(2)
        copy_to_clipboard("inside\tX\t80\t79.62\noutside\tY\t100\t3.94 in\n")
        window.keys("ctrl+v", "ctrl+s")
        rows = wait_for(lambda: load(path)["readings"][1:], 5)
        same([(row["kind"], row["along"], row["nominal"], row["measured"]) for row in rows or []],
             [("inside", "X", "80 mm", "79.62 mm"), ("outside", "Y", "100 mm", "100.076 mm")],
             "a block with tabs becomes rows, units in it or not: 3.94 · 25.4 is 100.076")
        window.keys("ctrl+z", "ctrl+s")
        check(wait_for(lambda: len(load(path)["readings"]) == 1, 5), "one undo takes it away")


def paste_with_decimal_commas():
    path = write(WORK / "komma.trammel", machine_with(outside(100, 99.71)))
    with Window(path, lang="de_DE.UTF-8") as window:
        sheet = Sheet(window)
        check("1: " in sheet.cell(), "the sheet opens under a comma-decimal locale")
        sheet.go(1, 3)
        check(sheet.cell().endswith("99,71"), "its numbers have a comma")
        sheet.go(2)
        copy_to_clipboard("outside\tX\t80\t79,62\noutside\tX\t60,5\t60,12\n")
        window.keys("ctrl+v", "ctrl+s")
        rows = wait_for(lambda: load(path)["readings"][1:], 5)
        same([(row["nominal"], row["measured"]) for row in rows or []], [("80 mm", "79.62 mm"), ("60.5 mm", "60.12 mm")],
             "pasted numbers with a decimal comma are read, and the file has points")
        sheet.go(3, 3)
        window.type("60,2")
        window.keys("Return", "ctrl+s")
        check(wait_for(lambda: load(path)["readings"][2]["measured"] == "60.2 mm", 5), "so are typed ones")


def bad_cells_are_kept():
    path = write(WORK / "bad.trammel", machine_with(outside(100, 99.71), outside(80, 79.9)))
    with Window(path) as window:
        sheet = Sheet(window)
        sheet.go(1, 3)
        window.type("99.7.1")
        window.keys("Return", "Up")
        check("99.7.1" in sheet.cell(), "a cell that cannot be read keeps what was typed")
        reason = sheet.trouble()
        check("99.7.1" in reason and len(reason) > 12, "and its reason is told")
        check(window.says(reason.split(";")[0]), "below the sheet for all to see")
        check(window.says("2 readings, 1 in the fit"), "the fit does without that row")
        window.keys("ctrl+s")
        check(wait_for(lambda: "99.7.1" in path.read_text(), 5), "saved, it is in the file")
        check(window.says("bad.trammel · saved"), "and the window says that all is saved")
    with Window(path) as window:
        sheet = Sheet(window)
        sheet.go(1, 3)
        check("99.7.1" in sheet.cell() and "99.7.1" in sheet.trouble(), "opened again, it is there, marked again")
        window.type("99.71")
        window.keys("Return", "ctrl+s")
        check(wait_for(lambda: "99.7.1" not in path.read_text(), 5), "typed anew, nothing of it is left")
        check(window.says("2 readings, 2 in the fit"), "and the row counts again")


def import_norris():
    path = write(WORK / "norris.trammel", machine_with(axes="X"))
    with Window(path) as window:
        window.keys("alt+3", "ctrl+i")
        window.choose_file(NORRIS)
        check(window.says("36 readings added from nist-norris.csv"), "a CSV file is imported, and the window says so")
        check(window.says("36 readings, 36 in the fit"), "all of it is in the fit")
        window.keys("alt+4")
        check(window.press("How readings are weighed"), "how readings are weighed can be seen")
        check(window.press(lambda name: "Estimate the scatter from the readings" in name),
              "and changed to an estimate of the scatter")
        check(window.press("How well the readings agree"), "how well they agree can be seen")
        # NIST StRD, Norris: slope 1.00211681802045, intercept −0.262323073774029, residual standard deviation
        # 0.884796396144373, 34 degrees of freedom; s(slope) 0.429796848199937e-3, times t(0.975, 34) = 2.0322 is
        # 0.087 %
        check(window.says("0.212 ± 0.087 %"), "the certified slope, with its certified interval, as a scale error")
        check(window.says("−0.26 ± 0.47 mm"), "the certified intercept, as the datum")
        check(window.explains("moves 1.00211681802 times what is commanded, u 0.0004297968"),
              "and all the certified digits of the slope and its standard deviation")
        check(window.explains("−0.262323073774 mm, u 0.2328182 mm"), "and of the intercept")
        check(window.says("0.884796"), "the certified residual standard deviation")
        check(window.says("34"), "and degrees of freedom")


def import_bad_file():
    bad = WORK / "bad.csv"
    bad.write_text("kind,along,nominal,measured\noutside,X,100,99.7\noutside,X,eighty,79.9\n")
    path = write(WORK / "kept.trammel", machine_with(outside(100, 99.71)))
    with Window(path) as window:
        window.keys("alt+3", "ctrl+i")
        window.choose_file(bad)
        check(window.says("bad.csv: line 3, column nominal"), "a bad file is refused with the number of its line and the column")
        check(window.says("eighty"), "and what was found there")
        check(window.says("1 reading, 1 in the fit"), "and nothing of it is used")
        semicolons = WORK / "komma.csv"
        semicolons.write_bytes("\ufeffkind;along;nominal;measured\r\ninside;X;80,5;79,9\r\n".encode())
        window.keys("ctrl+i")
        window.choose_file(semicolons)
        check(window.says("1 reading added from komma.csv"), "semicolons, decimal commas, a byte-order mark and CRLF are fine")
        check(window.says_no_longer("bad.csv: line 3"), "and the refusal is no longer shown")
        window.keys("ctrl+s")
        check(wait_for(lambda: load(path)["readings"][1]["nominal"] == "80.5 mm", 5), "the reading is what the file says")


paste_block()
bad_cells_are_kept()
import_norris()
import_bad_file()
if speaks_german():
    paste_with_decimal_commas()
done()
