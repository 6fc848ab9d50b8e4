# SPDX-License-Identifier: GPL-3.0-or-later
"""Trains of every kind of stage and output, drawn at random, flat, sloping and upright: torque, inertia, play, speed
and what happens without power, from the handbooks' formulas written out once more here. Budynas & Nisbett, Shigley's
Mechanical Engineering Design: power screws 8-1 to 8-6, columns 4-44 to 4-48, worms 13-46, sprockets 17-29 (equation
numbers from memory); Willis for planetary sets; beams by the roots of their frequency equations. Efficiencies that are
not entered: common practice, as the manual tells them."""
import math
import random
from typing import NamedTuple, Optional

from command import close, machine, main, run, written

PI = math.pi
G = 9.80665
FACE, DENSITY = 8, 2700
SIZED = {"face": f"{FACE} mm", "density": f"{DENSITY} kg/m³"}
TOOTHED = {**SIZED, "module": "1.5 mm"}
MODULE = 1.5
WALL = 2 * 3 * MODULE  # of a ring, behind its teeth, on both sides


class Stage(NamedTuple):
    record: dict
    ratio: float  # turns out per turn in, signed
    forward: float
    backward: float
    inertia_in: float  # kg·m²
    inertia_out: float
    pitch_radius: Optional[float]  # mm, of what is driven; None: lash is an angle


class Output(NamedTuple):
    record: dict
    travel: float  # per turn, mm or degrees, signed
    forward: float
    backward: float
    inertia: float
    rotary: bool = False


def disc(outer, inner=0.0, width=FACE, density=DENSITY):
    """m (D² + d²)/8."""
    mass = density * PI / 4 * (outer ** 2 - inner ** 2) * width * 1e-9
    return mass * (outer ** 2 + inner ** 2) / 8 * 1e-6


def pair(kind, driver, driven, sign, share, **more):
    record = {"type": kind, "driver": driver, "driven": driven, **TOOTHED, **more}
    return Stage(record, sign * driver / driven, share, share, disc(MODULE * driver), disc(MODULE * driven),
                 MODULE * driven / 2)


def internal(driver, driven, ring):
    plain = pair("internal", driver, driven, 1, 0.98, ring=ring)
    teeth = driver if ring == "driver" else driven
    around = disc(MODULE * teeth + WALL, MODULE * teeth)
    return plain._replace(**{"inertia_in" if ring == "driver" else "inertia_out": around})


def with_idlers(driver, driven, *idlers):
    plain = pair("spur", driver, driven, (-1) ** (1 + len(idlers)), 0.97 ** (1 + len(idlers)), idlers=list(idlers))
    turning = sum(disc(MODULE * teeth) * (driver / teeth) ** 2 for teeth in idlers)
    return plain._replace(inertia_in=plain.inertia_in + turning)


def worm(starts, wheel, hand, reverse, diameter, friction):
    tangent, c = starts * MODULE / diameter, math.cos(math.radians(20))
    record = {"type": "worm", "starts": starts, "wheel": wheel, "hand": hand, "reverse": reverse, **TOOTHED,
              "diameter": f"{diameter} mm", "friction": friction}
    return Stage(record, starts / wheel * (-1 if (hand == "left") != reverse else 1),
                 (c - friction * tangent) / (c + friction / tangent),
                 (c - friction / tangent) / (c + friction * tangent),
                 disc(diameter), disc(MODULE * wheel), MODULE * wheel / 2)


def loop(kind, driver, driven, pitch, crossed=False):
    def diameter(teeth):
        return teeth * pitch / PI if kind == "belt" else pitch / math.sin(PI / teeth)

    record = {"type": kind, "driver": driver, "driven": driven, "pitch": f"{pitch} mm", "crossed": crossed, **SIZED}
    return Stage(record, driver / driven * (-1 if crossed else 1), 0.96, 0.96, disc(diameter(driver)),
                 disc(diameter(driven)), diameter(driven) / 2)


def planetary(sun, ring, held, into, out):
    # Willis: sun·n_sun + ring·n_ring = (sun + ring)·n_carrier
    factor = {"sun": sun, "ring": ring, "carrier": -(sun + ring)}
    inertia = {"sun": disc(MODULE * sun), "ring": disc(MODULE * ring + WALL, MODULE * ring),
               "carrier": disc(MODULE * ring)}
    record = {"type": "planetary", "sun": sun, "ring": ring, "held": held, "in": into, "out": out, **TOOTHED}
    return Stage(record, -factor[into] / factor[out], 0.95, 0.95, inertia[into], inertia[out],
                 MODULE * abs(factor[out]) / 2)


