"""What to buy: every section's pieces nested into the lengths it is sold in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.chain import Quantity
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.defaults import chosen
from leafwright.job.model import Job
from leafwright.job.steel import Steel
from leafwright.records import Check, Held, Kilograms, Metres, Source, Verdict
from leafwright.shop.cut_list import CutList
from leafwright.shop.nest import Nest, Piece, Rules, Stick, nest
from leafwright.shop.sawn import kerf_checks

#: Lengths that steel is commonly sold in, where the job names none [m]; common practice, no source.
USUAL_LENGTHS = {"feet-inch": (20 * 0.3048, 24 * 0.3048), "metric": (6.0,)}


SAWN = Source("the saw's kerf and the sticks' trims", "arithmetic")


@dataclass(frozen=True, slots=True)
class SectionStock:
    """One section's sticks, with the pieces cut from each; ``mass`` is what is bought."""

    section: CatalogueSection
    nest: Nest | Held
    mass: Kilograms


@dataclass(frozen=True, slots=True)
class Stock:
    """All sections' sticks, with the saw's rules that they were laid out by."""

    kerf: Quantity
    end_trim: Quantity
    lengths: tuple[Metres, ...]
    lengths_by_default: bool
    sections: tuple[SectionStock, ...]
    checks: tuple[Check, ...]


def stock(job: Job, cuts: CutList, steel: Steel) -> Stock:
    """Return the sticks to buy and what to cut from each, least bought length first.

    Args:
        job: lengths sold, kerf, end trim and offcuts.
        cuts: the pieces.
        steel: sections of the job, to match offcuts with.
    """
    system = job.job.system
    kerf = chosen(job.stock.kerf, "kerf", "shop/kerf", "kerf", system=system)
    trim = chosen(job.stock.end_trim, "end trim", "shop/end trim", "end trim", system=system)
    lengths = tuple(t.si for t in job.stock.lengths) or USUAL_LENGTHS[system]
    sections: dict[tuple[str, str], CatalogueSection] = {}
    pieces: dict[tuple[str, str], list[Piece]] = {}
    for item in cuts.items:
        name = (item.section.designation, item.section.grade.name)
        sections[name] = item.section
        pieces.setdefault(name, []).extend(Piece(m, item.length.value) for m in item.marks)
    racks: dict[str, list[Stick]] = {}
    for i, offcut in enumerate(job.offcut, start=1):
        designation = steel.section(offcut.section).designation
        label = f"offcut {i}"
        stick = Stick("offcut", label, offcut.length.si, count=offcut.count)
        racks.setdefault(designation, []).append(stick)
    rules = Rules(kerf.value, trim.value, trim.value)
    done = []
    checks = []
    for name, section in sections.items():
        new = [Stick("new", f"new {i}", size) for i, size in enumerate(lengths, start=1)]
        laid = nest(pieces[name], [*new, *racks.get(name[0], [])], rules)
        bought = laid.bought_length if isinstance(laid, Nest) else 0.0
        done.append(SectionStock(section, laid, bought * section.mass_per_metre))
        checks.append(_check(section, pieces[name], lengths, laid, rules))
    ends = [end.cuts for item in cuts.items for end in (item.start, item.end)]
    checks += kerf_checks(ends, cuts.tools, kerf.value)
    return Stock(kerf, trim, lengths, not job.stock.lengths, tuple(done), tuple(checks))


def _check(
    section: CatalogueSection,
    pieces: Sequence[Piece],
    lengths: Sequence[float],
    laid: Nest | Held,
    rules: Rules,
) -> Check:
    """Return whether a section's pieces can be cut from the sticks there are [m]."""
    longest = max(pieces, key=lambda piece: piece.length)
    # Each trim costs its own length and a cut; a piece needs both off the stick it comes from.
    off = sum(trim + rules.kerf for trim in (rules.trim_start, rules.trim_end) if trim > 0)
    has = max(lengths) - off
    short = isinstance(laid, Held)
    change = f"add a longer stick to [stock] for {longest.key}, or decide where it is spliced"
    if isinstance(laid, Held) and longest.length <= has:
        change = laid.why
    return Check(
        key=f"shop/{section.designation}, {section.grade.name}",
        subject=f"sticks of {section.designation}",
        question=f"do they yield every piece; the longest is {longest.key}",
        verdict=Verdict.SHORT if short else Verdict.OK,
        source=SAWN,
        unit="m",
        demand=longest.length,
        available=has,
        ratio=longest.length / has,
        change=change if short else "",
    )
