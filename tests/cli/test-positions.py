# SPDX-License-Identifier: GPL-3.0-or-later
"""The position test by command: figures by hand, certified means and deviations, and every figure anew by numpy."""
import math

import numpy as np
from scipy import stats

from command import axis, close, machine, main, reading, run, written

FIGURES = ("A", "A_up", "A_down", "R", "R_up", "R_down", "E", "E_up", "E_down", "M", "B", "B_mean")


def position(target, measured, approach=None, along="X", **more):
    return reading("position", along, target, measured, **({"approach": approach} if approach else {}), **more)


def positions(readings, *options):
    return run("positions", written("positions.trammel", machine(readings=readings)), *options, "--json").json()


def test_by_hand():
    # Worked on paper from the formulas of ISO 230-2:2014, clause 3. Deviations, moving up: 0.01 0.03 | 0.05 0.05;
    # moving down: 0.02 0.04 | 0.09 0.05
    rows = [position(0, 0.01, "+"), position(0, 0.03, "+"), position(100, 100.05, "+"), position(100, 100.05, "+"),
            position(0, 0.02, "-"), position(0, 0.04, "-"), position(100, 100.09, "-"), position(100, 100.05, "-")]
    result = positions(rows)
    s0, s1 = math.sqrt(2) * 0.01, math.sqrt(2) * 0.02  # two values 0.02 (0.04) apart
    first, second = result["targets"]
    assert (first["target"], second["target"]) == (0, 100)
    close(first["up"]["mean"], 0.02, 1e-10)
    close(first["up"]["s"], s0, 1e-10)
    close(first["reversal"], -0.01, 1e-10)
    close(first["mean"], 0.025, 1e-10)
    close(first["repeatability"], 4 * s0 + 0.01, 1e-10)  # 0.0666 > 4 s = 0.0566
    assert abs(second["up"]["s"]) < 1e-12
    close(second["reversal"], -0.02, 1e-9)
    close(second["repeatability"], 4 * s1, 1e-9)  # 0.1131 > 2·0 + 2·0.0283 + 0.02
    wanted = {"B": 0.02, "B_mean": -0.015, "R_up": 4 * s0, "R_down": 4 * s1, "R": 4 * s1, "E_up": 0.03,
              "E_down": 0.04, "E": 0.05, "M": 0.035, "A_up": 0.05 - (0.02 - 2 * s0),
              "A_down": (0.07 + 2 * s1) - (0.03 - 2 * s0), "A": (0.07 + 2 * s1) - (0.02 - 2 * s0)}
    for key, value in wanted.items():
        close(result[key], value, 1e-8)
        close(result["before"][key], value, 1e-8)
    # Least squares through the four means: slope (0.06 − 0.025)/100, lash −(mean of B)
    close(result["line"]["scale_error"], 0.00035, 1e-8)
    close(result["line"]["lash"], 0.015, 1e-8)
    close(result["after"]["M"] + 1, 1, 1e-12)
    close(result["after"]["B"], 0.005, 1e-7)
    assert result["line"]["dof"] == 5
    assert any("five" in note or "5" in note for note in result["notes"]), result["notes"]


def figures_by_numpy(groups):
    """Every figure of ISO 230-2:2014, clause 3, from {(target, side): deviations}; NaN becomes None."""
    targets = sorted({target for target, _ in groups})
    mean = {key: np.mean(values) for key, values in groups.items()}
    s = {key: np.std(values, ddof=1) for key, values in groups.items()}
    both = [t for t in targets if (t, 1) in groups and (t, -1) in groups]
    out = {}
    for name, side in (("up", 1), ("down", -1)):
        keys = [key for key in groups if key[1] == side]
        out["R_" + name] = max(4 * s[k] for k in keys)
        out["E_" + name] = max(mean[k] for k in keys) - min(mean[k] for k in keys)
        out["A_" + name] = max(mean[k] + 2 * s[k] for k in keys) - min(mean[k] - 2 * s[k] for k in keys)
    b = np.array([mean[t, 1] - mean[t, -1] for t in both])
    middle = np.array([(mean[t, 1] + mean[t, -1]) / 2 for t in both])
    out["B"], out["B_mean"], out["M"] = np.abs(b).max(), b.mean(), np.ptp(middle)
    out["R"] = max(max(2 * s[t, 1] + 2 * s[t, -1] + abs(mean[t, 1] - mean[t, -1]), 4 * s[t, 1], 4 * s[t, -1])
                   for t in both)
    out["E"] = np.ptp(list(mean.values()))
    out["A"] = max(mean[k] + 2 * s[k] for k in groups) - min(mean[k] - 2 * s[k] for k in groups)
    return out


