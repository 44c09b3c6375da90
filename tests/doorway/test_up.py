"""Up the opening: one line that all leaves stand on, packing, head, transom and its taper."""

from __future__ import annotations

import random
from typing import Any

import pytest

from leafwright import chain
from leafwright.doorway import allowances
from leafwright.records import Held, Verdict
from tests.doorway.doorways import (
    BUILDING,
    PIVOT,
    TUBE,
    check,
    fitted,
    gap,
    leaf,
    made,
    pair,
    placed,
    random_wishes,
    square,
)
from tests.doorway.test_across import metres, wide_marks
from tests.sizes import cases
from tests.survey.openings import distance, floor, level, rise, true_readings

DEPTH = 2 * 0.0254  # of TUBE


def test_leaves_stand_on_the_highest_line_that_any_of_them_needs() -> None:
    rng = random.Random(71)
    for _ in range(cases(25, 500)):
        marks = wide_marks(rng)
        leaves, wishes = random_wishes(rng)
        drop = rng.choice([0.0, 0.003])
        points = {hand: rng.uniform(-0.02, 0.03) for hand in ("left", "right")}
        readings = true_readings(marks)
        readings += [floor(hand, height, out="500 mm") for hand, height in points.items()]
        found = fitted(readings, leaves, allowances(drop, 0.0, "made up"), **wishes)
        # Default plate and spacer 12 mm each, default gap 12 mm: metric.
        stands = {}
        for table in leaves:
            spacer = metres(table["mount"].get("spacer", "12 mm"))
            foot = marks["BL" if table["hand"] == "left" else "BR"][1]
            stands[table["hand"]] = foot + 0.012 + spacer
        over = [marks["BL"][1], marks["BR"][1], *(points[table["hand"]] for table in leaves)]
        floor_gap = metres(wishes.get("bottom_gap", "12 mm"))
        line = max(*stands.values(), max(over) + floor_gap + drop)
        for place in found.leaves:
            assert place.bottom.value == pytest.approx(line, abs=1e-8)
            assert place.packing is not None
            assert place.packing.value == pytest.approx(line - stands[place.hand], abs=1e-8)
            assert place.packing.value >= 0.0
        tops = {place.bottom.value + place.height.value for place in found.leaves}
        assert len(tops) == 1
        assert gap(found, "doorway/floor clearance") == pytest.approx(
            line - max(over) - drop, abs=1e-8
        )
        assert gap(found, "doorway/deepest gap") == pytest.approx(line - min(over), abs=1e-8)
        # The leaves are set once: what they have over what they need is held to the floor's band.
        (clear,) = (g for g in found.gaps if g.key == "doorway/floor clearance")
        sure = clear.value - floor_gap > clear.band - 1e-9
        expected = Verdict.OK if sure else Verdict.TIGHT
        assert check(found, "doorway/floor clearance").verdict is expected


def test_head_gap_and_transom_take_what_the_leaf_leaves() -> None:
    rng = random.Random(72)
    for _ in range(cases(25, 500)):
        marks = wide_marks(rng)
        leaves, wishes = random_wishes(rng)
        found = fitted(true_readings(marks), leaves, **wishes)
        (bottom, height) = (found.leaves[0].bottom.value, found.leaves[0].height.value)
        top_gap = metres(wishes.get("top_gap", "12 mm"))
        transom = wishes.get("transom")
        depth = DEPTH if transom and "section" in transom else 0.0
        head = min(marks["TL"][1], marks["TR"][1])
        assert found.height is not None
        assert found.height.value == pytest.approx(head - bottom, abs=1e-8)
        line = bottom + height + top_gap
        if "leaf_height" not in wishes:
            shim = metres(transom.get("shim", "12 mm")) if transom else 0.0
            assert height == pytest.approx(head - bottom - top_gap - depth - shim, abs=1e-8)
        else:
            assert height == pytest.approx(1.5)
        made_of = found.transom
        assert made_of is not None
        assert made_of.section == (TUBE if depth else None)
        assert made_of.near_edge.value == pytest.approx(line, abs=1e-8)
        assert made_of.far_edge.value == pytest.approx(line + depth, abs=1e-8)
        # The taper over it is the head's own.
        assert [q.value for q in made_of.behind] == pytest.approx(
            [marks[name][1] - line - depth for name in ("TL", "TR")], abs=1e-8
        )
        jamb = wishes.get("jamb")
        beside = metres(jamb.get("shim", "12 mm")) if jamb else 0.0
        beside += DEPTH if jamb and "section" in jamb else 0.0
        length = found.width.value - 2 * beside
        assert made_of.length.value == pytest.approx(length, abs=1e-9)


def test_a_head_that_is_level_leaves_nothing_over_a_leaf_that_is_not_wished() -> None:
    assert fitted(square(1.0, 2.2), [leaf()]).transom is None


