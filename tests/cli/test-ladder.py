# SPDX-License-Identifier: GPL-3.0-or-later
"""The ladder of lines, replayed by a machine with play: every line is sent to its place from the side that its comb is
of, and the pair that meets, or the distance of two lines, is the play."""
import csv
import json
import math

import replay
from command import FOLDER, axis, close, machine, main, reading, run, written

PEN = {"type": "ladder", "feed": "none", "lower_lines": "DOWN", "lift_lines": "UP", "bead_width": "0.4 mm"}
PEN_LINES = {"DOWN": ("pen", True), "UP": ("pen", False)}
FINE = 2e-4  # mm: places are written to 0.0001 mm


def made(name, *options, value=None, own_lines=None, feed_letter="E"):
    program, plan = FOLDER / f"{name}.gcode", FOLDER / f"{name}.csv"
    run("piece", written(f"{name}.trammel", value or machine()), "--piece", "ladder", "--output", program, "--plan", plan,
        *options)
    with open(plan, newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    return replay.Program(program.read_text(encoding="ascii"), feed_letter, own_lines), rows


def combs(program, across, play=(0.0, 0.0)):
    """The lines that tell the axis @across: those approached moving up, those approached moving down."""
    lines = [line for line in program.lines(play) if line.across == across]
    return [sorted((line for line in lines if line.approach.side() == side), key=lambda line: line.commanded)
            for side in (1, -1)]


def check_comb(lines, n, spacing, approach, speed):
    assert len(lines) == n
    for before, line in zip(lines, lines[1:]):
        close(line.commanded - before.commanded, spacing, absolute=FINE)
    for line in lines:
        stroke = line.approach
        assert abs(stroke.end - stroke.start) >= approach - FINE, "approached by too short a stroke"
        assert stroke.alone, "the other axis moves while the play is taken up"
        assert not stroke.last.rapid and stroke.last.speed <= line.move.speed == speed, "approached too fast"
        assert not stroke.last.fed and not any(stroke.last.switches.values()), "drawn while it is approached"


def check_layout(program, n, spacing, vernier, approach, speed, width, origin):
    for across in (0, 1):
        up, down = combs(program, across)
        check_comb(up, n, spacing + vernier, approach, speed)
        check_comb(down, n, spacing, approach, speed)
        # The near comb lies wholly on the near side, a line's width from the other at most twice
        gap = min(line.ends[0] for line in down) - max(line.ends[1] for line in up)
        close(gap, 2 * width, absolute=FINE)
        assert max(line.ends[1] for line in up) < min(line.ends[0] for line in down)
        close(min(line.ends[0] for line in up), origin + width / 2, absolute=FINE)
    for move in program.moves:
        if move.start[:2] != move.end[:2]:
            assert min(move.end[:2]) >= origin - FINE, "beyond the corner of the piece"
    x, y = (box(program.lines(), across) for across in (0, 1))
    assert x[0][0] > y[0][1] + width or x[1][1] < y[1][0] - width, "the two ladders overlap"


def box(lines, across):
    """((low, high) in X, (low, high) in Y) of one ladder."""
    mine = [line.move for line in lines if line.across == across]
    return [(min(min(m.start[i], m.end[i]) for m in mine), max(max(m.start[i], m.end[i]) for m in mine)) for i in (0, 1)]


def pairs(program, across, play=(0.0, 0.0)):
    """(number, near, far) of every pair; pair 0 is the longest."""
    up, down = combs(program, across, play)
    longest = [max(range(len(comb)), key=lambda i, comb=comb: comb[i].move.length()) for comb in (up, down)]
    assert longest[0] == longest[1]
    return [(i - longest[0], near, far) for i, (near, far) in enumerate(zip(up, down))]


def test_ladder_as_it_comes():
    program, rows = made("plain")
    check_layout(program, 21, 2, 0.05, 5, 1800, 0.5, 10)
    for across in (0, 1):
        zero = [pair for pair in pairs(program, across) if pair[0] == 0][0]
        close(zero[1].commanded, zero[2].commanded, absolute=FINE)
        close(float(rows[across]["nominal"]), zero[2].commanded, absolute=FINE)
    assert [(row["kind"], row["along"], row["measured"]) for row in rows] == [("reversal", "X", ""), ("reversal", "Y", "")]
    for row in rows:
        # JCGM 100:2008, 4.3.7: a rectangular distribution as wide as a step
        close(float(row["u"]), 0.05 / math.sqrt(12), 5e-3)
        assert "0.05 mm" in row["note"]


def test_the_pair_that_meets_is_the_play():
    program, _ = made("meets")
    for play in ((0.15, 0.4), (0.0, 0.05), (0.9, 0.62)):
        for across in (0, 1):
            met = []
            for number, near, far in pairs(program, across, play):
                close(far.landed - near.landed, play[across] - number * 0.05, absolute=FINE)
                met.append((abs(far.landed - near.landed), number))
            assert min(met)[1] == round(play[across] / 0.05), (play, min(met))


def test_two_lines_are_as_far_apart_as_the_play():
    program, rows = made("apart", "--vernier", "0", "--lines", "11", "--spacing", "3", "--length", "6")
    check_layout(program, 11, 3, 0, 5, 1800, 0.5, 10)
    for across in (0, 1):
        up, down = combs(program, across, (0.23, 0.11))
        for near, far in zip(up, down):
            close(near.commanded, far.commanded, absolute=FINE)
            close(far.landed - near.landed, (0.23, 0.11)[across], absolute=FINE)
        mine = [float(row["nominal"]) for row in rows if row["along"] == "XY"[across]]
        for nominal, line in zip(mine, (down[0], down[5], down[-1])):
            close(nominal, line.commanded, absolute=FINE)
    assert len(rows) == 6 and not any(row.get("u") for row in rows)


def test_an_approach_shorter_than_the_play_would_not_do():
    # That the replay tells play at all: of 6 mm of it a stroke of 5 mm down takes up only 5. To the first line of a comb
    # the tool comes from far away.
    program, _ = made("short")
    for number, near, far in pairs(program, 0, (6.0, 0.0))[1:]:
        close(far.landed - near.landed, 5.0 - number * 0.05, absolute=FINE)


def test_other_parameters():
    program, _ = made("other", "--lines", "7", "--spacing", "1.5", "--vernier", "0.1", "--length", "4", "--approach", "30",
                      "--bead", "0.3", "--speed", "12", "--origin-x", "20", "--origin-y", "20", "--layer", "0.15")
    check_layout(program, 7, 1.5, 0.1, 30, 720, 0.3, 20)


def test_every_bead_has_its_volume():
    program, _ = made("volume")
    area, filament = 0.2 * (0.5 - 0.2) + math.pi * 0.2**2 / 4, math.pi * 1.75**2 / 4
    drawn = [line.move for line in program.lines()]
    assert len(drawn) == 84
    for move in drawn:
        close(move.fed * filament, area * move.length(), absolute=1.1e-5 * filament + 1e-4 * area)
        close(move.end[2], 0.2, absolute=1e-6)
    for move in program.moves:
        if not program.is_drawn(move) and move.start[:2] != move.end[:2]:
            assert not move.fed and (move.end[2] >= 1.2 - 1e-6 or move is program.moves[0])


def test_a_pen_is_down_along_the_lines_only():
    program, _ = made("pen", value=machine(axes=[axis("X"), axis("Y")], piece=PEN), own_lines=PEN_LINES, feed_letter=None)
    check_layout(program, 21, 2, 0.05, 5, 1800, 0.4, 10)
    assert program.switches["pen"] is False
    assert sum(1 for move in program.moves if move.switches.get("pen")) == 84


def refused(name, *options, value=None, wanted=()):
    done = run("piece", written(f"{name}.trammel", value or machine()), "--piece", "ladder", *options, status=1)
    assert done.out == ""
    for word in wanted:
        assert word in done.err, (word, done.err)


def test_what_does_not_work_is_refused_with_numbers():
    # Longest line 12 mm, a line's width and a half of one outside it: middle 12.75 mm. From twice that and a space:
    # 27.5 mm; 20 spaces of 2.05 mm and a line, 41.5 mm; 5 mm of approach: 74 mm
    small = machine(axes=[axis("X", travel="80 mm"), axis("Y"), axis("Z")])
    refused("wide", value=small, wanted=("84 mm", "in X", "10 mm origin", "74 mm", "80 mm"))
    refused("crowded", "--spacing", "0.9", "--vernier", "0.01", wanted=("spacing", "0.9 mm", "1 mm"))
    refused("steep", "--vernier", "0.06", wanted=("vernier", "0.06 mm", "0.05 mm"))
    refused("few", "--lines", "3", wanted=("lines", "3", "4"))
    refused("low", value=machine(axes=[axis("X"), axis("Y"), axis("Z", travel="1 mm")]), wanted=("1.2 mm", "in Z", "1 mm"))
    refused("flat", value=machine(axes=[axis("X"), axis("Z")]), wanted=("axis Y",))
    refused("mute-pen", "--feed", "none", wanted=("feed_on",))


def test_usage():
    path = written("usage.trammel", machine())
    assert "size" in run("piece", path, "--piece", "ladder", "--size", "80", status=2).err
    assert "spacing" in run("piece", path, "--spacing", "3", status=2).err
    assert "square or ladder" in run("piece", path, "--piece", "comb", status=2).err
    assert "Ladder of lines" in run("piece", written("own.trammel", machine(piece={"type": "ladder"}))).out
    assert "Calibration square" in run("piece", written("own.trammel", machine(piece={"type": "ladder"})), "--piece",
                                       "square").out


def test_the_machine_file_keeps_what_is_common_and_its_own():
    piece = {"type": "square", "bead_width": "0.4 mm", "speed": "20 mm/s", "feed_letter": "E", "size": "90 mm"}
    program, _ = made("common", value=machine(piece=piece))
    check_layout(program, 21, 2, 0.05, 5, 1200, 0.4, 10)


def test_json_tells_the_plan_and_the_effort():
    found = run("piece", written("json.trammel", machine()), "--piece", "ladder", "--json").json()
    assert [(row["kind"], row["along"]) for row in found["plan"]] == [("reversal", "X"), ("reversal", "Y")]
    program = replay.Program(found["program"])
    drawn = [line.move for line in program.lines()]
    close(sum(move.length() for move in drawn), found["bead_length"], 1e-4)
    close(sum(move.fed for move in drawn), found["filament"], 1e-4)
    # Moves in Z, and the way to the first line, aside: what the program commands takes as long
    flat = sum(move.length() / (move.speed / 60) for move in program.moves[1:] if move.is_flat())
    lifts = sum(move.length() / (move.speed / 60) for move in program.moves[1:] if not move.is_flat())
    close(flat + lifts, found["seconds"], 0.02)


def test_plan_can_be_filled_in_and_fitted():
    _, rows = made("round")
    plan = FOLDER / "filled.csv"
    with open(plan, "w", newline="", encoding="utf-8") as stream:
        writer = csv.DictWriter(stream, list(rows[0]))
        writer.writeheader()
        for row, met in zip(rows, (3, 7)):
            writer.writerow({**row, "measured": met * 0.05})
    result = run("adjust", written("filled.trammel", machine()), "--readings", plan, "--json").json()
    found = {line["name"]: line for line in result["parameters"]}
    # Against 0 ± 1 mm, what is stated beforehand moves it by a part in five thousand
    close(found["lash.X"]["value"], 0.15, 1e-3)
    close(found["lash.Y"]["value"], 0.35, 1e-3)
    close(found["lash.X"]["u"], 0.0144, 1e-3)
    assert json.dumps(result)


main(globals())
