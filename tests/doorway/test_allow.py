"""Heat and play in the gaps: asked for, listed, and each share of a gap named."""

from __future__ import annotations

from typing import Any

import pytest

from leafwright.doorway import Doorway
from leafwright.doorway.budget import GapBudget
from tests.doorway.doorways import PIVOT, fitted, pair, placed, square

ROOM = square(2.5, 2.2)
LOOSE = {**PIVOT, "sleeve_bore": "20.6 mm"}


def doorway(**wishes: Any) -> Doorway:
    return fitted(ROOM, pair(), **wishes)


def budget_of(found: Doorway, key: str) -> GapBudget:
    (one,) = (b for b in found.budgets if b.gap.key == key)
    return one


def share(found: GapBudget, name: str) -> float:
    (one,) = (s for s in found.shares if s.what.name == name)
    return one.amount


def test_a_hotter_building_narrows_the_leaves_by_their_growth() -> None:
    mild = doorway()
    hot = doorway(building={"greatest_temperature": "70 C"})
    for key in ("left", "right"):
        narrower = placed(mild, key).width.value - placed(hot, key).width.value
        # A leaf of about 1.23 m, 50 K warmer, grows by 0.74 mm; the usual gap had room for less.
        assert 0.0 < narrower < 12e-6 * 50 * placed(mild, key).width.value
    grown = share(budget_of(hot, "doorway/meeting gap as hung"), "growth of the left leaf by heat")
    assert grown == pytest.approx(12e-6 * 50 * placed(hot, "left").width.value, rel=2e-3)


def test_a_building_that_is_never_warmer_asks_for_nothing() -> None:
    cold = doorway(building={"greatest_temperature": "-5 C"})
    assert share(
        budget_of(cold, "doorway/meeting gap as hung"), "growth of the left leaf by heat"
    ) == pytest.approx(0.0, abs=1e-12)


def test_play_is_half_of_what_the_bore_is_wider_and_widens_the_heel_gap() -> None:
    tight, loose = doorway(), fitted(ROOM, pair({"mount": LOOSE}, {}))
    wider = placed(loose, "left").heel_gap.value - placed(tight, "left").heel_gap.value
    assert wider == pytest.approx(0.0003)
    assert placed(loose, "right").heel_gap.value == placed(tight, "right").heel_gap.value


def test_shares_and_spare_add_up_to_the_gap() -> None:
    found = fitted(ROOM, pair({"mount": LOOSE}, {}), building={}, heel_gap="30 mm")
    assert {b.gap.key for b in found.budgets} == {
        "left/heel gap",
        "right/heel gap",
        "doorway/meeting gap as hung",
        "doorway/floor clearance",
        "doorway/top gap as hung",
    }
    for one in found.budgets:
        spent = sum(s.amount for s in one.shares) + one.unsure
        assert one.gap.value == pytest.approx(spent + one.spare)


def test_a_gap_too_small_for_its_shares_has_less_than_nothing_to_spare() -> None:
    found = doorway(meeting_gap="2 mm")
    assert budget_of(found, "doorway/meeting gap as hung").spare < 0


def test_a_leaf_that_grows_into_the_head_is_short() -> None:
    found = doorway(top_gap="6 mm", building={"greatest_temperature": "90 C"})
    # About 2.1 m, 70 K warmer, grows by 1.8 mm; running clearance is 5 mm.
    check_of = next(c for c in found.checks if c.key == "doorway/top gap")
    assert check_of.verdict == "short"
    assert check_of.demand == pytest.approx(
        0.005 + 12e-6 * 70 * found.leaves[0].height.value, rel=1e-9
    )
