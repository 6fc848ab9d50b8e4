# SPDX-License-Identifier: GPL-3.0-or-later
"""The calibration square, replayed: the commanded faces lie at the nominal sizes, and every bead has its volume."""
import csv
import json
import math

import replay
from command import FOLDER, axis, close, machine, main, run, written

PEN = {"type": "square", "feed": "none", "feed_on": "PEN DOWN", "feed_off": "PEN UP", "bead_width": "0.7 mm",
       "start_lines": "WAKE", "end_lines": "SLEEP"}
PEN_LINES = {"PEN DOWN": ("pen", True), "PEN UP": ("pen", False), "WAKE": None, "SLEEP": None}
FINE = 5e-4  # mm: places are written to 0.0001 mm, sizes over two faces


def plan_of(path):
    with open(path, newline="", encoding="utf-8") as stream:
        return [(row["kind"], row["along"], float(row["nominal"])) for row in csv.DictReader(stream)]


def made(name, *options, value=None, own_lines=None, feed_letter="E"):
    program, plan = FOLDER / f"{name}.gcode", FOLDER / f"{name}.csv"
    run("piece", written(f"{name}.trammel", value or machine()), "--output", program, "--plan", plan, *options)
    text = program.read_text(encoding="ascii")
    return replay.Program(text, feed_letter, own_lines), plan_of(plan)


def at_height(program, z):
    return [bead for bead in program.beads() if abs(bead.end[2] - z) < 1e-6]


def check_sizes(beads, width, size, wall, step, origin=10):
    """Measures one height of the laid-down square like a caliper. The middle third of each side is the step."""
    middle = origin + size / 2
    arm = (size - round(size / 3)) / 2
    at_arm = origin + (wall + arm) / 2
    for axis_number in (0, 1):
        low, high = replay.extent(beads, width, axis_number)
        close(low, origin, absolute=FINE)
        close(high, origin + size, absolute=FINE)
        close(replay.outside(beads, width, axis_number, at_arm), size, absolute=FINE)
        close(replay.outside(beads, width, axis_number, middle), size - step, absolute=FINE)
        close(replay.inside(beads, width, axis_number, at_arm), size - 2 * wall, absolute=FINE)
        close(replay.inside(beads, width, axis_number, middle), size - step - 2 * wall, absolute=FINE)
        # Nothing but air within, and only two walls crossed
        assert len(replay.along_line(beads, width, axis_number, middle)) == 2
    for sign in (1, -1):
        close(replay.diagonal(beads, width, sign), size * math.sqrt(2), absolute=FINE)


def check_volumes(program, width, layer, filament):
    area = layer * (width - layer) + math.pi * layer**2 / 4
    filament_area = math.pi * filament**2 / 4
    assert program.beads()
    for bead in program.beads():
        assert bead.is_flat()
        # The feed is written to 0.00001 mm, twice
        close(bead.fed * filament_area, area * bead.length(), absolute=1.1e-5 * filament_area + 1e-4 * area)
    for move in program.moves:
        assert not (move.rapid and move.fed), "fed while travelling"


def frame_area(size, wall, step):
    """Plan view of the frame: outer outline less inner one (shoelace formula)."""
    def outline(inward):
        arm, depth = (size - round(size / 3)) / 2, step / 2
        corner = [(inward, inward), (arm - inward, inward), (arm - inward, depth + inward),
                  (size - arm + inward, depth + inward), (size - arm + inward, inward)]
        points = []
        for _ in range(4):
            points += corner
            corner = [(size - y, x) for x, y in corner]
        return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))) / 2
    return outline(0) - outline(wall)


def check_heights(program, layer, step_height, height, lift):
    heights = sorted({round(bead.end[2], 4) for bead in program.beads()})
    assert len(heights) == round(height / layer), heights
    for number, z in enumerate(heights, 1):
        close(z, number * layer, absolute=1e-4)
    # The sides end at step_height; only the corners go on
    lower, upper = at_height(program, heights[round(step_height / layer) - 1]), at_height(program, heights[-1])
    middle = (min(b.end[0] for b in lower) + max(b.end[0] for b in lower)) / 2
    assert replay.along_line(lower, 0.01, 1, middle) and not replay.along_line(upper, 0.01, 1, middle)
    assert not replay.along_line(at_height(program, heights[round(step_height / layer)]), 0.01, 1, middle)
    done = 0.0
    for move in program.moves:
        if not move.rapid:
            done = max(done, move.end[2])
        elif move.start[:2] != move.end[:2] and done:
            assert move.end[2] >= done + lift - 1e-6, "travels over the piece without lift"


