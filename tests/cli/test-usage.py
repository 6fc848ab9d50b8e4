# SPDX-License-Identifier: GPL-3.0-or-later
"""Help, version, exit statuses, where messages go, and what the command loads."""
import os
import subprocess

from command import CLI, FOLDER, Skip, has_locale, machine, main, reading, run, written

WITH_MACHINE = ("ratio", "facts", "adjust", "piece", "positions", "export", "drift", "homing")
VERBS = WITH_MACHINE + ("mesh", "find", "bead")


def measured(name="usage.trammel"):
    return written(name, machine(readings=[reading("travel", "X", 100, 99.58)]))


def test_help_everywhere():
    out = run("--help").out
    assert all(verb in out for verb in VERBS) and "Exit status" in out
    for verb in VERBS:
        out = run(verb, "--help").out
        assert "--json" in out and "--version" in out, out
        assert ("MACHINE" in out) == (verb in WITH_MACHINE), out


def test_version_everywhere():
    wanted = run("--version").out
    assert wanted.startswith("trammel-cli ") and wanted.strip()[-1].isdigit()
    for verb in VERBS:
        assert run(verb, "--version").out == wanted


def test_wrong_usage_is_status_two():
    path = measured()
    for arguments in (
            (), ("nonsense",), ("--nonsense",), ("ratio",), ("ratio", path, path), ("ratio", path, "--nonsense"),
            ("adjust",), ("adjust", path, "--only"), ("adjust", path, "--output", FOLDER / "x"),
            ("adjust", path, "--scatter", "guessed"), ("adjust", path, "--stated", "bead"),
            ("adjust", path, "--stated", "bead=wide"), ("adjust", path, "--stated", "scale.X=0"),
            ("adjust", path, "--stated", "bead=0±-1"), ("adjust", path, "--stated"),
            ("piece", path, "--size", "2 potatoes"), ("piece", path, "--size", "nan"), ("piece", path, "--size", "1e9"),
            ("piece", path, "--feed", "soup"), ("export", path), ("export", path, "--form", "poem")):
        done = run(*arguments, status=2)
        assert done.out == "" and "--help" in done.err, (arguments, done.err)


def test_usage_message_names_option_and_finding():
    err = run("piece", measured(), "--size", "2 potatoes", status=2).err
    assert err.startswith("trammel-cli: piece: --size: ") and "2 potatoes" in err, err


def test_a_missing_file_is_the_inputs_fault():
    for verb, *more in (("ratio",), ("adjust",), ("piece",), ("export", "--form", "table")):
        done = run(verb, "/no/such/file.trammel", *more, status=1)
        assert done.err.startswith("trammel-cli: /no/such/file.trammel: ") and done.out == "", done.err
        assert done.err.count("/no/such/file.trammel") == 1, done.err
    done = run("adjust", measured(), "--readings", "/no/such/file.csv", status=1)
    assert done.err.startswith("trammel-cli: /no/such/file.csv: "), done.err


def test_a_file_name_like_an_option():
    path = written("-h.trammel", machine())
    done = subprocess.run([CLI, "ratio", "--", os.path.basename(path)], cwd=FOLDER, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr


def test_options_on_either_side_of_the_file():
    path = measured()
    assert run("ratio", "--json", path).raw == run("ratio", path, "--json").raw


def test_a_full_disk_on_standard_output():
    if not os.path.exists("/dev/full"):
        raise Skip("no /dev/full")
    with open("/dev/full", "wb") as full:
        done = subprocess.run([CLI, "ratio", measured(), "--json"], stdout=full, stderr=subprocess.PIPE, check=False)
    assert done.returncode == 1 and b"standard output" in done.stderr, done
    with open("/dev/full", "wb") as full:
        done = subprocess.run([CLI, "ratio", "--help"], stdout=full, stderr=subprocess.PIPE, check=False)
    assert done.returncode == 1 and b"standard output" in done.stderr, done


def test_what_is_read_is_not_written_over():
    path = measured()
    link = str(FOLDER / "link.trammel")
    os.symlink(path, link)
    with open(path, "rb") as stream:
        before = stream.read()
    readings = written("own.csv", "kind,along,nominal,measured\ntravel,X,100,99.58\n")
    for arguments in (["piece", path, "--output", path], ["piece", path, "--plan", link],
                      ["piece", link, "--output", path], ["export", path, "--form", "header", "--output", path],
                      ["piece", path, "--plan", str(FOLDER / "new"), "--output", f"{FOLDER}/./new"],
                      ["adjust", path, "--readings", readings, "--adopt", "--output", readings]):
        done = run(*arguments, status=2)
        assert "would take the place of" in done.err, done
    with open(path, "rb") as stream:
        assert stream.read() == before
    assert not os.path.exists(FOLDER / "new")
    run("adjust", path, "--adopt", "--output", path)  # its own place is what saving is


def test_loads_no_window_and_no_drawing():
    libraries = subprocess.run(["ldd", CLI], capture_output=True, text=True, check=True).stdout.lower()
    assert "glib" in libraries
    assert not any(name in libraries for name in ("gtk", "gdk", "cairo", "pango")), libraries


def test_json_has_points_under_a_comma_locale():
    if not has_locale("de_DE.UTF-8"):
        raise Skip("de_DE.UTF-8 is not there")
    path = measured()
    for verb in ("ratio", "adjust", "piece"):
        german, plain = run(verb, path, "--json", locale="de_DE.UTF-8").json(), run(verb, path, "--json").json()
        german.pop("program", None), plain.pop("program", None)
        assert german == plain
    assert "80,337" in run("adjust", path, locale="de_DE.UTF-8").out
    coordinates = [line for line in run("piece", path, locale="de_DE.UTF-8").out.splitlines() if line.startswith("G1")]
    assert coordinates and not any("," in line for line in coordinates)


def test_words_in_a_plain_locale_are_ascii():
    out = run("adjust", measured(), locale="C").raw
    out.decode("ascii")
    assert b"X moves 0.42 % short (+- 0.10 %). Set 80.337 steps/mm (now 80)." in out, out


main(globals())
