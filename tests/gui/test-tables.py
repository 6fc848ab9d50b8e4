# SPDX-License-Identifier: GPL-3.0-or-later
"""Rows of the tables below a field while typing, and the user's own rows. Prints TAP."""
from driver import WORK, Window, check, done, machine_file, same, wait_for

OWN = WORK / "data" / "trammel" / "own-rows.csv"


def begin(window, text, field="Pitch"):
    """Types over what @field holds, and leaves the cursor there."""
    window.click(window.entry(field))
    window.keys("ctrl+a")
    window.type(text)


def a_row_is_taken():
    with Window(machine_file("taken.trammel")) as window:
        begin(window, "tr10")
        check(window.says("Tr 10 × 2, 2 mm, ISO 2904"), "while typing, rows that match are offered with their source")
        window.keys("Down", "Down", "Return")
        same(window.text("Pitch"), "1.5 mm", "Down and Return take a row")
        check(window.says_no_longer("Tr 10 × 2, 2 mm"), "and the list is gone")
        check(window.says("screw 1.5 mm × 4 starts"), "the machine has the value")
        window.keys("ctrl+z")
        check(window.says("screw 2 mm × 4 starts"), "one step takes it back")


def typing_goes_on_as_if_nothing_were_there():
    with Window(machine_file("typed.trammel")) as window:
        begin(window, "1.2")
        check(window.says("M8, 1.25 mm"), "there are rows for what was typed so far")
        window.type("7 mm")
        window.keys("Return")
        same(window.text("Pitch"), "1.27 mm", "Return takes what was typed, not a row")
        begin(window, "M")
        window.keys("Escape")
        check(window.says_no_longer("M3, 0.5 mm"), "Escape puts the list away")
        same(window.text("Pitch"), "M", "and leaves what was typed")
        window.keys("Escape")
        same(window.text("Pitch"), "1.27 mm", "the next one takes that back too")


def all_rows_can_be_seen():
    with Window(machine_file("all.trammel")) as window:
        window.click(window.entry("Module"))
        window.keys("alt+Down")
        check(window.says("DP 8, 8 DP"), "Alt+Down opens all rows")
        window.keys("Down", "Return")
        same(window.text("Module"), "0.6 mm", "and goes into the list")


def own_rows():
    with Window(machine_file("own.trammel")) as window:
        begin(window, "3.8 mm")
        check(window.says("Keep 3.8 mm in my tables…"), "a value that no row has can be kept")
        window.keys("Down", "Return")
        check(window.says("My tables"), "which asks for its name")
        window.type("jack screw")
        window.keys("Return")
        check(wait_for(OWN.exists, 5), "the row is saved at once")
        check("thread-pitch,jack screw,3.8 mm," in OWN.read_text(), "with its table and value")
        check(window.says("Remove jack screw"), "and is in the list")
        window.keys("Return")
        check(window.says("a name of one line"), "a row without a name is refused, with the reason")
        window.keys("Escape")
        begin(window, "jack")
        check(window.says("jack screw, 3.8 mm, own"), "it is offered like any other")
    with Window(machine_file("again.trammel")) as window:
        begin(window, "jack")
        check(window.says("jack screw, 3.8 mm, own"), "the next time too")
        window.keys("Escape", "Escape")
        window.press("Menu")
        window.press("My tables…")
        window.press("Remove jack screw")
        check(window.says("No rows of your own yet."), "it can be removed")
        check("jack" not in OWN.read_text(), "from the file too")
        check(window.says("jack screw was removed."), "it says so")
        window.press("Put it back")
        check(window.says("Remove jack screw"), "and it can be put back")
        check("thread-pitch,jack screw,3.8 mm," in OWN.read_text(), "as it was")
        window.press("Remove jack screw")
        window.keys("ctrl+z")
        check(window.says("Remove jack screw"), "by keyboard too")


def bad_lines():
    OWN.write_text("table,name,value,source\nbolts,M3,0.5 mm,\n", encoding="utf-8")
    with Window(machine_file("bad.trammel")) as window:
        window.press("Menu")
        window.press("My tables…")
        check(window.says("line 2: found “bolts”"), "a line that cannot be read is told with its place")


a_row_is_taken()
typing_goes_on_as_if_nothing_were_there()
all_rows_can_be_seen()
own_rows()
bad_lines()
done()
