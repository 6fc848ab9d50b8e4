# SPDX-License-Identifier: GPL-3.0-or-later
"""What the fit is said to have found: warnings in the display unit, what cannot be, and what would help."""
from command import machine, main, reading, run, written

# One reading 2.54 mm too great among ones that agree to hundredths
ROWS = [reading("travel", "X", nominal, measured, u=0.02)
        for nominal, measured in ((100, 100.01), (80, 80.0), (60, 59.99), (50, 50.01), (40, 39.99), (30, 32.54), (20, 20.0))]


def words(readings, *options, **changes):
    return run("adjust", written("words.trammel", machine(readings=readings, **changes)), *options).out


def test_a_suspect_is_told_in_the_display_unit():
    # 30/25.4 and 32.54/25.4
    assert "Row 6 (Travel X 1.1811 in, measured 1.2811 in)" in words(ROWS, display_unit="in")
    assert "Row 6 (Travel X 30 mm, measured 32.54 mm)" in words(ROWS)


def test_a_suspect_along_a_rotary_axis_is_told_in_degrees():
    rows = [dict(row, along="C") for row in ROWS]
    axes = machine()["axes"]
    axes[0] = dict(axes[0], letter="C", kind="rotary", travel="360 deg", output={"type": "table"})
    assert "Row 6 (Travel C 30°, measured 32.54°)" in words(rows, axes=axes, display_unit="in")


def test_one_gross_reading_is_named_as_the_cause_of_the_scatter():
    text = words(ROWS)
    assert "p below 0.0001" in text and "e-" not in text and "10⁻" not in text, text
    assert "The suspect row may be all there is to that scatter" in text
    robust = words(ROWS, "--robust")
    assert "may be all there is" not in robust


def test_readings_that_merely_scatter_are_not_blamed_on_one():
    # ± 0.1 mm by turns, where 0.02 mm is stated
    rows = [reading("travel", "X", nominal, nominal + (0.1 if i % 2 else -0.1), u=0.02)
            for i, nominal in enumerate((100, 90, 80, 70, 60, 50, 40, 30))]
    text = words(rows)
    assert "scatter more than their uncertainties say" in text
    assert "may be all there is" not in text


def lash(*reversed_):
    forward = [reading("travel", "X", 100, 100, u=0.01, approach="+") for _ in range(4)]
    return words(forward + [reading("travel", "X", 100, measured, u=0.01, approach="reversed") for measured in reversed_])


def test_play_that_gains_is_called_impossible():
    text = lash(100.5, 100.5, 100.5)
    assert "X seems to gain 0.50" in text and "mm on every reversal" in text, text
    assert "approach" in text


def test_play_is_told():
    assert "X loses 0.50" in lash(99.5, 99.5, 99.5)
    assert "X loses nothing on reversal that these readings could tell" in lash(100, 100, 100)


def test_an_instrument_nobody_described_is_told_in_the_display_unit():
    # 0.05 mm over 25.4
    rows = [dict(reading("travel", "X", 100, 100), instrument="odd one")]
    assert "“odd one” is not described; its readings count with u = 0.00197 in." in words(rows, display_unit="in")


main(globals())
