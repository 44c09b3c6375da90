"""The calculation: every check of a plan with its formulas, numbers and sources, in groups.

The command, the page and the sheets all show it from here, so that they show the same. Nothing is
worked out anew: a formula is told with the numbers that the check itself put in.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from leafwright.documents.records import CalculationDocument, Group, Heading
from leafwright.documents.report import VERSION
from leafwright.documents.report import shown as shown_quantity
from leafwright.doorway import Doorway
from leafwright.doorway.heel import leaf_words
from leafwright.figures import Worked, shown_each
from leafwright.job.defaults import System
from leafwright.mount import LeafMount
from leafwright.pipeline import Plan
from leafwright.proof import LeafProof
from leafwright.records import Check
from leafwright.shop.cut_list import CutList
from leafwright.shop.holes.records import Holes
from leafwright.shop.pack import Pack
from leafwright.shop.stock import Stock
from leafwright.site.records import Site
from leafwright.survey import Survey

#: The group of what is no calculation: questions to others.
OTHERS_ANSWER = "What others must answer"

#: Of a formula that gives many numbers, as the properties of a section, so many are told.
MOST_RESULTS = 6


@dataclass(frozen=True, slots=True)
class Line:
    """One formula as a check used it.

    ``quantity`` is what it gives, ``source`` where it stands; ``steps`` are the formula, the same
    with its numbers, and the result, a line each; ``result`` is what came of it.
    """

    figure: str
    quantity: str
    source: str
    put_in: tuple[str, ...]
    steps: tuple[str, ...]
    result: str


def calculation(made: Plan) -> CalculationDocument:
    """Return every check of a plan in the order of the load: opening, leaf, mount, shop, site."""
    job = made.job.job
    return CalculationDocument(
        heading=Heading(VERSION, job.name, job.seen_from, job.revision),
        basis=f"{made.job.basis.steel}, {made.job.basis.method}",
        for_cutting=made.for_cutting,
        groups=_groups(made),
        defaults=tuple(shown_quantity(q) for q in made.defaults),
    )


def _groups(made: Plan) -> tuple[Group, ...]:
    groups: list[Group] = []
    if isinstance(made.survey, Survey):
        groups.append(Group("The opening", "", "", made.survey.checks))
    if isinstance(made.doorway, Doorway):
        groups.append(Group("The doorway and its gaps", "", "", made.doorway.checks))
    for proof, mount in zip(made.proofs, made.mounts, strict=True):
        if isinstance(proof, LeafProof):
            title = f"The frame of {leaf_words(proof.leaf)}"
            groups.append(Group(title, proof.leaf, "", proof.checks, assumptions=proof.assumptions))
        if isinstance(mount, LeafMount):
            groups += [
                Group(
                    f"{name[:1].upper()}{name[1:]} of {leaf_words(mount.leaf)}",
                    mount.leaf,
                    name,
                    link.checks,
                    link.words,
                    link.assumptions,
                    link.cautions,
                )
                for name, link in mount.links
            ]
    if isinstance(made.cuts, CutList):
        groups.append(Group("The cuts", "", "", made.cuts.checks))
    if isinstance(made.holes, Holes):
        groups.append(Group("Holes and plates", "", "", made.holes.checks))
    if isinstance(made.stock, Stock):
        groups.append(Group("The steel bought", "", "", made.stock.checks))
    if isinstance(made.pack, Pack):
        groups.append(Group("Power, and welding on plate", "", "", made.pack.checks))
    if isinstance(made.site, Site):
        groups.append(Group("On site", "", "", made.site.checks))
    told = {check.key: check for check in made.checks}
    known = {check.key for group in groups for check in group.checks}
    rest = tuple(check for check in made.checks if check.key not in known)
    groups.append(Group(OTHERS_ANSWER, "", "", rest))
    as_answered = [
        replace(group, checks=tuple(told.get(check.key, check) for check in group.checks))
        for group in groups
    ]
    return tuple(group for group in as_answered if group.checks or group.words)


def lines_of(check: Check, system: str) -> tuple[Line, ...]:
    """Return the formulas behind a check with their numbers, in order.

    Args:
        check: of a plan.
        system: ``feet-inch``, or another for metric.
    """
    family: System = "feet-inch" if system == "feet-inch" else "metric"
    return tuple(_line(worked, family) for worked in shown_each(check.working, system=family))


def _line(worked: Worked, family: System) -> Line:
    inch = family == "feet-inch"
    told = worked.results[:MOST_RESULTS]
    rest = len(worked.results) - len(told)
    return Line(
        figure=worked.figure.name,
        quantity=worked.figure.quantity,
        source=worked.figure.source,
        put_in=tuple(
            f"{put.key} = {put.customary if inch else put.metric}" for put in worked.put_in
        ),
        steps=_steps(worked),
        result=", ".join(
            f"{f'{r.name} = ' if r.name else ''}{r.customary if inch else r.metric}" for r in told
        )
        + (f", and {rest} more" if rest else ""),
    )


def _steps(worked: Worked) -> tuple[str, ...]:
    lines = []
    for step in worked.steps:
        parts = [part for part in (step.name, step.formula) if part]
        if step.numbers not in (step.formula, step.result):
            parts.append(step.numbers)
        if step.result != parts[-1]:
            parts.append(step.result)
        because = f" (as {step.because})" if step.because else ""
        lines.append(" = ".join(parts) + because)
    return tuple(lines)
