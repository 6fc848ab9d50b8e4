# SPDX-License-Identifier: GPL-3.0-or-later
"""Repeated homing: what the command reads and says. Numbers by hand."""
import math

from command import Skip, axis, close, has_locale, machine, main, reading, run, written

FOUR = "1\n2\n4\n5\n"  # mean 3, s = √(10/3), slope 1.4
CSV = "measured,run,set\n" + "".join(f"{v},{i},slow\n" for i, v in enumerate((1.0, 1.01, 0.99, 1.0), 1)) \
    + "".join(f"{v},{i},fast\n" for i, v in enumerate((1.5, 1.2, 1.9, 1.4), 5))


def homing(text, *options, **more):
    return run("homing", "--readings", written("homes.csv", text), *options, **more)


def found(text, *options, **more):
    return homing(text, "--json", *options, **more).json()


def values(text):
    return [r["measured"] for r in found(text)["readings"]]


def test_contract():
    got = found(FOUR)
    for key in ("n", "mean", "s", "range", "drift", "outliers", "prediction", "tolerance"):
        assert key in got, key
    assert got["n"] == 4 and got["mean"] == 3 and got["range"] == 4
    close(got["s"], math.sqrt(10 / 3))
    close(got["drift"]["slope"], 1.4)
    t = 1.4 / math.sqrt(0.02)
    close(got["drift"]["p_value"], 1 - t / math.sqrt(2 + t * t), 1e-9)
    close(got["prediction"]["high"], 3 + 3.182446305283709 * math.sqrt(10 / 3 * 1.25), 1e-9)
    # Two-sided factor of 4 values, 99 % with 95 % confidence: 8.221 (ISO 16269-6, from memory)
    assert abs(got["tolerance"]["factor"] - 8.221) < 1e-3 and got["tolerance"]["method"] == "exact"
    close(got["tolerance"]["low"], 3 - got["tolerance"]["factor"] * got["s"])
    assert got["outliers"] == [] and got["without_outliers"] is None


def test_lists_of_all_shapes():
    wanted = [1.25, -0.5, 3.0]
    for text in ("1.25\n-0.5\n3\n", "1.25, -0.5, 3\n", "1.25 -0.5\t3", "# homes\n\n1.25;-0.5;3\n", "1,25;-0,5;3\n",
                 "\ufeff1.25\r\n-0.5\r\n3\r\n", "1.25 mm\n-500 µm\n3\n", "measured\n1.25\n-0.5\n3\n",
                 "kind,measured,note\ntravel,1.25,a\n,-0.5,\n,,blank\n,3,\n", "measured;unit\n1,25;mm\n-500;um\n3;\n"):
        assert values(text) == wanted, text


def test_units():
    assert values("measured,unit\n1,in\n2,mm\n") == [25.4, 2.0]


def test_outliers_are_named_and_left_out():
    got = found("measured\n" + "1.00\n1.01\n0.99\n1.00\n1.02\n0.98\n1.01\n0.99\n" + "3\n")
    assert [o["index"] for o in got["outliers"]] == [8] and got["outliers"][0]["measured"] == 3
    assert got["outliers"][0]["g"] > got["outliers"][0]["critical"]
    assert got["n"] == 9 and got["without_outliers"]["n"] == 8
    close(got["without_outliers"]["mean"], 1)
    close(got["without_outliers"]["s"], math.sqrt(0.0012 / 7), 1e-9)


def test_two_sets_are_compared():
    got = found(CSV)
    assert [g["group"] for g in got["groups"]] == ["slow", "fast"] and got["n"] == 8
    slow, fast = got["groups"]
    close(slow["s"] ** 2, 0.0002 / 3, 1e-9)
    close(fast["mean"], 1.5)
    compared = got["comparison"]
    assert compared["groups"] == ["slow", "fast"]
    close(compared["f_test"]["ratio"], slow["s"] ** 2 / fast["s"] ** 2)
    close(compared["welch"]["difference"], -0.5)
    assert compared["f_test"]["p_value"] < 0.001
    only = found(CSV, "--set", "fast")
    assert only["n"] == 4 and "groups" not in only
    words = homing(CSV).out
    assert "slow" in words and "scatters less" in words


def home(along, measured, **more):
    return {"kind": "home", "along": along, "measured": measured, **more}


def homes_of_machine(readings, *options, status=0, **changes):
    return run("homing", written("homes.trammel", machine(readings=readings, **changes)), *options, status=status)


def test_homes_of_a_machine():
    readings = [reading("travel", "X", 100, 99.9), *(home("X", v) for v in (1, 2)), home("Z", 9), home("X", None),
                *(home("X", v) for v in (4, 5)), home("Z", 9.5)]
    got, wanted = homes_of_machine(readings, "--json").json(), found(FOUR)
    for key in wanted:
        if key not in ("axis", "layer", "readings"):
            assert got[key] == wanted[key], key
    assert wanted["axis"] is None and got["axis"] == "X"
    assert [r["index"] for r in got["readings"]] == [1, 2, 5, 6]
    assert list(got) == list(wanted)
    # A first layer goes by Z; by X only where it is asked for
    assert wanted["layer"]["height"] == 0.2 and got["layer"] is None
    assert homes_of_machine(readings, "--layer", "0.3", "--json").json()["layer"]["height"] == 0.3
    of_z = homes_of_machine(readings, "--axis", "Z", "--json").json()
    assert of_z["n"] == 2 and of_z["mean"] == 9.25 and of_z["layer"]["height"] == 0.2
    out = homes_of_machine(readings).out
    assert "axis X" in out and "4 homes" in out and "first layer" not in out, out


