"""The halves of an X of round tube as the saw and the welder get them."""

from __future__ import annotations

import io
import math
from pathlib import Path

import numpy as np
import pytest
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read

from leafwright.documents.of_plan import cuts_document
from leafwright.handbook.copes import saddle_nearest, saddle_reach
from leafwright.job.file import read_job
from leafwright.job.tape import tape_of
from leafwright.paper.dxf import dxf_text
from leafwright.paper.scale import FULL_SIZE
from leafwright.paper.scene import Text
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.cuts import card_sheets
from leafwright.paper.sheets.wraps import template
from leafwright.pipeline import Plan, plan
from leafwright.records import Held
from leafwright.say import JIG, end_steps, end_words, words_of, wrap_note
from leafwright.say_cutting import in_cut_order, turn_words
from leafwright.shop.closure import closure_after_rounding
from leafwright.shop.cut_list import CutItem
from leafwright.shop.cut_order import CutOrder
from leafwright.told.cuts import cuts_text
from leafwright.web.bought import cut_cards
from tests.leaves import INCH, made
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


def jigged() -> Plan:
    """Return the plan of the boathouse with a saw that takes the piece square to its fence."""
    text = EXAMPLE.read_text(encoding="utf-8").replace(WISHED, WISHED.replace("one diagonal", "X"))
    text = text.replace('kind = "cold saw"', 'kind = "cold saw"\njig = true')
    text = text.replace('takes_wide_swung = "3-1/2 in"', 'takes_wide_swung = "7 in"')
    return plan(read_job(text.replace('takes_wide = "4-1/2 in"', 'takes_wide = "9 in"')))


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


def test_cards_go_in_the_order_of_cutting_with_its_reason(crossed: Plan) -> None:
    assert not isinstance(crossed.cuts, Held) and isinstance(crossed.order, CutOrder)
    words = words_of(crossed.job)
    items = in_cut_order(crossed.cuts, crossed.order)
    assert sorted(i.marks for i in items) == sorted(i.marks for i in crossed.cuts.items)
    roles = [role for item in items for role in item.roles]
    assert roles.index("jamb post") < roles.index("hanging stile") < roles.index("top rail")
    assert items[-1] is half(crossed)
    for item in items:
        told = turn_words(item, crossed.order, words)
        whys = [s.why for s in crossed.order.steps if set(s.keys) & set(item.keys)]
        assert whys and all(why in told for why in whys)
    cards = [c.item for c in cut_cards(crossed, ())]
    assert cards == list(items)
    text = cuts_text(crossed, cuts_document(crossed))
    heads = [text.index(f"{len(i.marks)} × {', '.join(i.marks)}:") for i in items]
    assert heads == sorted(heads)


def test_the_dxf_of_a_template_measures_true(crossed: Plan) -> None:
    # Opened as a program that cuts paper would, in the drawing's own inches.
    item = half(crossed)
    end = item.end if item.end.coped else item.start
    assert end.wrap is not None
    text = dxf_text(template(end.wrap, "A"), units="in", scale=FULL_SIZE)
    drawing = read(io.StringIO(text))
    assert drawing.header["$INSUNITS"] == 1
    lines = [
        [(p[0], p[1]) for p in entity.get_points()]
        for entity in drawing.modelspace()
        if isinstance(entity, LWPolyline)
    ]
    cut = max(lines, key=len)
    assert cut[-1][0] - cut[0][0] == pytest.approx(math.pi * 1.9, abs=1e-6)
    deep = max(y for _, y in cut) - min(y for _, y in cut)
    assert deep == pytest.approx(end.wrap.back / INCH, abs=1e-6)


def test_a_cut_in_a_jig_stands_on_its_card_with_its_caution() -> None:
    made = jigged()
    assert not isinstance(made.cuts, Held)
    item, end = next(
        (i, e)
        for i in made.cuts.items
        for e in (i.start, i.end)
        if any(cut.way == "jig" for cut in e.cuts)
    )
    steps = end_steps(end, words_of(made.job))
    assert any("in the jig, the piece square to the fence" in step for step in steps)
    sheets = card_sheets(desk(made))
    assert all(JIG in [caution.text for caution in sheet.cautions] for sheet in sheets)
    told = " ".join(t.text for s in sheets for t in s.items if isinstance(t, Text))
    assert "in the jig" in " ".join(told.split())
    card = next(c for c in cut_cards(made, ()) if c.item is item)
    assert card.jig
    assert "clamp it in two places" in " ".join(cuts_text(made, cuts_document(made)).split())
