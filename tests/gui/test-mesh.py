# SPDX-License-Identifier: GPL-3.0-or-later
"""Gears on a plate with holes in the real window: the distance of the holes, where the pair runs, and placing it.

Prints TAP. 16:40 at module 1 on holes 10 mm apart: at 20 and 20 mm, 28.284 mm, and nowhere else (by hand, between
28 mm without backlash and 30 mm, where the tips part); the backlash there is 0.217 mm by the involute at
the working circles, and so 0.217 · 28 / 28.284 = 0.215 mm of lash at the pitch circles."""
import json

from driver import WORK, Window, check, done, load, same, speaks_german, wait_for, write

MACHINE = {
    "format": "trammel-machine", "version": 1, "name": "Gears",
    "axes": [
        {"letter": "X", "kind": "linear", "travel": "200 mm",
         "motor": {"type": "stepper", "full_steps": 200, "microsteps": 16},
         "stages": [{"type": "gearbox", "ratio": "3"}, {"type": "spur", "driver": 16, "driven": 40, "module": "1 mm"}],
         "output": {"type": "screw", "pitch": "2 mm"}}],
}


def stage_of(path):
    return load(path)["axes"][0]["stages"][1]


def place_the_gears():
    path = write(WORK / "gears.trammel", MACHINE)
    with Window(path) as window:
        check(window.press("Meshing"), "there is a tab for meshing")
        check(window.says("Stage 2: spur 16:40"), "it shows the first stage that is a pair of gears")
        check(window.says("28.000 mm from center to center"), "and tells the distance without backlash")
        check(window.says("16 teeth are undercut"), "and what is the matter with the gears")
        check(window.says("Shafts on a plate with holes?"), "and asks for the distance of the holes")
        check(window.enter("Holes every", "10 mm"), "it can be typed")
        check(window.says("The gears run at 1 distance"), "then it tells at how many distances the gears run")
        check(window.says("20 × 20 mm: 28.284 mm apart"), "and at which")
        check(window.says("backlash 0.217 mm, contact ratio 1.33"), "and how")
        check(window.press("Use this"), "they can be placed there")
        check(window.says("Built 28.284 mm from center to center"), "and the panel says that they are")
        window.keys("ctrl+s")
        check(wait_for(lambda: "center" in stage_of(path), 10), "saved, the file has it")
        same((stage_of(path)["center"], stage_of(path)["lash"]), ("28.284 mm", "0.215 mm"), "center distance and lash")
        same(load(path)["grid"]["pitch"], "10 mm", "and the plate")
        window.keys("ctrl+z")
        check(window.says("Without backlash 28.000 mm"), "one step undoes it")
        check(window.enter("Holes every", "0.001 mm"), "a grid that is too fine")
        check(window.explains("at most 500 are wanted") or window.says("at most 500 are wanted"), "is refused where it was typed")
        check(window.enter("Holes every", "27 mm"), "a grid on which nothing fits")
        check(window.says("in no two holes"), "is told as such")


def gears_over_an_idler():
    """16, 24 and 40 teeth on half holes of 10 mm: 20 mm apart for the first mesh, and for the second 25 and 20 mm,
    32.016 mm, where 32 are without backlash: α_w = arccos (32/32.016 · cos 20°) = 20.076°, 64 (inv α_w − inv 20°) =
    0.011 mm at the pitch circles (by hand)."""
    machine = json.loads(json.dumps(MACHINE))
    machine["axes"][0]["stages"][1]["idlers"] = [24]
    machine["grid"] = {"type": "holes", "pitch": "10 mm", "half": True}
    path = write(WORK / "idler.trammel", machine)
    with Window(path) as window:
        window.press("Meshing")
        check(window.says("Without backlash 20.000 mm"), "the driver meshes with the idler first")
        check(window.says("Idler, 24"), "which is said to be one")
        window.click(window.find("Mesh", roles=["combo box"]))
        window.keys("Down", "Return")
        check(window.says("Without backlash 32.000 mm"), "the other mesh can be chosen")
        check(window.says("25 × 20 mm: 32.016 mm apart"), "and the holes in which it runs")
        check(window.press("Use this"), "it can be placed there")
        check(window.says("Built 32.016 mm from center to center"), "the panel says that it is")
        check(window.says("0.011 mm of lash; 2 of its 2 meshes are placed"), "and what lash the stage has of its meshes")
        window.keys("ctrl+s")
        check(wait_for(lambda: "center" in stage_of(path), 10), "saved, the file has it")
        same((stage_of(path)["center"], stage_of(path)["lash"]), (["20 mm", "32.016 mm"], "0.011 mm"), "both distances")


def an_axis_without_gears():
    machine = json.loads(json.dumps(MACHINE))
    del machine["axes"][0]["stages"][1]
    with Window(write(WORK / "none.trammel", machine)) as window:
        window.press("Meshing")
        check(window.says("No pair of gears here"), "an axis without gears says so")


def comma_locale():
    machine = json.loads(json.dumps(MACHINE))
    machine["grid"] = {"type": "holes", "pitch": "12.5 mm", "half": True}
    with Window(write(WORK / "comma.trammel", machine), lang="de_DE.UTF-8") as window:
        window.press("Meshing")
        check(window.says("28,000 mm"), "under a comma-decimal locale numbers have a comma")


place_the_gears()
gears_over_an_idler()
an_axis_without_gears()
if speaks_german():
    comma_locale()
done()