STAGES = [
    pair("spur", 14, 35, -1, 0.97), with_idlers(14, 40, 22), with_idlers(30, 18, 12, 25),
    internal(16, 60, "driven"), internal(72, 20, "driver"),
    pair("bevel", 16, 32, 1, 0.96), pair("bevel", 30, 18, -1, 0.96, reverse=True),
    worm(1, 40, "right", False, 20, 0.12), worm(4, 30, "left", False, 15, 0.04), worm(2, 24, "left", True, 18, 0.08),
    loop("belt", 20, 48, 2), loop("belt", 40, 24, 3, crossed=True), loop("chain", 11, 25, 6.35),
    planetary(18, 66, "ring", "sun", "carrier"), planetary(20, 62, "carrier", "sun", "ring"),
    planetary(24, 60, "sun", "carrier", "ring"),
    Stage({"type": "gearbox", "ratio": "57/11", "reverse": True, "driver_inertia": "9 g cm²"}, -11 / 57, 0.8, 0.8,
          9e-7, 0, None),
    Stage({"type": "coupling", "driver_inertia": "4 g cm²", "efficiency": 0.9}, 1, 0.9, 0.9, 4e-7, 0, None),
]

# λ, and C of the column (Budynas & Nisbett, table 4-2)
ENDS = {"fixed-free": (1.8751040687, 0.25), "supported-supported": (PI, 1), "fixed-supported": (3.9266023120, 2),
        "fixed-fixed": (4.7300407449, 4)}
# Half angle; mean and root diameter less the major diameter, for a pitch of 2 mm (ISO 2904, ISO 724; Acme: 0.254 mm)
THREADS = {"square": (0, -1, -2), "trapezoidal": (15, -1, -2.5), "acme": (14.5, -1, -2.254),
           "metric": (30, -0.75 * 2 * math.sqrt(3) / 2, -17 / 24 * 2 * math.sqrt(3))}


class Screw:
    def __init__(self, thread, starts, friction, collar, ends, hand="right", count=1):
        angle, mean, root = THREADS[thread]
        self.lead, self.mean, self.root, self.length, self.count = 2 * starts, 12 + mean, 12 + root, 320, count
        f, around = friction / math.cos(math.radians(angle)), PI * self.mean
        at_collar = collar * friction / 2
        self.raising = (self.mean / 2 * (self.lead + f * around) / (around - f * self.lead) + at_collar) / 1000
        self.lowering = (self.mean / 2 * (f * around - self.lead) / (around + f * self.lead) + at_collar) / 1000
        root_of_beam, column = ENDS[ends]
        radius, second = self.root / 4, PI / 64 * self.root ** 4
        self.whirl = (root_of_beam / 0.32) ** 2 * math.sqrt(207e9 * radius ** 2 * 1e-6 / DENSITY)
        area, slender = PI / 4 * self.root ** 2, self.length / radius
        euler = slender > math.sqrt(2 * PI ** 2 * column * 207e3 / 210)
        self.buckling = (column * PI ** 2 * 207e3 * second / self.length ** 2 if euler
                         else area * (210 - (210 * slender / (2 * PI)) ** 2 / (column * 207e3)))
        self.record = {"type": "screw", "pitch": "2 mm", "starts": starts, "hand": hand, "count": count,
                       "thread": thread, "major": "12 mm", "friction": friction, "length": "320 mm",
                       "collar_diameter": f"{collar} mm" if collar else None,
                       "fixity": ends, "density": f"{DENSITY} kg/m³"}

    def output(self):
        free = self.lead / 2000 / PI
        inertia = self.count * disc(self.mean, width=self.length)
        travel = -self.lead if self.record["hand"] == "left" else self.lead
        return Output(self.record, travel, free / self.raising, -self.lowering / free, inertia)


SCREWS = [Screw("square", 1, 0.08, 16, "fixed-supported"), Screw("trapezoidal", 4, 0.1, 0, "fixed-free", "left"),
          Screw("acme", 2, 0.15, 14, "fixed-fixed", count=2), Screw("metric", 1, 0.2, 0, "supported-supported")]


def wheel(travel, share, **record):
    """A solid wheel with the travel for its girth."""
    return Output({**record, **SIZED}, travel, share, share, disc(travel / PI))


GIVEN = {"inertia": "70 g cm²", "efficiency": 0.6}
OUTPUTS = [screw.output() for screw in SCREWS] + [
    wheel(17 * 1.5 * PI, 0.95, type="rack", teeth=17, module="1.5 mm"),
    wheel(14 * 5, 0.95, type="rack", teeth=14, pitch="5 mm"),
    Output({"type": "worm-rack", "starts": 2, "module": "1 mm", **GIVEN}, 2 * PI, 0.6, 2 - 1 / 0.6, 70e-7),
    wheel(40, 0.95, type="belt", teeth=20, pitch="2 mm", fall=1),
    Output({"type": "belt", "teeth": 18, "pitch": "3 mm", "fall": 2, **GIVEN}, 27, 0.6, 0.6, 70e-7),
    wheel(PI * 11.2, 0.95, type="roller", diameter="11.2 mm"),
    Output({"type": "table", **GIVEN}, 360, 0.6, 0.6, 70e-7, True),
]

