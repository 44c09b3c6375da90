"""What to buy and what to take along: welding supplies, power, tools by operation, straightness."""

from leafwright.shop.pack.packed import packed
from leafwright.shop.pack.records import (
    Buying,
    BuyLine,
    Crooked,
    Operation,
    Outlet,
    Pack,
    PackItem,
    SeamSum,
    SiteNeeds,
    WeldUse,
)

__all__ = [
    "BuyLine",
    "Buying",
    "Crooked",
    "PackItem",
    "Operation",
    "Outlet",
    "Pack",
    "SeamSum",
    "SiteNeeds",
    "WeldUse",
    "packed",
]
