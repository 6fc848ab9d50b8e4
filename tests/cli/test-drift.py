# SPDX-License-Identifier: GPL-3.0-or-later
"""What the log says over time: control limits of a textbook, the trend by hand, and when to check again."""
import datetime
import math

from command import axis, close, machine, main, reading, run, written

# D. C. Montgomery, Introduction to Statistical Quality Control, individuals chart of the viscosity of aircraft primer
# paint (from memory): mean 33.52, mean moving range 0.48, limits 32.24 and 34.80, upper limit of the range 1.57
VISCOSITY = [33.75, 33.05, 34.00, 33.81, 33.46, 34.02, 33.68, 33.27, 33.49, 33.20, 33.62, 33.00, 33.54, 33.12, 33.84]
START = datetime.datetime(2026, 1, 1, tzinfo=datetime.timezone.utc)


def time_of(day):
    return (START + datetime.timedelta(days=day)).strftime("%Y-%m-%dT%H:%M:%SZ")


def entry(day, value, u, note=None, **found):
    return {"time": time_of(day), "note": note, "scatter": "stated", "dof": 1, "chi2": 1, "p_value": None, "birge": 1,
            "changes": [{"letter": "X", "before": value, "before_u": 0, "after": value, "after_u": u, **found}],
            "readings": []}


def log(days, values, us):
    return [entry(day, value, u) for day, value, u in zip(days, values, us)]


def drift(entries, *options):
    result = run("drift", written("drift.trammel", machine(log=entries)), "--axis", "X", *options, "--json").json()
    assert [a["letter"] for a in result["axes"]] == ["X"]
    return result["axes"][0]


def day_of(text):
    return (datetime.datetime.fromisoformat(text.replace("Z", "+00:00")) - START).total_seconds() / 86400


def test_control_limits_of_a_textbook():
    found = drift(log(range(15), VISCOSITY, [0.2] * 15))
    chart = found["chart"]
    close(chart["center"], 33.52, absolute=0.005)
    close(chart["moving_range"], 0.48, absolute=0.005)
    close(chart["low"], 32.24, absolute=0.01)
    close(chart["high"], 34.80, absolute=0.01)
    close(chart["moving_range_high"], 1.57, absolute=0.005)
    close(chart["high"] - chart["center"], 3 / 1.128 * chart["moving_range"], 1e-12)
    assert not any(c["outside"] or c["jump"] for c in found["checks"])
    assert found["checks"][0]["moving_range"] is None
    close(found["checks"][1]["moving_range"], 0.70, 1e-12)


def test_outside_and_jump():
    values = [80.0, 80.01, 80.0, 80.01, 80.0, 80.01, 80.0, 80.01, 80.0, 80.01, 80.3]
    checks = drift(log(range(11), values, [0.05] * 11))["checks"]
    assert [c["outside"] for c in checks] == [False] * 10 + [True]
    assert [c["jump"] for c in checks] == [False] * 10 + [True]


def test_trend_of_two_by_hand():
    # 80 then 80.08 after 100 days, u 0.008 each: relative to the last value, slope 0.08/80.08/100 per day, its
    # u = √2·0.008/80.08/100. The line meets the last value; it leaves 0.5 % where b d + 1.96 √(u² ((1 + d/100)² + (d/100)²)) does
    found = drift(log([0, 100], [80, 80.08], [0.008, 0.008]), "--tolerance", "0.5%")
    trend = found["trend"]
    close(trend["per_day"], 0.08 / 80.08 / 100, 1e-9)
    close(trend["u"], math.sqrt(2) * 0.008 / 80.08 / 100, 1e-9)
    assert trend["significant"] and trend["birge"] == 1
    d = day_of(found["next_check"]["due"]) - 100
    u = 0.008 / 80.08 * math.hypot(1 + d / 100, d / 100)
    close(trend["per_day"] * d + 1.959963984540054 * u, 0.005, 1e-5)
    assert not found["next_check"]["at_once"] and found["next_check"]["tolerance"] == 0.005


