# SPDX-License-Identifier: GPL-3.0-or-later
"""Instruments with resolution, scale and warmth, and repeated readings, by command; against least squares by numpy."""
import json
import math

import numpy

from command import close, machine, main, reading, run, written

CALIPER = {"name": "caliper", "u": "0.03 mm", "resolution": "0.02 mm", "scale_u": 0.0005}
TAPE = {"name": "tape", "u": "0.3 mm", "scale_u": 0.002}


def adjust(readings, *options, **changes):
    return run("adjust", written("instruments.trammel", machine(readings=readings, **changes)), *options,
               "--json").json()


def parameters(result):
    return {p["name"]: p for p in result["parameters"]}


def travels(instrument, along, sizes, **more):
    return [reading("travel", along, n, m, instrument=instrument, **more) for n, m in sizes]


READINGS = (travels("caliper", "X", [(50, 50.08), (100, 100.11), (150, 150.22)])
            + travels("tape", "X", [(200, 200.9), (400, 401.5)]) + travels("caliper", "Y", [(100, 99.9), (120, 119.93)]))


def independent():
    """e of X and Y, s of caliper and tape: rows of n (1 + e)(1 + s), and s = 0 ± scale_u twice."""
    us = {"caliper": math.hypot(0.03, 0.02 / math.sqrt(12)), "tape": 0.3}
    x = numpy.zeros(4)
    for _ in range(20):
        rows, rest = [], []
        for r in READINGS:
            i, k, u, n = "XY".index(r["along"]), 2 + ["caliper", "tape"].index(r["instrument"]), us[r["instrument"]], r["nominal"]
            row = numpy.zeros(4)
            row[i], row[k] = n * (1 + x[k]) / u, n * (1 + x[i]) / u
            rows.append(row)
            rest.append((r["measured"] - n * (1 + x[i]) * (1 + x[k])) / u)
        for k, u in ((2, 0.0005), (3, 0.002)):
            row = numpy.zeros(4)
            row[k] = 1 / u
            rows.append(row)
            rest.append(-x[k] / u)
        matrix, rest = numpy.array(rows), numpy.array(rest)
        x = x + numpy.linalg.lstsq(matrix, rest, rcond=None)[0]
    return x, numpy.sqrt(numpy.diag(numpy.linalg.inv(matrix.T @ matrix))), float(rest @ rest)


def test_scale_of_instruments_as_numpy_has_it():
    result = adjust(READINGS, instruments=[CALIPER, TAPE])
    values, us, chi2 = independent()
    found = parameters(result)
    assert list(found) == ["scale.X", "scale.Y", "instrument.caliper", "instrument.tape"]
    assert result["fit"]["birge"] == 1
    for name, value, u in zip(found, values, us):
        close(found[name]["value"], value, 1e-9, 1e-13)
        close(found[name]["u"], u, 1e-9)
    close(result["fit"]["chi2"], chi2, 1e-9)
    assert result["fit"]["dof"] == 7 + 2 - 4
    assert found["instrument.tape"]["stated"] == {"value": 0, "u": 0.002}
    close(found["instrument.tape"]["learned"], 1 - (us[3] / 0.002) ** 2, 1e-9)


def test_scale_u_is_a_floor():
    for scatter in ("stated", "estimated"):
        for scale_u in (0.0001, 0.001, 0.01):
            caliper = {"name": "caliper", "u": "0.03 mm", "scale_u": scale_u}
            many = travels("caliper", "X", [(100, 100.3 + (i % 7 - 3) / 100) for i in range(400)])
            result = adjust(many, "--scatter", scatter, instruments=[caliper])
            u = parameters(result)["scale.X"]["u"]
            assert u >= scale_u, (scatter, scale_u, u)
            assert u < 1.1 * scale_u + 1e-4, (scatter, scale_u, u)
            shares = {line["source"]: line["share"] for line in result["budget"]}
            close(sum(shares.values()), 1, 1e-9)
            assert scale_u < 0.001 or shares["instrument.caliper"] > 0.9, shares