def test_sets_of_a_machine():
    readings = [home("X", v, set="slow", approach="-", run=i) for i, v in enumerate((1.0, 1.01, 0.99, 1.0), 1)]
    readings += [home("X", v, set="fast", approach="-", run=i) for i, v in enumerate((1.5, 1.2, 1.9, 1.4), 1)]
    got = homes_of_machine(readings, "--json").json()
    assert [g["group"] for g in got["groups"]] == ["slow -", "fast -"]
    close(got["comparison"]["welch"]["difference"], -0.5)
    fast = homes_of_machine(readings, "--set", "fast", "--json").json()
    assert fast["n"] == 4 and "groups" not in fast
    close(fast["mean"], 1.5)


def test_outliers_of_a_machine_by_their_row():
    readings = [home("Y", 0), home("Y", 0)] + [home("X", v) for v in (1, 1.01, 0.99, 1, 1.02, 0.98, 1.01, 0.99, 3)]
    got = homes_of_machine(readings, "--axis", "X", "--json").json()
    assert [o["index"] for o in got["outliers"]] == [10]
    assert "reading 11" in homes_of_machine(readings, "--axis", "X").out


def test_units_of_a_machine():
    readings = [home("X", v * 25.4) for v in (0.001, 0.002, 0.004, 0.005)]
    out = homes_of_machine(readings, "--layer", "0.02in", display_unit="in").out
    assert "mean 0.0030 in" in out and "first layer of 0.02 in" in out, out
    table = axis("A", "rotary", {"type": "table"})
    del table["travel"]
    turned = [home("A", f"{v} deg") for v in (1, 2, 4, 5)]
    assert homes_of_machine(turned, "--json", axes=[table]).json()["mean"] == 3
    assert "mean 3.00°" in homes_of_machine(turned, axes=[table]).out
    assert "axis A turns" in homes_of_machine(turned, "--layer", "0.2", axes=[table], status=2).err


def test_homes_of_a_file_of_readings():
    text = "kind,along,nominal,measured\ntravel,X,100,99\nhome,X,,1\nhome,Z,,7\nhome,X,,2\nhome,Z,,8\n"
    assert found(text)["axis"] == "X" and found(text)["mean"] == 1.5
    assert found(text, "--axis", "Z")["mean"] == 7.5
    assert found(FOUR, "--axis", "Z")["n"] == 4
    refused(text, "no home readings along Y", options=("--axis", "Y"))


def test_faults_of_a_machine():
    one = [home("X", 1)]
    assert "no home readings" in homes_of_machine([reading("travel", "X", 100, 99)], status=1).err
    assert "found 1 reading;" in homes_of_machine(one, status=1).err
    assert "no axis W" in homes_of_machine(one, "--axis", "W", status=1).err
    assert "no home readings along Y" in homes_of_machine(one, "--axis", "Y", status=1).err
    assert "readings[1]: the machine has no axis W" in homes_of_machine([*one, home("W", 1)], status=1).err
    assert "readings[1]: " in homes_of_machine([*one, home("X+Y", 1)], status=1).err
    assert "--axis" in homes_of_machine(one, "--axis", "XY", status=2).err
    path = written("homes.trammel", machine(readings=one))
    assert "one of them" in run("homing", path, "--readings", written("homes.csv", FOUR), status=2).err
    assert "only one machine" in run("homing", path, path, status=2).err


def test_approach_makes_sets_too():
    got = found("measured,set,approach\n1,a,+\n2,a,+\n3,a,-\n5,a,-\n")
    assert [g["group"] for g in got["groups"]] == ["a +", "a -"]


def test_floor():
    got = found(FOUR, "--speed", "6", "--poll", "2ms")
    close(got["floor"]["range"], 0.012)
    close(got["floor"]["s"], 0.012 / math.sqrt(12))
    assert "0.012 mm late" in homing(FOUR, "--speed", "6", "--poll", "2ms").out
    assert "floor" not in found(FOUR)


