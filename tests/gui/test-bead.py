# SPDX-License-Identifier: GPL-3.0-or-later
"""The calculator of bead and flow beside the test piece, in the real window. Prints TAP. Numbers by hand.

The square's bead of 0.5 × 0.2 mm has (0.5 − 0.2)·0.2 + π/4·0.2² = 0.0914159 mm². Filament of 1.75 mm fed at 2 mm/s flows
at 4.8105638 mm³/s, which lays that bead at 52.623 mm/s; u 0.02 mm of its diameter are twice 1.142857 %, and 1.96 times
that 4.48 % of the speed. 1.24 g of 1.24 g/cm³ in 50 s are 20 mm³/s; at 200 mm/s 0.1 mm²: 0.542920 mm wide."""
from driver import WORK, Window, check, done, load, machine_file, same, speaks_german, text_of, wait_for, write


def choose(window, list_name, steps):
    window.click(window.find(list_name, roles=("combo box",)))
    window.keys(*["Down"] * steps, "Return")


def enter(window, name, text):
    """The square's own parameters have the same names."""
    return window.enter(name, text, inside="Bead and flow")


def piece_of(path):
    return load(path).get("piece") or {}


def opened(path, lang="C.UTF-8"):
    window = Window(path, lang=lang)
    window.keys("alt+2")
    window.press_node(window.find(lambda name: name in ("Bead and flow", "Raupe und Fluss"), roles=("page tab",)))
    return window


def speed_of_a_bead():
    path = machine_file("bead.trammel")
    with opened(path) as window:
        check(window.says("Still wanted: Filament feed."), "what is not typed yet is asked for")
        check(window.says("The hot tip and fresh plastic burn; a pen held on"), "with what can hurt")
        enter(window, "Filament feed", "2")
        check(window.says("This flow lays a bead 0.5 mm wide at 52.623 mm/s."), "the square's own bead, and its speed")
        enter(window, "Filament diameter, standard uncertainty", "0.02")
        check(window.says("at 52.6 ± 2.4 mm/s."), "with what the filament leaves open")
        check(window.says("0.091416 mm²") and window.says("4.81 ± 0.22 mm³/s"), "section and flow are told, too")
        check(window.press("Use this speed"), "it can be used")
        window.keys("ctrl+s")
        check(wait_for(lambda: piece_of(path).get("speed") == "52.623 mm/s", 5), "the test piece has it")
        window.keys("ctrl+z")
        window.keys("ctrl+s")
        check(wait_for(lambda: piece_of(path).get("speed") in (None, "30 mm/s"), 5), "undone, it has its own again")
        enter(window, "Filament feed", "fast")
        check(window.says("found “fast”; a speed in"), "what cannot be read is told at its field")
        check(window.says("Something above cannot be read yet."), "and gives no answer")
        enter(window, "Filament feed", "-2")
        check(window.says("found “-2”; a value above 0 is wanted"), "nor does what is not above 0")
        enter(window, "Filament feed", "2")
        enter(window, "Layer height", "0.6")
        check(window.says("narrower than it is high"), "a bead that cannot be is refused")


def width_of_a_bead():
    path = machine_file("width.trammel")
    with opened(path) as window:
        choose(window, "What is asked of the bead", 1)
        choose(window, "How the flow is known", 2)
        check(window.says("Still wanted: Mass, Density, Time."), "other questions, other fields")
        enter(window, "Mass", "1.24")
        enter(window, "Density", "PLA")
        check(window.says("found “PLA”"), "a name is no density")
        window.click(window.entry("Density"))
        window.keys("ctrl+a")
        window.type("PL")
        window.keys("Down", "Return")
        same(window.text("Density"), "1240 kg/m³", "but the table that opens for it knows one")
        enter(window, "Time", "50")
        enter(window, "Speed", "200")
        check(window.says("At 200 mm/s this flow lays a bead 0.54292 mm wide."), "the width that a speed gives")
        check(window.press("Use this width"), "it can be used")
        window.keys("ctrl+s")
        check(wait_for(lambda: piece_of(path).get("bead_width") == "0.543 mm", 5), "the test piece has it")
        same(piece_of(path).get("speed"), "200 mm/s", "with the speed that was typed for it")
        choose(window, "What is asked of the bead", 1)
        check(window.says("A bead 0.543 mm wide at 200 mm/s takes a flow of"), "from the piece the flow follows again")


def inches():
    path = write(WORK / "inch.trammel", dict(load(machine_file("inch-of.trammel")), display_unit="in"))
    with opened(path) as window:
        enter(window, "Filament feed", "0.1")
        # 2.54 mm/s: 66.831 mm/s are 2.63114 in/s
        check(window.says("lays a bead 0.019685 in wide at 2.6311 in/s."), "bare numbers are inches, and so is the answer")
        window.press("Use this speed")
        window.keys("ctrl+s")
        check(wait_for(lambda: piece_of(path).get("speed") == "2.6311 in/s", 5), "and what the test piece gets")


def comma_locale():
    if not speaks_german():
        return
    with opened(machine_file("komma.trammel"), "de_DE.UTF-8") as window:
        feed = window.entry(lambda name: name in ("Filament feed", "Filamentvorschub"))
        window.click(feed)
        window.type("2,0")
        window.keys("Return")
        check(window.says("52,623 mm/s"), "commas are read and written where the locale has them")
        same(text_of(feed), "2,0", "and left as typed")


speed_of_a_bead()
width_of_a_bead()
inches()
comma_locale()
done()
