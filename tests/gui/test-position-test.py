# SPDX-License-Identifier: GPL-3.0-or-later
"""A dial indicator's list from the clipboard to the result, and the rows of a test that is still to be made.

Prints TAP. The list is made of what its result must be: 0.3 % too far and 0.08 mm of play, without scatter."""
from driver import DEMO, WORK, Window, check, copy_to_clipboard, done, load, same, speaks_german, wait_for, write

TARGETS = list(range(0, 161, 20))


def shown(target, down):
    return target * 1.003 + (0.04 if down else -0.04)


def listed(point="."):
    ways = [(target, False) for target in TARGETS] + [(target, True) for target in reversed(TARGETS)]
    lines = [f"{target}\t{shown(target, down):.3f}" for _ in range(2) for target, down in ways]
    return "\n".join(lines).replace(".", point) + "\n"


def positions_in(path):
    return [row for row in load(path)["readings"] if row["kind"] == "position"]


def empty_machine(name):
    machine = load(DEMO)
    machine["readings"] = []
    return write(WORK / name, machine)


def from_the_clipboard():
    path = empty_machine("dial.trammel")
    with Window(path) as window:
        window.press(lambda name: name.endswith("Readings"))
        copy_to_clipboard(listed())
        window.keys("ctrl+v")
        check(window.says("36 readings at 9 targets from 0 mm to 160 mm, 2 runs; 18 approached moving up, 18 moving down"),
              "a pasted list of numbers is taken for a position test, and told")
        check(window.press("Add these readings"), "one press adds it")
        check(window.says("36 readings added"), "it says so")
        check(window.says("36 readings, 36 in the fit"), "all of them are fitted")
        window.keys("ctrl+s")
        check(wait_for(lambda: len(positions_in(path)) == 36, 10), "saved, the file has them")
        rows = positions_in(path)
        same([rows[0][key] for key in ("along", "nominal", "measured", "approach", "run")],
             ["X", "0 mm", "-0.04 mm", "+", 1], "the first as it was read")
        same([rows[-1][key] for key in ("along", "nominal", "measured", "approach", "run")],
             ["X", "0 mm", "0.04 mm", "-", 2], "and the last")
        window.press(lambda name: name.endswith("Result"))
        check(window.says("X moves 0.30 % too far"), "the result tells the scale")
        check(window.says("X loses 0.08 mm on every reversal"), "and the play")
        window.keys("ctrl+z")
        check(window.says("Nothing has been measured yet"), "one step undoes it")


def what_cannot_be_read():
    with Window(empty_machine("bad.trammel")) as window:
        window.press(lambda name: name.endswith("Readings"))
        check(window.press("Position test…"), "there is a button for it")
        check(window.says("Paste or type the list."), "it asks for the list")
        for line in ("0 0.1", "10 10.2"):
            window.type(line)
            window.keys("Return")
        window.type("20 apples")
        check(window.says("line 3: found “apples”"), "a line that cannot be read is named, with what is wrong")
        window.keys(*["BackSpace"] * 6, pause=0.05)
        window.type("20.3")
        check(window.says("3 readings at 3 targets"), "mended, it is read")
        window.keys("Escape")
        check(window.says("No readings yet"), "Esc leaves without adding anything")


def a_plan():
    path = empty_machine("plan.trammel")
    with Window(path) as window:
        window.press(lambda name: name.endswith("Readings"))
        window.press("Position test…")
        check(window.enter("to", "100"), "the last target")
        check(window.enter("Targets", "1"), "a number of targets that makes no sense")
        check(window.says("Targets: found “1”; a number from 2 to 10000 is wanted"), "is refused")
        check(window.enter("Targets", "6"), "one that does")
        check(window.enter("Runs", "2"), "and runs")
        check(window.says("24 rows; the targets lie 20 mm apart"), "are told")
        check(window.press("Make these rows"), "and made")
        check(window.says("24 readings added"), "as rows")
        copy_to_clipboard("\n".join(f"{shown(t, d):.3f}" for t, d in
                                    [(t, False) for t in range(0, 101, 20)] + [(t, True) for t in range(100, -1, -20)]))
        window.keys("ctrl+v")
        check(window.says("24 readings, 12 in the fit"), "a column of values can be pasted where they wait")


def decimal_comma():
    path = empty_machine("comma.trammel")
    with Window(path, lang="de_DE.UTF-8") as window:
        window.keys("alt+3")
        copy_to_clipboard(listed(","))
        window.keys("ctrl+v")
        check(window.press(lambda name: name in ("Add these readings", "Diese Messwerte hinzufügen")),
              "a list with decimal commas is read")
        window.keys("ctrl+s")
        check(wait_for(lambda: len(positions_in(path)) == 36, 10), "and added")
        same(positions_in(path)[1]["measured"], "20.02 mm", "as the numbers that they are")


from_the_clipboard()
what_cannot_be_read()
a_plan()
if speaks_german():
    decimal_comma()
done()