MOTOR = {"type": "stepper", "full_steps": 200, "microsteps": 16, "rotor_inertia": "54 g cm²", "max_speed": "1500 rpm",
         "max_count_rate": "50 kHz", "holding_torque": "0.45 N·m", "detent_torque": "0.01 N·m",
         "torque_points": [["0 rpm", "0.4 N·m"], ["300 rpm", "0.35 N·m"], ["900 rpm", "0.12 N·m"],
                           ["1500 rpm", "0.03 N·m"]]}
POINTS = [(0, 0.4), (300, 0.35), (900, 0.12), (1500, 0.03)]


def torque_at(rpm):
    for (slow, more), (fast, less) in zip(POINTS, POINTS[1:]):
        if rpm <= fast:
            return more + (less - more) * (rpm - slow) / (fast - slow)
    return 0


class Train:
    """In SI units: travel in m, of a table in rad."""

    def __init__(self, stages, output, slope, lashes):
        self.stages, self.output, self.slope, self.lashes = stages, output, slope, lashes
        self.unit = PI / 180 if output.rotary else 1e-3
        self.turns = [1.0]  # of each shaft per turn of the motor
        for stage in stages:
            self.turns.append(self.turns[-1] * stage.ratio)
        self.travel = output.travel * self.turns[-1]
        self.on_shaft = [54e-7] + [0.0] * len(stages)
        for i, stage in enumerate(stages):
            self.on_shaft[i] += stage.inertia_in
            self.on_shaft[i + 1] += stage.inertia_out
        self.on_shaft[-1] += output.inertia
        if output.rotary:
            self.mass, self.drag, self.breakaway, self.process, self.wanted = 0.002, 0.05, 0.08, 0.03, math.radians(60)
        else:
            self.mass, self.drag, self.breakaway, self.process, self.wanted = 0.8, 1.2, 2.0, 0.7, 0.5
        self.weight = 0 if output.rotary else self.mass * G * math.sin(math.radians(slope))

    def axis(self, letter):
        load = {"drag": "1.2 N", "breakaway": "2 N", "process": "0.7 N", "mass": "800 g", "slope": f"{self.slope} deg",
                "acceleration": "500 mm/s²", "speed": "5 mm/s"}
        if self.output.rotary:
            load = {"drag": "0.05 N·m", "breakaway": "0.08 N·m", "process": "0.03 N·m", "inertia": "0.002 kg m²",
                    "acceleration": "60 deg/s²", "speed": "5 deg/s"}
        stages = [{**stage.record, "lash": lash} for stage, (lash, _) in zip(self.stages, self.lashes)]
        return {"letter": letter, "kind": "rotary" if self.output.rotary else "linear", "motor": MOTOR, "load": load,
                "stages": stages, "output": {**self.output.record, "lash": "0.2 deg"}}

    def per_radian(self, shaft=0):
        """Travel, m or rad."""
        return abs(self.travel / self.turns[shaft]) * self.unit / (2 * PI)

    def torque(self, force, acceleration=0.0):
        """At the motor: each part takes its share, of the side that drives it."""
        torque = force * self.per_radian(len(self.stages))
        torque = torque / self.output.forward if torque > 0 else torque * self.output.backward
        for i in range(len(self.stages), -1, -1):
            torque += self.on_shaft[i] * acceleration / self.per_radian(i)
            if i > 0:
                stage = self.stages[i - 1]
                torque *= abs(stage.ratio)
                torque = torque / stage.forward if torque > 0 else torque * stage.backward
        return torque

    def without_power(self):
        left = self.weight - self.breakaway
        if self.weight == 0:
            return {"state": "stays", "locked_by": None}
        if left <= 0:
            return {"state": "drag", "locked_by": None}
        if self.output.backward <= 0:
            return {"state": "locked", "locked_by": "output"}
        torque = left * self.per_radian(len(self.stages)) * self.output.backward
        for i in range(len(self.stages) - 1, -1, -1):
            if self.stages[i].backward <= 0:
                return {"state": "locked", "locked_by": f"stages[{i}]"}
            torque *= abs(self.stages[i].ratio) * self.stages[i].backward
        return {"state": "detent" if torque <= 0.01 else "falls", "locked_by": None}


