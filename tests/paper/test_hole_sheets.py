"""The hole schedule on paper, and the plates for the cutting machine."""

from __future__ import annotations

import io
from typing import Any

import pytest

from leafwright.job.file import load_job
from leafwright.paper.dxf import dxf_text
from leafwright.paper.scale import FULL_SIZE
from leafwright.paper.scene import Text
from leafwright.paper.sheet import flatten
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.hole_plates import cutting_drawing
from leafwright.paper.sheets.holes import hole_sheets
from leafwright.pipeline import Plan, plan
from leafwright.records import Held
from tests.shop.test_holes import EXAMPLES

INCH = 0.0254


@pytest.fixture(scope="module")
def boathouse() -> Plan:
    return plan(load_job(EXAMPLES / "boathouse.toml").job, upto="shop")


def test_every_hole_stands_on_a_sheet_of_its_own_hand(boathouse: Plan) -> None:
    assert not isinstance(boathouse.holes, Held)
    sheets = hole_sheets(desk(boathouse))
    words = [
        (sheet.title, " ".join(t.text for t in flatten(sheet).items if isinstance(t, Text)))
        for sheet in sheets
    ]
    by_hand = {
        hand: " ".join(w for title, w in words if title.startswith(hand))
        for hand in ("Left", "Right")
    }
    marked = [(part.mark, part.hand) for part in boathouse.holes.parts]
    marked += [(plate.mark, plate.hand) for plate in boathouse.holes.plates]
    for mark, owner in marked:
        hand, other = ("Left", "Right") if owner == "left" else ("Right", "Left")
        assert mark in by_hand[hand]
        assert mark not in by_hand[other]
    assert any("Test square: 4 in each way" in w for _, w in words)


def test_a_plate_for_the_machine_has_its_outline_and_holes_at_true_size(boathouse: Plan) -> None:
    import ezdxf

    assert not isinstance(boathouse.holes, Held)
    plate = next(p for p in boathouse.holes.plates if p.key == "left/floor plate")
    text = dxf_text(cutting_drawing(plate), units="in", scale=FULL_SIZE)
    space: Any = ezdxf.read(io.StringIO(text)).modelspace()  # type: ignore[attr-defined]
    cut = [e for e in space if e.dxf.layer == "cut"]
    holes = [e for e in cut if e.dxftype() == "CIRCLE"]
    # 9 x 6 in, four holes of 5/8 in, 1 in from the edges (by hand).
    spots = {(round(e.dxf.center.x, 6), round(e.dxf.center.y, 6)) for e in holes}
    assert spots == {(1.0, 1.0), (8.0, 1.0), (1.0, 5.0), (8.0, 5.0)}
    assert all(e.dxf.radius == pytest.approx(0.3125) for e in holes)
    outline = next(e for e in cut if e.dxftype() == "LWPOLYLINE")
    xs = [p[0] for p in outline.get_points()]
    ys = [p[1] for p in outline.get_points()]
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((9.0, 6.0))
    assert {e.dxf.layer for e in space} <= {"cut", "mark", "note"}
