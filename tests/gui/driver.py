# SPDX-License-Identifier: GPL-3.0-or-later
"""Drives the real window as a person would: by what assistive technology sees of it, and by real keys.

A test imports this, opens windows, calls check() and ends with done(). Prints TAP."""
import atexit
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
DATA = pathlib.Path(os.environ["TRAMMEL_DATA"])
DEMO = DATA / "heron.trammel"
WORK = pathlib.Path(tempfile.mkdtemp(prefix="trammel-gui-"))
BUTTONS = ("push button", "check box", "toggle button", "radio button", "menu item", "check menu item", "radio menu item")
count = 0


def check(holds, what):
    global count
    count += 1
    print(("ok" if holds else "not ok"), count, "-", what, flush=True)
    return holds


def same(found, wanted, what):
    if not check(found == wanted, what):
        print(f"# found {found!r}, wanted {wanted!r}", flush=True)


def done():
    print(f"1..{count}", flush=True)


def plain(text):
    """Spaces that must not break are spaces here; joints that may not are nothing."""
    return (text or "").translate({0xA0: " ", 0x202F: " ", 0x2009: " ", 0x2060: None})


def speaks_german():
    listed = subprocess.run(["locale", "-a"], capture_output=True, text=True).stdout
    if "de_DE" in listed:
        return True
    print("# no locale with a decimal comma on this machine")
    return False


def wait_for(find, seconds=20):
    end = time.time() + seconds
    while True:
        try:
            found = find()
        except Exception:
            found = None
        if found or time.time() > end:
            return found
        time.sleep(0.15)


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


def text_of(node):
    try:
        text = node.queryText()
        return text.getText(0, text.characterCount)
    except NotImplementedError:
        return None


def copy_to_clipboard(text):
    """What another program puts there."""
    subprocess.run(["xclip", "-selection", "clipboard", "-in"], input=text.encode(), check=True, stdout=subprocess.DEVNULL)


def clipboard():
    read = subprocess.run(["xclip", "-selection", "clipboard", "-out"], capture_output=True, timeout=10)
    return read.stdout.decode()


def machine_file(name, source=DEMO):
    path = WORK / name
    shutil.copy(source, path)
    return path


def load(path):
    return json.loads(path.read_text())


def write(path, machine):
    path.write_text(json.dumps(machine, ensure_ascii=False))
    return path


