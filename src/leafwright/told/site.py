"""The site stage on one screen: swing, standing up, drift, the pad and the hung leaves."""

from __future__ import annotations

from leafwright.documents.of_plan import (
    align_document,
    drift_document,
    fit_up_document,
    site_document,
    stand_document,
    swing_document,
)
from leafwright.documents.records import Document, SiteDocument
from leafwright.documents.weld_order import weld_order_document
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import count_of, words_of
from leafwright.told.align import align_brief, align_text, fit_up_brief, fit_up_text
from leafwright.told.lines import exit_code_of, heading_lines, held_lines, stop_lines, wrapped
from leafwright.told.order import order_exit_code, order_text
from leafwright.told.pack import told_pack
from leafwright.told.stand import drift_brief, drift_text, stand_brief, stand_text
from leafwright.told.swing import budget_brief, swing_brief, swing_text


def site_text(made: Plan, document: SiteDocument) -> str:
    """Return the leaves on site on one screen, with the command that tells more of each part."""
    words = words_of(made.job)
    lines = [*heading_lines(made, "the leaves on site"), *stop_lines(document.stops)]
    lines += ["Swing (site swing)", *swing_brief(document.swing, words)]
    if not isinstance(document.swing.budgets, Held):
        lines += budget_brief(document.swing.budgets, words)
    lines.append("Standing up (site stand)")
    if isinstance(document.stand.leaves, Held):
        lines += held_lines("  leaves", document.stand.leaves)
    else:
        for stood in document.stand.leaves:
            lines += stand_brief(stood, words)
    lines.append("Drift (site drift)")
    if not isinstance(document.drift.leaves, Held):
        for left in document.drift.leaves:
            lines += drift_brief(left, words)
    lines.append("On the pad (site fit-up)")
    if not isinstance(document.fit_up.leaves, Held):
        for lying in document.fit_up.leaves:
            lines += fit_up_brief(lying)
    lines.append("Hung (site align)")
    if not isinstance(document.align.leaves, Held):
        for hanging in document.align.leaves:
            lines += align_brief(hanging)
    split = document.align.resplit
    if split is not None and not isinstance(split, Held):
        lines += wrapped(f"second leaf: {split.words[0]}", "    ", first="  ")
    lines += ["", f"Checks: {count_of(document.checks)}"]
    return "\n".join(lines)


def told_part(part: str, made: Plan) -> tuple[Document, str, int]:
    """Return a part of the work with the leaves as a document, as text, and as an exit code.

    Args:
        part: ``swing``, ``stand``, ``drift``, ``fit-up`` or ``align``; ``weld-order`` of the shop;
            all of the site stage for any other.
        made: the plan, with the site stage run.
    """
    if part == "weld-order":
        order = weld_order_document(made)
        return order, order_text(made, order), order_exit_code(order)
    held = isinstance(made.site, Held) or any(isinstance(leaf, Held) for leaf in made.leaves)
    document: Document
    if part == "pack":
        return told_pack(made)
    if part == "swing":
        document = swing = swing_document(made)
        text = swing_text(made, swing)
    elif part == "stand":
        document = stand = stand_document(made)
        text = stand_text(made, stand)
    elif part == "drift":
        document = drift = drift_document(made)
        text = drift_text(made, drift)
    elif part == "fit-up":
        document = fit_up = fit_up_document(made)
        text = fit_up_text(made, fit_up)
    elif part == "align":
        document = align = align_document(made)
        text = align_text(made, align)
    else:
        document = site = site_document(made)
        text = site_text(made, site)
    return document, text, exit_code_of(document.checks, document.stops, held=held)


def site_lines(made: Plan) -> list[str]:
    """Return how the leaves are hung and whether they stay, in short, for a plan's text."""
    words = words_of(made.job)
    if isinstance(made.site, Held):
        return held_lines("On site", made.site)
    lines = ["On site:"]
    stand, drift = stand_document(made), drift_document(made)
    if not isinstance(stand.leaves, Held):
        for stood in stand.leaves:
            lines += stand_brief(stood, words)
    if not isinstance(drift.leaves, Held):
        for left in drift.leaves:
            lines += drift_brief(left, words)
    return lines
