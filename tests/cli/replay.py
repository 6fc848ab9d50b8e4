# SPDX-License-Identifier: GPL-3.0-or-later
"""A small interpreter of the words G0 G1 G21 G90 G92 F M2, written apart from the program's writer.

It knows beads, not squares: what it tells of the piece it finds by laying the beads down and measuring what lies there,
as a caliper would."""
import math
import re

WORD = re.compile(r"([A-Z])([-+]?(?:\d+\.?\d*|\.\d+))")


class Refused(Exception):
    """The program holds what it must not."""


class Move:
    """One straight move: from and to (x, y, z), whether it feeds, and how much."""

    def __init__(self, start, end, rapid, fed, speed, switches):
        self.start, self.end, self.rapid, self.fed, self.speed = start, end, rapid, fed, speed
        self.switches = dict(switches)

    def length(self):
        return math.dist(self.start, self.end)

    def is_flat(self):
        return self.start[2] == self.end[2]


def without_comments(line):
    bare = re.sub(r"\([^()]*\)", "", line)
    if "(" in bare or ")" in bare:
        raise Refused(f"a comment that does not end in its line: {line!r}")
    return bare.strip()


class Program:
    """Replays @text. @feed_letter: the axis whose words feed, or None. @own_lines: {line: (switch, state)} for the
    machine's own lines; any other line that is not of the words above is refused."""

    def __init__(self, text, feed_letter="E", own_lines=None):
        self.moves, self.comments, self.ended = [], [], False
        self.place = {"X": None, "Y": None, "Z": None}
        self.feed_letter, self.fed, self.speed, self.rapid = feed_letter, 0.0, None, None
        self.millimetres = self.absolute = False
        self.switches = {}
        text.encode("ascii")
        for line in text.splitlines():
            self.comments += re.findall(r"\(([^()]*)\)", line)
            if own_lines and line in own_lines:
                if own_lines[line]:
                    switch, state = own_lines[line]
                    self.switches[switch] = state
                continue
            bare = without_comments(line)
            if bare:
                self.block(bare)
        if not self.ended:
            raise Refused("no M2 at the end")

    def block(self, line):
        if self.ended:
            raise Refused(f"after M2: {line}")
        if WORD.sub("", line).strip():
            raise Refused(f"not words: {line!r}")
        words = WORD.findall(line)
        codes = [letter + str(int(float(number))) for letter, number in words if letter in "GM"]
        values = {letter: float(number) for letter, number in words if letter not in "GM"}
        if len(values) + len(codes) != len(words):
            raise Refused(f"a letter twice: {line!r}")
        allowed = set("XYZF") | ({self.feed_letter} if self.feed_letter else set())
        if not set(values) <= allowed:
            raise Refused(f"letters {set(values) - allowed} in {line!r}")
        for code in codes:
            if code not in ("G0", "G1", "G21", "G90", "G92", "M2"):
                raise Refused(f"{code} in {line!r}")
        if "G21" in codes:
            self.millimetres = True
        if "G90" in codes:
            self.absolute = True
        if "M2" in codes:
            self.ended = True
        if "G92" in codes:
            if set(values) != {self.feed_letter}:
                raise Refused(f"G92 is for the feed: {line!r}")
            self.fed = values[self.feed_letter]
            return
        if "G0" in codes or "G1" in codes:
            self.rapid = "G0" in codes
        if "F" in values:
            self.speed = values.pop("F")
        if values:
            self.move(values, line)

    def move(self, values, line):
        if not (self.millimetres and self.absolute):
            raise Refused("a move before G21 and G90")
        if self.rapid is None:
            raise Refused(f"a move before G0 or G1: {line!r}")
        if not self.rapid and not self.speed:
            raise Refused(f"G1 before a speed: {line!r}")
        start = dict(self.place)
        self.place.update({k: v for k, v in values.items() if k in self.place})
        fed = 0.0
        if self.feed_letter in values:
            fed, self.fed = values[self.feed_letter] - self.fed, values[self.feed_letter]
        corner = {k: (start[k] if start[k] is not None else self.place[k]) or 0.0 for k in "XYZ"}
        end = {k: self.place[k] or 0.0 for k in "XYZ"}
        self.moves.append(Move(tuple(corner.values()), tuple(end.values()), self.rapid, fed, self.speed, self.switches))

    def beads(self):
        """Moves that lay something down."""
        return [move for move in self.moves if not move.rapid]

    def is_drawn(self, move):
        """Whether the move feeds, or is made with a switch on."""
        return not move.rapid and (move.fed > 0 or any(move.switches.values()))

    def lines(self, play=(0.0, 0.0)):
        """Every move that draws, as a Line: where it was commanded and where it lands when the carriage follows each
        motor only after @play of lost motion, and how the place across it was approached."""
        found, carriage, approach = [], [None, None], [None, None]
        for move in self.moves:
            for i in (0, 1):
                start, end = move.start[i], move.end[i]
                if end != start:
                    before = approach[i]
                    onward = before and (end > start) == (before.end > before.start)
                    approach[i] = Stroke(before.start if onward else start, end, move, i)
                at = end if carriage[i] is None else carriage[i]
                carriage[i] = min(max(at, end - play[i] / 2), end + play[i] / 2)
            if self.is_drawn(move):
                found.append(Line(move, tuple(carriage), approach))
        return found


