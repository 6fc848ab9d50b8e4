# SPDX-License-Identifier: GPL-3.0-or-later
"""How gears mesh, against the involute's formulas written out once more here, with bisection for the inverse."""
import math
import random

from command import Skip, close, has_locale, main, run


def inv(angle):
    return math.tan(angle) - angle


def angle_of_involute(value):
    low, high = 0.0, math.pi / 2
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if inv(middle) < value else (low, middle)
    return (low + high) / 2


class Pair:
    """@b negative: a ring, as in ISO 21771."""
    def __init__(self, a, b, module=1.0, degrees=20.0, shifts=(0.0, 0.0)):
        self.z, self.m, self.alpha, self.x = (a, b), module, math.radians(degrees), shifts
        working = angle_of_involute(inv(self.alpha) + 2 * sum(shifts) * math.tan(self.alpha) / (a + b))
        self.distance = abs(a + b) * module / 2 * math.cos(self.alpha) / math.cos(working)

    def gear(self, i):
        z, x, sign = abs(self.z[i]), self.x[i], 1 if self.z[i] > 0 else -1
        reference = z * self.m
        return {"teeth": z, "reference": reference, "base": reference * math.cos(self.alpha),
                "tip": reference + 2 * sign * self.m * (1 + x), "root": reference - 2 * sign * self.m * (1.25 - x)}

    def working_angle(self, distance):
        cosine = abs(sum(self.z)) * self.m / 2 * math.cos(self.alpha) / distance
        return math.acos(min(cosine, 1)) if cosine < 1 + 1e-12 else None

    def backlash(self, distance):
        """The pitch on the working circles less the thickness of a tooth of each, as on any circle."""
        working, left = self.working_angle(distance), 0
        for i in range(2):
            radius = distance * abs(self.z[i]) / abs(sum(self.z))
            half = (math.pi / 2 + 2 * self.x[i] * math.tan(self.alpha)) / abs(self.z[i])
            grown = (inv(self.alpha) - inv(working)) * (1 if self.z[i] > 0 else -1)
            left -= 2 * radius * (half + grown)
        return left + 2 * math.pi * distance / abs(sum(self.z))

    def contact_ratio(self, distance):
        gears = [self.gear(0), self.gear(1)]
        along = [math.sqrt(max(g["tip"] ** 2 - g["base"] ** 2, 0)) / 2 for g in gears]
        sign = 1 if self.z[1] > 0 else -1
        path = along[0] + sign * along[1] - sign * distance * math.sin(self.working_angle(distance))
        return max(path / (math.pi * self.m * math.cos(self.alpha)), 0)


def mesh(a, b, *options):
    return run("mesh", "--teeth", f"{a},{abs(b)}", *(["--internal"] if b < 0 else []), *options, "--json").json()


def check(found, pair, tolerance=1e-9):
    close(found["center_distance"], pair.distance, tolerance)
    for i in range(2):
        assert list(found["diameters"][i]) == ["teeth", "reference", "base", "tip", "root"]
        for key, value in pair.gear(i).items():
            close(found["diameters"][i][key], value, tolerance)
    close(found["contact_ratio"], pair.contact_ratio(pair.distance), tolerance, tolerance)
    for offset in found["offsets"]:
        distance = math.hypot(offset["dx"], offset["dy"])
        close(offset["distance"], distance)
        if offset["working_angle"] is None:
            assert pair.working_angle(distance) is None and not offset["fits"], offset
            continue
        close(math.radians(offset["working_angle"]), pair.working_angle(distance), 1e-7)
        close(offset["backlash"], pair.backlash(distance), 1e-9, 1e-9)
        close(offset["contact_ratio"], pair.contact_ratio(distance), 1e-9, 1e-9)


def test_exactly_the_keys_of_the_contract():
    found = mesh(16, 40, "--module", "1", "--grid", "10")
    assert list(found) == ["center_distance", "diameters", "contact_ratio", "offsets"]
    assert list(found["offsets"][0]) == ["dx", "dy", "distance", "fits", "backlash", "contact_ratio", "working_angle"]


def test_where_it_runs():
    """16:40 on holes 10 mm apart: between 28 mm and the 30 mm at which the tips part only 20, 20 lies (by hand)."""
    found = mesh(16, 40, "--module", "1", "--angle", "20", "--grid", "10")
    assert [(o["dx"], o["dy"]) for o in found["offsets"] if o["fits"]] == [(20, 20)]
    assert found["center_distance"] == 28
    check(found, Pair(16, 40))
    halves = mesh(16, 40, "--grid", "10", "--half", "--reach", "7")["offsets"]
    assert len(halves) == 14 * 17 // 2 and max(o["dx"] for o in halves) == 70
    assert all(o["dx"] >= o["dy"] >= 0 for o in halves)


def test_handbook_pair_in_inches():
    """16 and 40 teeth, diametral pitch 2: 14 in, base radii 3.759 and 9.397 in, at 14.25 in 22.6 degrees (Budynas &
    Nisbett, Shigley's Mechanical Engineering Design, first example of chapter 13; from memory)."""
    found = mesh(16, 40, "--module", "2 DP", "--grid", "14.25 in", "--reach", "1")
    close(found["center_distance"], 14 * 25.4)
    close(found["diameters"][0]["base"] / 50.8, 3.759, absolute=5e-4)
    close(found["diameters"][1]["base"] / 50.8, 9.397, absolute=5e-4)
    close(found["offsets"][0]["working_angle"], 22.6, absolute=0.05)
    assert found["offsets"][0]["fits"] is True


