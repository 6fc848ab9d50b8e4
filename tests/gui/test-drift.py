# SPDX-License-Identifier: GPL-3.0-or-later
"""The log over time in the real window. Prints TAP.

X by hand: corrected to 80 and, 100 days later, to 80.08 steps/mm, u 0.008 each. Mean 80.04, moving range 0.08: limits
3·0.08/1.128 = 0.212766 from it; at most 3.267·0.08 = 0.261 from one check to the next. Of the last value, 0.08/80.08 in 100
days are 0.365 % a year, with 1.96·√2·0.008/80.08·3.6525 = 0.101 %. Lash 0.04 and 0.06 mm with u 0.004: in a year 0.02·3.6525 = 0.0731 mm, ± 1.96·√2·0.004·3.6525 = 0.0405."""
from driver import WORK, Window, check, done, load, machine_file, same, speaks_german, wait_for, write

LIMITS = "Control limits 79.83 to 80.25; at most 0.261 from one check to the next."


def entry(time, x, lash=None, y=None):
    changes = [{"letter": "X", "before": 80, "before_u": 0, "after": x, "after_u": 0.008}]
    if lash:
        changes[0]["lash"] = {"value": lash, "u": 0.004}
    if y:
        changes.append({"letter": "Y", "before": 80, "before_u": 0, "after": y, "after_u": 0.01})
    return {"time": time, "scatter": "stated", "dof": 1, "chi2": 1, "p_value": None, "birge": 1, "changes": changes,
            "readings": []}


def axis(letter):
    return {"letter": letter, "kind": "linear", "travel": "200 mm",
            "motor": {"type": "stepper", "full_steps": 200, "microsteps": 16},
            "stages": [], "output": {"type": "belt", "teeth": 20, "pitch": "2 mm"}}


MACHINE = {"format": "trammel-machine", "version": 1, "name": "Log", "axes": [axis("X"), axis("Y"), axis("Z")],
           "log": [entry("2026-01-01T00:00:00Z", 80, 0.04), entry("2026-04-11T00:00:00Z", 80.08, 0.06, 80.2)]}


def opened(name, machine, lang="C.UTF-8"):
    window = Window(write(WORK / name, machine), lang=lang)
    window.keys("alt+5")
    return window


def over_time():
    with opened("log.trammel", MACHINE) as window:
        check(window.says("Over time"), "a log is shown over time")
        check(window.says(LIMITS), "with its control limits")
        check(window.says("It drifts: 0.36 ± 0.10 % a year."), "its trend")
        check(window.says("Within 0.1 % (95 %) until 2026-"), "and the day of the next check")
        check(window.find("Chart over time") is not None, "as a chart, too")
        check(window.explains("Corrected value of X, steps/mm: 2 checks from 2026-01-01 to 2026-04-11."), "told in words")
        check(window.enter("Scale drift that is borne", "1"), "another tolerance can be typed, in percent")
        check(window.says("Within 1 % (95 %) until 202"), "and decides the day")
        window.enter("Scale drift that is borne", "little")
        check(window.says("found “little”"), "what cannot be read is told at its field")
        window.enter("Scale drift that is borne", "0.001 %")
        check(window.says("The checks do not tell the scale within 0.001 %: check again now, and better."), "due at once")

        window.click(window.find("What is followed over time", roles=("combo box",)))
        window.keys("Down", "Return")
        check(window.says("It drifts: 0.073 ± 0.040 mm a year."), "lash over time")
        check(window.says("At most", 1) is False, "without a tolerance nothing is due")
        window.enter("Most lash that is borne", "0.1")
        check(window.says("At most 0.1 mm (95 %) until 2026-"), "and decides when to check")
        check(window.press("Y over time"), "another axis can be chosen")
        check(window.explains("Corrected value of Y, steps/mm: 1 check from 2026-04-11 to 2026-04-11."), "of which there is one check")
        check(window.says("No trend yet: it takes two checks on different days"), "which makes no trend")


def adopted_and_undone():
    path = machine_file("adopted.trammel")
    with Window(path) as window:
        window.keys("alt+5")
        check(window.says("Nothing adopted yet") and not window.says("Over time", 0), "no log, no chart")
        window.keys("alt+4")
        window.press(lambda name: "Adopt X, E" in name)
        window.keys("alt+5")
        check(window.explains("Corrected value of X, steps/mm: 1 check from"), "what is adopted is the first check")
        window.keys("ctrl+z")
        check(window.says_no_longer("Over time"), "undone, there is none again")


def inches():
    with opened("inch.trammel", dict(MACHINE, display_unit="in")) as window:
        window.click(window.find("What is followed over time", roles=("combo box",)))
        window.keys("Down", "Return")
        # 0.0730500/25.4 and 0.0404938/25.4
        check(window.says("It drifts: 0.0029 ± 0.0016 in a year."), "lash in inches")
        window.enter("Most lash that is borne", "0.004")
        check(window.says("At most 0.004 in (95 %)"), "and a bare number is one")


def comma_locale():
    if not speaks_german():
        return
    with opened("komma.trammel", MACHINE, "de_DE.UTF-8") as window:
        check(window.says("79,83") and window.says("80,25"), "numbers have the sign of the locale")


over_time()
adopted_and_undone()
inches()
comma_locale()
done()