def test_offset_to_the_bed():
    # Touches scatter more than homing (s² = 0.01 of 3, against 0.04): their own s counts, with 2 degrees of freedom
    got = found("1\n1.1\n1.2\n", "--touch", "1.5,1.7,1.9", "--gauge", "0.1±0.1")["offset"]
    close(got["value"], 1.6)
    close(got["u"], math.sqrt(0.04 / 3 + 0.01))
    close(got["dof"], 2 * (1.75) ** 2, 1e-9)
    assert got["low"] < 1.6 - 1.96 * got["u"] and got["high"] > 1.6 + 1.96 * got["u"]
    # They seem to scatter less (s² = 10/3 of 4 homes): pooled, (2·0.04 + 3·10/3)/5
    got = found(FOUR, "--touch", "1.5,1.7,1.9", "--gauge", "0.1±0.1")
    close(got["offset"]["u"], math.sqrt((0.08 + 10) / 5 / 3 + 0.01))
    # All alike, and so are the homes: the gauge is all there is
    got = found("3\n3\n3\n", "--touch", "1.5,1.5", "--gauge", "0.5±0.1")["offset"]
    assert got["dof"] is None
    close(got["u"], 0.1)
    close(got["high"], 1 + 1.959963984540054 * 0.1)
    got = found(FOUR, "--touch", "1.5", "--gauge", "4 ± 1 thou")
    close(got["offset"]["value"], 1.5 - 0.1016)
    close(got["offset"]["u"], math.hypot(math.sqrt(10 / 3), 0.0254))


def test_words():
    out = homing("0.1\n0.101\n0.099\n0.1\n0.1005\n0.0995\n0.1\n0.101\n0.099\n0.1\n").out
    assert "10 homes" in out and "No drift" in out and "95 %" in out and "same every time" in out, out
    out = homing("1\n2\n4\n5\n", "--layer", "0.3").out
    assert "It drifts" in out and "scrape" in out and "0.3 mm" in out, out


def test_comma_on_screen_point_in_json():
    if not has_locale("de_DE.UTF-8"):
        raise Skip("no German locale")
    assert "3,0000" in homing("3\n3\n3\n", locale="de_DE.UTF-8").out or "3,00" in homing(FOUR, locale="de_DE.UTF-8").out
    assert found(FOUR, locale="de_DE.UTF-8")["mean"] == 3


def refused(text, *parts, options=(), status=1):
    done = homing(text, *options, status=status)
    for part in parts:
        assert part in done.err, (part, done.err)
    assert done.out == ""


def test_bad_files():
    refused("", "found no line")
    refused("# nothing\n", "found no line")
    refused("1\n", "found 1 reading;")
    refused("measured\n", "found 0 readings")
    refused("1\n2\nthree\n", "line 3", "three")
    refused("1\n2\nnan\n", "line 3")
    refused("0,012\n0,015\n", "line 1", "comma")
    refused("run,set\n1,a\n", "line 1", "measured")
    refused("measured,speed\n1,2\n", "line 1", "speed")
    refused("measured,measured\n1,2\n", "line 1", "twice")
    refused("measured,run\n1,1\n2,x\n", "line 3", "column run", "x")
    refused("measured,unit\n1,kg\n", "line 2", "column unit", "kg")
    refused("measured\n1\n2,3\n", "line 3", "2 fields")
    refused(b"1\n\xff\n", "line 2", "0xFF")
    refused("measured,set\n1,a\n2,a\n3,b\n", "b: ", "found 1 reading;")
    refused(FOUR, "found 0 readings", options=("--set", "nowhere"))


def test_a_set_with_approaches():
    rows = "measured,set,approach\n1,fast,-\n2,fast,-\n3,fast,-\n9,slow,-\n9.5,slow,-\n"
    assert found(rows, "--set", "fast")["n"] == 3
    assert found(rows, "--set", "slow -")["n"] == 2


def test_which_set_ends_farther():
    rows = "measured,set\n" + "".join(f"{v},near\n" for v in (1.0, 1.01, 1.02)) + "".join(
        f"{v},far\n" for v in (2.0, 2.01, 2.02))
    out = homing(rows).out
    assert "“far” ends 1" in out and "farther than “near”" in out, out


def test_a_set_that_reads_all_alike():
    rows = "measured,set\n" + "".join(f"{v},fine\n" for v in (1.0, 1.0, 1.0)) + "".join(
        f"{v},wild\n" for v in (1.0, 1.2, 1.4))
    compared = found(rows)["comparison"]
    assert compared["f_test"]["p_value"] is None
    close(compared["welch"]["dof"], 2)
    out = homing(rows).out
    assert "scatter less than the instrument" in out and "“fine” all read alike" in out, out
    still = found("measured,set\n1,a\n1,a\n2,b\n2,b\n")["comparison"]
    assert still["welch"]["p_value"] is None and still["welch"]["dof"] == 2
    assert "steps of the instrument" in homing("measured,set\n1,a\n1,a\n2,b\n2,b\n").out


def test_wrong_usage():
    assert "--readings" in run("homing", status=2).err
    for options in (("--speed", "5"), ("--poll", "1ms"), ("--speed", "5", "--poll", "0"), ("--layer", "-1"),
                    ("--layer", "thick"), ("--gauge", "0.1"), ("--touch", "a"), ("--touch", "1", "--gauge", "1±-1"),
                    ("--touch", "1,2±0.1"), ("--layer", "0.2±0.01")):
        refused(FOUR, "--", options=options, status=2)
    missing = run("homing", "--readings", "/nowhere/homes.csv", status=1)
    assert "/nowhere/homes.csv" in missing.err


main(globals())
