# SPDX-License-Identifier: GPL-3.0-or-later
"""What an axis can bear, how fast, how finely and with how much play it moves. Each value by hand or with its source."""
import math

from command import Skip, axis, close, has_locale, machine, main, reading, run, written

G = 9.80665
MOTOR = {"type": "stepper", "full_steps": 200, "microsteps": 16, "torque": "0.4 N·m", "holding_torque": "0.5 N·m",
         "rotor_inertia": "50 g cm²", "max_speed": "1200 rpm"}
# Budynas & Nisbett, Shigley's Mechanical Engineering Design, power-screw example of chapter 8 (from memory)
HANDBOOK = {"type": "screw", "pitch": "4 mm", "starts": 2, "major": "32 mm", "thread": "square", "friction": 0.08,
            "collar_friction": 0.08, "collar_diameter": "40 mm"}


def facts_of(*axes, options=(), **changes):
    path = written("facts.trammel", machine(axes=list(axes), **changes))
    return run("facts", path, *options, "--json").json()["axes"]


def loaded(letter="X", load=None, **parts):
    return {**axis(letter, **parts), "load": load or {}}


def keys(found, name):
    return {need["key"] for need in found[name]}


def test_the_handbook_screw():
    found, = facts_of(loaded("Z", {"mass": f"{6400 / G:.12f} kg", "slope": "90 deg"}, output=HANDBOOK))
    screw = found["screw"]
    close(screw["mean_diameter"], 30)
    close(screw["lead"], 8)
    assert abs(screw["torque_raise"] - 26.18) < 0.005
    assert abs(screw["torque_lower"] - 9.77) < 0.005
    assert abs(screw["efficiency"] - 0.311) < 0.0005
    assert screw["thread_locks"] is False and screw["self_locking"] is True
    assert abs(found["torque"]["raise"] - 26.18) < 0.005
    assert found["power_loss"] == {"state": "locked", "locked_by": "output"}


def test_a_belt_by_hand():
    # 20 teeth of 2 mm: 40 mm a turn, 0.95; run (4 + 1) N, start with 0.5 kg at 2 m/s² and the rotor
    found, = facts_of(loaded(load={"mass": "500 g", "drag": "4 N", "process": "1 N", "acceleration": "2 m/s²",
                                   "speed": "200 mm/s", "slope": 0}, motor=MOTOR))
    radius = 0.04 / (2 * math.pi)
    close(found["torque"]["run"], 5 * radius / 0.95)
    close(found["torque"]["start"], 6 * radius / 0.95 + 50e-7 * 2 / radius)
    close(found["torque"]["available"], 0.4)
    close(found["torque"]["margin"], 0.4 / (6 * radius / 0.95 + 50e-7 * 2 / radius))
    close(found["force"]["holds"], 0.4 / radius * 0.95)
    assert found["force"]["run"] == 5
    assert found["speed"]["top"] == found["speed"]["motor_speed"] and found["speed"]["limit"] == "motor_speed"
    close(found["speed"]["top"], 800)
    close(found["inertia"]["load"], 0.5 * radius ** 2)
    # T = T_h sin(π/2 · steps)
    close(found["pull_off"]["full_steps"], 2 / math.pi * math.asin(5 * radius / 0.95 / 0.5))
    close(found["pull_off"]["travel"], 0.2 * found["pull_off"]["full_steps"])
    close(found["travel_per_full_step"], 0.2)
    assert found["travel_per_tooth"] == 2
    assert found["power_loss"]["state"] == "stays"


def test_torque_at_speed_limits():
    motor = {**MOTOR, "torque_points": [["0 rpm", "0.4 N·m"], ["600 rpm", "0.2 N·m"], ["1200 rpm", "0.05 N·m"]]}
    found, = facts_of(loaded(load={"drag": "10 N", "speed": "600 mm/s"}, motor=motor))
    torque = 10 * 0.04 / (2 * math.pi) / 0.95
    close(found["speed"]["torque"], (600 + (0.2 - torque) / 0.15 * 600) / 60 * 40)
    assert found["speed"]["limit"] == "torque"
    close(found["torque"]["available"], 0.125)
    assert found["torque"]["source"] == "torque_points"


