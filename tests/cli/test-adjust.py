# SPDX-License-Identifier: GPL-3.0-or-later
"""The fit by command: certified values, hand values, and an independent least-squares solution by numpy."""
import json
import math
import pathlib

import numpy

from command import FOLDER, TESTS, axis, close, machine, main, reading, run, written

NORMAL_95 = 1.959963984540054  # 97.5 % quantile of the normal distribution (JCGM 100:2008, table G.1: 1.960)


def adjust(readings, *options, **changes):
    return run("adjust", written("adjust.trammel", machine(readings=readings, **changes)), *options, "--json").json()


def parameter(result, name):
    found = [p for p in result["parameters"] if p["name"] == name]
    assert len(found) == 1, (name, [p["name"] for p in result["parameters"]])
    return found[0]


def test_nist_norris():
    # NIST Statistical Reference Datasets, linear regression, Norris: certified values
    result = run("adjust", written("norris.trammel", machine()), "--readings", TESTS / "reference" / "nist-norris.csv",
                 "--only", "--scatter", "estimated", "--json").json()
    scale, datum = parameter(result, "scale.X"), parameter(result, "datum.X")
    close(1 + scale["value"], 1.00211681802045, 1e-13)
    close(scale["value"], 0.00211681802045, 1e-10)
    close(scale["u"], 0.429796848199937e-03, 1e-10)
    close(datum["value"], -0.262323073774029, 1e-10)
    close(datum["u"], 0.232818234301152, 1e-10)
    fit = result["fit"]
    assert (fit["scatter"], fit["readings"], fit["parameters"], fit["dof"]) == ("estimated", 36, 2, 34)
    close(math.sqrt(fit["chi2"] / fit["dof"]), 0.884796396144373, 1e-10)
    assert fit["p_value"] is None and fit["coverage"] == 0.95
    assert scale["stated"] is None and scale["learned"] == 1
    # Student's t with 34 degrees of freedom, 97.5 %: 2.0322 (Draper & Smith, table of t; from memory)
    close((scale["high"] - scale["low"]) / 2 / scale["u"], 2.0322, 1e-4)


def noise_free(kind, along, nominal):
    """What a perfect machine prints from the default stated values: shrink 0.002, bead 0."""
    return reading(kind, along, nominal, nominal if kind == "travel" else nominal * (1 - 0.002), u=0.03)


SQUARE = [noise_free(kind, along, size) for along in "XY" for kind, size in (("outside", 100), ("inside", 80))]
DIAGONALS = [noise_free("outside", along, 100 * math.sqrt(2)) for along in ("X+Y", "X-Y")]


def test_five_cases_of_scale_uncertainty():
    # The table of the design: u(scale X) with the default stated values and 0.03 mm per reading
    cases = [
        ([noise_free("outside", along, 20) for along in "XY"], 0.0203),
        ([noise_free("outside", along, 100) for along in "XY"], 0.0050),
        (SQUARE, 0.0030),
        (SQUARE + DIAGONALS, 0.0030),
        (SQUARE + DIAGONALS + [noise_free("travel", "X", 100)], 0.0003),
    ]
    for readings, wanted in cases:
        result = adjust(readings)
        close(parameter(result, "scale.X")["u"], wanted, absolute=0.5e-4)
        close(parameter(result, "scale.X")["value"], 0, absolute=1e-9)
    close(parameter(adjust(cases[3][0]), "skew.XY")["u"], 0.0003, absolute=0.5e-4)
    close(parameter(adjust(cases[4][0]), "shrink")["u"], 0.0004, absolute=0.5e-4)


def row_of(kind, along, nominal):
    """Derivatives by scale X, scale Y, skew, shrink, bead at e = g = 0, shrink 0.002; from the model by hand."""
    shrunk = nominal * (1 - 0.002)
    if kind == "travel":
        return [nominal, 0, 0, 0, 0]
    faces = 2 if kind == "outside" else -2
    if along == "X":
        return [shrunk, 0, 0, -nominal, faces]
    if along == "Y":
        return [0, shrunk, 0, -nominal, faces]
    # |A v| with v = (a, ±a): a skew g shortens X+Y and lengthens X-Y by a half of it
    sign = 1 if along == "X+Y" else -1
    return [shrunk / 2, shrunk / 2, -sign * shrunk / 2, -nominal, faces * math.sqrt(2)]


