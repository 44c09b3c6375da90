"""The order of welding on the page: one step at a time in large type, its weld on the leaf."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from leafwright.documents.records import LeafWelded, ToDo
from leafwright.documents.weld_order import weld_order_document
from leafwright.job.store import LogEntry
from leafwright.leaf import Leaf
from leafwright.paper.sheets.weld_order import dots_drawing
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import sentence
from leafwright.shop.seams import Seams, seam_hash
from leafwright.shop.weld_order import WeldOrder
from leafwright.web.pictures import picture
from leafwright.web.ticks import state_of, ticks_of

_NAMES = {
    "square": "Out of square",
    "twist": "Twist",
    "flat": "Bows out of its plane",
    "edge": "Bows in its plane",
}


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step in the list of all of them."""

    number: int
    label: str
    words: str
    now: bool
    done: bool


@dataclass(frozen=True, slots=True)
class SeamTicked:
    """The tick of the seam that the open step welds."""

    about: str
    hash: str
    mark: str
    state: str
    at: str


@dataclass(frozen=True, slots=True)
class OrderPage:
    """What the page shows of one leaf: the step that is open, and all of them."""

    hand: str
    hands: tuple[tuple[str, str], ...]
    step: int
    count: int
    head: str
    words: str
    tick: SeamTicked | None
    before: int
    after: int
    rows: tuple[StepRow, ...]
    tacks: tuple[str, ...]
    cautions: tuple[str, ...]
    found: tuple[str, ...]
    left: tuple[str, ...]
    compared: tuple[tuple[str, str, str], ...]
    sources: str
    assumptions: tuple[str, ...]
    picture: Markup
    caption: str


def order_values(
    made: Plan, asked: Mapping[str, str], log: Sequence[LogEntry] = ()
) -> dict[str, Any]:
    """Return what the page of the order of welding shows: ``order``, or why there is none."""
    document = weld_order_document(made)
    if isinstance(document.leaves, Held):
        return {"order": None, "held": document.leaves.why}
    leaves = document.leaves
    chosen = next((one for one in leaves if one.key == asked.get("leaf")), leaves[0])
    if isinstance(chosen.order, Held):
        return {"order": None, "held": chosen.order.why}
    leaf = next(one for one in made.leaves if isinstance(one, Leaf) and one.key == chosen.key)
    page = _page(made, leaf, chosen, chosen.order, leaves, asked, _ticks(made, leaf, log))
    return {"order": page, "held": ""}


def _page(
    made: Plan,
    leaf: Leaf,
    told: LeafWelded,
    order: WeldOrder,
    leaves: tuple[LeafWelded, ...],
    asked: Mapping[str, str],
    ticks: Mapping[str, SeamTicked],
) -> OrderPage:
    steps = told.steps
    typed = asked.get("step", "")
    now = int(typed[:4]) if typed.isascii() and typed.isdigit() else 1
    now = min(max(now, 1), len(steps))
    step = steps[now - 1]
    face = made.job.job.seen_from
    up = f"{face if step.up == 'face' else 'back'} up"
    head = f"Step {now} of {len(steps)}, {up}"
    if step.kind == "weld":
        head += f": weld {step.number}, seam {step.mark}"
    drawing = dots_drawing(leaf, steps, now - 1, step.up)
    return OrderPage(
        hand=told.key,
        hands=tuple((one.key, f"{sentence(one.key)} leaf") for one in leaves)
        if len(leaves) > 1
        else (),
        step=now,
        count=len(steps),
        head=head,
        words=f"{step.words}.",
        tick=ticks.get(step.seam),
        before=max(1, now - 1),
        after=min(len(steps), now + 1),
        rows=tuple(
            StepRow(i, _label(one), f"{one.words}.", i == now, _is_done(one, ticks))
            for i, one in enumerate(steps, 1)
        ),
        tacks=tuple(sentence(said) for said in told.tacks),
        cautions=told.cautions,
        found=told.found,
        left=told.left,
        compared=tuple(
            (_NAMES[part.kind], f"{100 * part.plain:.0f}", f"{100 * part.best:.0f}")
            for part in order.parts
        ),
        sources="; ".join(map(str, order.sources)),
        assumptions=tuple(sentence(said) for said in order.assumptions),
        picture=picture(
            drawing,
            title=f"The leaf, {up}, with the weld of this step",
            description="Filled dots are welded by then, open ones are still to come.",
        ),
        caption=f"{sentence(up)}, seen from above. Filled: welded by then. Open: to come.",
    )


def _ticks(made: Plan, leaf: Leaf, log: Sequence[LogEntry]) -> dict[str, SeamTicked]:
    """Return the ticks of a leaf's seams by the seams' keys."""
    last = ticks_of(log)
    found = {}
    for its in made.seams.leaves if isinstance(made.seams, Seams) else ():
        for seam in its.every if its.leaf == leaf.key else ():
            hash = seam_hash(seam)
            state = state_of(last.get(seam.about), hash)
            found[seam.key] = SeamTicked(seam.about, hash, seam.mark, *state)
    return found


def _is_done(step: ToDo, ticks: Mapping[str, SeamTicked]) -> bool:
    return step.seam in ticks and ticks[step.seam].state == "done"


def _label(step: ToDo) -> str:
    return f"{step.number}" if step.kind == "weld" else "–"