def test_whirl_and_buckling():
    # d = 10 − 2 − 0.5 = 7.5 mm (ISO 2904), 600 mm between a fixed and a supported end; steel 207 GPa (Budynas & Nisbett, table A-5), 7850 kg/m³
    output = {"type": "screw", "pitch": "2 mm", "starts": 4, "major": "10 mm", "length": "600 mm",
              "fixity": "fixed-supported"}
    found, = facts_of(loaded(load={"speed": "400 mm/s", "drag": "2 N"}, output=output, motor=MOTOR))
    screw = found["screw"]
    # root of tan λ = tanh λ
    omega = 3.926602312 ** 2 * (7.5 / 4) / 600 ** 2 * math.sqrt(207e9 / 7850) * 1000
    close(screw["whirl_rpm"], omega * 30 / math.pi, 1e-8)
    close(screw["whirl_speed"], omega / (2 * math.pi) * 8, 1e-8)
    close(screw["usable_speed"], 0.8 * omega / (2 * math.pi) * 8, 1e-8)
    close(found["speed"]["whirl"], screw["usable_speed"])
    # Euler, C = 2 (Budynas & Nisbett, table 4-2): l/k = 600/1.875 = 320
    close(screw["buckling_load"], 2 * math.pi ** 2 * 207000 * math.pi / 4 * 7.5 ** 2 / 320 ** 2)
    assert screw["column"] == "euler"
    fast, = facts_of(loaded(load={"speed": "800 mm/s"}, output=output, motor={**MOTOR, "max_speed": "9000 rpm"}))
    assert any("whirls" in caution for caution in fast["cautions"])
    assert not any("whirls" in caution for caution in found["cautions"])


def test_a_belt_of_whole_teeth():
    stage = {"type": "belt", "driver": 20, "driven": 20, "pitch": "2 mm", "center": "100 mm"}
    found, = facts_of(axis("X", stages=[stage]))
    loop = found["stages"][0]["loop"]
    close(loop["length"], 240)
    close(loop["pitches"], 120)
    close(loop["teeth_in_mesh"], 10)
    assert loop["least_teeth_in_mesh"] == 6
    assert [choice["pitches"] for choice in loop["choices"]] == [119, 120, 121, 122]
    for choice in loop["choices"]:
        close(choice["center"], choice["pitches"] - 20)
    given, = facts_of(axis("X", stages=[{"type": "belt", "driver": 20, "driven": 20, "pitch": "2 mm",
                                         "belt_teeth": 130}]))
    close(given["stages"][0]["loop"]["center"], 110)


def test_play_and_what_the_readings_found():
    stage = {"type": "spur", "driver": 12, "driven": 36, "module": "1 mm", "lash": "0.1 mm"}
    screw = {"type": "screw", "pitch": "2 mm", "starts": 4, "lash": "0.03 mm"}
    rows = [reading("travel", "X", "50 mm", "50 mm", u="0.01 mm"),
            reading("travel", "X", "50 mm", "49.8 mm", u="0.01 mm", approach="reversed")]
    found, = facts_of(axis("X", stages=[stage], output=screw), readings=rows)
    first = 0.1 / 18 / (2 * math.pi) * 8
    close(found["stages"][0]["play"], first)
    close(found["output"]["play"], 0.03)
    close(found["play"]["worst"], first + 0.03)
    close(found["play"]["rss"], math.hypot(first, 0.03))
    close(found["output"]["play_share"], 0.03 / (first + 0.03))
    assert found["play"]["partial"] is False
    assert abs(found["play"]["found"]["value"] - 0.2) < 0.001
    assert 0.01 < found["play"]["found"]["u"] < 0.02


