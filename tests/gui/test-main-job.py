# SPDX-License-Identifier: GPL-3.0-or-later
"""The main job in the real window: open, read, adopt, undo, save, be killed, recover; with a comma-decimal locale too.

Drives the window through its accessibility tree and real key presses. Prints TAP."""
import json
import os
import pathlib
import shutil
import signal
import subprocess
import tempfile
import time

import pyatspi

WINDOW = os.environ["TRAMMEL_WINDOW"]
DEMO = pathlib.Path(os.environ["TRAMMEL_DATA"]) / "heron.trammel"
WORK = pathlib.Path(tempfile.mkdtemp(prefix="trammel-gui-"))
count = 0


def check(holds, what):
    global count
    count += 1
    print(("ok" if holds else "not ok"), count, "-", what, flush=True)
    return holds


def plain(text):
    """Spaces that must not break are spaces here; joints that may not are nothing."""
    return text.translate({0xA0: " ", 0x202F: " ", 0x2060: None})


def nodes(node):
    yield node
    try:
        children = [child for child in node if child is not None]
    except Exception:
        return
    for child in children:
        try:
            if not child.getState().contains(pyatspi.STATE_VISIBLE):
                continue
        except Exception:
            continue
        yield from nodes(child)


def wait_for(find, seconds=20):
    end = time.time() + seconds
    while time.time() < end:
        try:
            found = find()
        except Exception:
            found = None
        if found:
            return found
        time.sleep(0.2)
    return None


class Window:
    def __init__(self, *arguments, lang="C.UTF-8"):
        environment = dict(os.environ, LANG=lang, LC_ALL=lang, GDK_BACKEND="x11", GSK_RENDERER="cairo", GTK_A11Y="atspi",
                           XDG_STATE_HOME=str(WORK / "state"), XDG_DATA_HOME=str(WORK / "data"))
        environment.pop("WAYLAND_DISPLAY", None)
        self.process = subprocess.Popen([WINDOW, *map(str, arguments)], env=environment, stdout=subprocess.DEVNULL)
        self.root = wait_for(self.find_root, 30)
        time.sleep(1)

    def find_root(self):
        for application in pyatspi.Registry.getDesktop(0):
            if application and application.get_process_id() == self.process.pid and application.childCount:
                return application

    def find(self, matches, seconds=20):
        return wait_for(lambda: next((n for n in nodes(self.root) if matches(n.name or "")), None), seconds)

    def says(self, text, seconds=20):
        return self.find(lambda name: text in plain(name), seconds) is not None

    def press(self, matches):
        node = wait_for(lambda: next((n for n in nodes(self.root)
                                      if n.getRoleName() in ("push button", "check box", "toggle button")
                                      and matches(n.name or "")), None))
        if node is None:
            return False
        action = node.queryAction()
        names = [action.getName(i) for i in range(action.nActions)]
        action.doAction(next(i for i, name in enumerate(names) if name in ("click", "activate", "toggle")))
        time.sleep(0.8)
        return True

    def keys(self, *keys):
        for key in keys:
            subprocess.run(["xdotool", "key", key], check=True)
            time.sleep(0.5)

    def kill(self, how):
        self.process.send_signal(how)
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


def in_force(path, letter):
    axes = json.loads(path.read_text())["axes"]
    return next(axis for axis in axes if axis["letter"] == letter)["counts_per_unit"]


def adopt_undo_save():
    machine = WORK / "mine.trammel"
    shutil.copy(DEMO, machine)
    window = Window(machine)
    check(window.root is not None, "the window opens on a machine file")
    check(window.says("600 steps/mm"), "the card of X tells its exact steps per millimetre (200·16·24/16/8 by hand)")
    check(window.says("0.42 % short"), "and how far off it is")
    for page in ("alt+2", "alt+3", "alt+5", "alt+4"):
        window.keys(page)
    check(window.says("X moves 0.42 % short"), "the result says so in a sentence")

    check(window.press(lambda name: "Adopt X, E" in name), "there is one button to adopt what is checked")
    window.keys("ctrl+s")
    saved = wait_for(lambda: in_force(machine, "X"), 10)
    # e = −0.0042 ± 0.0013 (95 %): 600/(1 − 0.0042) = 602.53
    check(saved and 601 < saved["value"] < 604 and saved["u"] > 0, "adopted and saved, the file holds the corrected value")
    log = json.loads(machine.read_text())["log"]
    check(len(log) == 1 and len(log[0]["readings"]) > 20, "and a log entry with the readings behind it")
    check((WORK / "mine.trammel~").read_bytes() == DEMO.read_bytes(), "and the previous version is beside it")

    window.keys("ctrl+z", "ctrl+s")
    check(wait_for(lambda: in_force(machine, "X") is None, 10), "undone and saved, the nominal value is in force again")
    check(json.loads(machine.read_text())["readings"] == json.loads(DEMO.read_text())["readings"],
          "and the readings are back as they were")

    window.keys("ctrl+shift+z")
    time.sleep(4)  # unsaved work is kept about two seconds after an edit
    window.kill(signal.SIGKILL)
    check(in_force(machine, "X") is None, "killed with unsaved work, the file is as it was saved")

    window = Window(machine)
    check(window.says("ended unexpectedly"), "the next start offers what was kept")
    check(window.press(lambda name: name == "Recover it"), "it can be recovered")
    window.keys("ctrl+s")
    check(wait_for(lambda: in_force(machine, "X"), 10), "and saved")
    window.kill(signal.SIGTERM)
    shutil.rmtree(WORK / "state", ignore_errors=True)


def comma_locale():
    if "de_DE" not in subprocess.run(["locale", "-a"], capture_output=True, text=True).stdout:
        print("# no locale with a decimal comma on this machine")
        return
    machine = WORK / "comma.trammel"
    shutil.copy(DEMO, machine)
    window = Window(machine, lang="de_DE.UTF-8")
    check(window.says("0,42 %"), "under a comma-decimal locale numbers on screen have a comma")
    window.keys("alt+4")
    window.press(lambda name: "Adopt X, E" in name)
    window.keys("ctrl+s")
    saved = wait_for(lambda: in_force(machine, "X"), 10)
    check(saved and 601 < saved["value"] < 604, "and numbers in the file a point")
    window.kill(signal.SIGTERM)
    shutil.rmtree(WORK / "state", ignore_errors=True)


manager = subprocess.Popen(["openbox"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
try:
    adopt_undo_save()
    comma_locale()
finally:
    manager.terminate()
    shutil.rmtree(WORK, ignore_errors=True)
print(f"1..{count}")