class Stroke:
    """A way along one axis without turning round."""

    def __init__(self, start, end, move, axis):
        self.start, self.end, self.last = start, end, move
        self.alone = move.start[1 - axis] == move.end[1 - axis]

    def side(self):
        return 1 if self.end > self.start else -1


class Line:
    """A straight line along Y (across = 0: it tells the place in X) or along X."""

    def __init__(self, move, landed, approach):
        along_x, along_y = move.start[0] != move.end[0], move.start[1] != move.end[1]
        if along_x == along_y:
            raise Refused(f"not a line along an axis: {move.start} to {move.end}")
        self.move, self.across = move, 0 if along_y else 1
        self.commanded, self.landed = move.end[self.across], landed[self.across]
        self.approach = approach[self.across]
        self.ends = sorted((move.start[1 - self.across], move.end[1 - self.across]))


def joined(intervals, slack=1e-6):
    """The union of intervals, sorted."""
    union = []
    for low, high in sorted(intervals):
        if union and low <= union[-1][1] + slack:
            union[-1][1] = max(union[-1][1], high)
        else:
            union.append([low, high])
    return union


def along_line(beads, width, axis, at):
    """What a straight line parallel to @axis (0 for X, 1 for Y) at @at crosses: intervals of laid-down material. A bead
    is a strip of @width about its path, and fills the square corner where it turns."""
    other, half, found = 1 - axis, width / 2, []
    for bead in beads:
        low, high = sorted((bead.start[other], bead.end[other]))
        if low - half <= at <= high + half:
            a, b = sorted((bead.start[axis], bead.end[axis]))
            found.append((a - half, b + half))
    return joined(found)


def outside(beads, width, axis, at):
    crossed = along_line(beads, width, axis, at)
    return crossed[-1][1] - crossed[0][0]


def inside(beads, width, axis, at):
    """The widest opening."""
    crossed = along_line(beads, width, axis, at)
    return max(b[0] - a[1] for a, b in zip(crossed, crossed[1:]))


def diagonal(beads, width, sign):
    """Over the two outermost corners along X+Y (sign 1) or X−Y (sign −1). Both faces of a corner lie half a bead
    outside the path's own corner."""
    ends = [bead.start[:2] for bead in beads] + [bead.end[:2] for bead in beads]
    sums = [x + sign * y for x, y in ends]
    return (max(sums) - min(sums) + 2 * width) / math.sqrt(2)


def extent(beads, width, axis):
    values = [bead.start[axis] for bead in beads] + [bead.end[axis] for bead in beads]
    return min(values) - width / 2, max(values) + width / 2