def random_set(rng, slope, lash):
    """Unequal runs, targets not seen from both sides, in no order."""
    rows = []
    for target in np.round(np.sort(rng.uniform(0, 180, int(rng.integers(4, 15)))), 3):
        for side in (1, -1):
            if rng.random() < 0.15:
                continue
            for _ in range(int(rng.integers(2, 8))):
                deviation = 0.3 + slope * target - side * lash / 2 + rng.normal(0, 0.01)
                rows.append((float(target), side, round(float(target + deviation), 4)))
    rng.shuffle(rows)
    return [(float(t), int(a), float(m)) for t, a, m in rows]


def test_every_figure_by_numpy():
    for seed in range(12):
        rng = np.random.default_rng(seed)
        rows = random_set(rng, rng.normal(0, 0.004), abs(rng.normal(0, 0.1)))
        result = positions([position(t, m, "+" if a > 0 else "-") for t, a, m in rows])
        groups = {}
        for t, a, m in rows:
            groups.setdefault((t, a), []).append(m - t)
        for key, value in figures_by_numpy(groups).items():
            close(result[key], value, 1e-8)
        design = np.array([[1, t, -a / 2] for t, a, _ in rows])
        deviations = np.array([m - t for t, _, m in rows])
        solution, rss, _, _ = np.linalg.lstsq(design, deviations, rcond=None)
        sigma = math.sqrt(rss[0] / (len(rows) - 3))
        u = sigma * np.sqrt(np.diag(np.linalg.inv(design.T @ design)))
        line = result["line"]
        for key, value in (("datum", solution[0]), ("scale_error", solution[1]), ("lash", solution[2]),
                           ("u_scale_error", u[1]), ("u_lash", u[2]), ("sigma", sigma)):
            close(line[key], value, 1e-8)
        corrected = {(t, a): [d - solution[1] * t + a * solution[2] / 2 for d in values]
                     for (t, a), values in groups.items()}
        for key, value in figures_by_numpy(corrected).items():
            close(result["after"][key], value, 1e-6)


def cyclic_machine(seed, amplitude):
    """Screw of lead 8 behind a pair 16:24, read at 23 targets, with an error once per turn of the screw."""
    rng = np.random.default_rng(seed)
    rows = []
    for target in np.arange(23) * 6.7:
        for side in (1, -1):
            for _ in range(3):
                deviation = 0.1 - 0.002 * target - side * 0.02 + amplitude * math.cos(2 * math.pi * target / 8 - 0.7)
                rows.append((float(target), side, round(float(target + deviation + rng.normal(0, 0.01)), 4)))
    screw = axis("X", stages=[{"type": "spur", "driver": 16, "driven": 24, "idlers": [], "module": "1 mm"}],
                 output={"type": "screw", "pitch": "2 mm", "starts": 4, "hand": "right"})
    return rows, machine(axes=[screw], readings=[position(t, m, "+" if a > 0 else "-") for t, a, m in rows])


def test_cycles_by_numpy():
    # One set in twenty shows some other cycle by chance, as it should; these do not
    for seed in range(1, 6):
        rows, value = cyclic_machine(seed, 0.03)
        result = run("positions", written("cyclic.trammel", value), "--json").json()
        t, a, d = (np.array(column) for column in zip(*((t, a, m - t) for t, a, m in rows)))
        base = np.column_stack([np.ones_like(t), t, -a / 2])
        turn = 2 * np.pi * t / 8
        design = np.column_stack([base, np.cos(turn), np.sin(turn)])
        solution, rss, _, _ = np.linalg.lstsq(design, d, rcond=None)
        rss_base = np.linalg.lstsq(base, d, rcond=None)[1][0]
        freedom = len(t) - 5
        cosine, sine = solution[3:]
        amplitude = math.hypot(cosine, sine)
        gradient = np.array([0, 0, 0, cosine, sine]) / amplitude
        u = math.sqrt(rss[0] / freedom * gradient @ np.linalg.inv(design.T @ design) @ gradient)
        cycle = [c for c in result["cycles"] if c["part"] == "screw" and c["order"] == 1]
        assert len(cycle) == 1 and cycle[0]["significant"] and cycle[0]["sight"] == "seen"
        assert cycle[0]["period"] == 8
        close(cycle[0]["amplitude"], amplitude, 1e-8)
        close(cycle[0]["phase"], math.atan2(sine, cosine), 1e-7)
        close(cycle[0]["u"], u, 1e-7)
        close(cycle[0]["p_value"], stats.f.sf((rss_base - rss[0]) / 2 / (rss[0] / freedom), 2, freedom), 1e-5)
        others = [c for c in result["cycles"] if c["significant"] and c is not cycle[0]]
        assert not others, others
    words = run("positions", written("cyclic.trammel", value)).out
    assert "once per turn of the screw" in words, words


