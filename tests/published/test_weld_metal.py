"""Metal in a weld by geometry against a handbook's table, and positions by AWS's figures."""

from __future__ import annotations

import math

import pytest

from leafwright.handbook import weld_metal
from leafwright.handbook.weld_positions import Position, iso_position, weld_position

INCH, FOOT, LB = 0.0254, 0.3048, 0.45359237
FLAT, HORIZONTAL = Position.FLAT, Position.HORIZONTAL
VERTICAL, OVERHEAD = Position.VERTICAL, Position.OVERHEAD


# Read in a filler metal handbook's table, "weight per foot of weld metal", triangle of 45° and
# rectangles; it prints three decimals. The first four again as 0.2836 lb/in3 gives them.
@pytest.mark.parametrize(
    ("leg", "pounds_a_foot", "exactly"),
    [
        (1 / 8, 0.027, 0.0266),
        (3 / 16, 0.060, 0.0598),
        (1 / 4, 0.106, 0.1064),
        (5 / 16, 0.166, 0.1662),
        (3 / 8, 0.239, 0.2393),
        (1 / 2, 0.425, 0.4254),
    ],
)
def test_fillet_by_the_foot(leg: float, pounds_a_foot: float, exactly: float) -> None:
    """Published: the handbook's table, to its third decimal."""
    found = weld_metal.deposit_mass(weld_metal.fillet_area(leg * INCH), FOOT) / LB
    assert found == pytest.approx(pounds_a_foot, abs=0.0006)
    assert found == pytest.approx(exactly, rel=0.003)


@pytest.mark.parametrize(
    ("root", "depth", "pounds_a_foot"),
    [(1 / 16, 1 / 8, 0.027), (1 / 8, 1 / 4, 0.106), (1 / 8, 1 / 2, 0.212), (1 / 4, 1 / 2, 0.425)],
)
def test_square_groove_by_the_foot(root: float, depth: float, pounds_a_foot: float) -> None:
    """Published: the same table's rectangles, gap by thickness; it drops what it does not print."""
    area = weld_metal.square_groove_area(root * INCH, depth * INCH)
    assert weld_metal.deposit_mass(area, FOOT) / LB == pytest.approx(pounds_a_foot, abs=0.001)


def test_round_corner_filled_flush() -> None:
    """Read: the area left in the corner of a square by a quarter circle is 0.2146 R² (tables)."""
    assert weld_metal.flare_bevel_area(2.0) == pytest.approx(0.2146 * 4.0, rel=1e-4)


def test_fillet_in_a_sharp_corner() -> None:
    """By hand: two legs of 1 with 30° between them make a triangle of 1/4."""
    assert weld_metal.fillet_area(1.0, math.radians(30.0)) == pytest.approx(0.25)


def test_plug_and_root() -> None:
    """By hand: a 9/16 in hole has 0.2485 in2; D1.1:2020, Figure 5.2 (read): root t/2 at least."""
    assert weld_metal.plug_volume(9 / 16, 3 / 16) == pytest.approx(0.2485 * 0.1875, rel=1e-3)
    assert weld_metal.square_groove_root(3 / 16 * INCH) == pytest.approx(3 / 32 * INCH)


# Inclination of the axis, rotation of the face from straight down [degrees].
@pytest.mark.parametrize(
    ("inclination", "rotation", "position"),
    [
        (0, 180, FLAT),
        (15, 150, FLAT),
        (0, 149, HORIZONTAL),
        (15, 80, HORIZONTAL),
        (0, 79, OVERHEAD),
        (0, 0, OVERHEAD),
        (16, 180, VERTICAL),
        (80, 79, OVERHEAD),
        (80, 81, VERTICAL),
        (81, 0, VERTICAL),
        (90, 90, VERTICAL),
    ],
)
def test_positions_of_grooves(inclination: int, rotation: int, position: Position) -> None:
    """Published: AWS D3.6, Figure 5.1 (read second-hand; it repeats D1.1's)."""
    lie = (math.radians(inclination), math.radians(rotation))
    assert weld_position(*lie, fillet=False) is position


@pytest.mark.parametrize(
    ("inclination", "rotation", "position"),
    [(0, 180, FLAT), (0, 135, HORIZONTAL), (90, 90, VERTICAL), (0, 0, OVERHEAD)],
)
def test_main_positions_of_fillets(inclination: int, rotation: int, position: Position) -> None:
    """Read, civilengineeringx.com, Welding Positions: flat with the face nearly level, horizontal
    with it about 45° from level and upright, vertical by its axis, overhead from below."""
    lie = (math.radians(inclination), math.radians(rotation))
    assert weld_position(*lie, fillet=True) is position


@pytest.mark.parametrize(
    ("inclination", "rotation", "position"),
    [
        (15, 150, FLAT),
        (0, 149, HORIZONTAL),
        (0, 125, HORIZONTAL),
        (0, 124, OVERHEAD),
        (16, 180, VERTICAL),
        (80, 124, OVERHEAD),
        (81, 0, VERTICAL),
    ],
)
def test_where_positions_of_fillets_end(
    inclination: int, rotation: int, position: Position
) -> None:
    """From memory: D1.1's figure of fillets."""
    lie = (math.radians(inclination), math.radians(rotation))
    assert weld_position(*lie, fillet=True) is position


def test_letters_of_iso() -> None:
    """Read: a page's list of PA flat, PB horizontal vertical, PC, PD, PE overhead, PF up."""
    letters = [iso_position(p, fillet=True) for p in (FLAT, HORIZONTAL, VERTICAL, OVERHEAD)]
    assert letters == ["PA", "PB", "PF", "PD"]
    letters = [iso_position(p, fillet=False) for p in (FLAT, HORIZONTAL, VERTICAL, OVERHEAD)]
    assert letters == ["PA", "PC", "PF", "PE"]


def test_what_cannot_be_is_refused() -> None:
    """No value from outside: refusals."""
    for wrong in (
        lambda: weld_metal.fillet_area(0.0),
        lambda: weld_metal.fillet_area(1.0, math.pi),
        lambda: weld_metal.square_groove_area(-1.0, 1.0),
        lambda: weld_metal.deposit_mass(-1.0, 1.0),
        lambda: weld_position(2.0, 0.0, fillet=True),
        lambda: weld_position(0.0, 4.0, fillet=True),
    ):
        with pytest.raises(ValueError, match="must"):
            wrong()
