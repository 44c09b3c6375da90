"""Cut cards: what is read at the saw is large, and no sheet stands half empty."""

from __future__ import annotations

from pathlib import Path

import pytest

from leafwright import plan, read_job
from leafwright.job.file import with_value
from leafwright.paper.inspect import defects
from leafwright.paper.scene import Text
from leafwright.paper.sheet import flatten
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.cuts import card_sheets
from leafwright.pipeline import Plan
from leafwright.records import Held

EXAMPLES = Path(__file__).parents[3] / "examples"
NAMES = ("boathouse", "kiln-shed", "yard-gate")


def made(name: str, paper: str) -> Plan:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    return plan(read_job(with_value(text, ("job", "paper"), paper)), upto="shop")


@pytest.mark.parametrize("paper", ["Letter", "Tabloid", "A4", "A3"])
@pytest.mark.parametrize("name", NAMES)
def test_every_length_is_a_figure_of_the_floor_and_every_piece_has_its_box(
    name: str, paper: str
) -> None:
    whole = made(name, paper)
    assert not isinstance(whole.cuts, Held)
    sheets = [flatten(sheet) for sheet in card_sheets(desk(whole))]
    assert [d for sheet in sheets for d in defects(sheet)] == []
    texts = [item for sheet in sheets for item in sheet.all_items if isinstance(item, Text)]
    words = desk(whole).words
    for item in whole.cuts.items:
        large = [t.height_mm for t in texts if t.text == words.length(item.length)]
        assert max(large) >= 6.0
        for mark in item.marks:
            assert any(t.text == mark for t in texts)


@pytest.mark.parametrize("name", NAMES)
def test_on_large_paper_what_is_read_off_a_card_is_six_millimetres(name: str) -> None:
    whole = made(name, "Tabloid")
    assert not isinstance(whole.cuts, Held)
    texts = [
        item
        for sheet in card_sheets(desk(whole))
        for item in flatten(sheet).all_items
        if isinstance(item, Text)
    ]
    words = desk(whole).words
    for item in whole.cuts.items:
        backs = {s for end in (item.start, item.end) for _, s in end.offsets if s > 1e-9}
        for back in backs:
            shown = words.length(back)
            assert any(t.text == shown and t.height_mm >= 6.0 for t in texts), shown


@pytest.mark.parametrize(("paper", "most"), [("Letter", 4), ("Tabloid", 2)])
def test_square_pieces_share_a_sheet(paper: str, most: int) -> None:
    # The boathouse has five lines of square pieces and one of braces.
    assert len(card_sheets(desk(made("boathouse", paper)))) <= most
