"""The halves of an X of round tube as the saw and the welder get them."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from leafwright.handbook.copes import saddle_nearest, saddle_reach
from leafwright.job.file import read_job
from leafwright.job.tape import tape_of
from leafwright.pipeline import Plan, plan
from leafwright.records import Held
from leafwright.say import end_steps, end_words, words_of, wrap_note
from leafwright.shop.closure import closure_after_rounding
from leafwright.shop.cut_list import CutItem
from tests.leaves import made
from tests.proof.proofs import job

EXAMPLE = Path(__file__).parents[2] / "examples" / "boathouse.toml"
WISHED = 'brace = [{ pattern = "one diagonal", foot = "hanging stile" }]'


@pytest.fixture(scope="module")
def crossed() -> Plan:
    """Return the plan of the boathouse with its braces crossed, of pipe."""
    text = EXAMPLE.read_text(encoding="utf-8")
    assert WISHED in text
    text = text.replace(WISHED, 'brace = [{ pattern = "X", section = "pipe 1-1/2 STD" }]')
    return plan(read_job(text))


def half(crossed: Plan) -> CutItem:
    """Return the line of the cut list that the halves are."""
    assert not isinstance(crossed.cuts, Held)
    return next(i for i in crossed.cuts.items if any(k.endswith("/lower") for k in i.keys))


def test_a_half_is_not_taken_for_a_bar_that_looks_the_same(crossed: Plan) -> None:
    item = half(crossed)
    assert all(key.endswith(("/lower", "/upper")) for key in item.keys)
    assert (item.start.coped is None) != (item.end.coped is None)


def test_the_template_of_a_coped_end_is_the_published_saddle(crossed: Plan) -> None:
    item = half(crossed)
    end = item.end if item.end.coped else item.start
    wrap, coped = end.wrap, end.coped
    assert wrap is not None and coped is not None
    r = item.section.width / 2
    assert coped.radius == r and wrap.opening == 0.0
    assert wrap.around == pytest.approx(2 * math.pi * r)
    nearest = saddle_nearest(r, r, coped.angle)
    sharp_below = end.offsets[0][1] > end.offsets[-1][1]
    for around, back in wrap.stations:
        phi = around / r if sharp_below else math.pi - around / r
        assert back == pytest.approx(saddle_reach(r, r, coped.angle, phi) - nearest, abs=1e-12)
        # The same line as the drawing's elevation has it, seen from the face.
        u = r - r * math.cos(around / r)
        assert back == pytest.approx(float(np.interp(u, *np.array(end.offsets).T)), abs=1e-9)
    # Most to grind where face and back run out: the bore's own saddle there.
    bore = r - item.section.nominal_wall
    assert wrap.inside == pytest.approx(math.sqrt(r**2 - bore**2) / math.sin(coped.angle), rel=1e-6)


def test_a_coped_end_tells_what_is_ground_and_why(crossed: Plan) -> None:
    words, item = words_of(crossed.job), half(crossed)
    end = item.end if item.end.coped else item.start
    assert end_words(end).startswith("coped to the round tube")
    assert end_steps(end, words)[-1].startswith("Grind the inside of the wall back")
    assert end.wrap is not None and "touches all round" in wrap_note(end.wrap, words)


def test_a_leaf_with_coped_halves_closes_as_cut() -> None:
    leaf = made(1.4, 3.2, root_gap="1/16 in", brace=[{"pattern": "X", "section": "pipe 2 STD"}])[2]
    found = closure_after_rounding(leaf, tape_of(job()))
    assert {p.mark for p in found.pieces} >= {"A-B1L", "A-B1U", "A-B1T"}
    assert found.closes
