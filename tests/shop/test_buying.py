"""What is bought: by count where the job says how it is sold, asked where it does not."""

from __future__ import annotations

import math

import pytest

from leafwright.job.model import FloorPivot, LeafTable
from leafwright.job.mounts import Hold
from leafwright.leaf import Leaf
from leafwright.pipeline import plan
from leafwright.records import Verdict
from leafwright.shop.cut_list import CutList
from leafwright.shop.nest import Nest
from leafwright.shop.pack import Pack
from leafwright.shop.pack.covers import from_a_sheet, sticks_for
from leafwright.shop.seams import Seams
from leafwright.shop.stock import Stock
from tests.shop.packs import FOOT, INCH, POUND, again, items, line_of, made, pack_of


def test_sleeves_and_plates_of_splices_are_on_both_lists() -> None:
    job = made("boathouse").job
    wishes = [
        {"member": "hanging stile", "at": "48 in"},
        {"member": "top rail", "at": "20 in", "by": "plates", "reach": "3 in"},
    ]
    first = LeafTable.model_validate({**job.leaf[0].model_dump(), "splice": wishes})
    whole = plan(job.model_copy(update={"leaf": (first, *job.leaf[1:])}), upto="shop")
    assert isinstance(whole.cuts, CutList) and isinstance(whole.pack, Pack)
    sleeve, plates = whole.cuts.joiners
    assert (sleeve.mark, sleeve.count, plates.mark, plates.count) == ("A-HSs", 1, "A-TRp", 2)
    # Four inches each way by default, three as wished; inside, 2-1/2 less two walls of 3/16.
    assert sleeve.length.value == pytest.approx(8 * INCH)
    assert plates.length.value == pytest.approx(6 * INCH)
    assert sleeve.inside == pytest.approx((2.125 * INCH, 2.125 * INCH))
    lines = {line.what: line for line in whole.pack.buying.lines}
    bought = lines["sleeve to fit inside HSS 2-1/2 x 2-1/2 x 3/16"]
    assert (bought.count, bought.group, bought.mass) == (1, "bar", None)
    assert "2 1/8" in bought.size and "8" in bought.size
    assert lines["plates of splices"].count == 2
    assert "not given" in lines["plates of splices"].why


def test_a_given_sleeve_is_cut_and_nested_and_given_plates_are_weighed() -> None:
    """Sleeve of 2 x 2 x 1/8 tube, 8 in; two plates 1/4 x 2 x 6 in: 0.2836 lb/in3 by hand."""
    job = made("boathouse").job
    wishes = [
        {"member": "hanging stile", "at": "48 in", "section": "HSS 2 x 2 x 1/8"},
        {
            "member": "top rail",
            "at": "20 in",
            "by": "plates",
            "reach": "3 in",
            "width": "1-1/2 in",
            "thickness": "1/4 in",
            "grade": "A36",
        },
    ]
    first = LeafTable.model_validate({**job.leaf[0].model_dump(), "splice": wishes})
    whole = plan(job.model_copy(update={"leaf": (first, *job.leaf[1:])}), upto="shop")
    assert isinstance(whole.cuts, CutList) and isinstance(whole.pack, Pack)
    assert isinstance(whole.stock, Stock) and isinstance(whole.seams, Seams)
    item = next(item for item in whole.cuts.items if "A-HSs" in item.marks)
    assert (item.section.designation, item.roles) == ("HSS 2 x 2 x 1/8", ("sleeve",))
    assert item.length.value == pytest.approx(8 * INCH)
    sticks = next(s for s in whole.stock.sections if s.section.designation == "HSS 2 x 2 x 1/8")
    assert isinstance(sticks.nest, Nest)
    assert [c.key for layout in sticks.nest.layouts for c in layout.cuts] == ["A-HSs"]
    lines = {line.what: line for line in whole.pack.buying.lines}
    assert not any(what.startswith("sleeve to fit") for what in lines)
    plates = lines["plates of splices, A36"]
    assert plates.mass == pytest.approx(2 * 0.25 * 1.5 * 6 * 0.2836 * POUND, rel=1e-3)
    plated = "left/top rail/splice/plate-"
    seams = [s for one in whole.seams.leaves for s in one.frame if s.key.startswith(plated)]
    # A 1/4 in edge takes 3/16 (J2.2b), all round 1-1/2 x 6 in.
    assert [s.size for s in seams] == [pytest.approx(3 / 16 * INCH)] * 2
    assert [s.length for s in seams] == [pytest.approx(15 * INCH)] * 2
    assert all("strong enough is not worked" in s.unknown for s in seams)
    checks = {c.key: c for c in whole.checks}
    fits = checks["left/hanging stile/splice/sleeve"]
    assert fits.verdict is Verdict.OK and fits.available == pytest.approx(2.125 * INCH)
    assert checks["left/top rail/splice"].verdict is Verdict.ASK