def test_a_space_over_the_leaves_is_shown_even_without_a_transom() -> None:
    found = fitted(square(1.0, 2.2), [leaf()], leaf_height="2 m")
    assert found.transom is not None
    assert found.transom.section is None
    # 2.2 m less 24 mm of plate and spacer, the leaf, and 12 mm of top gap.
    assert found.transom.behind[0].value == pytest.approx(0.164)


def test_a_head_that_sags_between_the_corners_governs_where_it_was_read() -> None:
    low = {"name": "head middle", "near_x": "0.5 m", "near_y": "2.1 m"}
    readings = [
        *square(1.0, 2.2),
        {"kind": "plumb", "from": "BL", "to": "head middle", "is": "0.5 m", "toward": "right"},
        level("head middle", 2.15),
    ]
    found = fitted(readings, [leaf()], mark=[low], transom={"section": TUBE, "shim": "6 mm"})
    (place,) = found.leaves
    assert place.height.value == pytest.approx(2.15 - 0.024 - 0.012 - DEPTH - 0.006)
    assert found.transom is not None
    over = {
        q.name.removeprefix("space over the transom at "): q.value for q in found.transom.behind
    }
    assert over == {
        "TL": pytest.approx(0.056),
        "TR": pytest.approx(0.056),
        "head middle": pytest.approx(0.006),
    }


def test_leaves_without_pivots_hang_clear_of_the_floor_and_need_no_packing() -> None:
    mount = {"kind": "barrel hinge", "standoff": "70 mm", "heights": ["200 mm", "1 m"]}
    readings = [*square(1.5, 2.2), floor("left", 0.04, out="700 mm")]
    (place,) = fitted(readings, [leaf(mount=mount)], bottom_gap="30 mm").leaves
    assert place.packing is None
    assert place.bottom.value == pytest.approx(0.07)


def test_the_floor_under_the_other_hand_does_not_count() -> None:
    readings = [*square(1.5, 2.2), floor("right", 0.5)]
    (place,) = fitted(readings, [leaf("left")]).leaves
    assert place.bottom.value == pytest.approx(0.024)


def test_sag_of_the_nose_lifts_leaves_that_hang_just_clear() -> None:
    drop = allowances(0.004, 0.0, "the frame, standing")
    readings = [*square(1.5, 2.2), floor("left", 0.04)]
    before = fitted(readings, [leaf()]).leaves[0].bottom.value
    after = fitted(readings, [leaf()], drop)
    assert after.leaves[0].bottom.value - before == pytest.approx(0.004)
    # Just the default 12 mm, over a floor that is no surer than its reading.
    one = check(after, "doorway/floor clearance")
    assert one.demand == pytest.approx(0.012)
    assert one.available == pytest.approx(0.012)
    assert one.verdict is Verdict.TIGHT
    assert one.question == "do the leaves clear the highest point of the floor that was read"
    assert one.change == (
        "the 95 % band of the readings crosses the limit; raise the leaves, or grind the floor"
    )


@pytest.mark.parametrize(
    ("height", "sd", "verdict"),
    [
        (0.020, "1.5 mm", "tight"),
        (0.011, "1.5 mm", "tight"),
        (0.011, "0.3 mm", "ok"),
        (0.004, "1.5 mm", "ok"),
    ],
)
def test_leaves_clear_a_floor_only_where_it_is_surer_than_the_spare(
    height: float, sd: str, verdict: str
) -> None:
    # Plate and spacer hold the leaves at 24 mm, 12 mm of which they need over the floor.
    readings = [*square(1.5, 2.2), {**floor("left", height), "sd": sd}]
    found = fitted(readings, [leaf()])
    one = check(found, "doorway/floor clearance")
    assert one.available == pytest.approx(max(0.024 - height, 0.012))
    assert one.verdict is Verdict(verdict)


@pytest.mark.parametrize(
    ("height", "verdict"), [(2.170, "short"), (2.165, "short"), (2.163, "tight"), (2.155, "ok")]
)
def test_a_leaf_height_is_held_to_what_fits_within_the_band(height: float, verdict: str) -> None:
    # 2.2 m less 24 mm of plate and spacer and 12 mm of top gap leave 2.164 m, ± some 4 mm.
    found = fitted(square(1.0, 2.2), [leaf()], leaf_height=f"{height:.3f} m")
    one = check(found, "doorway/leaf height")
    # More than fits by the readings as they stand is short, however unsure they are.
    assert one.verdict is Verdict(verdict)
    assert one.available == pytest.approx(2.164)
    if verdict == "tight":
        assert one.change.startswith("the 95 % band of the readings crosses the limit; make")