def test_all_uncertainties_against_numpy():
    readings = SQUARE + DIAGONALS + [noise_free("travel", "X", 100)]
    rows = [numpy.array(row_of(r["kind"], r["along"], r["nominal"])) / 0.03 for r in readings]
    # Default stated values: skew 1 degree, shrink 0.003, bead 0.2 mm (common practice, no source)
    for i, u in ((2, math.radians(1)), (3, 0.003), (4, 0.2)):
        rows.append(numpy.eye(5)[i] / u)
    triangle = numpy.linalg.qr(numpy.array(rows), mode="r")
    u = numpy.linalg.norm(numpy.linalg.inv(triangle), axis=1)
    result = adjust(readings)
    for name, wanted in zip(("scale.X", "scale.Y", "skew.XY", "shrink", "bead"), u):
        close(parameter(result, name)["u"], wanted, 1e-8)
    assert result["fit"]["dof"] == len(readings) + 3 - 5


def test_one_travel_by_hand():
    result = adjust([reading("travel", "X", 100, 99.58, instrument="caliper")])
    x = result["axes"][0]
    assert [a["letter"] for a in result["axes"]] == ["X"]
    close(x["scale_error"], -0.0042, 1e-12)
    close(x["u"], 0.0003, 1e-12)
    counts = x["counts_per_unit"]
    close(counts["in_force"], 80)
    close(counts["corrected"], 80 / 0.9958)
    close(counts["u"], 80 / 0.9958**2 * 0.0003, 1e-6)
    assert counts["low"] < counts["corrected"] < counts["high"]
    close(counts["high"] - counts["low"], 2 * NORMAL_95 * counts["u"], 1e-4)
    assert x["significant"] is True and x["learned"] == 1
    assert result["fit"]["dof"] == 0 and result["fit"]["p_value"] is None and result["fit"]["birge"] == 1


def test_readings_that_leave_everything_open():
    # One travel of 100 mm with u 60 mm: the 95 % interval of the scale reaches below −1, where nothing would move
    path = written("wild.trammel", machine(readings=[reading("travel", "X", 100, 101, u=60)]))
    counts = run("adjust", path, "--json").json()["axes"][0]["counts_per_unit"]
    assert counts == {"in_force": 80, "corrected": None, "u": None, "low": None, "high": None}, counts
    assert "no correction follows" in run("adjust", path, "--adopt", status=1).err


def test_exactly_the_keys_of_the_contract():
    result = adjust([reading("outside", "X", 100, 99.6), reading("inside", "X", 80, 79.5)])
    assert list(result) == ["axes", "parameters", "readings", "fit", "warnings", "explanations", "next", "budget",
                            "lash"]
    assert list(result["axes"][0]) == ["letter", "scale_error", "u", "counts_per_unit", "significant", "learned"]
    assert list(result["axes"][0]["counts_per_unit"]) == ["in_force", "corrected", "u", "low", "high"]
    assert list(result["parameters"][0]) == ["name", "value", "u", "low", "high", "stated", "learned"]
    assert list(parameter(result, "bead")["stated"]) == ["value", "u"]
    assert list(result["readings"][0]) == ["index", "kind", "along", "nominal", "measured", "predicted", "residual",
                                           "standardized", "suspect"]
    assert list(result["fit"]) == ["scatter", "readings", "parameters", "dof", "chi2", "p_value", "birge", "coverage",
                                   "pure_error", "lack_of_fit"]


def test_numbers_have_seventeen_digits():
    out = run("adjust", written("digits.trammel", machine(readings=[reading("travel", "X", 3, 3.1)])), "--json").out
    found = json.loads(out, parse_float=str)["axes"][0]["scale_error"]
    assert float(found) == json.loads(out)["axes"][0]["scale_error"]
    assert len(found.lstrip("-0.").replace(".", "")) >= 16, found


