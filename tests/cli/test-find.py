# SPDX-License-Identifier: GPL-3.0-or-later
"""The gear finder against plain enumeration, and against what is known of change gears."""
import itertools
import math
import random
from fractions import Fraction

import enumeration
from command import axis, close, machine, main, run, written

STEPPER_200 = {"type": "stepper", "full_steps": 200, "microsteps": 1}


def find(gears, target, *more):
    return run("find", "--gears", gears, "--target", target, "--json", *more).json()


def bin_text(gears):
    return ",".join(f"{z}x{count}@{float(m):g}" for (z, m), count in gears.items())


def as_train(result):
    modules = [Fraction(m) for m in result["modules"]]
    idlers = [(z, modules[i]) for i, z in enumerate(result["idlers"]) if z is not None]
    assert len(idlers) <= 1
    return enumeration.Train([(pair[0], m) for pair, m in zip(result["pairs"], modules)],
                             [(pair[1], m) for pair, m in zip(result["pairs"], modules)], idlers[0] if idlers else None)


def check_result(result, target, gears):
    """Every number of one result, from its pairs alone; and that the bin has the gears."""
    train = as_train(result)
    used = {}
    for gear in train.drivers + train.driven + ([train.idler] if train.idler else []):
        used[gear] = used.get(gear, 0) + 1
    assert all(used[gear] <= gears.get(gear, 0) for gear in used), (result, gears)
    assert Fraction(result["ratio"]) == train.ratio, result
    error = train.ratio / target - 1
    assert result["exact_error"] is None or Fraction(result["exact_error"]) == error, result
    close(result["error"], float(error), 1e-15)
    close(result["ppm"], float(error * 1000000), 1e-14)
    assert result["gears"] == train.gears, result
    assert result["direction"] == (1 if train.meshes % 2 == 0 else -1), result
    close(result["span"], float(train.span), 1e-14)
    close(result["play"], train.least_play(), 1e-12)
    return train


def key_of(train, target):
    return (abs(train.ratio / target - 1), train.gears, train.span)


def random_bin(rng, modules):
    gears = {}
    for _ in range(rng.randint(3, 8 if len(modules) == 1 else 7)):
        gears[(rng.choice([12, 15, 16, 18, 20, 24, 30, 32, 36, 40, 48, 60, rng.randint(9, 70)]),
               Fraction(rng.choice(modules)))] = rng.choice([1, 1, 2, 3])
    return gears


def compare(gears, target, pairs, tolerance, direction):
    """The whole list and the list of ten against the enumeration."""
    every = list(enumeration.trains(gears, pairs))
    wanted = [train for train in every]
    if direction != "any":
        wanted = [enumeration.turned(train, gears, pairs, direction == "same") for train in every]
    wanted = [train for train in wanted if train and abs(train.ratio / target - 1) <= tolerance]
    options = ("--pairs", pairs, "--tolerance", float(tolerance), "--direction", direction)
    found = find(bin_text(gears), target, *options, "--list", 10000)
    assert found["searched"] == len(every), (gears, found["searched"], len(every))
    trains = [check_result(result, target, gears) for result in found["results"]]
    keys = [key_of(train, target) for train in trains]
    assert keys == sorted(keys) and all(result["exact_error"] is not None for result in found["results"])
    assert len(wanted) <= 10000
    assert sorted(map(str, (train.key() for train in trains))) == sorted(map(str, (train.key() for train in wanted))), (
        gears, target, options)
    ten = find(bin_text(gears), target, *options, "--list", 10)
    assert ten["results"] == found["results"][:10]
    if wanted:
        assert found["nearest"] is None
    return len(wanted)