def check_load(found, train):
    raising, lowering = train.drag + train.weight, train.drag - train.weight
    running = raising + train.process
    starting = running - train.drag + train.breakaway + train.mass * train.wanted
    for name, force, acceleration in (("raise", raising, 0), ("lower", lowering, 0), ("run", running, 0),
                                      ("start", starting, train.wanted)):
        close(found["force"][name], force, absolute=1e-12)
        close(found["torque"][name], train.torque(force, acceleration), 1e-9, 1e-15)
    available = torque_at(5 * train.unit / train.per_radian() * 30 / PI)
    close(found["torque"]["available"], available, absolute=1e-15)
    close(found["torque"]["margin"], available / train.torque(starting, train.wanted), 1e-9)
    close(found["force"]["holds"], available / train.torque(1), 1e-9)
    largest = found["acceleration"]["largest"] * train.unit
    at_rest = train.breakaway + train.weight + train.process
    if largest > 0:
        close(train.torque(at_rest + train.mass * largest, largest), available, 1e-9)
    else:
        assert train.torque(at_rest) >= available
    assert found["power_loss"] == train.without_power(), (found["power_loss"], train.without_power())
    reflected = sum(inertia * turns ** 2 for inertia, turns in zip(train.on_shaft, train.turns))
    close(found["inertia"]["parts"], reflected, 1e-9)
    close(found["inertia"]["load"], train.mass * train.per_radian() ** 2, 1e-9)
    assert found["inertia"]["partial"] is False
    pulled = train.torque(running)
    if pulled <= 0.45:
        close(found["pull_off"]["full_steps"], math.asin(pulled / 0.45) / (PI / 2), 1e-9)
    else:
        assert found["pull_off"]["full_steps"] is None


def check_motion(found, train):
    close(found["counts_per_unit"]["value"], 3200 / abs(train.travel))
    assert found["direction"] == math.copysign(1, train.travel)
    close(found["speed"]["motor_speed"], 25 * abs(train.travel))
    close(found["speed"]["count_rate"], 50000 / 3200 * abs(train.travel))
    limits = [found["speed"][name] for name in ("motor_speed", "count_rate", "torque", "whirl")]
    close(found["speed"]["top"], min(limit for limit in limits if limit is not None))
    plays = [abs(train.travel / train.turns[i + 1]) * angle / (2 * PI) for i, (_, angle) in enumerate(train.lashes)]
    plays.append(0.2 / 360 * abs(train.output.travel))
    for part, play in zip(found["stages"] + [found["output"]], plays):
        close(part["play"], play, 1e-9)
    close(found["play"]["worst"], sum(plays), 1e-9)
    close(found["play"]["rss"], math.sqrt(sum(play ** 2 for play in plays)), 1e-9)
    for stage, part in zip(train.stages, found["stages"]):
        close(part["ratio"], stage.ratio)
        close(part["efficiency"], stage.forward, 1e-9)
        close(part["efficiency_back"], stage.backward, 1e-9, 1e-12)


def drawn(rng, first, output, slope):
    stages = [first] + [rng.choice(STAGES) for _ in range(rng.randint(0, 2))]
    lashes = [("0.06 mm", 0.06 / stage.pitch_radius) if stage.pitch_radius and rng.random() < 0.5
              else ("0.4 deg", math.radians(0.4)) for stage in stages]
    return Train(stages, output, slope, lashes)


def test_every_stage_with_every_output():
    rng = random.Random(8)
    trains = [drawn(rng, stage, output, rng.choice([0, 10, 40, 90])) for stage in STAGES for output in OUTPUTS]
    trains += [Train([], output, slope, []) for output in OUTPUTS for slope in (0, 90)]
    states = set()
    for start in range(0, len(trains), 26):
        some = trains[start:start + 26]
        axes = [train.axis(chr(ord("A") + i)) for i, train in enumerate(some)]
        found = run("facts", written("trains.trammel", machine(axes=axes)), "--json").json()["axes"]
        for train, facts in zip(some, found):
            check_load(facts, train)
            check_motion(facts, train)
            states.add(facts["power_loss"]["state"])
    assert states == {"stays", "drag", "locked", "detent", "falls"}, states


def test_every_thread_and_fixity():
    for screw in SCREWS:
        train = Train([], screw.output(), 90, [])
        found, = run("facts", written("screw.trammel", machine(axes=[train.axis("Z")])), "--json").json()["axes"]
        told = found["screw"]
        close(told["mean_diameter"], screw.mean)
        close(told["root_diameter"], screw.root)
        close(told["raising_per_newton"], screw.raising)
        close(told["lowering_per_newton"], screw.lowering, absolute=1e-15)
        close(told["torque_raise"], screw.raising * (train.drag + train.weight))
        assert told["self_locking"] is (screw.lowering >= 0)
        close(told["whirl_rpm"], screw.whirl * 30 / PI, 1e-8)
        close(told["usable_speed"], 0.8 * screw.whirl / (2 * PI) * screw.lead, 1e-8)
        close(told["buckling_load"], screw.buckling, 1e-9)
        close(told["push"], found["force"]["start"] / screw.count)


main(globals())
