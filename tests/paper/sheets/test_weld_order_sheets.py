"""The order of welding on paper: every weld numbered once on the leaf as it lies."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from leafwright.documents.records import LeafWelded
from leafwright.documents.weld_order import weld_order_document
from leafwright.job.file import load_job
from leafwright.leaf import Leaf
from leafwright.paper.drawing import Symbol
from leafwright.paper.scale import Scale
from leafwright.paper.scene import Circle, Text
from leafwright.paper.sheet import Sheet, flatten
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.seams import seam_sheets
from leafwright.paper.sheets.weld_order import numbers_drawing, passes_of, weld_order_sheets
from leafwright.pipeline import Plan, plan
from leafwright.records import Held

EXAMPLES = Path(__file__).parents[3] / "examples"
#: What the leaves are drawn at, about.
ABOUT = Scale(30, "1:30")
JOBS = ("boathouse", "kiln-shed", "yard-gate")


@cache
def planned(name: str) -> Plan:
    return plan(load_job(EXAMPLES / f"{name}.toml").job)


@cache
def told(name: str) -> tuple[LeafWelded, ...]:
    leaves = weld_order_document(planned(name)).leaves
    assert not isinstance(leaves, Held)
    return leaves


@cache
def sheets(name: str) -> tuple[Sheet, ...]:
    return weld_order_sheets(desk(planned(name)))


@pytest.mark.parametrize("name", JOBS)
def test_each_side_that_is_up_has_its_sheet_with_every_weld_on_it_once(name: str) -> None:
    captions = [placed.caption for sheet in sheets(name) for placed in sheet.placed]
    leaves = [leaf for leaf in planned(name).leaves if isinstance(leaf, Leaf)]
    for leaf, one in zip(leaves, told(name), strict=True):
        numbers = []
        for steps in passes_of(one.steps):
            drawing = numbers_drawing(leaf, steps, steps[-1].up, ABOUT)
            for item in drawing.items:
                if isinstance(item, Symbol):
                    for part in item.items:
                        if isinstance(part, Text) and re.fullmatch(r"[\d ·]+", part.text):
                            numbers += [int(n) for n in part.text.split(" · ")]
        welds = sum(step.kind == "weld" for step in one.steps)
        assert sorted(numbers) == list(range(1, welds + 1))
    backs = [caption for caption in captions if caption.startswith("BACK UP")]
    assert len(backs) == len(leaves)
    assert len(captions) == 2 * len(leaves)


@pytest.mark.parametrize("name", JOBS)
def test_both_sides_of_a_leaf_stand_on_one_wide_sheet_with_every_step(name: str) -> None:
    assert len(sheets(name)) == len(told(name))
    for sheet, one in zip(sheets(name), told(name), strict=True):
        words = [t.text for t in flatten(sheet).items if isinstance(t, Text)]
        marks = {step.mark for step in one.steps if step.kind == "weld"}
        assert marks <= set(words)
        assert sum("HOLD" in text for text in words) == sum(s.kind == "check" for s in one.steps)


def test_with_the_back_up_the_leaf_is_mirrored() -> None:
    leaf = next(one for one in planned("boathouse").leaves if isinstance(one, Leaf))
    steps = told("boathouse")[0].steps
    one = next(step for step in steps if step.kind == "weld" and step.up == "back")
    face, back = (
        next(
            item
            for item in numbers_drawing(leaf, (one,), up, ABOUT).items
            if isinstance(item, Symbol) and any(isinstance(part, Circle) for part in item.items)
        )
        for up in ("face", "back")
    )
    assert back.at == pytest.approx((leaf.width - face.at[0], face.at[1]))


def test_joints_and_seams_of_a_leaf_leave_no_sheet_with_a_row_or_two() -> None:
    made = desk(planned("boathouse"))
    titles = [sheet.title for sheet in seam_sheets(made)]
    assert sum("joints enlarged, seams A-1 to A-48" in title for title in titles) == 1
    gate = [s for s in seam_sheets(desk(planned("yard-gate"))) if "Left leaf, every" in s.title]
    assert len(gate) == 1
    joints = [s.title for s in seam_sheets(desk(planned("yard-gate"))) if "A-" in s.title]
    assert len(joints) == len(set(joints)), "each sheet of joints says which seams are on it"
