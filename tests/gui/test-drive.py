# SPDX-License-Identifier: GPL-3.0-or-later
"""The Drive page: every kind of part edited in place; stages added, moved and removed; what cannot be is refused where
it was typed. Expected ratios are by hand. Prints TAP."""
from driver import DEMO, WORK, Window, check, done, load, plain, same, wait_for, write


def machine_with(*axes):
    return dict(load(DEMO), axes=list(axes), readings=[])


def axis(letter, stages, output, kind="linear"):
    return {"letter": letter, "kind": kind, "motor": {"type": "stepper", "full_steps": 200, "microsteps": 16},
            "stages": stages, "output": output}


SCREW = {"type": "screw", "pitch": "2 mm", "starts": 4}
BELT = {"type": "belt", "driver": 20, "driven": 40}


def saved_axis(window, path, test, i=0):
    window.keys("ctrl+s")
    return wait_for(lambda: test(load(path)["axes"][i]), 6)


def first_edits():
    path = write(WORK / "edits.trammel", machine_with(axis("X", [BELT], SCREW)))
    with Window(path) as window:
        check(window.says("800 steps/mm"), "3200 steps a turn, 20:40, 8 mm a turn: 800 steps/mm")
        check(window.enter("Driven", "60"), "a number of teeth can be typed over")
        check(window.says("1200 steps/mm"), "and the steps per millimetre follow at once")
        window.keys("ctrl+z")
        check(window.says("800 steps/mm"), "undo takes it back")
        window.keys("ctrl+shift+z")
        check(window.says("1200 steps/mm"), "redo brings it again")
        window.enter("Pitch", "1/4 in", "Output")
        # 3200·3/(6.35·4) = 9600/25.4
        check(window.says("48000/127 = 377.953 steps/mm"), "a pitch in inches is exact: 9600/25.4")
        window.enter("Microsteps", "32")
        check(window.says("96000/127 = 755.906 steps/mm"), "twice the microsteps, twice the steps")
        check(saved_axis(window, path, lambda axis: axis["motor"]["microsteps"] == 32), "the file has all of it")
        same(load(path)["axes"][0]["output"]["pitch"], "1/4 in", "as it was typed")


def refused():
    path = write(WORK / "refused.trammel", machine_with(axis("X", [BELT], SCREW)))
    with Window(path) as window:
        window.enter("Driven", "0")
        check(window.says("1 to 10000"), "no teeth are refused, with what is wanted")
        same(window.text("Driven"), "0", "and what was typed stays to be mended")
        check(window.says("800 steps/mm"), "the train stays what it was")
        window.enter("Driven", "30")
        check(window.says("600 steps/mm"), "mended, it counts")
        check(window.says_no_longer("1 to 10000"), "and the complaint is gone")
        window.enter("Pitch", "2 potatoes", "Output")
        check(window.says("2 potatoes"), "a pitch in potatoes is refused")
        check(window.says("600 steps/mm"), "and not used")
        same(window.text("Pitch", "Output"), "2 potatoes", "but kept")
        window.enter("Pitch", "20 tpi", "Output")
        # 25.4/20 = 1.27 mm, times 4 starts is 5.08 mm a turn: 3200·1.5/5.08
        check(window.says("120000/127 = 944.882 steps/mm"), "20 tpi is a pitch: 4800/5.08")
        window.enter("Driver", "1e9")
        check(window.says("1 to 10000"), "a thousand million teeth are refused")