def test_stated_values_from_the_command():
    readings = [reading("outside", "X", 100, 99.6, u=0.03)]
    fixed = adjust(readings, "--stated", "bead=0.1", "--stated", "shrink=0")
    # (1+e)·100 + 2·0.1 = 99.6
    close(parameter(fixed, "scale.X")["value"], -0.006, 1e-9)
    close(parameter(fixed, "scale.X")["u"], 0.0003, 1e-9)
    for text in ("shrink=0.003±0.001", "shrink=0.003+-0.001"):
        stated = parameter(adjust(readings, "--stated", text), "shrink")["stated"]
        close(stated["value"], 0.003)
        close(stated["u"], 0.001)


def test_stated_in_a_plain_locale():
    done = run("adjust", written("plain.trammel", machine(readings=[reading("outside", "X", 100, 99.6)])), "--stated",
               "shrink=0.003±0.001", "--json", locale="C")
    close(parameter(done.json(), "shrink")["stated"]["u"], 0.001)


def test_a_misread_value_is_suspect_and_robust_holds():
    sound = [reading("travel", "X", 10.0 * i, 10.0 * i * 0.996 + (-1) ** i * 0.004, u=0.03) for i in range(1, 13)]
    bad = sound[:5] + [reading("travel", "X", 60, 62, u=0.03)] + sound[6:]
    result = adjust(bad)
    assert [r["index"] for r in result["readings"] if r["suspect"]] == [5]
    assert result["warnings"]
    close(parameter(adjust(bad, "--robust"), "scale.X")["value"], -0.004, absolute=1e-4)
    assert abs(parameter(result, "scale.X")["value"] + 0.004) > 1e-3  # without, it is dragged along
    out = run("adjust", written("bad.trammel", machine(readings=bad))).out
    assert "Row 6 (" in out, out


def csv(name, text):
    return written(name, text)


def test_readings_of_the_file_come_on_top():
    path = csv("more.csv", "kind;along;nominal;measured;u\ntravel;X;100;99,58;0,03\n")
    own = [reading("travel", "Y", 100, 100.1, u=0.03)]
    both = adjust(own, "--readings", path)
    assert [a["letter"] for a in both["axes"]] == ["X", "Y"]
    assert [r["index"] for r in both["readings"]] == [0, 1]
    alone = adjust(own, "--readings", path, "--only")
    assert [a["letter"] for a in alone["axes"]] == ["X"]
    close(alone["axes"][0]["scale_error"], -0.0042, 1e-9)


def test_csv_of_every_shape():
    for name, text in {
        "bom.csv": "\ufeffkind,along,nominal,measured\r\n\r\n# a remark\r\ntravel,X,100,99.58\r\n",
        "tab.csv": "measured\tnominal\talong\tkind\n99,58\t100\tX\ttravel\n",
        "inch.csv": "kind,along,nominal,measured,unit\ntravel,X,5,4.979,in\n",
    }.items():
        result = run("adjust", written("any.trammel", machine()), "--readings", csv(name, text), "--only",
                     "--json").json()
        close(result["axes"][0]["scale_error"], -0.0042, 1e-9)


def test_unmeasured_rows_are_passed_over():
    readings = [{"kind": "outside", "along": "X", "nominal": 100}, reading("travel", "X", 100, 99.58)]
    result = adjust(readings)
    assert result["fit"]["readings"] == 1 and [r["index"] for r in result["readings"]] == [1]


def test_homes_take_no_part():
    sizes = [reading("travel", "X", 100, 99.5, u=0.1)]
    homes = [{"kind": "home", "along": "X", "measured": value, "set": "fast"} for value in (0.01, 0.02, 5)]
    found, wanted = adjust(homes + sizes), adjust(sizes)
    assert found["axes"] == wanted["axes"] and found["parameters"] == wanted["parameters"]
    assert found["fit"] == wanted["fit"] and found["warnings"] == wanted["warnings"]
    assert [(r["index"], r["kind"]) for r in found["readings"]] == [(3, "travel")]
    assert found["next"] == wanted["next"] and found["budget"] == wanted["budget"]
    done = run("adjust", written("homes.trammel", machine(readings=homes)), status=1)
    assert "no measured readings" in done.err, done.err


