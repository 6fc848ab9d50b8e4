# SPDX-License-Identifier: GPL-3.0-or-later
"""Every malformed file: exit status 1 and a message that names place, finding and wish."""
import json
import os

from command import FOLDER, axis, machine, main, run, written


def refused(name, content, *wanted, verb="ratio", options=()):
    path = written(name, content)
    done = run(verb, path, *options, status=1)
    assert done.out == "" and done.err.startswith(f"trammel-cli: {path}: "), done.err
    assert done.err.count("\n") == 1 and len(done.err) < 1000, done.err
    for word in wanted:
        assert word in done.err, (word, done.err)


def with_driver(teeth):
    return machine(axes=[axis("X", stages=[{"type": "spur", "driver": teeth, "driven": 36}])])


def test_text_that_is_no_machine():
    whole = json.dumps(machine(), indent=2)
    refused("empty.trammel", "")
    refused("truncated.trammel", whole[: len(whole) // 2])
    refused("noise.trammel", bytes(range(256)) * 40)
    refused("utf16.trammel", whole.encode("utf-16"))
    refused("list.trammel", "[1, 2]")
    refused("number.trammel", "42")
    refused("other.trammel", {"format": "something", "version": 1}, "format")


def test_brackets_without_end():
    path = FOLDER / "brackets.trammel"
    with open(path, "wb") as stream:
        for _ in range(200):
            stream.write(b"[" * 1_000_000)
    done = run("ratio", path, status=1)
    assert str(path) in done.err and len(done.err) < 1000
    path.unlink()


def test_a_newer_version_names_both():
    refused("newer.trammel", machine(version=2), "version", "2", "1")


def test_values_out_of_bounds():
    refused("no-teeth.trammel", with_driver(0), "axes[0].stages[0].driver", "0", "10000")
    refused("teeth.trammel", with_driver(10**9), "axes[0].stages[0].driver", "1000000000", "10000")
    refused("half-teeth.trammel", with_driver(1.5), "axes[0].stages[0].driver")
    refused("teeth-text.trammel", with_driver("twelve"), "axes[0].stages[0].driver", "twelve")
    refused("potatoes.trammel", machine(axes=[axis("X", output={"type": "screw", "pitch": "2 potatoes", "starts": 1})]),
            "axes[0].output.pitch", "2 potatoes")
    refused("nan.trammel", json.dumps(machine(readings=[{"kind": "travel", "along": "X", "nominal": float("nan"),
                                                         "measured": 1}])))
    huge = json.dumps(machine(readings=[{"kind": "travel", "along": "X", "nominal": 123.25, "measured": 1}]))
    refused("huge.trammel", huge.replace("123.25", "1e400"), "1e400")


def test_what_does_not_belong_together():
    refused("twice.trammel", machine(axes=[axis("X"), axis("X")]), "axes[1].letter", "X")
    value = machine(axes=[axis("X")])
    del value["axes"][0]["output"]
    refused("no-output.trammel", value, "axes[0].output")
    refused("kind.trammel", machine(axes=[axis("X", kind="sideways")]), "axes[0].kind", "sideways")
    refused("axes.trammel", machine(axes={"X": 1}), "axes")


def test_a_folder_and_a_locked_file():
    done = run("ratio", FOLDER, status=1)
    assert str(FOLDER) in done.err
    path = written("locked.trammel", machine())
    os.chmod(path, 0)
    if not os.access(path, os.R_OK):
        assert path in run("ratio", path, status=1).err
    os.chmod(path, 0o600)


def bad_csv(name, text, *wanted):
    path = written(name, text)
    done = run("adjust", written("sound.trammel", machine()), "--readings", path, "--only", status=1)
    assert done.out == "" and done.err.startswith(f"trammel-cli: {path}"), done.err
    for word in wanted:
        assert word in done.err, (word, done.err)


def test_bad_csv_names_line_and_column():
    head = "kind,along,nominal,measured\n"
    bad_csv("word.csv", head + "travel,X,100,99.58\n\ntravel,X,100,lots\n", "4", "measured", "lots")
    bad_csv("kind.csv", head + "sideways,X,100,99\n", "2", "kind", "sideways")
    bad_csv("along.csv", head + "travel,@,100,99\n", "2", "along")
    bad_csv("nan.csv", head + "travel,X,100,nan\n", "2", "measured")
    bad_csv("inf.csv", head + "travel,X,1e400,99\n", "2", "nominal")
    bad_csv("more.csv", head + "travel,X,100,99,7,8\n", "2")
    bad_csv("header.csv", "kind,along,size,measured\ntravel,X,100,99\n", "size")
    bad_csv("no-header.csv", "")
    bad_csv("noise.csv", bytes(range(256)) * 10)


def test_csv_of_what_the_machine_does_not_have():
    head = "kind,along,nominal,measured,unit\n"
    bad_csv("ghost.csv", head + "travel,X,100,99,\ntravel,B,100,99,\n", "line 3, column along", "“B”", "(X, Y, Z, E)")
    bad_csv("unfed.csv", head + "travel,X+E,100,99,\n", "line 2, column along", "X+E")
    bad_csv("turning.csv", head + "travel,X,100,99,deg\n", "line 2, column unit", "deg", "length")
    table = machine(axes=[axis("A", kind="rotary", output={"type": "table"}, travel="360 deg")])
    path = written("inches.csv", head + "travel,A,90,89.9,in\n")
    done = run("adjust", written("table.trammel", table), "--readings", path, "--only", status=1)
    assert done.err.startswith(f"trammel-cli: {path}: line 2, column unit") and "angle" in done.err, done.err


main(globals())
