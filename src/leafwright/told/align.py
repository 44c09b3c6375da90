"""What is read of a leaf on the pad and of a leaf that hangs, and what to move, on a terminal.

Where nothing was read yet they say what to read, and how it is written in the job file.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.documents.records import AlignDocument, FitUpDocument, LeafFitUp, LeafHung
from leafwright.pipeline import Plan
from leafwright.records import Held, Verdict
from leafwright.say import Words, sentence, words_of
from leafwright.site.as_built import AsBuilt, Resplit
from leafwright.site.fit_up import NOT_KNOWN, FitUp
from leafwright.site.hung import Hung
from leafwright.site.packers import Packing
from leafwright.site.squares import Compared
from leafwright.told.lines import (
    cautions,
    check_lines,
    heading_lines,
    held_lines,
    leaf_name,
    steps,
    stop_lines,
    table,
    wrapped,
)
from leafwright.units import show_length

UNCHECKED = "Nothing checks these readings, and a wrong one would not show: take one more of them."


# ---------------------------------------------------------------- on the pad


def fit_up_text(made: Plan, document: FitUpDocument) -> str:
    """Return each leaf's shape on the pad and what to push, for a maker at a terminal."""
    words = words_of(made.job)
    lines = [*heading_lines(made, "the leaves on the pad"), *stop_lines(document.stops)]
    if isinstance(document.leaves, Held):
        return "\n".join([*lines, *held_lines("Fit-up", document.leaves)])
    for leaf in document.leaves:
        lines += [*_pad_lines(leaf, words), ""]
    unread = [leaf for leaf in document.leaves if leaf.to_take]
    if unread:
        lines += _first_readings(unread[0], len(document.leaves) == 2, words)
    return "\n".join(lines).rstrip()


def fit_up_brief(leaf: LeafFitUp) -> list[str]:
    """Return how a leaf came out on the pad, in a line or two."""
    name = leaf_name(leaf.key)
    found = leaf.welded or leaf.tacked
    if found is None:
        return [f"  {name}: not read yet"]
    if isinstance(found, Held):
        return held_lines(f"  {name}", found)
    stage = "welded" if leaf.welded else "tacked"
    said = "; ".join(push.words for push in found.pushes) or "nothing to push"
    if found.doubt.holds:
        said = f"push nothing yet: {'; '.join(found.suspects)}"
    if found.missing:
        said += f"; {len(found.missing)} things are not known yet"
    return wrapped(f"{name}, {stage}: {said}", "    ", first="  ")


def _pad_lines(leaf: LeafFitUp, words: Words) -> list[str]:
    size = f"{words.length(leaf.width)} wide, {words.length(leaf.height)} high on its sheet"
    lines = [f"{leaf_name(leaf.key)}, {size}"]
    if leaf.to_take:
        lines.append("  Nothing was read of it yet.")
    for stage, found in (("tacked", leaf.tacked), ("welded", leaf.welded)):
        if isinstance(found, Held):
            lines += held_lines(f"  {stage.capitalize()}", found)
        elif found is not None:
            lines += _shape_lines(stage, found, words)
    if leaf.as_built is not None:
        lines += _built_lines(leaf.as_built, words)
    if isinstance(leaf.packing, Held):
        lines += held_lines("  Packers", leaf.packing)
    elif leaf.packing is not None:
        lines += _packer_lines(leaf.packing, words)
    return lines


def _shape_lines(stage: str, found: FitUp, words: Words) -> list[str]:
    lines = wrapped(f"{stage.capitalize()}. {found.standing}", "    ", first="  ")
    if found.pushes:
        lines.append("  What to push, first things first:")
        lines += steps([sentence(push.words) for push in found.pushes], "    ")
    elif found.doubt.holds:
        lines.append("  Push nothing before it is settled which reading is wrong:")
        for said in found.suspects:
            lines += wrapped(f"{sentence(said)}.", "      ", first="    ")
        lines.append("  What the shape comes to:")
        for answer in found.answers:
            name = f"Without {answer.without}" if answer.without else "With every reading"
            lines += wrapped(f"{name}: {answer.words}.", "      ", first="    ")
    elif not found.missing and not found.past_pushing:
        lines.append(f"  {_nothing_to_push(found)}")
    for said in found.past_pushing:
        lines += wrapped(f"{sentence(said)}.", "    ", first="  ")
    if not found.doubt.holds:
        lines.append("  Its shape:")
    for item in found.items:
        if item.value is not None and not found.doubt.holds:
            lines += wrapped(f"{sentence(item.words)}.", "      ", first="    ")
    one, other = found.diagonals
    if one is not None and other is not None:
        lines.append(f"    Its diagonals: {words.length(one)} and {words.length(other)}.")
    lines += _doubt_lines(found.missing, (), found.freedom, found.readings, words)
    return [*lines, *check_lines(found.checks, words)]


