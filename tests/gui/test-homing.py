# SPDX-License-Identifier: GPL-3.0-or-later
"""Homes of a switch, from a list on the clipboard to what they mean, in the real window. Prints TAP.

By hand: of 1, 2, 4 and 5 mm the mean is 3, s = √(10/3) = 1.83; the next home is 3.182446·s·√1.25 = 6.50 from the mean
(Student's t, any table); 99 % of all homes with 95 % confidence 8.221 s = 15.01 (ISO 16269-6, from memory), which are 75 %
of a layer of 20 mm. At 100 mm/s looked at every second the switch is found up to 100 mm late, s at least 100/√12 = 29."""
from driver import WORK, Window, check, copy_to_clipboard, done, load, same, speaks_german, wait_for, write

NEXT = "The next home: from −3.50 mm to 9.50 mm (95 %)."
ALL = "99 % of all homes: from −12.01 mm to 18.01 mm (with 95 % confidence; mean ± 8.221 s)."


def axis(letter):
    return {"letter": letter, "kind": "linear", "travel": "200 mm",
            "motor": {"type": "stepper", "full_steps": 200, "microsteps": 16},
            "stages": [], "output": {"type": "belt", "teeth": 20, "pitch": "2 mm"}}


def machine(homes, **more):
    return dict({"format": "trammel-machine", "version": 1, "name": "Switch", "axes": [axis("X"), axis("Z")],
                 "readings": homes}, **more)


def home(measured, letter="Z", **more):
    return dict({"kind": "home", "along": letter, "measured": f"{measured} mm"}, **more)


def from_the_clipboard():
    path = write(WORK / "switch.trammel", machine([]))
    with Window(path) as window:
        window.keys("alt+3")
        copy_to_clipboard("1\n2\n4\n5\n")
        window.press("Paste")
        check(window.says("4 values, but not yet what was measured"), "a list of numbers does not say what it is of")
        window.keys("alt+4")
        check(window.says("There are values, but it is not said yet what was measured"), "and gives no result")
        window.keys("alt+3")
        check(window.press("Homes of Z"), "it can be taken for homes")
        window.keys("alt+4")
        check(window.says("4 homes: mean 3.00 mm, s 1.83 mm, range 4.00 mm (1.00 mm to 5.00 mm)."), "they are analysed")
        check(window.says(NEXT) and window.says(ALL), "with what further homes will be")
        check(window.says("No reading tells yet how far an axis moves."), "it is said that there is nothing to fit")
        check(window.find("Run chart of homes") is not None, "as a run chart, too")
        check(window.enter("First layer", "20"), "the height of a layer")
        check(window.says("On a first layer of 20 mm that is ± 75 %."), "tells what it means")
        window.enter("Approached at", "100")
        window.enter("Looked at every", "1 s")
        check(window.says("At 100 mm/s, looked at every 1000 ms, the switch is found up to 100 mm late: s cannot be below 29 mm."),
              "what the approach cannot better is told")
        window.enter("Looked at every", "often")
        check(window.says("found “often”"), "what cannot be read is told at its field")
        window.enter("Bed touched at", "2, 4")
        check(window.says("From the switch to the bed: 3"), "the bed where it was touched")
        window.enter("Bed touched at", "2, four")
        check(window.says("found “four”"), "as far as it can be read")
        window.keys("ctrl+s")
        check(wait_for(lambda: [row["kind"] for row in load(path)["readings"]] == ["home"] * 4, 10), "the file has homes")
        window.keys("ctrl+z")
        check(window.says("There are values, but it is not said yet what was measured"), "one step undoes it")


def sets():
    fast = [home(value, set="fast") for value in (1.5, 1.2, 1.9, 1.4)]
    slow = [home(value, set="slow") for value in (1.0, 1.01, 0.99, 1.0)]
    of_x = [home(7, "X"), home(7, "X"), home(7, "X")]
    with Window(write(WORK / "sets.trammel", machine(fast + slow + of_x))) as window:
        window.keys("alt+4")
        check(window.says("All of them read alike: they scatter less than the instrument can show."), "X, which reads alike")
        check(window.press("Homes of Z"), "another axis can be chosen")
        # F = s²/s² with 3 and 3 degrees of freedom is far beyond 15.4 (any table)
        check(window.says("“slow” scatters less (F test"), "two ways of approach are compared")
        check(window.says("“fast” ends 0.50 mm farther than “slow”"), "in where they end, too")
        check(window.says("8 homes: mean 1.25 mm"), "all together")
        window.click(window.find("Set of homes", roles=("combo box",)))
        window.keys("Down", "Down", "Return")
        check(window.says("4 homes: mean 1.0000 mm, s 0.0082 mm"), "or one set of them")
        window.press("Figures of homing")
        check(window.says("standard deviation s") and window.says("0.0082 mm"), "the figures stand side by side")


def few():
    with Window(write(WORK / "few.trammel", machine([home(1)]))) as window:
        window.keys("alt+4")
        check(window.says("found 1 reading; at least 2 are wanted"), "one home is not enough, and that is said")


def inches():
    homes = [home(value) for value in (25.4, 25.654)]
    with Window(write(WORK / "inch.trammel", machine(homes, display_unit="in"))) as window:
        window.keys("alt+4")
        # 1 and 1.01 in: s = 0.01/√2
        check(window.says("2 homes: mean 1.0050 in, s 0.0071 in, range 0.0100 in (1.0000 in to 1.0100 in)."), "inches are inches")


def comma_locale():
    if not speaks_german():
        return
    homes = [home(value) for value in (1, 2, 4, 5)]
    with Window(write(WORK / "komma.trammel", machine(homes)), lang="de_DE.UTF-8") as window:
        window.keys("alt+4")
        check(window.says("−3,50 mm") and window.says("18,01 mm"), "numbers have the sign of the locale")


from_the_clipboard()
sets()
few()
inches()
comma_locale()
done()
