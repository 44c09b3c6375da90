"""Cutting on the page: cut cards one at a time, and their ticks."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from leafwright.job.store import LogEntry
from leafwright.paper.annotate import Paper, on_paper
from leafwright.paper.drawing import Drawing, DrawingItem
from leafwright.paper.scene import Box, Scene
from leafwright.paper.sheet import item_box
from leafwright.paper.sheets import cuts as cut_sheets
from leafwright.paper.sheets.common import desk
from leafwright.pipeline import Plan
from leafwright.records import to_json
from leafwright.say import edge_words, end_steps, end_words, words_of, wrap_rows
from leafwright.say_cutting import in_cut_order, turn_words
from leafwright.shop.cut_list import CutItem, CutList
from leafwright.web.pictures import svg_of
from leafwright.web.ticks import state_of, ticks_of


@dataclass(frozen=True, slots=True)
class Tick:
    """Whether one piece is cut: ``state`` is open, done, or changed since it was ticked."""

    about: str
    mark: str
    state: str
    at: str


@dataclass(frozen=True, slots=True)
class EndCard:
    """One end, or both alike: how it looks, its cuts in order, and a round one's stations."""

    name: str
    shape: str
    steps: tuple[str, ...]
    stations: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class CutCard:
    """One line of the cut list, as the person at the saw reads it."""

    number: int
    marks: str
    count: int
    steel: str
    roles: str
    length: str
    overall: str
    edges: str
    ends: tuple[EndCard, ...]
    mass: str
    hash: str
    ticks: tuple[Tick, ...]
    item: CutItem
    turn: str

    @property
    def jig(self) -> bool:
        """Whether one of its cuts is made in a jig."""
        both = (*self.item.start.cuts, *self.item.end.cuts)
        return any(cut.way == "jig" for cut in both)

    @property
    def done(self) -> bool:
        """Whether every piece of it is cut, and as it now stands."""
        return all(tick.state == "done" for tick in self.ticks)


def cut_hash(item: CutItem) -> str:
    """Return what a tick remembers of a piece: its steel, its length and both ends."""
    told = [
        item.section.designation,
        item.section.grade.name,
        round(item.length.value, 6),
        [[round(x, 6) for x in point] for end in (item.start, item.end) for point in end.offsets],
    ]
    coped = [end.coped for end in (item.start, item.end) if end.coped]
    if coped or item.notch:
        told.append([to_json(coped), to_json(item.notch)])
    return hashlib.sha256(json.dumps(to_json(told)).encode()).hexdigest()[:16]


def cut_cards(made: Plan, log: Sequence[LogEntry]) -> tuple[CutCard, ...]:
    """Return the cut cards in the order of cutting, with what is ticked."""
    if not isinstance(made.cuts, CutList):
        return ()
    words = words_of(made.job)
    last = ticks_of(log)
    cards = []
    for number, item in enumerate(in_cut_order(made.cuts, made.order), start=1):
        now = cut_hash(item)
        both = [end_steps(end, words) for end in (item.start, item.end)]
        alike = both[0] == both[1] and item.start.wrap == item.end.wrap
        names = ["Both ends"] if alike else ["Left end", "Right end"]
        told = [
            EndCard(name, end_words(end), steps, wrap_rows(end.wrap, words) if end.wrap else ())
            for name, end, steps in zip(names, (item.start, item.end), both, strict=False)
        ]
        cards.append(
            CutCard(
                number,
                ", ".join(item.marks),
                len(item.marks),
                f"{item.section.designation}, {item.section.grade.name}",
                ", ".join(item.roles),
                words.length(item.length),
                cut_sheets.overall(item),
                edge_words(item, words),
                tuple(told),
                words.mass(item.mass),
                now,
                tuple(
                    _tick(key, mark, now, last.get(f"cut/{key}"))
                    for key, mark in zip(item.keys, item.marks, strict=True)
                ),
                item,
                turn_words(item, made.order, words),
            )
        )
    return tuple(cards)


def _tick(key: str, mark: str, now: str, entry: LogEntry | None) -> Tick:
    about = f"cut/{key}"
    return Tick(about, mark, *state_of(entry, now))


def card_picture(made: Plan, card: CutCard) -> Markup:
    """Return the piece of a card: both ends at one scale, its middle broken out."""
    items: list[DrawingItem] = []
    cut_sheets.bar_picture(desk(made), card.item, Box(0.0, 0.0, 86.0, 60.0), 0.0, items)
    flat = on_paper(Drawing(tuple(items)), Paper(1.0, (0.0, 0.0)))
    boxes = [item_box(item) for item in flat]
    left, low = min(b.left for b in boxes) - 1.0, min(b.bottom for b in boxes) - 1.0
    right, top = max(b.right for b in boxes) + 1.0, max(b.top for b in boxes) + 1.0
    page = Box(0.0, 0.0, right - left, top - low)
    placed = tuple(on_paper(Drawing(tuple(items)), Paper(1.0, (-left, -low))))
    scene = Scene(card.marks, page.width, page.height, page, page, placed)
    told = f"{card.marks}: {card.length} long point to long point"
    return svg_of(
        scene, title=told, description="; ".join(f"{end.name}: {end.shape}" for end in card.ends)
    )