def landed(place, counts, true_counts, wobble, turn, bow):
    """Where the carriage of a simulated axis goes: the screw turns once in @turn·@true_counts counts."""
    turned = place * counts / true_counts
    return turned + wobble * math.cos(2 * math.pi * turned / turn - 0.7) + bow * (turned / 150) ** 2


def test_compensation_takes_the_error_away():
    """The table applied to the axis that it was made for: at the targets, between them, with the right scale in force."""
    turn, true_counts = 8, 600  # screw of lead 8 behind 16:24: 600 counts in a millimeter
    for in_force in (None, 612.0):
        counts = in_force or 600
        place = lambda target: landed(target, counts, true_counts * 1.004, 0.05, turn / 1.004, 0.02)
        rows = [position(t, round(place(t), 6), a) for t in np.arange(0, 155, 6.7) for a in "+-" for _ in range(2)]
        screw = axis("X", stages=[{"type": "spur", "driver": 16, "driven": 24, "idlers": [], "module": "1 mm"}],
                     output={"type": "screw", "pitch": "2 mm", "starts": 4, "hand": "right"},
                     counts={"value": in_force, "u": 0} if in_force else None)
        result = run("positions", written("table.trammel", machine(axes=[screw], readings=rows)), "--json").json()
        guilty = [c for c in result["cycles"] if c["significant"]]
        assert [(c["part"], c["order"]) for c in guilty] == [("screw", 1)], guilty
        close(guilty[0]["period"], turn * true_counts / counts, 1e-12)  # commanded, that is
        close(guilty[0]["amplitude"], 0.05, 0.02)
        line, table = result["line"], result["compensation"]
        targets, corrections = [row["target"] for row in table], [row["correction"] for row in table]
        assert set(np.arange(0, 155, 6.7)) <= set(targets) and max(np.diff(targets)) <= guilty[0]["period"] / 16 * 1.001
        places = np.linspace(0, 147, 1001)
        corrected = counts / (1 + line["scale_error"])
        errors = [landed(p + c, corrected, true_counts * 1.004, 0.05, turn / 1.004, 0.02) - p - line["datum"]
                  for p, c in ((p, np.interp(p, targets, corrections)) for p in places)]
        assert max(map(abs, errors)) < 0.004, max(map(abs, errors))
        without = [landed(p, corrected, true_counts * 1.004, 0.05, turn / 1.004, 0.02) - p - line["datum"]
                   for p in places]
        assert max(map(abs, without)) > 0.05


def test_compensation_without_cycles():
    # Means 0, 0.1, 0 about their line, which is 1/30 everywhere: the slope is 0
    rows = [position(t, t + d, "+") for t, d in ((0, 0), (50, 0.1), (100, 0)) for _ in range(2)]
    table = positions(rows)["compensation"]
    assert [row["target"] for row in table] == [0, 50, 100]
    for row, wanted in zip(table, (1 / 30, -2 / 30, 1 / 30)):
        close(row["correction"], wanted, 1e-9)
    path = written("plain.trammel", machine(readings=rows))
    assert run("positions", path, "--compensation").out == "0\t0.03333\n50\t-0.06667\n100\t0.03333\n"
    run("positions", path, "--compensation", "--json", status=2)


def test_targets_that_cannot_show_the_screw():
    _, value = cyclic_machine(1, 0.03)
    value["readings"] = [position(8 * i, 8 * i + 0.01 * (i % 3) + e, a) for i in range(12) for a in "+-"
                         for e in (0, 0.01)]
    result = run("positions", written("alias.trammel", value), "--json").json()
    sights = {(c["part"], c["order"]): c["sight"] for c in result["cycles"]}
    assert sights["screw", 1] == "unseen" and sights["screw", 2] == "unseen"
    assert 0 < result["proposed_spacing"] <= 8 and result["proposed_spacing"] % 8 != 0
    assert "apart would show it" in run("positions", written("alias.trammel", value)).out


def test_certified_mean_and_deviation():
    # NIST Statistical Reference Datasets, univariate, NumAcc3 and NumAcc4: 1,001 values made by their definition, one
    # .2 and 500 pairs of .1 and .3; certified mean .2 and standard deviation 0.1 exactly
    for base, digits in ((1000000, 1e-8), (10000000, 1e-7)):
        values = [base + 0.2] + [base + 0.1, base + 0.3] * 500
        result = positions([position(0, value, "+") for value in values])
        close(result["targets"][0]["up"]["mean"], base + 0.2, 1e-15)
        close(result["targets"][0]["up"]["s"], 0.1, digits)


def test_one_direction():
    rows = [position(t, t + 0.001 * t + e) for t in (0, 50, 100, 150, 200) for e in (-0.01, 0, 0.01)]
    result = positions(rows)
    for key in ("A", "R", "E", "M", "B", "B_mean", "A_down", "R_down", "E_down"):
        assert result[key] is None, key
    close(result["E_up"], 0.2, 1e-9)
    close(result["R_up"], 0.04, 1e-9)
    close(result["line"]["scale_error"], 0.001, 1e-9)
    assert result["line"]["lash"] is None
    assert result["targets"][0]["down"] == {"n": 0, "mean": None, "s": None}


