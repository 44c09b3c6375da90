"""Every formula of the handbook, listed by trade subject and worked with what a maker types.

Made from the functions' own signatures, docstrings and lines: nothing here repeats a formula.
"""

from leafwright.figures.find import figure_named, figures
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
    "figure_text",
    "figures",
    "list_text",
    "typed_values",
    "worked",
    "worked_text",
]