class Window:
    def __init__(self, *arguments, lang="C.UTF-8"):
        environment = dict(os.environ, LANG=lang, LC_ALL=lang, GDK_BACKEND="x11", GSK_RENDERER="cairo", GTK_A11Y="atspi",
                           XDG_STATE_HOME=str(WORK / "state"), XDG_DATA_HOME=str(WORK / "data"),
                           XDG_CONFIG_HOME=str(WORK / "config"))
        environment.pop("WAYLAND_DISPLAY", None)
        self.process = subprocess.Popen([WINDOW, *map(str, arguments)], env=environment, stdout=subprocess.DEVNULL)
        self.root = wait_for(self.find_root, 30)
        time.sleep(1)

    def find_root(self):
        for application in pyatspi.Registry.getDesktop(0):
            if application and application.get_process_id() == self.process.pid and application.childCount:
                return application

    # What is there

    def within(self, inside):
        """All there is in what has the name @inside; None: in the window."""
        places = [n for n in nodes(self.root) if plain(n.name) == inside] if inside else [self.root]
        for place in places:
            yield from nodes(place)

    def find(self, matches, seconds=20, roles=None, inside=None):
        """The first control whose name fits; @matches is that name, or asks of a name whether it fits. @inside: within
        what has that name (a card, say, or the page of a tab), which matters where there are several."""
        fits = matches if callable(matches) else lambda name: plain(name) == matches
        return wait_for(lambda: next((n for n in self.within(inside)
                                      if (not roles or n.getRoleName() in roles) and fits(n.name or "")), None), seconds)

    def says(self, text, seconds=20):
        return self.find(lambda name: text in plain(name), seconds) is not None

    def explains(self, text, seconds=20):
        """As says(), in what is told of a control besides its name."""
        return wait_for(lambda: any(text in plain(n.description) for n in nodes(self.root)), seconds) is not None

    def says_no_longer(self, text, seconds=10):
        return wait_for(lambda: not self.says(text, 0), seconds)

    def dump(self):
        """What there is, for the one who looks into a failure."""
        for node in nodes(self.root):
            if node.name or text_of(node):
                print("#", node.getRoleName(), repr(node.name), repr(text_of(node) or ""))

    # What can be done

    def press(self, matches, seconds=20, inside=None):
        node = self.find(matches, seconds, BUTTONS, inside)
        if node is None:
            return False
        self.press_node(node)
        return True

    def press_in_menu(self, button, item):
        """A menu that a busy machine is slow to open is opened once more."""
        for _ in range(3):
            self.press(button)
            if self.press(item, 4):
                return True
        return False

    def press_node(self, node):
        action = node.queryAction()
        names = [action.getName(i) for i in range(action.nActions)]
        act = next((i for i, name in enumerate(names) if name in ("click", "activate", "toggle")), None)
        if act is None:
            self.click(node)
        else:
            action.doAction(act)
        time.sleep(0.6)

    def keys(self, *keys, pause=0.3):
        for key in keys:
            subprocess.run(["xdotool", "key", key], check=True)
            time.sleep(pause)

    def type(self, text):
        subprocess.run(["xdotool", "type", "--delay", "15", "--", text], check=True)
        time.sleep(0.3)

    def entry(self, matches, inside=None, seconds=20):
        return self.find(matches, seconds, ("text", "entry"), inside)

    def enter(self, matches, text, inside=None):
        """Puts @text in place of what the entry holds, and confirms it."""
        node = self.entry(matches, inside)
        if node is None:
            return False
        self.click(node)
        self.keys("ctrl+a")
        self.type(text)
        self.keys("Return")
        return True

    def text(self, matches, inside=None, seconds=20):
        node = self.entry(matches, inside, seconds)
        return None if node is None else text_of(node)

    def box(self, node):
        """Where @node is in its window: x, y, width, height."""
        box = node.queryComponent().getExtents(pyatspi.WINDOW_COORDS)
        return box.x, box.y, box.width, box.height

    def frame(self):
        return next(child for child in self.root if child and child.getRoleName() == "frame")

    def origin(self):
        """Where the window is on the screen."""
        _, _, width, height = self.box(self.frame())
        listed = subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(self.process.pid)],
                                capture_output=True, text=True).stdout.split()
        best = None
        for window in listed:
            shell = subprocess.run(["xdotool", "getwindowgeometry", "--shell", window], capture_output=True, text=True).stdout
            place = dict(line.split("=") for line in shell.split() if "=" in line)
            wider, taller = int(place["WIDTH"]) - width, int(place["HEIGHT"]) - height
            if best is None or abs(wider) + abs(taller) < best[0]:
                best = abs(wider) + abs(taller), int(place["X"]) + wider // 2, int(place["Y"]) + taller // 2
        return best[1:]

    def pointer(self, x, y, *then):
        left, top = self.origin()
        subprocess.run(["xdotool", "mousemove", str(left + x), str(top + y), *then], check=True)
        time.sleep(0.2)

    def click(self, node):
        """With the mouse, scrolled to first where that is needed."""
        _, _, width, height = self.box(self.frame())
        for _ in range(40):
            x, y, w, h = self.box(node)
            if 100 < y + h // 2 < height - 20:
                break
            self.pointer(min(max(x + w // 2, 380), width - 40), height - 60, "click", "5" if y > 100 else "4")
        # A hand moves before it clicks
        self.pointer(x + w // 2 - 2, y + h // 2)
        self.pointer(x + w // 2, y + h // 2, "click", "1")

    def open_file(self, path):
        """Ctrl+O once more where the keys had gone to a menu that was still closing."""
        for _ in range(3):
            self.keys("ctrl+o")
            if self.find("GtkFileChooserWidget", 6):
                break
        self.choose_file(path)

    def choose_file(self, path, save=False):
        """Answers the file chooser that is open."""
        self.find("GtkFileChooserWidget")
        time.sleep(0.8)
        if save:
            self.keys("ctrl+a")
        self.type(str(path))
        time.sleep(0.5)
        self.keys("Return")
        wait_for(lambda: not self.find("GtkFileChooserWidget", 0), 10)
        time.sleep(1)  # until the window has the keys again

    def title(self):
        frame = next((child for child in self.root if child and child.getRoleName() == "frame"), None)
        return frame.name if frame else None

    # How it ends

    def has_ended(self, seconds=10):
        return wait_for(lambda: self.process.poll() is not None, seconds)

    def end(self, how=signal.SIGKILL):
        if self.process.poll() is None:
            self.process.send_signal(how)
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        """Nothing of it is left for the next one to recover."""
        self.end()
        shutil.rmtree(WORK / "state", ignore_errors=True)


def start():
    manager = subprocess.Popen(["openbox"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    time.sleep(0.3)

    def finish():
        manager.terminate()
        shutil.rmtree(WORK, ignore_errors=True)

    atexit.register(finish)


start()
