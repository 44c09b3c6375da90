"""Packs of the examples, for tests of what is bought and packed."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from leafwright.job.file import read_job
from leafwright.leaf import Leaf
from leafwright.pipeline import Plan, plan
from leafwright.records import Held
from leafwright.shop.cut_list import CutList
from leafwright.shop.pack import Pack, PackItem, SiteNeeds, packed
from leafwright.shop.pack.records import BuyLine
from leafwright.shop.seams import Seams
from leafwright.shop.stock import Stock

INCH, FOOT, POUND, FT3 = 0.0254, 0.3048, 0.45359237, 0.3048**3
EXAMPLES = Path(__file__).parents[2] / "examples"
JOBS = ("boathouse", "kiln-shed", "yard-gate")


@cache
def made(name: str) -> Plan:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    return plan(read_job(text), upto="shop")


def again(name: str, needs: SiteNeeds | None = None, **changed: Any) -> Pack:
    """Return the pack of an example whose tables are changed: its leaves stay as they are."""
    before = made(name)
    assert not isinstance(before.doorway, Held) and isinstance(before.cuts, CutList)
    assert isinstance(before.stock, Stock) and isinstance(before.seams, Seams)
    return packed(
        before.job.model_copy(update=changed),
        before.doorway,
        [leaf for leaf in before.leaves if isinstance(leaf, Leaf)],
        before.seams,
        before.holes,
        before.cuts,
        before.stock,
        needs or SiteNeeds(),
    )


def items(found: Pack) -> dict[str, PackItem]:
    return {item.key: item for operation in found.operations for item in operation.items}


def pack_of(name: str) -> Pack:
    found = made(name).pack
    assert isinstance(found, Pack)
    return found


def line_of(found: Pack, begins: str) -> BuyLine:
    (line,) = (one for one in found.buying.lines if one.key.startswith(begins))
    return line
