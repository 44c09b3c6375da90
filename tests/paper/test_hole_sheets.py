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


def test_rails_drilled_alike_share_a_sheet_with_a_box_each() -> None:
    made = plan(load_job(EXAMPLES / "yard-gate.toml").job, upto="shop")
    titles = [sheet.title for sheet in hole_sheets(desk(made))]
    assert [t for t in titles if "BR" in t] == [
        "Left leaf: holes of A-BR, A-MR1, A-TR",
        "Right leaf: holes of B-BR, B-MR1, B-TR",
    ]


def test_notes_say_of_which_holes_they_are_and_plates_from_where_they_are_seen(
    boathouse: Plan,
) -> None:
    sheets = {sheet.title: sheet for sheet in hole_sheets(desk(boathouse))}
    assert len(sheets) == len(hole_sheets(desk(boathouse))), "no part needs a second sheet"

    def words(title: str) -> str:
        return " ".join(t.text for t in flatten(sheets[title]).items if isinstance(t, Text))

    assert "Holes 2, 4 and 5: Holds the bottom sleeve" in words("Left leaf: holes of A-HS")
    assert sheets["Left leaf: floor plate A-FP"].block.seen_from == "above"
    assert sheets["Left leaf: top plate A-TP"].block.seen_from == "below"
    assert "Dashed: the pin, 1.499 in across" in words("Left leaf: floor plate A-FP")
    # What is drilled alike for both leaves stands once.
    assert "through A-FP and B-FP" in words("Holes drilled in place, in which order")