def check_upper(program, z, width, size, wall, origin=10):
    """Above the step the corners alone: long outside, inside and diagonals are there still."""
    beads = at_height(program, z)
    at_arm = origin + (wall + (size - round(size / 3)) / 2) / 2
    for axis_number in (0, 1):
        close(replay.outside(beads, width, axis_number, at_arm), size, absolute=FINE)
        close(replay.inside(beads, width, axis_number, at_arm), size - 2 * wall, absolute=FINE)
        assert len(replay.along_line(beads, width, axis_number, at_arm)) == 2, "a gap in the wall"
    close(replay.diagonal(beads, width, 1), size * math.sqrt(2), absolute=FINE)


def test_square_as_it_comes():
    program, plan = made("plain", "--size", "100", "--wall", "10", "--step", "20", "--height", "6", "--step-height", "3")
    check_sizes(at_height(program, 0.2), 0.5, 100, 10, 20)
    check_sizes(at_height(program, 3.0), 0.5, 100, 10, 20)
    check_upper(program, 6.0, 0.5, 100, 10)
    check_volumes(program, 0.5, 0.2, 1.75)
    check_heights(program, 0.2, 3, 6, 1)
    assert [row[:2] for row in plan] == [
        ("outside", "X"), ("outside", "X"), ("inside", "X"), ("outside", "Y"), ("outside", "Y"), ("inside", "Y"),
        ("outside", "X+Y"), ("outside", "X-Y"), ("height", "Z"), ("height", "Z")]
    for row, wanted in zip(plan, (100, 80, 80, 100, 80, 80, 100 * math.sqrt(2), 100 * math.sqrt(2), 3, 6)):
        close(row[2], wanted, absolute=1e-6)


def test_material_fills_the_wall():
    program, _ = made("filled", "--size", "100", "--wall", "10", "--step", "20", "--height", "6", "--step-height", "3")
    laid = sum(bead.fed for bead in at_height(program, 1.0)) * math.pi * 1.75**2 / 4
    close(laid, frame_area(100, 10, 20) * 0.2, 0.02)