def test_layers_and_upright_axes():
    screw = {"type": "screw", "pitch": "2 mm", "starts": 4, "major": "8 mm", "friction": 0.1}
    found, = facts_of(loaded("Z", {"mass": "1 kg", "slope": "90 deg"}, output=screw))
    # 8 mm in 200 steps
    heights = [layer["height"] for layer in found["layer_heights"]]
    assert [round(height / 0.04) for height in heights] == [layer["full_steps"] for layer in found["layer_heights"]]
    assert any(abs(height - 0.2) < 1e-12 for height in heights)
    assert found["power_loss"]["state"] == "falls"
    assert any("falls" in caution for caution in found["cautions"])
    assert any("pinch" in caution for caution in found["cautions"])


def test_a_motor_that_is_too_weak():
    # 0.01 N·m on 40 mm a turn at 95 %: 1.49 N
    found, = facts_of(loaded(load={"mass": "1 kg", "drag": "2 N"}, motor={**MOTOR, "torque": "0.01 N·m"}))
    close(found["force"]["holds"], 0.01 / (0.04 / (2 * math.pi)) * 0.95)
    close(found["torque"]["margin"], found["force"]["holds"] / 2)
    assert found["acceleration"]["largest"] == 0
    assert any("too weak" in caution for caution in found["cautions"])
    text = run("facts", written("weak.trammel", machine(
        axes=[loaded(load={"mass": "1 kg", "drag": "2 N"}, motor={**MOTOR, "torque": "0.01 N·m"})]))).out
    assert "X slips: the carriage needs 2 N, and it holds only 1.49 N." in text, text


def test_a_chain_and_one_that_is_turned_by_its_outside():
    chain = {"type": "chain", "driver": 12, "driven": 12, "pitch": "6.35 mm", "center": "127 mm"}
    straight, crossed = facts_of(axis("X", stages=[chain]), axis("Y", stages=[{**chain, "crossed": True}]))
    # 20 pitches along each run and 6 around each sprocket; even numbers only
    loop = straight["stages"][0]["loop"]
    close(loop["pitches"], 52)
    assert [choice["pitches"] for choice in loop["choices"]] == [50, 52, 54, 56]
    close(loop["choices"][0]["center"], 19 * 6.35)
    assert "loop" not in crossed["stages"][0]


def test_a_short_screw_is_crushed():
    # Budynas & Nisbett, equation 4-48: d 10, l 100, C 1: l/k 40 < √(2π²·207000/210)
    output = {"type": "screw", "pitch": "2 mm", "root": "10 mm", "length": "100 mm", "fixity": "supported-supported"}
    found, = facts_of(loaded(load={"process": "14 kN"}, output=output))
    screw = found["screw"]
    load = math.pi * 25 * (210 - (210 / (2 * math.pi) * 40) ** 2 / 207000)
    close(screw["buckling_load"], load)
    assert screw["column"] == "johnson"
    close(screw["slenderness"], 40)
    assert screw["push"] == 14000 and any("buckle" in caution for caution in found["cautions"])


def test_a_rotary_axis():
    turned = {**axis("A", "rotary", {"type": "table"}, [{"type": "worm", "starts": 1, "wheel": 90, "efficiency": 0.4}],
                     {"type": "stepper", "full_steps": 200, "microsteps": 16, "torque": "0.1 N·m"}, "360 deg"),
              "load": {"inertia": "0.01 kg m²", "drag": "0.2 N·m", "acceleration": "90 deg/s²"}}
    found, = facts_of(turned)
    close(found["torque"]["run"], 0.2 / 0.98 / 90 / 0.4)
    close(found["acceleration"]["wanted"], 90)
    assert found["unit"] == "deg"
    assert found["stages"][0]["self_locking"] is True


