"""Welding symbols: which side of which line, what stands left and right; numbers round a picture.

The rules were read in open guides to AWS A2.4:2020 and ISO 2553:2019.
"""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import pytest

from leafwright.paper.beside import clipped, crosses, placed_round, slots_round
from leafwright.paper.inspect import defects
from leafwright.paper.scene import Arc, Box, Circle, Fill, Line, Polyline, Scene, Text
from leafwright.paper.weld_symbols import Kind, WeldMark, mark_width, weld_mark

AT = (20.0, 20.0)
KINDS: tuple[Kind, ...] = ("fillet", "flare-bevel", "flare-V", "square groove", "plug")


def sign(mark: WeldMark) -> list[tuple[float, float]]:
    """Return the corners of a fillet's or plug's sign."""
    return [
        p
        for item in weld_mark(AT, mark)
        if isinstance(item, Polyline) and item.closed
        for p in item.points
    ]


@pytest.mark.parametrize("kind", ["fillet", "plug"])
def test_aws_has_the_arrow_side_under_its_line(kind: Kind) -> None:
    """AWS: below the line the arrow's side, above it the other, whichever way the arrow points."""
    under = sign(WeldMark(kind))
    assert max(y for _, y in under) == AT[1]
    over = sign(WeldMark(kind, side="other"))
    assert min(y for _, y in over) == AT[1]


def test_iso_has_the_arrow_side_on_the_unbroken_line() -> None:
    """ISO, system A: the arrow's side on the unbroken line, the other on the dashed one."""
    mark = WeldMark("fillet", "z3", standard="ISO")
    assert min(y for _, y in sign(mark)) == AT[1]
    lines = [i for i in weld_mark(AT, mark) if isinstance(i, Line) and i.a[1] == i.b[1]]
    unbroken = [i for i in lines if i.a[1] == AT[1]]
    dashed = [i for i in lines if i.a[1] < AT[1]]
    assert len(unbroken) == 1
    assert len(dashed) > 3
    other = sign(replace(mark, side="other"))
    assert max(y for _, y in other) == dashed[0].a[1]


@pytest.mark.parametrize("standard", ["AWS", "ISO"])
@pytest.mark.parametrize("side", ["arrow", "other"])
def test_size_left_length_right_and_the_upright_leg_left(standard: str, side: str) -> None:
    mark = WeldMark(
        "fillet",
        "3/16",
        "2 1/2",
        side="arrow" if side == "arrow" else "other",
        standard="AWS" if standard == "AWS" else "ISO",
    )
    items = weld_mark(AT, mark)
    corners = sign(mark)
    left = min(x for x, _ in corners)
    assert sum(abs(x - left) < 1e-9 for x, _ in corners) == 2
    words = {item.text: item.at[0] for item in items if isinstance(item, Text)}
    assert words["3/16"] < left < max(x for x, _ in corners) < words["2 1/2"]


def test_circle_flag_flush_and_tail() -> None:
    items = weld_mark(AT, WeldMark("plug", "9/16", all_round=True, field=True, flush=True))
    assert [i.centre for i in items if isinstance(i, Circle)] == [AT]
    flags = [i for i in items if isinstance(i, Fill) and max(y for _, y in i.points) > AT[1] + 2]
    assert len(flags) == 1
    assert "G" in [i.text for i in items if isinstance(i, Text)]
    ground = weld_mark(AT, WeldMark("fillet", "z3", flush=True, tail="ground", standard="ISO"))
    assert [i.text for i in ground if isinstance(i, Text)] == ["z3", "ground"]


def test_flare_bevel_is_a_line_and_a_curve() -> None:
    items = weld_mark(AT, WeldMark("flare-bevel", "(7/64)"))
    (curve,) = (i for i in items if isinstance(i, Arc))
    # It leaves the line upright, hanging under it, and flares to the right.
    assert curve.centre[1] == AT[1]
    assert sum(isinstance(i, Arc) for i in weld_mark(AT, WeldMark("flare-V"))) == 2


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_in_a_symbol_touches_anything_else(kind: Kind) -> None:
    for standard, side, flush in itertools.product(("AWS", "ISO"), ("arrow", "other"), (0, 1)):
        mark = WeldMark(
            kind,
            "(0.109)",
            "2 3/16",
            side="arrow" if side == "arrow" else "other",
            all_round=bool(flush),
            field=True,
            flush=bool(flush),
            tail="GMAW",
            standard="AWS" if standard == "AWS" else "ISO",
        )
        page = Box(0.0, 0.0, 30.0 + mark_width(mark), 40.0)
        scene = Scene("symbol", page.width, page.height, page, page, weld_mark(AT, mark))
        assert defects(scene) == []


@pytest.mark.parametrize("seed", range(6))
def test_numbers_round_a_picture_have_lines_that_do_not_cross(seed: int) -> None:
    rng = random.Random(seed)
    box = Box(0.0, 0.0, 60.0, 60.0)
    targets = [(rng.uniform(5, 55), rng.uniform(5, 55)) for _ in range(10)]
    places = placed_round(targets, slots_round(box, apart=6.4, air=6.0))
    assert len(set(places)) == len(places)
    lines = list(zip(targets, places, strict=True))
    for (a, b), (c, d) in itertools.combinations(lines, 2):
        assert not crosses(a, b, c, d)
    with pytest.raises(ValueError, match="only 2 places"):
        placed_round(targets, slots_round(box, apart=6.4, air=6.0)[:2])


def test_a_line_is_cut_at_a_box() -> None:
    box = Box(0.0, 0.0, 10.0, 10.0)
    assert clipped((-5.0, 5.0), (15.0, 5.0), box) == ((0.0, 5.0), (10.0, 5.0))
    assert clipped((-5.0, 12.0), (15.0, 12.0), box) is None
