"""The order of cutting in the maker's words: what joints leave, the steps, whether leaves close."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.doorway.heel import leaf_words
from leafwright.leaf import Leaf
from leafwright.records import Held
from leafwright.say import Words, sentence
from leafwright.shop.closure import Closure
from leafwright.shop.cut_list import CutItem, CutList
from leafwright.shop.cut_order import CutOrder, CutStep
from leafwright.shop.joiners import Joiner, is_round, joiners_of

#: What is off by less is not told: it is the rounding of figures [m].
CUT_TRUE = 2e-6


def closure_words(closure: Closure, words: Words) -> str:
    """Return whether a leaf still closes as cut to the tape's marks, or by how much not."""

    def off(by: float, more: str, less: str) -> str:
        if abs(by) < CUT_TRUE:
            return ""
        return f"{words.near(by)} {more if by > 0 else less}"

    comes = (
        off(closure.wider, "too wide", "too narrow"),
        off(closure.higher, "too high", "too low"),
    )
    told = " and ".join(t for t in comes if t) or "at its very size"
    text = f"cut to the tape's marks it comes out {told}"
    worst = closure.worst
    if worst is None:
        return text
    if abs(worst.by) < CUT_TRUE:
        return f"{text}; every piece in it fits"
    if closure.closes:
        by = off(worst.by, "too long", "too short")
        return (
            f"{text}; the piece that fits worst in it, {worst.mark}, is {by}: "
            f"it closes to {words.length(closure.tolerance)}"
        )
    over = [p for p in closure.pieces if abs(p.by) > closure.tolerance]
    named = ", ".join(f"{p.mark} {_over(p.by, closure.tolerance, words)}" for p in over)
    return (
        f"{text}, and does NOT close to {words.length(closure.tolerance)}: {named}; cut these to "
        "the frame as tacked, not to the list"
    )


def _over(by: float, tolerance: float, words: Words) -> str:
    """Return how far off a piece is that is off by more than a leaf closes to."""
    told = words.length(abs(by))
    if told == words.length(tolerance):
        told = f"over {told}"
    return f"{told} {'too long' if by > 0 else 'too short'}"


def fit_words(leaf: Leaf, words: Words) -> str:
    """Return what is left and added at a leaf's joints, in words."""
    gap, pulled = leaf.root_gap, leaf.weld_shrinkage
    told = (
        f"a root gap of {words.length(gap)} is left at every joint"
        if gap.value
        else "no root gap is left: pieces touch"
    )
    if pulled.value:
        return (
            f"{told}; {words.thin(pulled.value)} a joint is added to each rail or stile between "
            "others, for what its welds pull in"
        )
    return f"{told}; nothing is added for what welds pull in"


def joiner_words(one: Joiner, words: Words) -> str:
    """Return what the sleeve or the plates of a splice are: mark, how many, what, how long."""
    told = f"{one.mark}, {one.count} × {words.length(one.length)}"
    if one.inside is None:
        size = "how wide and thick is not given"
        if one.plate is not None:
            wide, thick = (words.length(size) for size in one.plate)
            size = f"{wide} wide, {thick} thick" + (f", {one.grade}" if one.grade else "")
        return (
            f"{told}: plates outside, face and back, over {one.joins[0]} and {one.joins[1]}; {size}"
        )
    if one.sleeve is not None:
        told += f" of {one.sleeve.designation}"
    return f"{told}: sleeve inside {one.joins[0]} and {one.joins[1]}, {fits_inside(one, words)}"


def fits_inside(one: Joiner, words: Words) -> str:
    """Return what a sleeve has to fit, for the cut list and the shop that sells it."""
    assert one.inside is not None
    wide, deep = (words.length(size) for size in one.inside)
    room = f"{wide} across" if is_round(one) else f"{wide} × {deep}"
    return (
        f"to fit inside {one.section.designation}, {room} by its nominal wall, less the bead of "
        "the tube's own seam"
    )


def left_long_words(step: CutStep, words: Words) -> str:
    """Return how long the braces of a step are left until they are scribed, or ''."""
    if not step.left_long:
        return ""
    told = ", ".join(f"{one.mark} {words.length_up(one.length)}" for one in step.left_long)
    over = max(one.over.value for one in step.left_long)
    return (
        f"scribe them to fit: leave each {words.length_up(over)} or more over its length "
        f"({told}), lay it on the tacked frame, mark it there and cut it"
    )


def step_words(step: CutStep, words: Words) -> str:
    """Return a step of cutting: what is cut, why then, and how long it is left."""
    sure = (
        f"; by the survey lengths are sure to ± {words.near(step.sure)} (95 %)"
        if step.sure > CUT_TRUE
        else ""
    )
    left = left_long_words(step, words)
    return f"{step.what}, {', '.join(step.marks)}: {step.why}{sure}" + (f"; {left}" if left else "")


@dataclass(frozen=True, slots=True)
class OrderTold:
    """The order of cutting in sentences: what joints leave, the steps, whether leaves close."""

    fit: tuple[str, ...]
    steps: tuple[str, ...]
    closes: tuple[str, ...]


def order_told(leaves: Sequence[Leaf], order: CutOrder, words: Words) -> OrderTold:
    """Return what is left and added at joints, in what order to cut, and whether it closes."""
    names = {leaf.key: sentence(leaf_words(leaf.key)) for leaf in leaves}
    fits = dict.fromkeys(fit_words(leaf, words) for leaf in leaves)
    fit = [f"{names[leaf.key]}: {fit_words(leaf, words)}." for leaf in leaves]
    if len(leaves) > 1 and len(fits) == 1:
        fit = [f"Both leaves: {next(iter(fits))}."]
    fit += [f"Splice: {joiner_words(one, words)}." for one in joiners_of(leaves)]
    return OrderTold(
        tuple(fit),
        tuple(f"{sentence(step_words(step, words))}." for step in order.steps),
        tuple(f"{names[c.leaf]}: {closure_words(c, words)}." for c in order.closures),
    )


def in_cut_order(cuts: CutList, order: CutOrder | Held) -> tuple[CutItem, ...]:
    """Return the lines of a cut list in the order in which they are cut.

    A line whose pieces are cut in several steps stands where its first piece is cut.
    """
    if isinstance(order, Held):
        return cuts.items

    def first(item: CutItem) -> int:
        steps = [n for n, step in enumerate(order.steps) if set(step.keys) & set(item.keys)]
        return min(steps, default=len(order.steps))

    return tuple(sorted(cuts.items, key=first))


def turn_words(item: CutItem, order: CutOrder | Held, words: Words) -> str:
    """Return in which step the pieces of a line are cut and why then, and how long they are left.

    Empty where there is no order.
    """
    if isinstance(order, Held):
        return ""
    told = []
    marks = dict(zip(item.keys, item.marks, strict=True))
    for n, step in enumerate(order.steps, start=1):
        mine = [mark for key, mark in marks.items() if key in step.keys]
        if not mine:
            continue
        of = f" ({', '.join(mine)})" if len(mine) < len(marks) else ""
        left = {o.mark: words.length_up(o.length) for o in step.left_long if o.key in marks}
        told.append(f"Step {n}{of}: {step.why}.{_long_words(left)}")
    return " ".join(told)


def _long_words(left: dict[str, str]) -> str:
    """Return how long pieces are left, by their marks, until they are scribed."""
    if not left:
        return ""
    lengths = set(left.values())
    told = ", ".join(f"{mark} {length}" for mark, length in left.items())
    if len(lengths) == 1:
        told = f"each {lengths.pop()}"
    return f" Leave {told} long, and scribe to fit."
