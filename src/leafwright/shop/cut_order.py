"""In what order to cut, and why: what verifies the opening first, what fits the rest last.

`cut_order` is what the cut list is told in: a step is a set of pieces that are cut together, why
then, and, where braces are scribed to fit, how long to leave them until they are.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.doorway import Doorway
from leafwright.doorway.records import FillerPiece
from leafwright.job.defaults import chosen
from leafwright.job.model import Job
from leafwright.leaf import Leaf, Member
from leafwright.leaf.records import SplicedPiece
from leafwright.records import Metres
from leafwright.shop.closure import Closure, closure_after_rounding
from leafwright.shop.cut_list import FILLER_MARKS
from leafwright.shop.gate_posts import gate_posts
from leafwright.shop.joiners import joiners_of
from leafwright.units import Tape


@dataclass(frozen=True, slots=True)
class LeftLong:
    """A piece that is cut over its length and scribed: how much over, and to what in all."""

    key: str
    mark: str
    over: Quantity
    length: Quantity


@dataclass(frozen=True, slots=True)
class CutStep:
    """Pieces cut together, what they are and why then.

    ``sure`` is the widest 95 % half band of their lengths, from the survey [m]; ``left_long`` the
    pieces among them that are scribed to fit.
    """

    key: str
    what: str
    keys: tuple[str, ...]
    marks: tuple[str, ...]
    why: str
    sure: Metres
    left_long: tuple[LeftLong, ...] = ()


@dataclass(frozen=True, slots=True)
class CutOrder:
    """The steps of cutting, and whether what is cut to the tape's marks still closes."""

    steps: tuple[CutStep, ...]
    closures: tuple[Closure, ...]


def _is_half(member: Member) -> bool:
    return member.key.endswith(("/lower", "/upper"))


#: Key, what, which members of a leaf, and why then.
_STEPS: tuple[tuple[str, str, Callable[[Member], bool], str], ...] = (
    (
        "stiles",
        "the stiles",
        lambda m: m.role.endswith("stile"),
        "stood in the opening, a stile proves its height before anything is welded to it",
    ),
    (
        "outer rails",
        "bottom and top rails",
        lambda m: m.role in ("bottom rail", "top rail"),
        "laid between the stiles they prove the width, and the two diagonals that it is square",
    ),
    (
        "mid rails",
        "the mid rails",
        lambda m: m.role == "mid rail",
        "when the outer frame is tacked square: read the clear width where each will stand",
    ),
    (
        "braces",
        "the braces",
        lambda m: m.role == "brace" and not _is_half(m),
        "last, into a frame that is tacked and square: they take up what it is out by",
    ),
    (
        "halves",
        "the halves of crossed braces",
        lambda m: m.role == "brace" and _is_half(m),
        "when the bar that runs through is tacked in: read each half from its corner to that bar",
    ),
    (
        "rods",
        "the rods",
        lambda m: m.role == "rod",
        "when the tabs are tacked on: a rod fits between them",
    ),
)


def cut_order(job: Job, leaves: Sequence[Leaf], found: Doorway, tape: Tape) -> CutOrder:
    """Return the order in which to cut a job's pieces, and whether they close as cut.

    Args:
        job: its defaults, and which leaves have their braces scribed.
        leaves: with their members.
        found: the doorway with its posts and transom.
        tape: that lengths are cut by.
    """
    steps = []
    all_fillers = (*found.posts, *((found.transom,) if found.transom else ()))
    fillers = [f for f in all_fillers if f.section is not None]
    if fillers:
        why = "they make the opening that the leaves are hung in: set them, and read it again"
        steps.append(_filler_step("doorway", "posts and transom", fillers, why))
    standing = gate_posts(job)
    if standing:
        why = "concrete needs its days before a leaf hangs on them: set them, and read between"
        steps.append(_filler_step("gate posts", "the gate posts", standing, why))
    sleeves = [one for one in joiners_of(leaves) if one.sleeve is not None]
    if sleeves:
        steps.append(
            CutStep(
                "sleeves",
                "the sleeves of splices",
                tuple(one.key for one in sleeves),
                tuple(one.mark for one in sleeves),
                "what they join is made whole on the bench, before any frame is fitted up",
                max(one.length.band for one in sleeves),
            )
        )
    scribed = {table.hand for table in job.leaf if table.scribe_braces}
    for key, what, wanted, why in _STEPS:
        mine = [(leaf, m) for leaf in leaves for m in leaf.members if wanted(m)]
        if not mine:
            continue
        left = [
            _left_long(job, m) for leaf, m in mine if m.role == "brace" and leaf.hand in scribed
        ]
        steps.append(
            CutStep(
                key,
                what,
                tuple(p.key for leaf, m in mine for p in _pieces(leaf, m)),
                tuple(p.mark for leaf, m in mine for p in _pieces(leaf, m)),
                why,
                max(m.length.band for _, m in mine),
                tuple(left),
            )
        )
    return CutOrder(tuple(steps), tuple(closure_after_rounding(leaf, tape) for leaf in leaves))


def _pieces(leaf: Leaf, member: Member) -> tuple[Member | SplicedPiece, ...]:
    """Return the pieces that a member is cut as."""
    spliced = next((s for s in leaf.splices if s.member == member.key), None)
    return spliced.pieces if spliced else (member,)


def _filler_step(key: str, name: str, fillers: Sequence[FillerPiece], why: str) -> CutStep:
    return CutStep(
        key,
        name,
        tuple(f.key for f in fillers),
        tuple(FILLER_MARKS[f.key] for f in fillers),
        why,
        max(f.length.band for f in fillers),
    )


def _left_long(job: Job, brace: Member) -> LeftLong:
    """Return how long to leave a brace that is scribed to its frame.

    Over its length by what a frame that passes may need more of it: its length's 95 % band from
    the survey, what rails and stiles cut long by their tolerance add along its slope, and half
    of what the diagonals of a frame may differ by.
    """
    system = job.job.system
    cut = chosen(None, "cut tolerance", "shop/cut tolerance", "cut tolerance", system=system)
    square = chosen(None, "shape limit", "site/shape limit", "shape limit", system=system)
    sure = chain.base(
        "reading",
        f"{brace.key}/sure",
        "how sure its length is (95 %)",
        brace.length.band,
        note="from the readings of the survey",
    )
    slopes = tuple(abs(part) for part in brace.direction)
    over = chain.worked(
        f"{brace.key}/left long",
        f"how much {brace.mark} is left long, to be scribed",
        "how sure its length is + cut tolerance × (cos + sin of its slope) + shape limit / 2",
        lambda known, tolerance, limit: known + tolerance * sum(slopes) + limit / 2,
        [sure, cut, square],
    )
    length = chain.total(
        f"{brace.key}/rough length",
        f"length of {brace.mark} before it is scribed",
        [(1.0, brace.length), (1.0, over)],
    )
    return LeftLong(brace.key, brace.mark, over, length)