def test_nothing_measured_says_what_to_do():
    done = run("adjust", written("empty.trammel", machine()), status=1)
    assert "no measured readings" in done.err and "--readings" in done.err, done.err


def test_unknowns_that_cannot_be_told_apart_are_named():
    path = written("inseparable.trammel", machine(readings=[reading("outside", "X", 100, 99.6)]))
    done = run("adjust", path, "--scatter", "estimated", "--json", status=1)
    assert "bead" in done.err and done.out == "", done.err


def test_words():
    out = run("adjust", written("words.trammel", machine(readings=[reading("travel", "X", 100, 99.58, u=0.015)]))).out
    # 80 / 0.9958 = 80.3374
    assert "X moves 0.42 % short (± 0.03 %). Set 80.337 steps/mm (now 80)." in out, out


def test_words_for_other_kinds_of_axis():
    table = axis("A", "rotary", {"type": "table"}, [{"type": "worm", "starts": 1, "wheel": 90}], travel="360 deg")
    feed = axis("E", "feed", {"type": "roller", "diameter": "8 mm"}, travel="1 m")
    readings = [reading("travel", "A", 90, 90.36, u=0.015), reading("travel", "E", 100, 98, u=0.15)]
    value = machine(axes=[table, feed], readings=readings)
    out = run("adjust", written("kinds.trammel", value)).out
    # 800/° · 90/90.36 = 796.81; u(e) = 0.015/90, 95 %: 0.033 %. Feed 2 % short, 95 %: 0.29 %
    assert "A turns 0.40 % too far (± 0.03 %). Set 796.8" in out and "steps/°" in out, out
    assert "E feeds 2.0 % too little (± 0.3 %)." in out, out


def test_words_in_inches():
    readings = [reading("outside", "X", 100, 100.254, u=0.0127), reading("travel", "X", 100, 100, u=0.001)]
    value = machine(display_unit="in", readings=readings, stated={"shrink": {"value": 0, "u": 0}})
    out = run("adjust", written("inch.trammel", value)).out
    # Half of 0.254 mm is 0.005 in; its u is a half of 0.0127 mm, 95 %: 0.0005 in
    assert "The bead adds 0.0050 in to each face (± 0.0005 in)." in out, out


def test_an_axis_that_is_right_is_left_alone():
    out = run("adjust", written("right.trammel", machine(readings=[reading("travel", "X", 100, 100.01, u=0.03)]))).out
    assert "X does what it is told" in out and "Nothing speaks against 80 steps/mm." in out, out
    assert "Set " not in out, out


def test_skew_in_words():
    # A square 100 mm whose angle is 91°: diagonals 100·√(2 ∓ 2·sin 1°)
    g = math.radians(1)
    readings = [reading("travel", "X", 100, 100), reading("travel", "Y", 100, 100)]
    readings += [reading("travel", along, 100 * math.sqrt(2), 100 * math.sqrt(2 - sign * 2 * math.sin(g)))
                 for along, sign in (("X+Y", 1), ("X-Y", -1))]
    close(parameter(adjust(readings), "skew.XY")["value"], g, 1e-3)
    out = run("adjust", written("skew.trammel", machine(readings=readings))).out
    assert "X and Y stand 1.0" in out and "more than 90°" in out, out


def test_adopt_in_place_keeps_the_version_before():
    readings = [reading("travel", "X", 100, 99.58, u=0.03), {"kind": "outside", "along": "X", "nominal": 100}]
    path = pathlib.Path(written("adopt.trammel", machine(readings=readings)))
    before = path.read_bytes()
    run("adjust", path, "--adopt", "--json")
    after = json.loads(path.read_text(encoding="utf-8"))
    counts = after["axes"][0]["counts_per_unit"]
    close(counts["value"], 80 / 0.9958, 1e-9)
    close(counts["u"], 80 / 0.9958**2 * 0.0003, 1e-6)
    assert after["axes"][1]["counts_per_unit"] is None
    assert len(after["log"]) == 1 and len(after["log"][0]["readings"]) == 1
    assert len(after["readings"]) == 1 and after["readings"][0].get("measured") is None
    assert (path.parent / (path.name + "~")).read_bytes() == before
    close(run("ratio", path, "--json").json()["axes"][0]["in_force"]["value"], 80 / 0.9958, 1e-9)