@pytest.mark.parametrize(
    ("sleeve", "verdict"),
    [("HSS 2-1/4 x 2-1/4 x 3/16", Verdict.SHORT), ("HSS 1-1/2 x 1-1/2 x 1/8", Verdict.ASK)],
)
def test_a_sleeve_that_does_not_go_in_or_is_loose_is_said(sleeve: str, verdict: Verdict) -> None:
    job = made("boathouse").job
    wish = {"member": "hanging stile", "at": "48 in", "section": sleeve}
    first = LeafTable.model_validate({**job.leaf[0].model_dump(), "splice": [wish]})
    whole = plan(job.model_copy(update={"leaf": (first, *job.leaf[1:])}), upto="proof")
    found = next(c for c in whole.checks if c.key == "left/hanging stile/splice/sleeve")
    assert found.verdict is verdict and found.change


def test_boards_are_counted_with_their_screws() -> None:
    """Boathouse: 4'-10 15/16" is 58.94 in, twelve boards that cover 5-1/8; four panels; two of
    6'-10 1/2" come out of 14 ft; one in ten spare. Two screws at each end of each.
    """
    found = pack_of("boathouse")
    boards = line_of(found, "infill/boards")
    assert boards.count == 4 * 12 // 2 + 3
    assert boards.cost == pytest.approx(27 * 14 * (5.125 / 12) * 9.50, abs=0.01)
    assert boards.mass == pytest.approx(27 * 14 * (5.125 / 12) * (0.75 / 12) * 23 * POUND, rel=1e-6)
    screws = line_of(found, "bolts/screws")
    assert screws.count == 4 * 48 + 20
    # The same go into the van.
    packed_too = {item.what: item.count for item in items(found).values()}
    assert packed_too["screws"] == screws.count and packed_too["boards"] == boards.count


def test_boards_of_which_nothing_is_said_are_asked_and_bought_by_area() -> None:
    job = made("boathouse").job
    tables = tuple(
        table.model_copy(
            update={
                "infill": tuple(
                    i.model_copy(update={"runs": None, "sold_width": None}) for i in table.infill
                )
            }
        )
        for table in job.leaf
    )
    found = again("boathouse", leaf=tables)
    assert line_of(found, "infill/boards").count == 0
    assert any("say runs, sold_width" in asked for asked in found.buying.asked)


def test_a_gate_takes_posts_lugs_caps_and_concrete() -> None:
    """Yard gate: two posts 7'-6 over the ground and 5 ft less 3 in under it; two holes 24 in
    across and 5 ft deep less the posts' 6 x 6 in in them, a tenth over, 0.60 ft3 a bag.
    """
    whole = made("yard-gate")
    assert isinstance(whole.cuts, CutList) and isinstance(whole.stock, Stock)
    item = next(item for item in whole.cuts.items if "gate post" in item.roles)
    assert sorted(item.marks) == ["G-L", "G-R"]
    assert item.length.value == pytest.approx((7.5 + 5.0 - 0.25) * FOOT)
    assert any(use.count == 2 for s in whole.stock.sections for use in s.sticks if s.mass > 340)
    found = pack_of("yard-gate")
    holes = 2 * (math.pi * 1.0**2 * 5.0 - 0.5 * 0.5 * 4.75)
    assert line_of(found, "post/concrete").count == math.ceil(1.1 * holes / 0.60)
    assert line_of(found, "plate/lugs").count == 8
    assert line_of(found, "bolts/cap/posts").count == 2
    assert line_of(found, "bolts/cap/HSS").count == 4
    assert line_of(found, "bolts/turnbuckle").count == 2
    assert line_of(found, "plate/tabs").count == 4
    assert line_of(found, "bolts/latch").count == 2
    assert line_of(found, "bolts/drop rod").count == 2
    ops = [operation.key for operation in found.operations]
    assert ops.index("ground") < ops.index("stand")


