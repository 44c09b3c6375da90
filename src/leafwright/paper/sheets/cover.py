"""The cover: the doorway small, the main figures large, and what the maker must look at."""

from __future__ import annotations

import re

from leafwright.doorway import Doorway
from leafwright.job.free_text import texts_of
from leafwright.leaf import Leaf
from leafwright.paper.font import STAND_IN, missing_characters
from leafwright.paper.layout import Caution
from leafwright.paper.sheet import Sheet, area
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.flow import Block, Boxed, Figures, Listed, Says, Title, drawn, flowed
from leafwright.paper.sheets.opening import picture
from leafwright.records import Verdict
from leafwright.say import count_of, default_line, sentence
from leafwright.say_loads import loads_words
from leafwright.site.made import refit_words
from leafwright.survey import Survey

#: A leaf of a pair by its side, as checks name it.
_LEAF = re.compile(r"(?:[Tt]he )?\b(?:[Ll]eft|[Rr]ight) leaf\b")


def _changed(at: Desk) -> tuple[Boxed, ...]:
    """Return a box for what a leaf that is made changed of the other."""
    room = at.plan.doorway
    said = refit_words(room, tape=at.words.tape) if isinstance(room, Doorway) else ()
    if not said:
        return ()
    return (
        Boxed(Caution(f"{sentence(said[-1])}.", "\n".join(f"{sentence(w)}." for w in said[:-1]))),
    )


def _unwritten(at: Desk) -> tuple[Boxed, ...]:
    """Return a box for the characters of the job file that these sheets have no letters for."""
    missing = missing_characters("".join(texts_of(at.plan.job)))
    if not missing:
        return ()
    named = ", ".join(f"U+{ord(character):04X}" for character in missing[:12])
    named += f" and {len(missing) - 12} more" if len(missing) > 12 else ""
    return (
        Boxed(
            Caution(
                f"These sheets cannot write {named}.",
                f'A "{STAND_IN}" stands for each. The page and the job file have them as typed; '
                "where it matters, write it with other letters.",
            )
        ),
    )


def _stops(at: Desk) -> tuple[Boxed, ...]:
    """Return a box for each thing that keeps steel from being cut."""
    return tuple(
        Boxed(Caution(sentence(s.why), sentence(s.decide) + ".", kind="stop"))
        for s in at.plan.stops
    )


def _open_questions(at: Desk) -> tuple[Boxed, ...]:
    """Return a box for each question that somebody else has to answer.

    What is asked of both leaves in the same words has one box.
    """
    counts: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for check in at.plan.checks:
        if check.verdict is Verdict.ASK:
            said = (f"{sentence(check.subject)}: {check.question}?", f"{sentence(check.change)}.")
            alike = (
                sentence(_LEAF.sub("both leaves", said[0])),
                sentence(_LEAF.sub("both leaves", said[1])),
            )
            counts.setdefault(alike, []).append(said)
    return tuple(
        Boxed(Caution(*words))
        for alike, asked in counts.items()
        for words in ([alike] if len(asked) > 1 else asked)
    )


def cover_figures(at: Desk) -> list[tuple[str, str]]:
    """Return the plan's main figures, caption and value."""
    words, made = at.words, at.plan
    found: list[tuple[str, str]] = []
    doorway = made.doorway
    if isinstance(doorway, Doorway):
        found.append(("Least clear width of the opening", words.sure(doorway.width)))
        for place in doorway.leaves:
            name = "The leaf" if place.key == "leaf" else f"{place.key.capitalize()} leaf"
            size = f"{words.length(place.width)} × {words.length(place.height)}"
            found.append((f"{name}, wide × high", size))
        found.append(("Clear opening at 90°", words.length(doorway.clear_opening)))
    for leaf in made.leaves:
        if isinstance(leaf, Leaf):
            name = "The leaf" if leaf.key == "leaf" else f"{leaf.key.capitalize()} leaf"
            found.append(
                (
                    f"{name}, bare and hung",
                    f"{words.mass(leaf.lift_mass)}, {words.mass(leaf.hung_mass)}",
                )
            )
    found.append(("Checks", count_of(made.checks)))
    return found


def cover_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the cover with the open questions, on over a second sheet where they need it."""
    sheet = blank(at, "Cover", drawing=True)
    state = "This packet may be cut from." if at.plan.for_cutting else "NOT FOR CUTTING yet."
    if any(c.verdict is Verdict.ASK for c in at.plan.checks):
        state += " What is boxed is still open: it must be answered before anything is hung."
    loads = loads_words(at.plan)
    blocks: tuple[Block, ...] = (
        Title(at.plan.job.job.name, 7.0),
        Says(state, 3.6),
        Figures(tuple(cover_figures(at)), 2, 5.0),
        *([Says(loads)] if loads else []),
        *_changed(at),
        *_unwritten(at),
        *_stops(at),
        *_open_questions(at),
    )

    def later() -> Sheet:
        return blank(at, "Open questions", seen=False)

    found = at.plan.survey
    if not isinstance(found, Survey):
        return flowed(sheet, area(sheet), later, blocks)
    seen = f"SEEN FROM THE {at.plan.job.job.seen_from.upper()}"
    return drawn(
        sheet, picture(at, found), at.scales, later, blocks, caption=seen, share=0.44, bar=False
    )


def notes_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return what was taken by default, and what this packet does not do."""
    sheet = blank(at, "Taken by default, and not done here", seen=False)
    return flowed(
        sheet,
        area(sheet),
        lambda: sheet,
        (
            Title("Not said in the job file, so taken by default", 4.0),
            Says("Nothing in the job file changes what has no key here."),
            Listed(tuple(default_line(q, at.words) for q in at.plan.defaults)),
            Title("Not worked out by this packet", 4.0),
            Listed(
                tuple(
                    f"{name}: {held.why}. Go by: {'; '.join(held.needs)}."
                    for name, held in at.plan.not_yet
                )
            ),
        ),
    )