def test_adopt_to_another_file():
    path = pathlib.Path(written("source.trammel", machine(readings=[reading("travel", "X", 100, 99.58)])))
    before, target = path.read_bytes(), FOLDER / "adopted.trammel"
    out = run("adjust", path, "--adopt", "--output", target).out
    assert path.read_bytes() == before and str(target) in out
    close(json.loads(target.read_text())["axes"][0]["counts_per_unit"]["value"], 80 / 0.9958, 1e-9)


def test_adopt_where_nothing_can_be_saved():
    path = written("stay.trammel", machine(readings=[reading("travel", "X", 100, 99.58)]))
    done = run("adjust", path, "--adopt", "--output", FOLDER / "no" / "such" / "folder.trammel", status=1)
    assert "folder.trammel" in done.err and done.out == "", done.err


def test_encoder_counts_go_by_their_name():
    motor = {"type": "encoder", "counts": "1024", "count_name": "ticks"}
    value = machine(axes=[axis("X", motor=motor)], readings=[reading("travel", "X", 100, 99.58)])
    assert "ticks/mm" in run("adjust", written("encoder.trammel", value)).out


def test_a_wrong_entry_is_named():
    # 12:36 and a lead of 8 mm entered: 1200 steps/mm; the driver has 13 teeth: 1200 * 12/13, so 100 mm become 108.333
    stages = [{"type": "spur", "driver": 12, "driven": 36}]
    lead_8 = {"type": "screw", "pitch": "2 mm", "starts": 4}
    wrong = axis("X", stages=stages, output=lead_8)
    readings = [reading("travel", "X", 100, 108.333, u=0.02), reading("travel", "Y", 100, 100.2, u=0.02)]
    value = machine(axes=[wrong, axis("Y")], readings=readings)
    path = written("wrong.trammel", value)
    result = run("adjust", path, "--json").json()
    first = result["explanations"][0]
    assert list(first) == ["axis", "change", "counts_per_unit", "fits"]
    assert (first["axis"], first["change"], first["fits"]) == ("X", "stage 1: driver 12 → 13", True)
    close(first["counts_per_unit"], 1200 * 12 / 13)
    corrected = result["axes"][0]["counts_per_unit"]
    for told in result["explanations"]:  # Y is off by less than a few parts per thousand
        assert told["axis"] == "X"
        inside = corrected["low"] <= told["counts_per_unit"] <= corrected["high"]
        assert told["fits"] == inside, (told, corrected)
    out = run("adjust", path).out
    assert "Was something of X entered wrong?" in out and "of Y" not in out, out
    assert "  Stage 1: driver 12 → 13 would make it 1107.6923 steps/mm, as measured.\n" in out, out


def test_a_right_machine_needs_no_explanation():
    assert adjust([reading("travel", "X", 100, 100.01, u=0.03)])["explanations"] == []


def test_what_to_measure_next_and_where_u_comes_from():
    # X: 100 mm, u 0.03; the longest travel of the axis is 200 mm: 0.03 / sqrt(100² + 200²). Y: 20 mm, known worst.
    readings = [reading("travel", "X", 100, 100, instrument="caliper"), reading("travel", "Y", 20, 20, u=0.1)]
    path = written("next.trammel", machine(readings=readings))
    result = run("adjust", path, "--json").json()
    keys = ["kind", "along", "nominal", "axis", "u_now", "u_after", "instrument", "u"]
    assert all(list(told) == keys for told in result["next"])
    worst = result["next"][0]
    assert (worst["axis"], worst["kind"], worst["along"], worst["nominal"]) == ("Y", "travel", "Y", 200)
    close(worst["u_now"], 0.1 / 20)
    close(worst["u_after"], 0.1 / math.hypot(20, 200))
    x = [told for told in result["next"] if told["axis"] == "X"][0]
    assert (x["kind"], x["along"], x["nominal"], x["instrument"], x["u"]) == ("travel", "X", 200, "caliper", 0.03)
    close(x["u_after"], 0.03 / math.hypot(100, 200))
    assert result["budget"] == [{"axis": "X", "source": "travel.caliper", "share": 1},
                                {"axis": "Y", "source": "travel", "share": 1}]
    again = run("adjust", written("more.trammel", machine(readings=[*readings, reading("travel", "Y", 200, 200, u=0.1)])),
                "--json").json()
    close(again["axes"][1]["u"], worst["u_after"], 1e-9)
    out = run("adjust", path).out
    assert "What to measure next:\nY is known to ± 0.98 %. Tell Y to move 200 mm" in out, out
    assert "Where the uncertainty comes from:\nX  Travel, caliper" in out, out