def test_nothing_missed():
    rng = random.Random(7)
    n = 0
    for turn in range(45):
        modules = ["1"] if turn % 3 else ["1", "0.5", "1.25"]
        gears = random_bin(rng, modules)
        reachable = rng.choice(list(enumeration.trains(gears, 2)) or [None])
        target = reachable.ratio if reachable and turn % 2 else Fraction(rng.randint(1, 400), rng.randint(1, 80))
        n += compare(gears, target, rng.choice([1, 2, 3]), rng.choice([Fraction(1, 512), Fraction(1, 8), Fraction(1, 2)]),
                     ["any", "same", "opposite"][turn // 2 % 3])
    assert n > 1000, n


def test_nothing_missed_with_four_pairs():
    rng = random.Random(11)
    for _ in range(2):
        gears = {(z, Fraction(1)): rng.choice([1, 1, 2]) for z in rng.sample(range(12, 60), 9)}
        compare(gears, Fraction(rng.randint(20, 90), 11), 4, Fraction(1, 200), "any")


def test_other_orders():
    rng = random.Random(5)
    for _ in range(6):
        gears = random_bin(rng, ["1", "0.5"])
        target = Fraction(rng.randint(5, 40), 7)
        everything = find(bin_text(gears), target, "--tolerance", "0.3", "--list", 10000)["results"]
        base = lambda result: (abs(Fraction(result["exact_error"])), result["gears"], result["span"])
        for order in ("gears", "span", "play"):
            wanted = sorted(everything, key=lambda result: (result[order], *base(result)))
            found = find(bin_text(gears), target, "--tolerance", "0.3", "--list", 7, "--order", order)["results"]
            key = lambda result: (result[order], *base(result))
            assert [key(result) for result in found] == [key(result) for result in wanted[:7]]


def test_only_the_unbeaten():
    rng = random.Random(3)
    n = 0
    for turn in range(12):
        gears = random_bin(rng, ["1"] if turn % 2 else ["1", "0.5"])
        target = Fraction(rng.randint(5, 60), 9)
        tolerance = Fraction(1, 4)
        direction = ["any", "same"][turn // 2 % 2]
        every = list(enumeration.trains(gears, 3))
        if direction == "same":
            every = [enumeration.turned(train, gears, 3, True) for train in every]
        within = [train for train in every if train and abs(train.ratio / target - 1) <= tolerance]
        found = find(bin_text(gears), target, "--unbeaten", "--tolerance", float(tolerance), "--list", 10000,
                     "--direction", direction)["results"]
        keys = [key_of(check_result(result, target, gears), target) for result in found]
        assert len(set(keys)) == len(keys) and set(keys) == enumeration.unbeaten(within, target), (gears, target)
        n += len(keys)
    assert n > 20, n


def test_change_gears_with_and_without_127():
    # 80/63 for 127/100: −0.0125 % (common practice; follows from arithmetic: 80/63 / 1.27 = 8000/8001)
    without = find("20,25,30,40,45,50,55,60,63,65,70,75,80,100,120", "127/100", "--pairs", 1)["results"]
    assert without[0]["pairs"] == [[63, 80]] and without[0]["ratio"] == "80/63"
    assert without[0]["exact_error"] == "-1/8001"
    assert f"{without[0]['error'] * 100:.4f}" == "-0.0125"
    beside = find("50,63,80,100,127", "1.27", "--pairs", 1)["results"]
    assert beside[0]["pairs"] == [[100, 127]] and beside[0]["error"] == 0 and beside[1]["ratio"] == "80/63"


def test_the_bin_of_the_manual():
    found = find("12,16,20,24x2,36,40", "5")
    assert found["results"][0]["error"] == 0 and found["results"][0]["ratio"] == "5"
    # The least play: the largest driven behind the smallest driver, last
    assert found["results"][0]["pairs"] == [[16, 24], [12, 40]]
    # 25/3 wants 5² above the line, and 20 and 40 have but two fives for two of the three driven: 800·z/(d·e·f)
    assert find("12,16,20,24x2,36,40", "25/3", "--pairs", 4)["results"] == []


def test_nothing_inside_says_what_is_nearest():
    found = find("12,36", "7")
    assert found["results"] == [] and found["searched"] == 2
    assert found["nearest"]["pairs"] == [[12, 36]] and found["nearest"]["exact_error"] == "-4/7"
    out = run("find", "--gears", "12,36", "--target", "7").out
    assert "nearest" in out and "12:36" in out and "−57.1 %" in out, out
    lone = find("12", "7")
    assert lone["results"] == [] and lone["nearest"] is None and lone["searched"] == 0
    assert "None can be built" in run("find", "--gears", "12", "--target", "7").out


def test_nearest_is_the_nearest():
    rng = random.Random(9)
    for _ in range(10):
        gears = random_bin(rng, ["1"])
        target = Fraction(rng.choice([1, 900]), rng.choice([7, 900]))
        every = [abs(train.ratio / target - 1) for train in enumeration.trains(gears, 3)]
        found = find(bin_text(gears), target, "--tolerance", "1e-9")
        if every and min(every) > Fraction(1, 10 ** 9):
            assert abs(Fraction(found["nearest"]["exact_error"])) == min(every)


def test_only_exact_trains():
    gears = {(z, Fraction(1)): 1 for z in (12, 18, 20, 24, 30, 36, 40, 45, 71)}
    assert compare(gears, Fraction(3), 2, Fraction(0), "any") > 3
    near = find("12,35", "3", "--tolerance", 0)
    assert near["results"] == [] and near["nearest"]["ratio"] == "35/12"


def test_a_target_with_pi():
    found = find("7,11,14,22,44,71,113,355", "pi", "--pairs", 1, "--tolerance", "0.001")
    # 355/113 and 22/7, known since antiquity
    assert [result["ratio"] for result in found["results"]] == ["355/113", "22/7"] + ["22/7"] * (len(found["results"]) - 2)
    close(found["results"][0]["error"], 355 / 113 / math.pi - 1, 1e-8)
    assert found["results"][0]["exact_error"] is None
    assert found["target"] == {"exact": "1", "pi": 1, "value": math.pi}
    inverse = find("113,355", "1/pi", "--pairs", 1)["results"]
    assert inverse[0]["pairs"] == [[355, 113]]


def test_direction_by_an_idler_or_a_pair():
    one = find("12,36,20", "3", "--pairs", 1, "--direction", "same")["results"][0]
    assert one["idlers"] == [20] and one["gears"] == 3 and one["direction"] == 1
    pair = find("12,36,20x2@2", "3", "--pairs", 2, "--direction", "same")["results"][0]
    assert pair["idlers"] == [None, None] and pair["gears"] == 4
    assert [20, 20] in pair["pairs"] and [12, 36] in pair["pairs"]
    assert find("12,36", "3", "--direction", "same")["results"] == []
    assert find("12,36", "3", "--direction", "opposite")["results"][0]["idlers"] == [None]


def test_gears_of_other_modules_do_not_mesh():
    assert find("12@1,36@2", "3", "--tolerance", "10")["results"] == []
    assert find("12@1,36@1.0,20@25.4DP", "3")["results"][0]["modules"] == [1]


def test_an_idler_on_a_plate_has_two_places():
    # 12 and 20 are 16 mm apart, 20 and 36 are 28 (by hand): holes every 4 mm have both, and nothing nearer
    one, = find("12,20,36", "3", "--direction", "same", "--grid", 4)["results"]
    assert one["idlers"] == [20]
    assert [(place["dx"], place["dy"]) for place in one["places"]] == [(16, 0), (28, 0)]
    text = run("find", "--gears", "12,20,36", "--target", "3", "--direction", "same", "--grid", "4").out
    assert "16 × 0, 28 × 0" in text and "in the way of another shaft" in text, text


def test_only_what_runs_on_a_plate():
    """Every pair of a train on holes every 10 mm runs there, by the verb mesh, and no train that would is left out."""
    bin_of = {(z, Fraction(1)): 1 for z in (10, 12, 16, 20, 24, 30, 40, 48)}
    runs, least = {}, {}
    for a in bin_of:
        for b in bin_of:
            offsets = run("mesh", "--teeth", f"{a[0]},{b[0]}", "--grid", 10, "--json").json()["offsets"]
            runs[a, b] = any(offset["fits"] for offset in offsets)
            least[a[0], b[0]] = min((offset["backlash"] for offset in offsets if offset["fits"]), default=None)
    assert 5 < sum(runs.values()) < 60

    def fits(train):
        return any(all(runs[pair] for pair in zip(train.drivers, driven))
                   for driven in itertools.permutations(train.driven))

    target = Fraction(5)
    wanted = [train for train in enumeration.trains(bin_of, 3) if abs(train.ratio / target - 1) <= 0.5 and fits(train)]
    found = find(bin_text(bin_of), target, "--tolerance", 0.5, "--grid", 10, "--list", 10000)["results"]
    assert len(wanted) > 10
    assert {as_train(result).key() for result in found} == {train.key() for train in wanted}
    for result in found:
        assert all(runs[(a, Fraction(1)), (b, Fraction(1))] for a, b in result["pairs"])
        assert [place["backlash"] for place in result["places"]] == [least[a, b] for a, b in result["pairs"]]
        for place in result["places"]:
            assert place["dx"] % 10 == 0 and place["dy"] % 10 == 0
            close(math.hypot(place["dx"], place["dy"]), place["distance"])
    assert find("12,36", "3")["results"][0]["places"] is None


def test_counts_per_mm_of_an_axis():
    # Screw 8 mm, 200 counts a turn: 25 per mm; 100 per mm takes 4 turns in for one out
    rig = written("find.trammel", machine(axes=[
        axis("X", output={"type": "screw", "pitch": "2 mm", "starts": 4, "hand": "left"}, motor=STEPPER_200),
        axis("Y", output={"type": "rack", "teeth": 20, "module": "1 mm"}, motor=STEPPER_200)]))
    for wish in (("--counts-per-mm", "100"), ("--counts-per-unit", "100"), ("--travel-per-count", "10 um"), ("--travel-per-count", "0.01")):
        done = run("find", "--gears", "10,20x2,40", "--machine", rig, "--axis", "X", *wish, "--json").json()
        assert done["target"]["exact"] == "4" and done["target"]["pi"] == 0, done
        assert done["results"][0]["pairs"] == [[10, 40]]
    # Pinion of 20 teeth: 20π mm a turn; 100 counts per mm: 100 · 20π / 200 = 10π
    done = run("find", "--gears", "7,11,10x2,20x2,40,100", "--machine", rig, "--axis", "Y", "--counts-per-mm", "100",
               "--json").json()
    assert done["target"]["exact"] == "10" and done["target"]["pi"] == 1
    close(done["results"][0]["error"], float(Fraction(done["results"][0]["ratio"])) / (10 * math.pi) - 1, 1e-6)


def test_counts_per_degree_of_a_table():
    # 200 counts a turn on a table: 200/360 per degree; 5 per degree take 9 turns in for one out, 0.2 degrees a count too
    rig = written("table.trammel", machine(axes=[axis("A", "rotary", {"type": "table"}, [], STEPPER_200, "360 deg")]))
    for wish in (("--counts-per-unit", "5"), ("--counts-per-mm", "5"), ("--travel-per-count", "0.2")):
        done = run("find", "--gears", "12x2,36x2", "--machine", rig, *wish, "--json").json()
        assert done["target"]["exact"] == "9" and done["results"][0]["pairs"] == [[12, 36], [12, 36]], done
    done = run("find", "--gears", "12,36", "--machine", rig, "--counts-per-mm", "five", status=2)
    assert "--counts-per-unit: " in done.err, done.err


def test_the_bin_kept_for_the_user():
    from command import FOLDER
    folder = FOLDER / "kept" / "trammel"
    folder.mkdir(parents=True)
    (folder / "gear-bin.txt").write_text("12, 36\n")
    done = run("find", "--target", "3", "--json", XDG_DATA_HOME=str(folder.parent))
    assert done.json()["results"][0]["pairs"] == [[12, 36]]


def test_exactly_the_keys_of_the_contract():
    found = find("12,36", "3")
    assert list(found)[:2] == ["results", "searched"]
    assert list(found["results"][0])[:4] == ["pairs", "ratio", "error", "gears"]


def test_a_table_for_people():
    out = run("find", "--gears", "12,16,20,24x2,36,40", "--target", "10/3", "--list", 3).out
    assert "exact" in out and "10/3 = 3.33333" in out and "12:40" in out and "turns the other way" in out, out


def test_what_cannot_be_used():
    for arguments in (
            ("--target", "3"), ("--gears", "", "--target", "3"), ("--gears", "12,13"),
            ("--gears", "12,x", "--target", "3"), ("--gears", "12x0", "--target", "3"),
            ("--gears", "0,12", "--target", "3"), ("--gears", "12,10001", "--target", "3"),
            ("--gears", "12@0", "--target", "3"), ("--gears", "12@-1", "--target", "3"),
            ("--gears", "12@pi", "--target", "3"), ("--gears", "12x2000", "--target", "3"),
            ("--gears", "12,36", "--target", "0"), ("--gears", "12,36", "--target", "-3"),
            ("--gears", "12,36", "--target", "three"), ("--gears", "12,36", "--target", "1/0"),
            ("--gears", "12,36", "--target", "3", "--pairs", "0"), ("--gears", "12,36", "--target", "3", "--pairs", "5"),
            ("--gears", "12,36", "--target", "3", "--tolerance", "-0.1"),
            ("--gears", "12,36", "--target", "3", "--tolerance", "nan"),
            ("--gears", "12,36", "--target", "3", "--list", "0"),
            ("--gears", "12,36", "--target", "3", "--direction", "up"),
            ("--gears", "12,36", "--target", "3", "--order", "beauty"),
            ("--gears", "12,36", "--target", "3", "--grid", "0"),
            ("--gears", "12,36", "--target", "3", "--grid", "wide"),
            ("--gears", "12,36", "--counts-per-mm", "80"), ("--gears", "12,36", "--target", "3", "stray"),
            ("--gears", "12,36", "--target", "3", "--counts-per-mm", "80"),
            ("--gears", ",".join(map(str, range(10, 139))), "--target", "3"),
            ("--gears", ",".join(f"12@{i / 10}" for i in range(1, 18)), "--target", "3")):
        done = run("find", *arguments, status=2, XDG_DATA_HOME="/nonexistent")
        assert done.out == "" and "--help" in done.err, (arguments, done.err)


def test_ways_to_write_a_bin():
    for text in ("12,36x2", "12 36 36", "36×2;12", "12, 36 x 2", "12,\n36*2,", "12@1mm,36x2@1 "):
        found = find(text, "3", "--pairs", 1)
        assert found["searched"] == 3 and found["results"][0]["pairs"] == [[12, 36]], text
    assert "“x36”" in run("find", "--gears", "12,x36", "--target", "3", status=2).err


def test_the_largest_numbers():
    gears = ",".join(str(z) for z in range(9990, 10001))
    target = Fraction(10000 ** 4 - 1, 9990 ** 4)
    found = find(gears, f"{target.numerator}/{target.denominator}", "--pairs", 4, "--tolerance", "0.01", "--list", 3)
    assert len(found["results"]) == 3
    for result in found["results"]:
        check_result(result, target, {(z, Fraction(1)): 1 for z in range(9990, 10001)})


main(globals())
