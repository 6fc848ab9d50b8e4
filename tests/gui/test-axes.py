# SPDX-License-Identifier: GPL-3.0-or-later
"""Axis cards: axes of every kind added, one removed with the readings along it, and all of it undone. Prints TAP."""
from driver import DEMO, WORK, Window, check, done, load, same, wait_for, write


def cards(window):
    return [node.name for node in window.within("Axes") if node.getRoleName() == "list item"]


def saved(window, path, wanted):
    window.keys("ctrl+s")
    return wait_for(lambda: wanted(load(path)), 6)


def adding():
    path = write(WORK / "axes.trammel", dict(load(DEMO), axes=load(DEMO)["axes"][:1], readings=[]))
    with Window(path) as window:
        for label in ("Rotary axis: turns", "Feed axis: pushes filament, wire or paste", "Linear axis: moves along a line"):
            check(window.press_in_menu("Add axis", label), f"{label.split(':')[0]}: can be added")
        check(wait_for(lambda: cards(window) == ["Axis X", "Axis A", "Axis E", "Axis Y"], 5), "each has the letter of its kind")
        check(saved(window, path, lambda m: [a["kind"] for a in m["axes"]] == ["linear", "rotary", "feed", "linear"]),
              "the file has them")
        window.keys("ctrl+z", "ctrl+z", "ctrl+z")
        check(wait_for(lambda: cards(window) == ["Axis X"], 5), "undone, they are gone")


def removing():
    travel = {"kind": "travel", "nominal": "100 mm", "measured": "99.8 mm"}
    readings = [dict(travel, along=along) for along in ("X", "Y", "X+Y", "Z")]
    path = write(WORK / "removed.trammel", dict(load(DEMO), readings=readings))
    with Window(path) as window:
        window.click(window.find("Axis Y", roles=("list item",)))
        window.keys("Delete")
        check(window.says("Axis Y removed. 2 readings along it are left, which cannot be fitted now."),
              "with an axis gone, its readings are told of")
        same(cards(window), ["Axis X", "Axis Z", "Axis E"], "the others stay")
        check(window.press("Remove readings"), "they can be removed too")
        check(saved(window, path, lambda m: [r["along"] for r in m["readings"]] == ["X", "Z"]), "only those along it are")
        window.keys("alt+4")
        check(window.says("X moves 0.20 % short"), "and the rest is fitted")
        window.keys("ctrl+z", "ctrl+z")
        check(wait_for(lambda: cards(window) == ["Axis X", "Axis Y", "Axis Z", "Axis E"], 5), "the axis comes back by Undo")
        check(saved(window, path, lambda m: m["readings"] == readings), "and so do the readings")


adding()
removing()
done()
