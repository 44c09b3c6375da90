"""The parts of the commented job file about sticks, and about what steel is cut with."""

from __future__ import annotations

STICKS = """
# [[stick]]: a length that is sold, where its price or its supplier is known.
#[[stick]]
#section = "$frame"  # left out: any section
#length = "$stick"
#price = "$stick_price"  # or by length or weight
#count = 4  # how many there are; left out: as many as are wanted
#supplier = "the yard"

# [[offcut]]: a piece already on the rack.
#[[offcut]]
#section = "$frame"
#length = "$offcut"
#count = 1
#price = "$by_weight"  # left out: it costs nothing
#straight = false  # true: stiles may come from it
"""

SAWS = """
# [[cut_with]]: a saw, or another tool that cuts, in the order in which it is reached for. Its
# kind is "mitre saw", "cold saw", "band saw", "abrasive chop saw", "grinder" or "hacksaw".
#[[cut_with]]
#name = "cold saw"
#kind = "cold saw"
#mitre_left = "45 deg"  # from square, its near end to your left
#mitre_right = "45 deg"
#takes_high = "$takes_high"  # the largest piece, cut square
#takes_wide = "$takes_wide"
#takes_high_swung = "$takes_high_swung"  # and swung as far as it goes
#takes_wide_swung = "$takes_wide_swung"
#kerf = "$kerf_fine"
#stands = "shop"  # or "site": it can be brought
#jig = false  # true: a piece may be clamped square to its fence
"""
