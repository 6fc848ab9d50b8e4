# SPDX-License-Identifier: GPL-3.0-or-later
"""What a screen reader says: every control on the screen that takes the focus has a name, which is no type of widget, no
mnemonic and not said twice. Prints TAP."""
import pyatspi

from driver import BUTTONS, DEMO, Window, check, done, nodes, plain, wait_for

ROLES = BUTTONS + ("combo box", "text", "entry", "spin button", "list item", "slider")


def is_badly_named(node):
    state = node.getState()
    if node.getRoleName() not in ROLES or not state.contains(pyatspi.STATE_SHOWING):
        return False
    if not state.contains(pyatspi.STATE_FOCUSABLE):
        return False
    name = plain(node.name)
    half = name[: len(name) // 2].strip()
    return not name or name.startswith("Gtk") or "_" in name or name == f"{half} {half}"


def names_on(window, what):
    bad = [f"{node.getRoleName()} {node.name!r}" for node in nodes(window.root) if is_badly_named(node)]
    check(not bad, f"{what}: all controls have names")
    for line in bad:
        print("#", line, flush=True)


def pages():
    with Window(DEMO) as window:
        for bench in ("Parts", "Load", "Limits", "Play", "Find gears", "Meshing"):
            window.press(bench)
            names_on(window, f"Drive, {bench}")
        for page, name in enumerate(("Test piece", "Readings", "Result", "Hand over"), 2):
            window.keys(f"alt+{page}", pause=1)
            names_on(window, name)


def spoken():
    with Window(DEMO) as window:
        window.press("Find gears")
        check(window.find("Only what runs in its holes", 5, ("check box",)), "a mnemonic is not spoken")
        window.press("Parts")
        check(window.find("Friction and load", 5, ("push button",)), "what folds away is called what it shows")
        check(window.find("Kind of Motor", 5, ("push button",)), "the button in a list of choices is called as the list")
        window.keys("alt+4", pause=1)
        check(window.find("Adopt X, E", 10, ("push button",)), "a button whose label changes")
        window.press("Adopt E")
        check(wait_for(lambda: window.find("Adopt X", 1, ("push button",)), 5), "has the name that it shows now")


pages()
spoken()
done()