def test_trials():
    # One travel of 100 mm with u 0.05 mm: the scale error is normal with u 0.0005
    rows = [reading("travel", "X", 100, 99.6, u=0.05)]
    result = adjust(rows, "--trials", "100000", "--seed", "4")["monte_carlo"]
    assert (result["trials"], result["seed"]) == (100000, 4)
    axis_x = result["axes"][0]
    close(axis_x["mean"], -0.004, absolute=1e-5)
    close(axis_x["u"], 0.0005, 0.02)
    close(axis_x["high"], -0.004 + NORMAL_95 * 0.0005, absolute=2e-5)
    assert sum(axis_x["histogram"]["counts"]) == 100000
    assert adjust(rows, "--trials", "100000", "--seed", "4")["monte_carlo"] == result
    path = written("trials.trammel", machine(readings=rows))
    assert "trials" in run("adjust", path, "--trials", "5000").out
    run("adjust", path, "--trials", "3", status=2)
    assert "robust" in run("adjust", path, "--trials", "5000", "--robust", status=1).err


def both_sides(reversal):
    rows = [reading("position", "X", target, 1 + target - side * 0.05, u=0.01, approach="+" if side > 0 else "-")
            for target in (0, 50, 100) for side in (1, -1)]
    return rows + [reading("reversal", "X", 30, reversal, u=0.01), {"kind": "reversal", "along": "X", "u": 0.01,
                                                                    "measured": reversal}]


def test_ways_to_find_lash_are_compared():
    # 2·0.05 by three pairs of positions: u = 0.01·√(2/3); by two reversals: 0.01/√2
    found = adjust(both_sides(0.11))["lash"]
    assert [(line["axis"], line["agree"]) for line in found] == [("X", True)]
    positions, reversals = found[0]["sources"]
    assert (positions["source"], positions["readings"]) == ("positions", 6)
    assert (reversals["source"], reversals["readings"]) == ("reversals", 2)
    close(positions["value"], 0.1, absolute=1e-9)
    close(positions["u"], 0.01 * math.sqrt(2 / 3), 1e-9)
    close(reversals["value"], 0.11, absolute=1e-9)
    close(reversals["u"], 0.01 / math.sqrt(2), 1e-9)
    # z = 0.01/(0.01·√(2/3 + 1/2)) = 0.92582, p = 0.3545
    close(found[0]["p_value"], math.erfc(1 / math.sqrt(2 / 3 + 1 / 2) / math.sqrt(2)), 1e-6)
    assert adjust(both_sides(0.11)[:-2])["lash"] == []


def test_ways_to_find_lash_that_disagree_are_told():
    result = adjust(both_sides(0.2))
    assert result["lash"][0]["agree"] is False
    assert any("lash of X" in warning and "do not agree" in warning for warning in result["warnings"])
    words = run("adjust", written("disagree.trammel", machine(readings=both_sides(0.2)))).out
    assert "Lash of X:" in words and "they do not agree" in words
    words = run("adjust", written("agree.trammel", machine(readings=both_sides(0.11)))).out
    assert "they agree (p 0.35" in words, words
    alone = [reading("travel", "Y", 100, 99.8, approach="reversed"), {"kind": "reversal", "along": "Y", "measured": 0.2}]
    found = adjust(alone)["lash"][0]
    assert found["p_value"] is None and found["agree"] is None
    assert [source["value"] is None for source in found["sources"]] == [True, False]


main(globals())