def test_what_is_missing_is_named():
    found, = facts_of(axis("X", stages=[{"type": "spur", "driver": 12, "driven": 36, "module": 1}]))
    assert {"load.mass", "load.drag", "motor.torque", "motor.holding_torque", "stages[0].lash", "stages[0].face",
            "output.lash"} <= keys(found, "missing")
    assert {"stages[0].efficiency", "output.efficiency"} <= keys(found, "assumed")
    for name in ("run", "start", "raise", "lower", "available", "margin"):
        assert found["torque"][name] is None, name
    assert found["play"]["worst"] is None and found["play"]["found"] is None
    assert found["speed"]["top"] is None and found["speed"]["limit"] is None
    assert found["pull_off"]["travel"] is None


def test_one_axis_and_words():
    path = written("words.trammel", machine())
    only = run("facts", path, "--axis", "y", "--json").json()["axes"]
    assert [each["letter"] for each in only] == ["Y"]
    text = run("facts", path).out
    for letter in "XYZE":
        assert f"\n{letter}  stepper" in "\n" + text
    assert "To know more, enter:" in text and "spring scale" in text
    done = run("facts", path, "--axis", "Q", status=1)
    assert "no axis Q" in done.err
    run("facts", path, "--axis", "XY", status=2)


def test_words_tell_what_it_holds():
    path = written("holds.trammel", machine(axes=[loaded("X", {"mass": "500 g", "drag": "1.4 N"}, motor=MOTOR)]))
    text = run("facts", path).out
    # 0.4 N·m on 40 mm a turn at 95 %
    assert "X holds 59.7 N before it slips; the carriage needs 1.4 N." in text, text


def test_words_do_not_promise_what_it_holds_past_its_speed():
    # 1200 rpm of 40 mm a turn: 800 mm/s
    path = written("past.trammel", machine(axes=[loaded("X", {"drag": "1.4 N", "speed": "900 mm/s"}, motor=MOTOR)]))
    text = run("facts", path).out
    assert "At 900 mm/s, faster than it goes, X would hold 59.7 N before it slips" in text, text


def test_words_have_a_decimal_comma_where_it_is_used():
    if not has_locale("de_DE.UTF-8"):
        raise Skip("no locale with a decimal comma on this machine")
    path = written("comma.trammel", machine(axes=[loaded("X", {"mass": "500 g", "drag": "1.4 N"}, motor=MOTOR)]))
    german = run("facts", path, locale="de_DE.UTF-8").out
    assert "59,7 N" in german and "1,4 N" in german, german


def test_inches():
    # 40 mm a turn, 0.4 N·m at 95 %: 59.69 N / 4.448222 N = 13.42 lbf; 200 steps × 16: 12.5 µm = 492 µin, a full step
    # 0.2 mm = 0.00787 in; 1200 rpm: 800 mm/s = 31.5 in/s (one pound-force: 0.45359237 kg · 9.80665 m/s²)
    path = written("inches.trammel", machine(display_unit="in", axes=[loaded(
        "X", {"mass": "500 g", "drag": "4.448222 N", "speed": "254 mm/s"}, motor=MOTOR,
        stages=[{"type": "belt", "driver": 20, "driven": 20, "pitch": "2 mm", "belt_teeth": 83}])]))
    text = run("facts", path).out
    for sentence in ("One count moves it by 0.000492 in, one full step by 0.00787 in;", "It goes 31.5 in/s at most",
                     "At 10 in/s, X holds ", "the carriage needs 4.45 N (1 lbf).",
                     "83 teeth or links go with 2.480 in between the shafts"):
        assert sentence in text, (sentence, text)
    assert " mm" not in text.replace("× 2 mm", ""), text
    turned = {**axis("A", "rotary", {"type": "table"}, [], MOTOR, "360 deg"), "load": {"drag": "0.1 N·m"}}
    text = run("facts", written("degrees.trammel", machine(display_unit="in", axes=[turned]))).out
    assert " in" not in text.split("To know more")[0].replace(" into", "").replace(" inertia", ""), text


def test_a_broken_train_is_named():
    path = written("broken.trammel", machine(axes=[axis("X"), axis("Y", output={"type": "rack", "teeth": 5})]))
    done = run("facts", path, status=1)
    assert "axes[1].output.module" in done.err


main(globals())
