"""Every formula of the handbook, listed by trade subject and worked with what a maker types.

What the program itself called is shown in the same way (`shown`, `shown_each`).

Made from the functions' own signatures, docstrings and lines: nothing here repeats a formula.
"""

from leafwright.figures.called import shown, shown_each
from leafwright.figures.find import figure_named, figure_of, figures
from leafwright.figures.records import (
    Argument,
    Figure,
    FigureDocument,
    FigureError,
    PutIn,
    Result,
    Step,
    Worked,
)
from leafwright.figures.subjects import ORDER
from leafwright.figures.told import figure_text, list_text, worked_text
from leafwright.figures.work import typed_values, worked

__all__ = [
    "ORDER",
    "Argument",
    "Figure",
    "FigureDocument",
    "FigureError",
    "PutIn",
    "Result",
    "Step",
    "Worked",
    "figure_named",
    "figure_of",
    "figure_text",
    "figures",
    "list_text",
    "shown",
    "shown_each",
    "typed_values",
    "worked",
    "worked_text",
]
