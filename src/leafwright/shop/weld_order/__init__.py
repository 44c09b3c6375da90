"""The order of welding that keeps a leaf flat and square: a study over a plan."""

from leafwright.shop.weld_order.records import Left, OutBy, Step, Tacks, Turned, WeldOrder
from leafwright.shop.weld_order.study import mirrored, weld_order

__all__ = ["Left", "OutBy", "Step", "Tacks", "Turned", "WeldOrder", "mirrored", "weld_order"]
