"""A formula of the handbook on the terminal: worked, shown, or among the others of its subject."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright import figures
from leafwright.figures import Figure, FigureDocument


def figure_document(name: str | None, values: Sequence[str]) -> FigureDocument:
    """Return a formula worked from what was typed, or the formulas that a name stands for.

    Args:
        name: of a formula or a subject; None for all of them.
        values: what to put in, each as ``key=value``.

    Raises:
        FigureError: no such formula, or something typed that cannot be put in.
    """
    known: tuple[Figure, ...] = ()
    if name is None or name in figures.ORDER:
        known = tuple(f for f in figures.figures() if name in (None, f.subject))
        return FigureDocument(known, None)
    typed = figures.typed_values(values)
    figure = figures.figure_named(name)
    if typed or not any(a.otherwise == "" for a in figure.arguments):
        return FigureDocument(known, figures.worked(name, typed))
    return FigureDocument((figure,), None)


def figure_words(document: FigureDocument) -> str:
    """Return what `figure_document` found, as the terminal shows it."""
    if document.worked is not None:
        return figures.worked_text(document.worked)
    if len(document.figures) == 1:
        return figures.figure_text(document.figures[0])
    return figures.list_text(document.figures)