def _nothing_to_push(found: FitUp) -> str:
    """Return that nothing is to be pushed, as surely as the readings say so."""
    if any(c.verdict in (Verdict.SHORT, Verdict.TIGHT) for c in found.checks):
        return "Nothing to push that these readings show for sure."
    return "Nothing to push: it is in shape."


def _doubt_lines(
    missing: Sequence[str],
    suspects: Sequence[str],
    freedom: int,
    readings: Sequence[Compared],
    words: Words,
) -> list[str]:
    """Return what readings do not tell, which stand out, and whether anything checks them."""
    lines: list[str] = []
    if missing:
        lines += ["  Not known yet, and what to read for it:", *_untold_lines(missing, "    ")]
    for said in suspects:
        lines += wrapped(f"Read again: {said}.", "    ", first="  ")
    if freedom <= 0:
        lines += wrapped(UNCHECKED, "    ", first="  ")
    rows = [
        (
            f"  {one.words}",
            words.length(one.read),
            words.length(one.fitted),
            words.small(one.residual),
            "unchecked" if one.standardised is None else "",
        )
        for one in readings
    ]
    return [*lines, *table(("  Readings", "read", "as adjusted", "by", ""), rows, "")]


def _built_lines(found: AsBuilt, words: Words) -> list[str]:
    rows = [
        (one.name, words.length(one.value) if one.value is not None else "not known")
        for one in (*found.widths, *found.heights)
    ]
    return ["  As it came out, welded:", *table(("", ""), rows, "    ")[1:]]


def _packer_lines(found: Packing, words: Words) -> list[str]:
    lines = ["  Packers under it, highest point first:"]
    for said in found.words:
        lines += wrapped(said, "      ", first="    ")
    return [*lines, *check_lines(found.checks, words)]


def _first_readings(leaf: LeafFitUp, pair: bool, words: Words) -> list[str]:
    """Return which readings to take first, and how they stand in the job file."""
    count = {8: "Eight"}.get(len(leaf.to_take), str(len(leaf.to_take)))
    lines = [f"{count} numbers tell a leaf's shape in its plane. Take them before it is welded:"]
    lines += steps([sentence(said) for said in leaf.to_take])
    lines += wrapped(
        "The six distances check one another; equal diagonals alone prove little. Then the heights "
        "of its four corners over one level plane tell whether it is twisted."
    )
    lines += ["", "What each of them is for:", *_untold_lines(leaf.untold)]
    own = [f'  leaf = "{leaf.hand}"'] if pair else []
    diagonal = _typed(math.hypot(leaf.width, leaf.height), words)
    small = "1/16 in" if words.system == "feet-inch" else "1 mm"
    return [
        *lines,
        "",
        "Write them in the job file, each as one of these:",
        "  [[fit_up]]",
        '  kind = "distance"',
        *own,
        '  from = "bottom hinge"',
        '  to = "top closing"',
        f'  is = "{diagonal}"',
        '  stage = "tacked"  # or "welded"',
        "",
        "  [[fit_up]]",
        '  kind = "string"  # how far an edge lies from a string between its corners',
        *own,
        '  at = "hinge@mid"',
        f'  is = "{small}"',
        '  toward = "inward"  # or "outward"',
        "",
        "  [[fit_up]]",
        '  kind = "height"  # over one level plane',
        *own,
        '  at = "top closing"',
        f'  is = "{small}"',
    ]


def _untold_lines(untold: Sequence[str], indent: str = "  ") -> list[str]:
    """Return what nothing tells yet, each with the readings that would."""
    lines = []
    for said in untold:
        told = sentence(said.replace(f" is {NOT_KNOWN}: read ", ": "))
        lines += wrapped(f"{told}.", f"{indent}  ", first=indent)
    return lines


def _typed(length: float, words: Words) -> str:
    """Return a length as it may be typed between quotes in a job file."""
    if words.system == "mm":
        return show_length(length, words.tape)
    bare = show_length(length, words.tape, unit=False)
    return bare if "'" in bare else f"{bare} in"


# ---------------------------------------------------------------- hung


def align_text(made: Plan, document: AlignDocument) -> str:
    """Return how the leaves hang and what to move, for a maker at a terminal."""
    words = words_of(made.job)
    lines = [*heading_lines(made, "the leaves as they hang"), *stop_lines(document.stops)]
    if isinstance(document.leaves, Held):
        return "\n".join([*lines, *held_lines("Alignment", document.leaves)])
    for leaf in document.leaves:
        lines += [*_hung_lines(leaf, words), ""]
    unread = [leaf for leaf in document.leaves if leaf.hung is None]
    if unread:
        lines += [*_first_gaps(unread[0], len(document.leaves) == 2, words), ""]
    if isinstance(document.resplit, Held):
        lines += held_lines("The second leaf", document.resplit)
    elif document.resplit is not None:
        lines += _resplit_lines(document.resplit, words)
    return "\n".join(lines).rstrip()


