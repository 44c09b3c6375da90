"""Infill covers the leaf once a face, and weighs what its pieces weigh."""

from __future__ import annotations

import math
from typing import Any

import pytest
from shapely.geometry import box
from shapely.ops import unary_union

from leafwright.job.model import Infill
from leafwright.job.steel import STEEL_DENSITY
from leafwright.leaf import Leaf, design_leaf
from leafwright.leaf.infill import areal_mass
from leafwright.records import Held
from tests.leaves import INCH, STEEL, made, place, random_leaf, table
from tests.sizes import cases

SHEET = {"kind": "sheet", "thickness": "2 mm"}


def held(**wishes: Any) -> Held:
    leaf = design_leaf(place(1.2, 3.0), table(**wishes), STEEL, system="metric", pair=True)
    assert isinstance(leaf, Held)
    return leaf


@pytest.mark.parametrize("on", ["face", "back", "both"])
@pytest.mark.parametrize("seed", range(cases(25, 500)))
def test_pieces_of_one_face_tile_the_leaf(seed: int, on: str) -> None:
    _, _, leaf = random_leaf(seed, infill=[{**SHEET, "on": on}])
    faces = {piece.face for piece in leaf.infill}
    assert faces == ({"face", "back"} if on == "both" else {on})
    for face in faces:
        pieces = [p for p in leaf.infill if p.face == face]
        boxes = [box(p.left, p.bottom, p.right, p.top) for p in pieces]
        assert len(pieces) == len(leaf.panels)
        assert sum(b.area for b in boxes) == pytest.approx(leaf.width * leaf.height)
        assert unary_union(boxes).area == pytest.approx(leaf.width * leaf.height)
        for piece, drawn in zip(pieces, boxes, strict=True):
            panel = leaf.panels[piece.panel - 1]
            assert drawn.covers(box(panel.left, panel.bottom, panel.right, panel.top))
            assert piece.area == pytest.approx(drawn.area)
            assert piece.mass == pytest.approx(drawn.area * 0.002 * STEEL_DENSITY)


def test_neighbours_meet_on_the_middle_of_the_mid_rail() -> None:
    _, _, leaf = made(1.2, 3.0, mid_rail=[{"height": "1.0 m"}], infill=[SHEET])
    assert leaf.infill[0].top == pytest.approx(1.0)
    assert leaf.infill[1].bottom == pytest.approx(1.0)


def test_one_panel_alone_is_covered_where_it_is_named() -> None:
    _, _, leaf = made(1.2, 3.0, mid_rail=[{"height": "1.0 m"}], infill=[{**SHEET, "panel": 2}])
    assert [(p.panel, p.face) for p in leaf.infill] == [(2, "back")]
    assert leaf.infill[0].key == "leaf/sheet-2-back"


def test_hung_leaf_is_its_frame_and_its_infill() -> None:
    bare = made(1.2, 3.0)[2]
    _, _, leaf = made(1.2, 3.0, mid_rail=[], infill=[{**SHEET, "on": "both"}])
    sheets = 2 * 1.2 * 3.0 * 0.002 * STEEL_DENSITY
    assert leaf.lift_mass == bare.lift_mass
    assert leaf.hung_mass == pytest.approx(bare.lift_mass + sheets)
    # Frame and sheets are both symmetric: neither moves the centre.
    assert leaf.centre == pytest.approx((0.6, 1.5), abs=1e-9)


def test_infill_of_one_panel_draws_the_centre_to_it() -> None:
    _, _, leaf = made(1.2, 3.0, mid_rail=[{"height": "1.0 m"}], infill=[{**SHEET, "panel": 1}])
    sheet = leaf.infill[0]
    y = (leaf.lift_mass * leaf.lift_centre[1] + sheet.mass * 0.5) / leaf.hung_mass
    assert leaf.centre == pytest.approx((0.6, y), abs=1e-9)


def test_mesh_weighs_its_wires() -> None:
    # A square metre holds 1/(opening + wire) wires a metre long each way.
    mesh = Infill.model_validate({"kind": "mesh", "opening": "46 mm", "wire": "4 mm"})
    wires = 2 / 0.050
    weight = wires * math.pi / 4 * 0.004**2 * STEEL_DENSITY
    assert areal_mass(mesh) == pytest.approx(weight)
    assert weight == pytest.approx(3.945, abs=0.001)


@pytest.mark.parametrize(
    ("wish", "mass"),
    [
        ({"kind": "mesh", "mass_per_area": "3.2 kg/m2"}, 3.2),
        ({"kind": "sheet", "thickness": "3 mm"}, 0.003 * STEEL_DENSITY),
        ({"kind": "sheet", "thickness": "3 mm", "density": "2700 kg/m3"}, 8.1),
        ({"kind": "boards", "thickness": "25 mm", "density": "480 kg/m3"}, 12.0),
        # What is weighed outright goes before what could be worked out.
        ({"kind": "sheet", "thickness": "3 mm", "mass_per_area": "20 kg/m2"}, 20.0),
    ],
)
def test_infill_weighs_what_is_known_of_it(wish: dict[str, str], mass: float) -> None:
    assert areal_mass(Infill.model_validate(wish)) == pytest.approx(mass)


@pytest.mark.parametrize(
    ("wish", "why", "needs"),
    [
        (
            {"kind": "mesh", "opening": "50 mm"},
            "the mesh cannot be weighed",
            "its opening and wire, or mass_per_area",
        ),
        (
            {"kind": "boards", "thickness": "25 mm"},
            "the boards cannot be weighed",
            "its density, or mass_per_area",
        ),
        (
            {"kind": "panel"},
            "the panel cannot be weighed",
            "its thickness, or mass_per_area",
        ),
        (
            {**SHEET, "panel": 2},
            "there is no panel 2 for the sheet",
            "a panel from 1 (the lowest) to 1",
        ),
    ],
)
def test_infill_that_cannot_be_weighed_or_placed_is_held(
    wish: dict[str, Any], why: str, needs: str
) -> None:
    assert held(infill=[wish]) == Held(why, (needs,))


def test_one_kind_twice_on_one_face_is_held() -> None:
    found = held(infill=[SHEET, {**SHEET, "panel": 1}])
    assert found.why == "sheet is put on the back of panel 1 twice"


def test_two_kinds_on_one_face_are_both_weighed() -> None:
    mesh = {"kind": "mesh", "mass_per_area": "4 kg/m2", "wire": "4 mm"}
    leaf = made(1.2, 3.0, infill=[SHEET, mesh])[2]
    assert isinstance(leaf, Leaf)
    assert {p.kind for p in leaf.infill} == {"sheet", "mesh"}
    assert leaf.hung_mass - leaf.lift_mass == pytest.approx(3.6 * (0.002 * STEEL_DENSITY + 4))
    # Two wires of the mesh lie over one another.
    assert {p.thickness for p in leaf.infill} == {0.002, 0.008}


def test_cladding_of_both_faces_of_the_reference_leaf() -> None:
    # Two faces of 10 mm twin-wall at 1.7 kg/m2 weigh about 37 lb on 44 x 174 in (weight a square
    # metre: common practice, no source).
    clad = {"kind": "panel", "on": "both", "thickness": "10 mm", "mass_per_area": "1.7 kg/m2"}
    _, _, leaf = made(44 * INCH, 174 * INCH, infill=[clad])
    assert (leaf.hung_mass - leaf.lift_mass) / 0.45359237 == pytest.approx(37, abs=0.5)