def test_any_pair():
    rng = random.Random(3)
    for _ in range(40):
        a, b = rng.randrange(8, 40), rng.randrange(20, 120)
        degrees, module = rng.choice([14.5, 20, 25, 17.3]), rng.choice([0.5, 1, 1.25, 3])
        shifts = round(rng.uniform(-0.2, 0.5), 3), round(rng.uniform(-0.2, 0.5), 3)
        if rng.random() < 0.4:
            b = -(a + rng.randrange(15, 60))
            shifts = shifts[0], -shifts[0]
        found = mesh(a, b, "--module", module, f"--shift={shifts[0]},{shifts[1]}", "--angle", degrees, "--grid", 5 * module,
                     "--half")
        check(found, Pair(a, b, module, degrees, shifts))
        if b < 0 or max(shifts) > 0.2:
            continue  # tips may also meet roots or each other
        for offset in found["offsets"]:
            runs = offset["working_angle"] is not None and offset["backlash"] >= 0 and offset["contact_ratio"] >= 1
            assert offset["fits"] == runs, offset


def test_zero_backlash_is_enough():
    """28 mm is 7 holes of 4 mm; 3:4:5 makes it 16.8 and 22.4 too."""
    for grid, wanted in (("4", [(28, 0)]), ("5.6", [(22.4, 16.8), (28, 0)])):
        exact = [o for o in mesh(16, 40, "--grid", grid)["offsets"] if abs(o["distance"] - 28) < 1e-9]
        assert sorted((round(o["dx"], 9), round(o["dy"], 9)) for o in exact) == wanted
        assert all(o["fits"] and o["backlash"] == 0 for o in exact), exact


def test_a_ring_may_stand_first():
    first = run("mesh", "--teeth", "60,20", "--shift", "0.1,0.3", "--internal", "--grid", "10", "--json").json()
    second = run("mesh", "--teeth", "20,60", "--shift", "0.3,0.1", "--internal", "--grid", "10", "--json").json()
    assert first["diameters"] == second["diameters"][::-1]
    assert first["diameters"][0]["tip"] < first["diameters"][0]["root"]
    assert first["offsets"] == second["offsets"] and first["center_distance"] == second["center_distance"]


def test_without_a_grid_no_offsets():
    assert mesh(12, 24, "--module", "3")["offsets"] == []


def test_words():
    out = run("mesh", "--teeth", "12,40", "--grid", "10", "--half").out
    assert "26.000 mm from center to center" in out and "12 teeth are undercut" in out, out
    assert "runs" in out and "binds" in out
    assert "runs in no two holes" in run("mesh", "--teeth", "16,40", "--grid", "27").out
    assert "tips run into each other" in run("mesh", "--teeth", "55,60", "--internal").out


def test_words_follow_the_locale_and_json_does_not():
    if not has_locale("de_DE.UTF-8"):
        raise Skip("no de_DE.UTF-8")
    assert "28,000" in run("mesh", "--teeth", "16,40", "--grid", "12,5 mm", locale="de_DE.UTF-8").out
    assert run("mesh", "--teeth", "16,40", "--grid", "12,5", "--json", locale="de_DE.UTF-8").out == \
        run("mesh", "--teeth", "16,40", "--grid", "12.5", "--json").out


def test_wrong_usage():
    for options, part in [
            ([], "teeth of both gears"),
            (["--teeth", "16"], "two numbers"), (["--teeth", "16,40,20"], "two numbers"),
            (["--teeth", "16,x"], "two numbers"), (["--teeth", "16.5,40"], "whole number"),
            (["--teeth", "2,40"], "whole number"), (["--teeth", "16,10001"], "whole number"),
            (["--teeth", "16,40", "--module", "0"], "above 0"), (["--teeth", "16,40", "--module", "two"], "--module"),
            (["--teeth", "16,40", "--angle", "1 mm"], "--angle"), (["--teeth", "16,40", "--grid", "-10"], "above 0"),
            (["--teeth", "16,40", "--grid", "nan"], "--grid"), (["--teeth", "16,40", "--reach", "-1", "--grid", "9"], "--reach"),
            (["--teeth", "16,40", "--half"], "--grid"), (["--teeth", "16,40", "--reach", "3"], "--grid"),
            (["--teeth", "16,40", "--shift", "0.1"], "two numbers"), (["--teeth", "16,40", "a.trammel"], "a.trammel"),
    ]:
        done = run("mesh", *options, status=2)
        assert part in done.err and done.out == "", (options, done.err)


def test_pairs_that_cannot_be():
    for options, part in [
            (["--teeth", "40,40", "--internal"], "ring of 40 teeth"), (["--teeth", "16,40", "--angle", "50"], "50°"),
            (["--teeth", "16,40", "--shift=3,0"], "shift of 3"), (["--teeth", "10,10", "--shift=-0.9,-0.9"], "greater sum"),
            (["--teeth", "16,40", "--grid", "0.001"], "steps"), (["--teeth", "16,40", "--module", "2 m"], "module"),
    ]:
        done = run("mesh", *options, status=1)
        assert part in done.err and done.out == "", (options, done.err)


main(globals())