def test_a_gap_underneath_that_is_larger_than_wished_is_short() -> None:
    sloping = [
        distance("BL", "BR", 3.0),
        distance("BL", "TL", 2.2),
        distance("BR", "TR", 2.1),
        rise("BL", "BR", 0.1),
        {"kind": "plumb", "from": "BL", "to": "TL", "is": "0 mm", "toward": "left"},
        {"kind": "plumb", "from": "BR", "to": "TR", "is": "0 mm", "toward": "left"},
    ]
    found = fitted(sloping, pair(), greatest_bottom_gap="50 mm")
    one = check(found, "doorway/deepest gap")
    assert one.verdict is Verdict.SHORT
    assert one.demand == pytest.approx(0.124)
    assert one.change == "step the leaves with the ground, or fill the low side"
    wide = fitted(sloping, pair(), greatest_bottom_gap="150 mm")
    assert check(wide, "doorway/deepest gap").verdict is Verdict.OK
    left, right = placed(found, "left"), placed(found, "right")
    assert left.packing is not None
    assert right.packing is not None
    assert left.packing.value == pytest.approx(0.1, abs=1e-6)
    assert right.packing.value == 0.0


@pytest.mark.parametrize(
    ("missing", "why"),
    [(("TL",), "no reading reaches TL"), (("TL", "TR"), "no reading reaches TL, TR")],
)
def test_each_corner_must_be_reached(missing: tuple[str, ...], why: str) -> None:
    readings: list[Any] = [distance("BL", "BR", 1.0), rise("BL", "BR", 0.0)]
    if "TR" not in missing:
        readings += [distance("BR", "TR", 2.0), distance("BL", "TR", 2.236)]
    assert made(readings, [leaf()]) == Held(
        why, ("a reading from or to each corner of the opening",)
    )


def test_an_opening_without_a_head_needs_a_leaf_height() -> None:
    assert made(square(1.0, 2.2), [leaf()], opening={"head": False}) == Held(
        "the opening has no head and the leaves no height",
        ('leaf_height in [doorway], as in leaf_height = "6\'-6"',),
    )
    found = fitted(square(1.0, 2.2), [leaf()], opening={"head": False}, leaf_height="1.9 m")
    assert (found.height, found.transom) == (None, None)
    assert found.leaves[0].height.value == pytest.approx(1.9)


def test_too_low_for_plates_gaps_and_transom() -> None:
    found = made(square(1.0, 0.08), [leaf()], transom={"section": TUBE})
    assert found == Held(
        "the opening is too low for plates, gaps and transom", ("a higher opening",)
    )


def plated(thickness: str) -> dict[str, Any]:
    plate = {"thickness": thickness, "width": "80 mm", "length": "120 mm"}
    return leaf(mount={**PIVOT, "top_plate": plate})


def test_a_top_plate_is_counted_in_the_gap_over_the_leaf_once() -> None:
    # 5 mm of running clearance, no heat; the usual gap of 12 mm holds a plate of 7 mm, and no more.
    for thickness, wanted in ((7.0, 12.0), (12.0, 17.0)):
        found = fitted(square(1.0, 2.2), [plated(f"{thickness} mm")])
        (place,) = found.leaves
        assert 1000 * gap(found, "doorway/top gap") == pytest.approx(wanted)
        assert 1000 * place.height.value == pytest.approx(2200 - 24 - wanted)
        under = found.over(place.key)
        assert under is not None
        assert 1000 * under.value == pytest.approx(5.0)
        # "Why?" walks down to the plate as it was typed.
        (typed,) = (q for q in chain.walked(under) if q.key == f"{place.key}/top plate")
        assert (typed.kind, typed.note) == ("wish", f"{thickness} mm")
        (spent,) = (b for b in found.budgets if b.gap.key == "doorway/top gap as hung")
        amounts = {s.what.key: s.amount for s in spent.shares}
        assert 1000 * amounts["doorway/top plate"] == pytest.approx(thickness)


def test_a_gap_wished_that_its_top_plate_fills_is_short_and_says_why() -> None:
    found = fitted(square(1.0, 2.2), [plated("12 mm")], top_gap="12 mm")
    one = check(found, "doorway/top gap")
    assert one.verdict is Verdict.SHORT
    assert one.demand == pytest.approx(0.017)
    assert "with its plate in the gap" in one.question
    assert "the plate thinner or let in" in one.change


def test_the_thickest_top_plate_decides_and_each_leaf_has_its_own_gap_under_it() -> None:
    thin, thick = plated("8 mm"), {**plated("15 mm"), "hand": "right"}
    found = fitted(square(2.0, 2.2), [thin, thick])
    under = {place.key: found.over(place.key) for place in found.leaves}
    assert {k: 1000 * q.value for k, q in under.items() if q} == {
        "left": pytest.approx(12.0),
        "right": pytest.approx(5.0),
    }


def test_a_head_that_comes_down_has_its_room_in_the_gap_over_the_leaves() -> None:
    building = {**BUILDING, "beam_drop": "9 mm"}
    found = fitted(square(1.0, 2.2), [leaf()], building=building)
    assert 1000 * gap(found, "doorway/top gap") == pytest.approx(14.0)
