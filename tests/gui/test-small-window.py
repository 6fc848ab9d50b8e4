# SPDX-License-Identifier: GPL-3.0-or-later
"""Every page in a window of 1000 × 700, in both languages: nothing makes it wider or taller. Prints TAP."""
import os
import subprocess

from driver import DEMO, Window, check, done, speaks_german, wait_for

WIDTH, HEIGHT = 1000, 700
PAGES = 5


def make_small(window):
    found = subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(window.process.pid)],
                           capture_output=True, text=True).stdout.split()
    for place in found:
        subprocess.run(["xdotool", "windowsize", place, str(WIDTH), str(HEIGHT)], check=True)
    return wait_for(lambda: window.box(window.frame())[2] <= WIDTH, 5)


def stays_small(window, what):
    _, _, width, height = window.box(window.frame())
    check(width <= WIDTH and height <= HEIGHT, f"{what} fits")
    if width > WIDTH or height > HEIGHT:
        print(f"# {width} × {height}", flush=True)


def pages(lang):
    with Window(DEMO, lang=lang) as window:
        check(make_small(window), f"{lang}: the window can be made small")
        for page in range(1, PAGES + 1):
            window.keys(f"alt+{page}", pause=0.8)
            stays_small(window, f"{lang}: page {page}")


pages("C.UTF-8")
if speaks_german():
    os.environ["TRAMMEL_LOCALEDIR"] = os.environ["TRAMMEL_PO"]
    pages("de_DE.UTF-8")
done()