def test_a_post_of_no_known_depth_is_asked_and_not_cut() -> None:
    job = made("yard-gate").job
    assert job.post is not None
    short = job.post.model_copy(update={"footing_depth": None})
    whole = plan(job.model_copy(update={"post": short}), upto="shop")
    assert isinstance(whole.cuts, CutList) and isinstance(whole.pack, Pack)
    assert not any("gate post" in item.roles for item in whole.cuts.items)
    asked = " ".join(whole.pack.buying.asked)
    assert "footing_depth or buried" in asked and "concrete of the footings" in asked


def test_zinc_is_paid_by_weight_and_paint_by_what_it_covers() -> None:
    gate, doors = pack_of("yard-gate"), pack_of("boathouse")
    leaves = [leaf for leaf in made("yard-gate").leaves if isinstance(leaf, Leaf)]
    mass = sum(leaf.lift_mass for leaf in leaves)
    assert line_of(gate, "finish/galvanizing").cost == pytest.approx(mass / POUND * 0.85)
    assert not any(line.key.startswith("finish/p") for line in gate.buying.lines)
    # Boathouse: tubes of the leaves alone, four sides of 2-1/2 in; 300 ft2 to a gallon.
    long = sum(
        member.length.value
        for leaf in made("boathouse").leaves
        if isinstance(leaf, Leaf)
        for member in leaf.members
    )
    square_feet = long * 10 * INCH / FOOT**2
    paint = line_of(doors, "finish/paint")
    assert f"on {square_feet:.0f} ft²" in paint.why
    assert paint.count == 1 and 2 * square_feet / 300 < 1 < 4 * 2 * square_feet / 300


def test_gas_by_the_day_is_hired_and_not_without_a_price() -> None:
    found = pack_of("boathouse").buying
    gas = next(line for line in found.lines if line.key == "welding/gas")
    assert gas.hired and gas.price == "18 /day" and gas.cost is None
    assert not any("gas" in name for name in found.unpriced)
    assert any("18 /day" in name for name in found.hired)
    shown = sum(round(line.cost or 0.0, 2) for line in found.lines)
    assert found.cost == pytest.approx(shown, abs=1e-9)


@pytest.mark.parametrize(
    ("lengths", "sold", "count"),
    [([2.0] * 5, 4.1, 3), ([3.0, 1.0, 1.0], 4.1, 2), ([4.0], 4.0, 1)],
)
def test_pieces_come_out_of_sold_lengths(lengths: list[float], sold: float, count: int) -> None:
    assert sticks_for(lengths, sold, 0.004) == count


def test_pieces_come_out_of_a_sheet_whichever_way_gives_more() -> None:
    # From 4 x 10 ft: one of 9'-10 x 3'-0; two of 58.9 x 45 in; none of 5 x 11 ft.
    assert from_a_sheet(118 * INCH, 36 * INCH, 4 * FOOT, 10 * FOOT) == 1
    assert from_a_sheet(58.9 * INCH, 45 * INCH, 4 * FOOT, 10 * FOOT) == 2
    assert from_a_sheet(5 * FOOT, 11 * FOOT, 4 * FOOT, 10 * FOOT) == 0


def test_nothing_that_a_bare_job_lacks_is_left_out_in_silence() -> None:
    """A job of only what must be said: each part that cannot be sized is asked by its key."""
    job = made("boathouse").job
    bare = FloorPivot.model_validate({"kind": "floor pivot"})
    tables = tuple(
        table.model_copy(update={"mount": bare, "hold": Hold(), "finish": "unknown"})
        for table in job.leaf
    )
    building = job.building.model_copy(update={"anchor": None})
    asked = " ".join(again("boathouse", leaf=tables, building=building).buying.asked)
    for key in (
        "plate",
        "pin_diameter",
        "bottom_pin_length",
        "slug_length",
        "ball_diameter",
        "sleeve_length",
        "top_fixed",
        "[building.anchor]",
        "say shut",
        "say open",
        "stop_out",
        "finish",
    ):
        assert key in asked, key
    full = pack_of("boathouse").buying.asked
    assert not any("in their" in one for one in full)


def test_hinges_of_no_known_pin_are_still_on_the_list() -> None:
    job = made("yard-gate").job
    tables = tuple(
        table.model_copy(update={"mount": table.mount.model_copy(update={"pin_diameter": None})})
        for table in job.leaf
    )
    found = again("yard-gate", leaf=tables)
    assert line_of(found, "bar/barrel hinge").count == 4
    assert any("pin_diameter" in asked for asked in found.buying.asked)