def test_scatter_beyond_u():
    # By the formulas of the straight line (Draper & Smith, chapter 1); u is far too small, so that the scatter decides
    days, values, u = [0, 1, 2, 3], [100.0, 100.2, 100.1, 100.3], 0.001
    trend = drift(log(days, values, [u] * 4))["trend"]
    slope = sum((d - 1.5) * (v - 100.15) for d, v in zip(days, values)) / 5
    rest = sum((v - 100.15 - slope * (d - 1.5)) ** 2 for d, v in zip(days, values))
    close(trend["per_day"], slope / 100.3, 1e-9)
    close(trend["birge"], math.sqrt(rest / 2) / u, 1e-9)
    close(trend["u"], math.sqrt(rest / 2 / 5) / 100.3, 1e-9)
    close((trend["high"] - trend["low"]) / 2 / trend["u"], 4.3027, 1e-4)  # t, 2 degrees, 97.5 % (tables)


def test_no_u():
    days, values = [0, 10, 20], [100.0, 100.1, 100.3]
    trend = drift(log(days, values, [0] * 3))["trend"]
    slope = 0.3 / 20
    rest = sum((v - 300.4 / 3 - slope * (d - 10)) ** 2 for d, v in zip(days, values))
    close(trend["per_day"], slope / 100.3, 1e-9)
    close(trend["u"], math.sqrt(rest / 200) / 100.3, 1e-6)
    assert drift(log([0, 10], [100, 101], [0, 0]))["trend"] is None


def test_due_at_once_and_never():
    assert drift(log([0, 10], [80, 80], [1, 1]))["next_check"]["at_once"]
    steady = drift(log([0, 3000], [80, 80], [1e-6, 1e-6]))["next_check"]
    assert steady["due"] is None and not steady["at_once"]


def test_little_to_tell():
    assert drift([])["checks"] == []
    one = drift(log([0], [80.1], [0.1]))
    assert one["chart"] is None and one["trend"] is None and one["next_check"] is None
    same_day = drift(log([0, 0], [80.1, 80.2], [0.1, 0.1]))
    assert same_day["chart"] is not None and same_day["trend"] is None


def test_another_train_begins_anew():
    found = drift(log([0, 1, 2, 3], [80, 80.1, 400, 400.5], [0.1] * 4))
    assert [c["value"] for c in found["checks"]] == [400, 400.5] and found["set_aside"] == 2


SERIES = ["checks", "set_aside", "chart", "trend", "next_check"]
PLAY = [entry(0, 80, 0.1, lash={"value": 0.04, "u": 0.003}, home={"s": 0.002, "n": 9}),
        entry(100, 80, 0.1, lash={"value": 0.05, "u": 0.004}, home={"s": 0.004, "n": 9})]


def test_lash_and_homing():
    found = drift(PLAY)
    assert list(found) == ["letter", "since", *SERIES, "lash", "home"] and found["since"] is None
    assert list(found["lash"]) == SERIES and list(found["home"]) == SERIES
    # By hand: 0.01 more in 100 days, its u √(0.003² + 0.004²)/100; u of s is s/√(2·8)
    close(found["lash"]["trend"]["per_day"], 1e-4, 1e-9)
    close(found["lash"]["trend"]["u"], 5e-5, 1e-9)
    assert found["lash"]["next_check"] is None and found["home"]["next_check"] is None
    assert [c["value"] for c in found["home"]["checks"]] == [0.002, 0.004]
    close(found["home"]["checks"][1]["u"], 0.001)
    close(found["home"]["chart"]["center"], 0.003)
    assert found["home"]["chart"]["low"] == 0
    # Pooled s² = (4 + 16)/2·10⁻⁶, a quarter of it each: √10/4·√2/100 thousandths
    close(found["home"]["trend"]["u"], math.sqrt(20) / 4 * 1e-3 / 100, 1e-9)


