"""The sheets of buying, of each supplier, of welding and of packing."""

from __future__ import annotations

from pathlib import Path

import pytest

from leafwright import plan, read_job
from leafwright.job.file import with_value
from leafwright.paper.inspect import defects
from leafwright.paper.scene import Text
from leafwright.paper.sheet import Sheet, flatten
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.packing import packing_sheets
from leafwright.pipeline import Plan
from leafwright.shop.pack import Pack

EXAMPLES = Path(__file__).parents[3] / "examples"


def made(name: str, paper: str = "Tabloid") -> Plan:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    return plan(read_job(with_value(text, ("job", "paper"), paper)))


def words_on(sheet: Sheet) -> str:
    found = (item.text for item in flatten(sheet).all_items if isinstance(item, Text))
    return " ".join(" ".join(found).split())


@pytest.mark.parametrize("paper", ["Letter", "Tabloid", "A4", "A3"])
def test_they_are_clean_and_few(paper: str) -> None:
    for name in ("boathouse", "yard-gate"):
        sheets = packing_sheets(desk(made(name, paper)))
        assert [d for sheet in sheets for d in defects(flatten(sheet))] == []
        packing = [sheet for sheet in sheets if sheet.title.startswith("Pack list")]
        assert len(packing) <= (8 if paper in ("Letter", "A4") else 4)


def test_each_supplier_has_a_sheet_with_his_own_sticks_and_nothing_else() -> None:
    whole = made("boathouse")
    assert isinstance(whole.pack, Pack)
    sheets = {s.title: words_on(s) for s in packing_sheets(desk(whole)) if "Sticks, " in s.title}
    assert set(sheets) == {"Sticks, from river yard", "Sticks, from hill yard"}
    for title, told in sheets.items():
        other = "hill yard" if "river" in title else "river yard"
        mine = [x for x in whole.pack.buying.lines if x.supplier and x.supplier in title]
        assert other not in told and "USD" not in told and "A-HS" not in told
        assert all(f"{x.count} {x.what}" in told for x in mine)
        assert "bolt" not in told and "boards" not in told


def test_what_is_not_counted_stands_on_the_buying_list() -> None:
    whole = made("yard-gate")
    assert isinstance(whole.pack, Pack) and whole.pack.buying.asked
    told = " ".join(words_on(s) for s in packing_sheets(desk(whole)) if s.title == "Buying list")
    assert "Not in this list" in told and "fixing_spacing" in told