def align_brief(leaf: LeafHung) -> list[str]:
    """Return what to move of a leaf that hangs, in a line or two."""
    name = leaf_name(leaf.key)
    if leaf.hung is None:
        return [f"  {name}: not read yet"]
    if isinstance(leaf.hung, Held):
        return held_lines(f"  {name}", leaf.hung)
    said = "; ".join(move.words for move in leaf.hung.moves) or "nothing to move"
    if leaf.hung.stops:
        said = f"move nothing yet: {'; '.join(stop.why for stop in leaf.hung.stops)}"
    if leaf.hung.missing:
        said += f"; {len(leaf.hung.missing)} things are not known yet"
    return wrapped(f"{name}: {said}", "    ", first="  ")


def _hung_lines(leaf: LeafHung, words: Words) -> list[str]:
    name = leaf_name(leaf.key)
    if leaf.hung is None:
        return [name, "  Nothing was read of it hung yet."]
    if isinstance(leaf.hung, Held):
        return held_lines(name, leaf.hung)
    found: Hung = leaf.hung
    lines = [name]
    if found.caution:
        lines += cautions([found.caution])
    if found.stops and not found.moves:
        lines.append("  Move nothing yet:")
        for stop in found.stops:
            lines += wrapped(f"{sentence(stop.why)}.", "      ", first="    ")
            lines += wrapped(f"{sentence(stop.decide)}.", "      ", first="    ")
        lines += ["  How it hangs:"] if found.answers else []
        for answer in found.answers:
            name = f"Without {answer.without}" if answer.without else "With every reading"
            lines += wrapped(f"{name}: {answer.words}.", "      ", first="    ")
    elif found.moves and not found.stops:
        lines.append("  What to move, in this order:")
        lines += steps([sentence(move.words) for move in found.moves], "    ")
    elif found.moves:
        lines.append("  DO NOT make these moves before what stops them is settled:")
        lines += steps([sentence(move.words) for move in found.moves], "    ")
    else:
        lines.append("  Nothing to move, as far as the readings tell.")
    for said in found.remains:
        lines += wrapped(said, "    ", first="  ")
    for said in found.notes:
        lines += wrapped(f"{sentence(said)}.", "    ", first="  ")
    if not found.answers:
        lines.append("  How it hangs:")
    for part in found.pose:
        if part.value is not None and not found.answers:
            lines += wrapped(f"{sentence(part.words)}.", "      ", first="    ")
    if found.gaps:
        rows = [
            (
                f"  {gap.words}",
                words.length(gap.before),
                words.length(gap.planned),
                f"{words.length(gap.after)} ± {words.length(gap.band)}",
                "" if gap.least is None else words.length(gap.least),
            )
            for gap in found.gaps
        ]
        after = "after the moves" if found.moves else "not moved"
        lines += table(("  What was read", "read", "planned", after, "least"), rows, "")
    lines += _doubt_lines(found.missing, (), found.freedom, found.readings, words)
    return [*lines, *check_lines(found.checks, words)]


def _first_gaps(leaf: LeafHung, pair: bool, words: Words) -> list[str]:
    """Return which gaps to read first of a hung leaf, and how they stand in the job file."""
    lines = ["What to read once a leaf hangs:", *_untold_lines(leaf.untold)]
    own = [f'  leaf = "{leaf.hand}"'] if pair else []
    gap, up = _typed(leaf.heel_gap, words), _typed(0.95 * leaf.height, words)
    inch = words.system == "feet-inch"
    over, off = ("5 ft", "1/8 in") if inch else ("1500 mm", "3 mm")
    return [
        *lines,
        "",
        "Write them in the job file, each as one of these:",
        "  [[hung]]",
        '  kind = "gap"',
        *own,
        '  where = "heel"  # or "closing", "top", "floor"',
        f'  at = "{up}"  # up from its bottom; at top and floor, out from its hinge edge',
        f'  is = "{gap}"',
        '  angle = "0 deg"  # how far it stands open',
        "",
        "  [[hung]]",
        '  kind = "plumb"',
        *own,
        '  direction = "in the wall"  # and once more "through the wall"',
        f'  over = "{over}"',
        f'  is = "{off}"',
        '  toward = "right"  # or "left"; through the wall: "viewer" or "away"',
    ]


def _resplit_lines(found: Resplit, words: Words) -> list[str]:
    lines = ["The second leaf, made to suit the first as it came out:"]
    for said in found.words:
        lines += wrapped(said, "    ", first="  ")
    return [*lines, *check_lines(found.checks, words)]