def stages():
    path = write(WORK / "stages.trammel", machine_with(axis("X", [BELT], SCREW)))
    with Window(path) as window:
        check(window.press_in_menu("Add a stage", "Gearbox"), "a stage can be added")
        check(window.find("Stage 2"), "and has a card of its own")
        check(window.enter("Ratio", "57/11"), "an exact ratio can be typed as a fraction")
        # 800·57/11
        check(window.says("45600/11 = 4145.45 steps/mm"), "800 · 57/11 steps/mm, exactly")
        types = lambda axis: [stage["type"] for stage in axis["stages"]]
        check(saved_axis(window, path, lambda axis: types(axis) == ["belt", "gearbox"]), "it follows the stage that was there")
        window.press("Move towards the output")
        check(saved_axis(window, path, lambda axis: types(axis) == ["gearbox", "belt"]), "a stage can be moved")
        check(window.says("45600/11 = 4145.45 steps/mm"), "which changes no ratio")
        window.press("Remove this stage")
        check(saved_axis(window, path, lambda axis: types(axis) == ["belt"]), "and removed")
        check(window.says("800 steps/mm"), "and its ratio with it")
        window.keys("ctrl+z", "ctrl+z")
        check(saved_axis(window, path, lambda axis: types(axis) == ["belt", "gearbox"]), "undo takes back both")


STAGES = [
    # type, the fields of the file, the label of one to change, its new value, steps/mm before and after, by hand:
    # 3200 steps a turn over 8 mm a turn is 400, times turns in per turn out
    ("spur", {"driver": 10, "driven": 20, "idlers": [], "module": "1 mm"}, "Driven", "40", "800", "1600"),
    ("internal", {"driver": 10, "driven": 50}, "Driven", "60", "2000", "2400"),
    ("bevel", {"driver": 10, "driven": 20}, "Driver", "20", "800", "400"),
    ("worm", {"starts": 2, "wheel": 30, "hand": "right"}, "Starts", "1", "6000", "12000"),
    ("belt", {"driver": 20, "driven": 40}, "Driver", "10", "800", "1600"),
    ("chain", {"driver": 10, "driven": 20}, "Driver", "20", "800", "400"),
    # sun in, carrier out, ring held: 1 + ring/sun
    ("planetary", {"sun": 12, "ring": 48, "held": "ring", "in": "sun", "out": "carrier"}, "Sun", "24", "2000", "1200"),
    ("gearbox", {"ratio": "3"}, "Ratio", "5 2/11", "1200", "22800/11 = 2072.73"),
]

OUTPUTS = [
    # 3200 over the travel per turn
    ("screw", {"pitch": "2 mm", "starts": 1}, "Starts", "2", "1600", "800"),
    ("rack", {"teeth": 20, "pitch": "5 mm"}, "Teeth", "16", "32", "40"),
    ("rack", {"teeth": 20, "module": "1 mm"}, "Teeth", "16", "160/π = 50.9296", "200/π = 63.662"),
    ("worm-rack", {"starts": 1, "pitch": "5 mm"}, "Starts", "2", "640", "320"),
    ("belt", {"teeth": 20, "pitch": "2 mm", "fall": 1}, "Teeth", "16", "80", "100"),
    ("roller", {"diameter": "10 mm"}, "Diameter", "20 mm", "320/π = 101.859", "160/π = 50.9296"),
]


def every_kind_of_part():
    """One machine, an axis for each kind; Ctrl+Page Down goes from one to the next."""
    letters = "ABCDFGHIJKLMNOPQRSTU"
    axes = [axis(letters[i], [dict(fields, type=kind)], SCREW) for i, (kind, fields, *_) in enumerate(STAGES)]
    axes += [axis(letters[len(STAGES) + i], [], dict(fields, type=kind)) for i, (kind, fields, *_) in enumerate(OUTPUTS)]
    path = write(WORK / "kinds.trammel", machine_with(*axes))
    with Window(path) as window:
        for i, (kind, _, label, value, before, after) in enumerate(STAGES + OUTPUTS):
            if i > 0:
                window.keys("ctrl+Page_Down")
            name = f"Axis {letters[i]}"
            card = lambda: plain(window.find(name, 2).description)
            was = wait_for(lambda: f" {before} steps/mm" in card(), 6)
            place = "Output" if i >= len(STAGES) else "Stage 1"
            entered = window.enter(label, value, place)
            now = wait_for(lambda: f" {after} steps/mm" in card(), 6)
            if not check(was and entered and now, f"{place}, {kind}: {label} {value} makes {before} to {after} steps/mm"):
                print("#", card())


first_edits()
refused()
stages()
every_kind_of_part()
done()
