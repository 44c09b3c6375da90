"""Pens and inks: how each layer is drawn. Meaning never hangs on colour alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from leafwright.paper.scene import Ink, Layer


@dataclass(frozen=True, slots=True)
class Pen:
    """A line's width [mm of paper], ink, and dash pattern (on, off, … [mm]); () is unbroken."""

    width: float
    ink: Ink
    dash: tuple[float, ...] = ()


# The widths are among the line weights that DXF knows (hundredths of a millimetre).
PENS: Mapping[Layer, Pen] = MappingProxyType(
    {
        "cut": Pen(0.60, "black"),
        "mark": Pen(0.40, "black", (3.6, 1.0)),
        "note": Pen(0.25, "black"),
        "centre": Pen(0.20, "dark", (7.0, 1.2, 1.2, 1.2)),
        "hidden": Pen(0.30, "dark", (2.2, 1.2)),
        "thin": Pen(0.20, "black"),
        "dimension": Pen(0.18, "dark"),
        "hatch": Pen(0.13, "grey"),
        "border": Pen(0.70, "black"),
        "rule": Pen(0.13, "grey"),
    }
)

HEAVY_LAYERS: frozenset[Layer] = frozenset({"cut", "border"})

# One spot colour, for what can hurt; it stays dark on a grey print.
INKS: Mapping[Ink, str] = MappingProxyType(
    {
        "black": "#000000",
        "dark": "#333333",
        "grey": "#666666",
        "pale": "#e8e8e8",
        "white": "#ffffff",
        "spot": "#9c3a12",
    }
)
