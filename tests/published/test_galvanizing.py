"""Vents and drains for the zinc bath, as galvanizers publish them for their customers."""

from __future__ import annotations

import math

import pytest

from leafwright.handbook.galvanizing import rail_vent_hole, vent_hole

INCH, MM = 0.0254, 1e-3

# A galvanizer's sheet after EN ISO 14713-2, read at mostostal.siedlce.pl, "size of holes": inside
# of the tube [mm], holes at each end, least diameter [mm].
SHEET = (
    (15, 15, 1, 8),
    (20, 10, 1, 8),
    (30, 30, 2, 10),
    (40, 20, 2, 10),
    (40, 40, 1, 14),
    (50, 30, 2, 12),
    (60, 60, 1, 20),
    (60, 60, 4, 10),
    (80, 40, 2, 12),
    (100, 60, 1, 25),
    (100, 100, 2, 25),
    (160, 80, 4, 18),
    (200, 200, 1, 80),
    (400, 200, 2, 100),
)


@pytest.mark.parametrize(("u", "v", "holes", "least"), SHEET)
def test_sheet_of_a_galvanizer(u: float, v: float, holes: int, least: float) -> None:
    """Source: the sheet that is named above, row by row."""
    assert vent_hole(u * MM, v * MM, 2.8, holes=holes) == pytest.approx(least * MM)
    assert vent_hole(v * MM, u * MM, 1.0, holes=holes) == pytest.approx(least * MM)


def test_long_tubes_have_thirty_percent_of_their_inside() -> None:
    """Source: the note under the same sheet, for tubes over 2.8 m; worked by hand.

    40 x 40 mm inside: 30 % of 1600 mm² is 480 mm², 240 mm² for each of two holes: 17.5 mm.
    """
    assert vent_hole(40 * MM, 40 * MM, 3.0, holes=2) == pytest.approx(17.48 * MM, abs=0.01 * MM)
    # 60 x 10 mm inside: the share is 90 mm² each, 10.7 mm: the table's 12 stands.
    assert vent_hole(60 * MM, 10 * MM, 6.0) == pytest.approx(12 * MM)
    # 60 x 20 mm inside, two holes: the share is 180 mm² each, 15.1 mm, over the table's 12.
    assert vent_hole(60 * MM, 20 * MM, 6.0) == pytest.approx(math.sqrt(4 * 180 / math.pi) * MM)


def test_rails_of_pipe() -> None:
    """Source: the American galvanizers' page on handrail, after ASTM A385, read.

    Each outside vent is 25 % of the pipe's inside diameter, no less than 3/8 in.
    """
    assert rail_vent_hole(2.067 * INCH) == pytest.approx(0.51675 * INCH)
    assert rail_vent_hole(1.049 * INCH) == pytest.approx(3 / 8 * INCH)


def test_what_the_sheet_does_not_have_is_refused() -> None:
    with pytest.raises(ValueError, match="the table has 1, 2 and 4"):
        vent_hole(0.05, 0.05, 1.0, holes=3)
    with pytest.raises(ValueError, match="fewer"):
        vent_hole(0.015, 0.015, 1.0, holes=2)
    with pytest.raises(ValueError, match="ask the galvanizer"):
        vent_hole(0.5, 0.5, 1.0)
    with pytest.raises(ValueError, match="more than 0"):
        rail_vent_hole(0.0)