def test_budget_names_the_instrument():
    shares = {(line["axis"], line["source"]): line["share"] for line in adjust(READINGS, instruments=[CALIPER, TAPE])["budget"]}
    assert ("X", "instrument.caliper") in shares and ("Y", "instrument.caliper") in shares
    for letter in "XY":
        close(sum(share for (a, _), share in shares.items() if a == letter), 1, 1e-9)


def test_words_and_warning():
    path = written("words.trammel", machine(readings=travels("caliper", "X", [(100, 100.3)]),
                                            instruments=[{"name": "caliper", "u": "0.03 mm", "scale_u": 0.001}]))
    assert "caliper" in run("adjust", path).out
    warnings = json.loads(run("adjust", path, "--json").out)["warnings"]
    assert any("“caliper”" in w and "0.1 %" in w for w in warnings), warnings


def test_warmth():
    # A rule of 1.15e-5 per °C at 30 °C shows 1/1.000115 of a length; a part of 7e-5 at 25 °C is 1.00035 times as long
    rule = {"name": "rule", "u": "0.1 mm", "expansion": 1.15e-5, "temperature": 30}
    rows = travels("rule", "X", [(100, 100 / 1.000115), (200, 200 / 1.000115)])
    result = adjust(rows, instruments=[rule], part={"expansion": 7e-5, "temperature": 25})
    close(parameters(result)["scale.X"]["value"], 0, absolute=1e-12)
    printed = [reading("center", "X", n, n * 0.998 / (1.000115 - 0.00035), instrument="rule") for n in (50, 100)]
    result = adjust(printed, "--stated", "shrink=0.002", instruments=[rule],
                    part={"expansion": 7e-5, "temperature": 25})
    close(parameters(result)["scale.X"]["value"], 0, absolute=1e-12)


def test_bad_details():
    for member, value, words in (("resolution", "-1 mm", "instruments[0].resolution"),
                                 ("resolution", "soon", "instruments[0].resolution"),
                                 ("scale_u", -0.1, "instruments[0].scale_u"), ("scale_u", "2 %", "instruments[0].scale_u"),
                                 ("scale_u", 1, "0 to 0.5"), ("expansion", 0.1, "instruments[0].expansion"),
                                 ("temperature", -274, "instruments[0].temperature"),
                                 ("temperature", None, "instruments[0].temperature")):
        bad = machine(instruments=[{"name": "rule", "u": 0.1, member: value}])
        assert words in run("adjust", written("bad.trammel", bad), status=1).err, (member, value)
    assert "part.temperature" in run("adjust", written("bad.trammel", machine(part={"temperature": "hot"})), status=1).err
    assert "scale_u" in run("adjust", written("good.trammel", machine(readings=READINGS)), "--stated",
                            "instrument.caliper=0", status=2).err


def test_members_are_kept():
    part = {"expansion": 7e-05, "temperature": 23.1, "of": "plastic"}
    tape = {**TAPE, "expansion": 1.15e-05, "temperature": -2.3, "owner": "shop"}
    path = written("kept.trammel", machine(readings=READINGS, instruments=[CALIPER, tape], part=part))
    out = written("kept-out.trammel", "")
    run("adjust", path, "--adopt", "--output", out)
    with open(out, encoding="utf-8") as file:
        saved = json.load(file)
    assert saved["part"] == part
    assert saved["instruments"] == [CALIPER, tape]


def test_repeats():
    # Targets 1, 2, 3 twice each; by hand: pure error 0.06 with 3, lack of fit 192/900 with 1, F = 32/3
    rows = [reading("position", "X", n, m) for n, m in ((1, 1.0), (1, 1.2), (2, 2.6), (2, 2.4), (3, 3.0), (3, 3.2))]
    fit = adjust(rows, "--scatter", "estimated")["fit"]
    assert fit["pure_error"]["dof"] == 3
    close(fit["pure_error"]["ss"], 0.06, 1e-10)
    close(fit["lack_of_fit"]["F"], 32 / 3, 1e-9)
    close(fit["lack_of_fit"]["p_value"], 0.0469, absolute=5e-5)
    result = adjust(rows[::2], "--scatter", "estimated")
    assert result["fit"]["pure_error"] is None and result["fit"]["lack_of_fit"] is None
    assert any("Repeated" in w for w in adjust(rows, "--scatter", "estimated")["warnings"])


main(globals())
