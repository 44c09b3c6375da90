"""One check from a demand and what is available."""

from __future__ import annotations

import math

from leafwright import units
from leafwright.job.model import Job
from leafwright.proof.working import Lines
from leafwright.records import Check, Source, Verdict, Working, graded, ratio_of


def leaf_subject(key: str) -> str:
    """Return what a check calls a leaf."""
    return "the leaf" if key == "leaf" else f"{key} leaf"


def compared(
    key: str,
    subject: str,
    question: str,
    demand: float,
    available: float,
    *,
    source: Source,
    rule: str,
    change: str,
    unit: str = "1",
    case: str = "",
    basis: str = "",
    lines: Lines | None = None,
    before: tuple[Working, ...] = (),
    advice: bool = False,
) -> Check:
    """Return a check graded by demand over available, in ``unit``.

    ``change`` is kept where it is not ok; ``before`` is what was worked for it elsewhere, ahead of
    its own ``lines``. ``advice`` never comes out worse than tight: what goes
    past it is no danger.
    """
    ratio = ratio_of(demand, available)
    verdict = graded(ratio)
    if advice and verdict is Verdict.SHORT:
        verdict = Verdict.TIGHT
    return Check(
        key=key,
        subject=subject,
        question=question,
        verdict=verdict,
        source=source,
        unit=unit,
        demand=demand,
        available=available,
        ratio=ratio if math.isfinite(ratio) else None,
        case=case,
        change=change if verdict is not Verdict.OK else "",
        basis=basis,
        rule=rule,
        working=(*before, *(lines.kept() if lines else ())),
    )


def asked(
    key: str,
    subject: str,
    question: str,
    *,
    source: Source,
    change: str,
    rule: str = "",
    case: str = "",
    lines: Lines | None = None,
    before: tuple[Working, ...] = (),
) -> Check:
    """Return a question that a data sheet, an official or an engineer must answer."""
    return Check(
        key=key,
        subject=subject,
        question=question,
        verdict=Verdict.ASK,
        source=source,
        case=case,
        change=change,
        basis="unknown",
        rule=rule,
        working=(*before, *(lines.kept() if lines else ())),
    )


def force_words(job: Job, newtons: float) -> str:
    """Return a force as the maker reads it."""
    return units.show_force(newtons, "mm" if job.job.system == "metric" else "feet-inch")


def pressure_words(job: Job, pascals: float) -> str:
    """Return a pressure as the maker reads it."""
    return units.show_pressure(pascals, "mm" if job.job.system == "metric" else "feet-inch")
