# SPDX-License-Identifier: GPL-3.0-or-later
"""Trials of the whole model in the real window. Prints TAP.

Four travels of 100 mm, each read as 99.6 mm with u 0.05 mm: the scale error of X is −0.4 % with u 0.05/√4 = 0.025 %,
so its 95 % interval goes from −0.449 to −0.351 %; of Y, one of 100.2 mm: 0.2 ± 0.098 %. The model is a straight line
there, so trials must agree. The ends of the intervals of 1000000 trials are known to 0.0027 u."""
from driver import WORK, Window, check, done, speaks_german, write


def axis(letter):
    return {"letter": letter, "kind": "linear", "travel": "200 mm",
            "motor": {"type": "stepper", "full_steps": 200, "microsteps": 16},
            "stages": [], "output": {"type": "screw", "pitch": "2 mm"}}


def travel(along, measured):
    return {"kind": "travel", "along": along, "nominal": "100 mm", "measured": f"{measured} mm", "u": "0.05 mm"}


MACHINE = {
    "format": "trammel-machine", "version": 1, "name": "Trials", "axes": [axis("X"), axis("Y"), axis("Z")],
    "readings": [travel("X", 99.6)] * 4 + [travel("Y", 100.2)]
    + [{"kind": "height", "along": "Z", "nominal": "100 mm", "measured": "99.9 mm", "u": "0.05 mm"}],
}
OF_X = "X: trials give −0.449 to −0.351 %, the fit −0.449 to −0.351 %: the interval is validated."
STALE = "start them again"


def trials():
    with Window(write(WORK / "trials.trammel", MACHINE)) as window:
        window.keys("alt+4")
        check(window.find("Start the trials") is not None, "trials are offered")
        check(not window.says("trials from seed", 0), "and not made before they are wanted")
        check(window.press("Start the trials"), "they can be started")
        check(window.says("1000000 trials from seed 0.", 60), "a million are made")
        check(window.says(OF_X), "those of X agree with the fit")
        check(window.says("Y: trials give 0.102 to 0.298 %, the fit 0.102 to 0.298 %"), "and those of Y")
        check(window.says("The ends of the two intervals of X differ by at most"), "what the verdict rests on is said")
        check(window.find("Histogram of the trials of X") is not None, "the histogram is of the axis that is selected")
        window.press("Errors along Y")
        check(window.find("Histogram of the trials of Y") is not None, "another axis on the plot, another histogram")

        check(window.enter("Stated value of shrink", "0.4 %"), "something the fit rests on is changed")
        check(window.says(STALE), "then the trials are said to be of before")
        window.keys("ctrl+z")
        check(window.says_no_longer(STALE), "undone, they are of the fit again")

        check(window.enter("Seed", "seven") and window.says("Found “seven”; a whole number from 0"),
              "what is no number is refused in its place")
        window.enter("Number of trials", "5")
        check(window.says("Found “5”; a whole number from 1000 to 10000000 is wanted."), "and too few trials, too")
        window.enter("Number of trials", "10000000")
        window.enter("Seed", "7")
        check(window.press("Stop"), "many can be stopped")
        check(window.find("Start the trials") is not None and window.says("1000000 trials from seed 0."),
              "what was found before stays")
        window.enter("Number of trials", "1e4")
        check(window.says("10000 trials from seed 7.", 30), "Enter starts them")

        window.press("How readings are weighed")
        window.press(lambda name: "Robust against gross mis-readings" in name)
        window.press("Start the trials")
        check(window.says("found a robust fit; trials are for a plain one"), "a robust fit is refused, and why is said")


def comma_locale():
    if not speaks_german():
        return
    with Window(write(WORK / "komma.trammel", MACHINE), lang="de_DE.UTF-8") as window:
        window.keys("alt+4")
        starts = window.find(lambda name: name in ("Start the trials", "Versuche starten"), roles=("push button",))
        check(starts is not None, "trials are offered")
        window.press_node(starts)
        check(window.says("−0,449", 60), "numbers have the sign of the locale")
        check(window.says("1.000.000"), "and its groups")


trials()
comma_locale()
done()
