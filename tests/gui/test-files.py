# SPDX-License-Identifier: GPL-3.0-or-later
"""Machines as files: new, open, save, save as, recent ones, a file that is no machine, and the guard against losing
unsaved work. Prints TAP."""
import shutil

from driver import DEMO, WORK, Window, check, done, load, machine_file, same, wait_for


def rename(window, name):
    """An edit like any other."""
    window.keys("shift+F2", "ctrl+a")
    window.type(name)
    window.keys("Return")


def new_save_and_save_as():
    with Window() as window:
        check(window.says("Heron"), "without a file the window shows a whole example")
        window.keys("ctrl+n")
        check(window.says("not in a file yet"), "a new machine is in no file")
        check(window.says("Axis X") and not window.says("Axis Y", 0), "and has one axis to begin with")
        rename(window, "Plover")
        check(window.says("unsaved changes, no file yet"), "changed, it is said to be unsaved")
        window.keys("ctrl+s")
        window.choose_file(WORK / "plover", save=True)
        path = WORK / "plover.trammel"
        check(wait_for(path.exists, 5), "saved for the first time it asks for a name, and adds the suffix")
        same(load(path)["name"], "Plover", "the file holds the machine")
        check(window.says("plover.trammel · saved"), "and the window says so")
        rename(window, "Plover 2")
        window.keys("ctrl+shift+s")
        window.choose_file(WORK / "other.trammel", save=True)
        check(wait_for((WORK / "other.trammel").exists, 5), "Save as writes another file")
        same((load(path)["name"], load(WORK / "other.trammel")["name"]), ("Plover", "Plover 2"), "and leaves the first alone")
        check(window.says("other.trammel · saved"), "from then on the other file is the machine's")


def open_and_recent():
    first, second = machine_file("first.trammel"), machine_file("second.trammel")
    second.write_text(second.read_text().replace('"Heron"', '"Egret"'))
    with Window(first) as window:
        window.open_file(second)
        check(window.says("second.trammel · saved") and window.says("Egret"), "Ctrl+O opens another file")
        window.keys("F10")
        if not window.find("Open recent", 2, ("menu item", "push button")):
            window.press("Menu")
        window.press("Open recent")
        check(window.press("first.trammel"), "the menu lists the recent files")
        check(window.says("first.trammel · saved") and window.says("Heron"), "and opens the one that is chosen")
        broken = WORK / "broken.trammel"
        broken.write_text('{"format": "trammel-machine", "version": 1, "axes": [{"letter": "X", "kind": "linear", '
                          '"motor": {"type": "stepper", "full_steps": 200, "microsteps": 16}, "stages": '
                          '[{"type": "belt", "driver": 0, "driven": 20}], "output": {"type": "screw", "pitch": "2 mm"}}]}')
        window.open_file(broken)
        check(window.says("axes[0].stages[0].driver"), "a file at fault is refused with the place in it")
        check(window.says("first.trammel · saved"), "and what was open stays open")


def no_saving_into_the_void():
    folder = WORK / "gone"
    folder.mkdir()
    path = folder / "mine.trammel"
    shutil.copy(DEMO, path)
    with Window(path) as window:
        rename(window, "Plover")
        shutil.rmtree(folder)
        window.keys("ctrl+s")
        check(window.says("mine.trammel") and window.says("No such file or directory"), "where saving fails the reason is told")
        check(window.says("unsaved changes"), "the work still counts as unsaved")
        check(window.find("Save as…", 5), "and another place is offered")


def changed_by_another():
    path = machine_file("shared.trammel")
    with Window(path) as window:
        rename(window, "Plover")
        path.write_text(path.read_text().replace('"Heron"', '"Egret"'))
        window.keys("ctrl+s")
        check(window.says("shared.trammel was changed by another program"), "a file that was changed meanwhile is not written over")
        window.keys("Escape")
        check(window.says_no_longer("was changed by another program"), "Escape puts the question away")
        same(load(path)["name"], "Egret", "the file stays as the other program left it")
        window.keys("ctrl+s")
        window.press("Save over it")
        check(wait_for(lambda: load(path)["name"] == "Plover", 5), "unless that is asked for")
        same(load(WORK / "shared.trammel~")["name"], "Egret", "and the other version is kept")
        check(window.says_no_longer("was changed by another program"), "the question is gone")
        rename(window, "Plover 2")
        window.keys("ctrl+s")
        check(wait_for(lambda: load(path)["name"] == "Plover 2", 5), "what was written here is saved again without a question")
        path.write_text(path.read_text().replace('"Plover 2"', '"Egret"'))
        window.keys("ctrl+s")
        window.press("Open it anew")
        check(window.says("Egret") and window.says("shared.trammel · saved"), "the other version can be opened instead")


def guard():
    path, other = machine_file("guarded.trammel"), machine_file("other-one.trammel")
    with Window(path) as window:
        rename(window, "Plover")
        window.keys("ctrl+w")
        check(window.says("“Plover” has changes that are not saved."), "closed with unsaved work, the window asks")
        check(not window.has_ended(1), "and stays")
        window.keys("Escape")
        check(window.says_no_longer("has changes that are not saved"), "Escape means no")
        window.open_file(other)
        check(window.says("has changes that are not saved"), "it asks before another file takes the place")
        check(window.press("Cancel"), "which can be called off")
        check(window.says("guarded.trammel · unsaved changes"), "then all is as it was")
        window.keys("ctrl+n")
        check(window.press("Go on without saving"), "or gone on with")
        check(window.says("not in a file yet"), "to the new machine")
        same(load(path)["name"], "Heron", "with the file as it was")
        window.open_file(path)
        check(window.says("guarded.trammel · saved"), "opened again")
        rename(window, "Plover")
        window.keys("ctrl+q")
        check(window.press("Save"), "it can be saved from the question")
        check(window.has_ended(), "and the window then closes")
        same(load(path)["name"], "Plover", "with the work in the file")


def close_without_saving():
    path = machine_file("discarded.trammel")
    with Window(path) as window:
        rename(window, "Plover")
        window.keys("ctrl+w")
        check(window.press("Close without saving"), "unsaved work can be given up")
        check(window.has_ended(), "the window then closes")
        same(window.process.returncode, 0, "in good order")
        same(load(path)["name"], "Heron", "with the file as it was")
    with Window(path) as window:
        check(window.says("discarded.trammel · saved"), "the next start opens the file")
        check(not window.says("ended unexpectedly", 2), "and offers nothing of what was given up")


new_save_and_save_as()
open_and_recent()
no_saving_into_the_void()
changed_by_another()
guard()
close_without_saving()
done()