def test_rows_that_do_not_say_their_side_are_left_out():
    rows = [position(t, t + 0.1, a) for t in (0, 100) for a in ("+", "-") for _ in range(2)] + [position(50, 70)]
    result = positions(rows)
    assert [target["target"] for target in result["targets"]] == [0, 100]
    assert any("1 row" in note for note in result["notes"]), result["notes"]


def test_sets_and_axes_are_told_apart():
    rows = [position(0, 1, "+", set="first"), position(10, 11, "+", set="first"),
            position(0, 2, "+", set="second"), position(10, 12, "+", set="second"),
            position(0, 3, "+", along="Y"), position(10, 13, "+", along="Y")]
    assert positions(rows)["set"] == "first"
    close(positions(rows, "--set", "second")["targets"][0]["mean"], 2, 1e-12)
    result = positions(rows, "--axis", "Y")
    assert (result["axis"], result["set"]) == ("Y", None)
    close(result["targets"][0]["mean"], 3, 1e-12)


def test_readings_of_a_file():
    table = "kind;along;nominal;measured;approach\nposition;Y;0;0,5;+\nposition;Y;10;10,5;-\n"
    path = written("dial.csv", table)
    result = run("positions", written("empty.trammel", machine()), "--readings", path, "--json").json()
    assert (result["axis"], len(result["targets"])) == ("Y", 2)
    close(result["targets"][0]["up"]["mean"], 0.5, 1e-12)


def test_plain_list():
    """The same six places as rows of readings and as a list: the same result."""
    path = written("empty.trammel", machine())
    places = [(0, 0.01, "+"), (50, 50.03, "+"), (100, 100.08, "+"), (100, 100.06, "-"), (50, 50.01, "-"), (0, -0.02, "-")]
    wanted = positions([position(target, value, approach, run=1) for target, value, approach in places])
    text = "# dial\n" + "".join(f"{target}\t{value}\n" for target, value, _ in places)
    assert run("positions", path, "--list", written("list.txt", text), "--json").json() == wanted
    columns = "target;up;down\n0;0,01;-0,02\n50;0,03;0,01\n100;0,08;0,06\n"
    found = run("positions", path, "--list", written("columns.txt", columns), "--json").json()
    for key in ("E", "E_up", "E_down", "M", "B", "B_mean"):
        close(found[key], wanted[key], 1e-9, 1e-12)
    deviations = "target/mm\tdial/µm\n" + "".join(f"{t}\t{1000 * (v - t):.0f}\n" for t, v, _ in places)
    falling = "".join(f"{t} {250 - v:.2f}\n" for t, v, _ in places)
    for name, text_of in (("deviations.txt", deviations), ("falling.txt", falling)):
        found = run("positions", path, "--list", written(name, text_of), "--json").json()
        for key in ("E", "E_up", "E_down", "M", "B", "B_mean"):
            close(found[key], wanted[key], 1e-9, 1e-12)
        close(found["line"]["scale_error"], wanted["line"]["scale_error"], 1e-9, 1e-12)
    assert any("fall" in note for note in found["notes"]), found["notes"]
    assert "other sign" in run("positions", path, "--list", written("falling.txt", falling)).out
    done = run("positions", path, "--list", written("nothing.txt", ""), status=1)
    assert "nothing.txt: there is nothing in the list" in done.err
    done = run("positions", path, "--list", written("short.txt", "0 1\n10\n"), status=1)
    assert "short.txt: line 2: the value is missing" in done.err
    done = run("positions", path, "--list", written("list.txt", text), "--axis", "Q", status=1)
    assert "there is no axis Q" in done.err
    run("positions", path, "--list", "a", "--readings", "b", status=2)


def test_words():
    rows = [position(t, t * 0.996 - (0.06 if a == "-" else 0), a) for t in (0, 40, 80, 120, 160) for a in "+-"
            for _ in range(5)]
    done = run("positions", written("words.trammel", machine(readings=rows)))
    assert "0.4000 % short" in done.out and "B̄" in done.out, done.out


def test_bad_input():
    none = written("none.trammel", machine(readings=[reading("outside", "X", 100, 99)]))
    done = run("positions", none, status=1)
    assert "position" in done.err and "none.trammel" in done.err, done.err
    done = run("positions", written("axis.trammel", machine(readings=[position(0, 1)])), "--axis", "Y", status=1)
    assert "along Y" in done.err, done.err
    run("positions", none, "--only", status=2)
    run("positions", none, "--axis", "xy", status=2)
    run("positions", none + "-missing", status=1)


main(globals())