def test_lash_that_is_borne():
    due = drift(PLAY, "--lash-tolerance", "0.1")["lash"]["next_check"]
    d = day_of(due["due"]) - 100
    close(0.05 + d * 1e-4 + 1.959963984540054 * math.hypot((1 + d / 100) * 0.004, d / 100 * 0.003), 0.1, 1e-5)
    assert due["tolerance"] == 0.1 and not due["at_once"]
    assert drift(PLAY, "--lash-tolerance", "50 µm")["lash"]["next_check"]["at_once"]
    path = written("play.trammel", machine(log=PLAY))
    out = run("drift", path, "--axis", "X", "--lash-tolerance", "0.1mm").out
    assert "Lash, mm" in out and "It drifts: 0.037" in out and "At most 0.1 mm" in out and "Scatter s of homing" in out, out
    in_inches = run("drift", written("inches.trammel", machine(log=PLAY, display_unit="in")), "--axis", "X").out
    assert "Lash, in" in in_inches and "0.00157" in in_inches, in_inches  # 0.04/25.4
    for typed in ("0", "-1mm", "much", "1kg", "0.1±0.01mm"):
        assert "--lash-tolerance" in run("drift", path, "--lash-tolerance", typed, status=2).err
    # A tolerance of axes that turn says nothing to one that does not
    assert drift(PLAY, "--lash-tolerance", "0.1deg")["lash"]["next_check"] is None
    table = axis("X", "rotary", {"type": "table"})
    del table["travel"]
    turned = run("drift", written("turned.trammel", machine(axes=[table], log=PLAY)), "--lash-tolerance", "0.1", "--json")
    close(turned.json()["axes"][0]["lash"]["next_check"]["tolerance"], 0.1)


def test_put_right_begins_anew():
    entries = [entry(0, 80.3, 0.1, nominal=80), entry(1, 160, 0, "motor: microsteps 16 → 32", nominal=160),
               entry(2, 160.2, 0.06, nominal=160), entry(12, 160.4, 0.08, nominal=160)]
    found = drift(entries)
    assert day_of(found["since"]) == 1 and found["set_aside"] == 1
    assert [c["value"] for c in found["checks"]] == [160.2, 160.4]
    close(found["trend"]["u"], math.hypot(0.06, 0.08) / 160.4 / 10, 1e-9)
    out = run("drift", written("right.trammel", machine(log=entries[:2])), "--axis", "X").out
    assert "put right on 2026-01-02" in out, out


def test_from_adopting_to_the_chart():
    readings = [reading("travel", "X", 100, 99.9, u=0.01), reading("travel", "X", 100, 99.8, u=0.01, approach="reversed"),
                {"kind": "home", "along": "X", "measured": 0.01}, {"kind": "home", "along": "X", "measured": 0.03}]
    path = written("adopting.trammel", machine(readings=readings))
    run("adjust", path, "--adopt")
    found = run("drift", path, "--axis", "X", "--json").json()["axes"][0]
    assert len(found["checks"]) == 1
    close(found["lash"]["checks"][0]["value"], 0.1 / 1.0002, 1e-8)
    close(found["home"]["checks"][0]["value"], math.sqrt(0.0002), 1e-9)
    assert "no home readings" in run("homing", path, status=1).err  # they are in the log now


def test_words_and_faults():
    path = written("words.trammel", machine(log=log([0, 100], [80, 80.08], [0.008, 0.008])))
    out = run("drift", path).out
    assert "It drifts" in out and "2026-01-01" in out and "check again by" in out and "never corrected" in out
    assert "--tolerance" in run("drift", path, "--tolerance", "0", status=2).err
    assert "--tolerance" in run("drift", path, "--tolerance", "soon", status=2).err
    assert "without an uncertainty" in run("drift", path, "--tolerance", "0.1%±0.01%", status=2).err
    assert "--axis" in run("drift", path, "--axis", "XY", status=2).err
    assert "no axis W" in run("drift", path, "--axis", "W", status=1).err


main(globals())