def test_other_sizes_and_both_parities_of_beads():
    parities = set()
    for number, (size, wall, step, width, layer) in enumerate((
            (60, 4, 8, 0.6, 0.25), (75, 3, 12, 0.4, 0.2), (80.5, 5, 10, 0.45, 0.15), (150, 8, 30, 0.8, 0.3))):
        program, _ = made(f"sized-{number}", "--size", size, "--wall", wall, "--step", step, "--bead", width, "--layer",
                          layer, "--height", 8 * layer, "--step-height", 4 * layer, "--lift", "2", "--origin-x", "12",
                          "--origin-y", "12", "--filament-diameter", "2.85")
        check_sizes(at_height(program, round(layer, 4)), width, size, wall, step, 12)
        check_upper(program, round(8 * layer, 4), width, size, wall, 12)
        check_volumes(program, width, layer, 2.85)
        check_heights(program, layer, 4 * layer, 8 * layer, 2)
        middle = replay.along_line(at_height(program, round(layer, 4)), 1e-6, 0, 12 + size / 2)
        parities.add(len(middle) // 2 % 2)
        laid = sum(bead.fed for bead in at_height(program, round(layer, 4))) * math.pi * 2.85**2 / 4
        close(laid, frame_area(size, wall, step) * layer, 0.1)
    assert parities == {0, 1}, parities


def test_quantities_carry_units():
    program, plan = made("inch", "--size", "4in", "--wall", "5 mm", "--step", "0,5 in")
    check_sizes(at_height(program, 0.2), 0.5, 101.6, 5, 12.7)
    close(plan[0][2], 101.6)


def test_a_size_alone_takes_the_step_along():
    program, plan = made("alone", "--size", "60", value=machine(piece={"type": "square", "wall": "4 mm",
                                                                      "step": "20 mm"}))
    close(plan[1][2], 48)
    check_sizes(at_height(program, 0.2), 0.5, 60, 4, 12)


def test_parameters_of_the_machine_file():
    piece = {"type": "square", "size": "90 mm", "wall": "5 mm", "step": "10 mm", "feed_letter": "A", "speed": "20 mm/s"}
    value = machine(piece=piece)
    value["axes"][3]["letter"] = "A"
    program, _ = made("own", value=value, feed_letter="A")
    check_sizes(at_height(program, 0.2), 0.5, 90, 5, 10)
    assert {bead.speed for bead in program.beads()} == {1200.0}


def test_speeds_stay_within_the_drive():
    value = machine()
    # 600 rev/min · 40 mm = 400 mm/s in X; 15 rev/min · 40 mm = 10 mm/s in Y
    value["axes"][0]["motor"] = {"type": "stepper", "full_steps": 200, "microsteps": 16, "max_speed": "600 rpm"}
    value["axes"][1]["motor"] = {"type": "stepper", "full_steps": 200, "microsteps": 16, "max_speed": "15 rpm"}
    program, _ = made("slow", value=value)
    assert max(move.speed for move in program.moves if move.start[:2] != move.end[:2]) <= 600.001


def test_pen_is_down_along_the_faces_only():
    program, plan = made("pen", value=machine(axes=[axis("X"), axis("Y")], piece=PEN), own_lines=PEN_LINES,
                         feed_letter=None)
    size, wall, step = plan[0][2], (plan[0][2] - plan[2][2]) / 2, plan[0][2] - plan[1][2]
    assert all(bead.switches["pen"] for bead in program.beads())
    assert not any(move.switches["pen"] for move in program.moves if move.rapid)
    assert program.switches["pen"] is False
    assert not any(row[0] == "height" for row in plan)
    check_sizes_of_lines(program.beads(), 0.7, size, wall, step)
    # Both faces once round: a rectilinear outline is as long as its bounding box and the steps' flanks
    half = 0.35
    outer = 4 * (size - 2 * half) + 8 * step / 2
    inner = 4 * (size - 2 * (wall - half)) + 8 * step / 2
    close(sum(bead.length() for bead in program.beads()), outer + inner, absolute=0.01)


def check_sizes_of_lines(beads, width, size, wall, step, origin=10):
    arm = (size - round(size / 3)) / 2
    at_arm, middle = origin + (wall + arm) / 2, origin + size / 2
    for axis_number in (0, 1):
        close(replay.outside(beads, width, axis_number, at_arm), size, absolute=FINE)
        close(replay.outside(beads, width, axis_number, middle), size - step, absolute=FINE)
        crossed = replay.along_line(beads, width, axis_number, middle)
        assert len(crossed) == 4  # each wall is two lines
        close(crossed[2][0] - crossed[1][1], size - step - 2 * wall, absolute=FINE)
        close(crossed[0][1] - crossed[0][0], width, absolute=FINE)
        close(replay.inside(beads, width, axis_number, at_arm), size - 2 * wall, absolute=FINE)
    for sign in (1, -1):
        close(replay.diagonal(beads, width, sign), size * math.sqrt(2), absolute=FINE)


def test_pen_lifted_by_lines_of_its_own():
    piece = {**PEN, "feed_on": "", "feed_off": "", "lower_lines": "DOWN 1\nDOWN 2", "lift_lines": "UP"}
    lines = {"DOWN 1": ("half", True), "DOWN 2": ("pen", True), "UP": ("pen", False), "WAKE": None, "SLEEP": None}
    program, _ = made("lifted", value=machine(axes=[axis("X"), axis("Y")], piece=piece), own_lines=lines,
                      feed_letter=None)
    assert all(bead.switches["pen"] for bead in program.beads()) and program.switches["pen"] is False


def test_own_lines_stand_as_they_are():
    done = run("piece", written("lines.trammel", machine()), "--start-lines", r"M104 S200\nM109 S200", "--end-lines",
               "M104 S0")
    lines = done.out.splitlines()
    assert lines[lines.index("M104 S200") + 1] == "M109 S200"
    assert lines[-2:] == ["M104 S0", "M2"]


def test_cautions_come_first():
    lines = run("piece", written("caution.trammel", machine())).out.splitlines()
    head = " ".join(lines[:8]).lower()
    assert lines[0].startswith("(CAUTION") and all(line.startswith("(") for line in lines[:5])
    for word in ("burn", "pinch", "ventilate", "alone"):
        assert word in head, word
    pen = run("piece", written("caution-pen.trammel", machine(piece=PEN))).out
    assert "overheats" in pen.split("G21", maxsplit=1)[0] and "burn" not in pen


def test_names_cannot_break_out_of_a_comment():
    name = "Gans) G0 X999 (\nG28 ünïcode \u4e2d"
    text = run("piece", written("name.trammel", machine(name=name))).out
    replay.Program(text)
    assert "G28" not in [line.strip() for line in text.splitlines()]
    assert all(len(line) < 80 for line in text.splitlines())


def refused(name, *options, value=None, wanted=()):
    done = run("piece", written(f"{name}.trammel", value or machine()), *options, status=1)
    assert done.out == ""
    for word in wanted:
        assert word in done.err, (word, done.err)


def test_what_does_not_fit_is_refused_with_numbers():
    refused("wide", "--size", "195", wanted=("205 mm", "in X", "10 mm origin", "195 mm", "200 mm"))
    short = machine(axes=[axis("X"), axis("Y", travel="90 mm"), axis("Z")])
    refused("short", value=short, wanted=("110 mm", "in Y", "90 mm"))
    low = machine(axes=[axis("X"), axis("Y"), axis("Z", travel="5 mm")])
    refused("low", "--height", "6", "--step-height", "3", value=low, wanted=("7 mm", "in Z", "5 mm"))
    refused("before", "--origin-x", "-5", wanted=("origin_x", "-5"))


def test_parameters_that_do_not_go_together():
    refused("thin", "--wall", "0.9", wanted=("wall", "0.9 mm", "1 mm"))
    refused("crowded", "--size", "40", "--wall", "10", "--step", "20", wanted=("size", "40 mm", "at least"))
    refused("upside-down", "--height", "1", "--step-height", "2", wanted=("height", "1 mm", "2 mm"))
    refused("uneven", "--height", "3.1", "--step-height", "1.6", wanted=("height", "3.1 mm", "3 mm", "3.2 mm"))
    refused("unfilled", "--wall", "1.2", wanted=("wall", "1.2 mm", "0.957 mm", "1.414 mm"))
    refused("thick-layer", "--layer", "0.6", wanted=("layer_height", "0.6 mm", "0.5 mm"))
    refused("no-z", value=machine(axes=[axis("X"), axis("Y")]), wanted=("axis Z",))
    refused("mute-pen", "--feed", "none", wanted=("feed_on",))
    refused("stuck-pen", "--feed", "none", "--feed-on", "PEN DOWN", wanted=("feed_off",))


def test_json_tells_the_plan_and_the_effort():
    path = written("json.trammel", machine())
    found = run("piece", path, "--json").json()
    assert [row["kind"] for row in found["plan"]].count("outside") == 6
    program = replay.Program(found["program"])
    close(sum(bead.length() for bead in program.beads()), found["bead_length"], 1e-4)
    close(sum(bead.fed for bead in program.beads()), found["filament"], 1e-4)
    assert found["seconds"] > found["bead_length"] / 30


def test_plan_can_be_filled_in_and_fitted():
    plan = FOLDER / "round.csv"
    path = written("round.trammel", machine())
    run("piece", path, "--plan", plan, "--output", FOLDER / "round.gcode")
    with open(plan, newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    with open(plan, "w", newline="", encoding="utf-8") as stream:
        writer = csv.DictWriter(stream, list(rows[0]))
        writer.writeheader()
        for row in rows:
            writer.writerow({**row, "measured": str(float(row["nominal"]) * 0.995)})
    result = run("adjust", path, "--readings", plan, "--json").json()
    assert {a["letter"] for a in result["axes"]} == {"X", "Y", "Z"} and result["fit"]["readings"] == 10


def test_a_machine_without_travel_is_not_bounded():
    axes = [{k: v for k, v in axis(letter).items() if k != "travel"} for letter in "XYZ"]
    json.dumps(axes)
    made("unbounded", "--size", "900", "--wall", "8", "--step", "30", value=machine(axes=axes))


main(globals())
