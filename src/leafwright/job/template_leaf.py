"""The leaves of a new job file: frame, corners, braces, splices, infill and mount."""

LEAF = """\
# what a leaf is made of and how it hangs
#swing = "both"  # or "toward" you, or "away" from you
frame = "$frame"
#grade = "$leaf_grade"
#corners = "stiles run through"  # or "mitred", "rails run through"
#root_gap = "$zero"  # at every joint; pieces are shorter by it
#weld_shrinkage = "$zero"  # at each joint, added to the piece between
#scribe_braces = false  # true: leave braces long, and scribe them to fit
mid_rail = [{ at = "half" }]  # [] for none
##mid_rail = [{ height = "$rail" }]
#handle_height = "$handle"
#finish = "paint"  # or "galvanized": its closed tubes are vented; or "bare"
"""

OWN = """\
hand = "left"  # the side it hangs on: "left" or "right"
#name = "leaf A"
#width = "$leaf_width"
"""

PAIR = """\
# [[leaf]]: one leaf, and what it has of its own.
[[leaf]]
hand = "left"  # the side it hangs on: "left" or "right"
#name = "leaf A"
#width = "$leaf_width"

[[leaf]]
hand = "right"

"""

MOUNT = """\

# brace: how one panel, or each, is braced.
[[leaf.brace]]
pattern = "one diagonal"  # or "none", "X", "rod"
panel = "each"  # or a number, 1 for the lowest; a rod: "whole leaf"
foot = "hanging stile"  # or "closing stile"
#section = "$frame"
#grade = "$leaf_grade"
#through = "rising"  # which bar of an X is not cut: "rising" or "falling"
#crossing = "one through"  # or "half lapped": both whole, each notched half through
#lower_end = "corner"  # wedged into the corner; or on one face alone: "stile", "rail"
#upper_end = "corner"
#clear_of_corner = "$slug"  # from an end on one face to the corner
#bead_clearance = "$zero"  # room at a wedged end for the bead in the corner

#[[leaf.splice]]
#member = "brace 1"  # made of two pieces; or "hanging stile", "mid rail 1", …
#at = "$tab_far"  # from its lower end, or a rail's at the hinge
#by = "inner sleeve"  # or "plates"
#reach = "$tab"  # of the sleeve or plates, each way
#section = "$sleeve_section"  # the sleeve's: it slides into the tube
#width = "$gauge"  # of each of two plates, and how thick they are
#thickness = "$quarter"
#grade = "$leaf_grade"  # of the sleeve or the plates

#[[leaf.brace]]
#pattern = "rod"
#panel = 1
#foot = "closing stile"
#section = "$rod"
#end_allowance = "$tab"  # tab at each end of a rod

# infill: what closes a panel, and on which face it lies. "glass" is asked about, never proved.
[[leaf.infill]]
kind = "sheet"  # or "boards", "mesh", "polycarbonate", "twin-wall", "panel"
on = "face"  # or "back", "both"
panel = "each"
thickness = "$sheet"

#[[leaf.infill]]
#kind = "boards"
#on = "back"
#panel = 1
#thickness = "$boards"
#density = "$density"
#elastic_modulus = "$board_modulus"  # how stiff it is, and the bending stress it may have
#bending_strength = "$board_strength"
#runs = "up"  # or "across": which way the boards run
#sold_width = "$board_covers"  # what one board covers, or how wide a sheet is sold
#sold_length = "$board_sold"
#fixing_spacing = "$fixing"  # between the screws
#screw = "$screw"
#note = "cedar"

#[[leaf.infill]]
#kind = "panel"
#on = "back"
#panel = 1
#mass_per_area = "$mass_per_area"
#screw_heads = "$wire"  # how far they stand off it

#[[leaf.infill]]
#kind = "mesh"
#on = "back"
#panel = 2
#opening = "$mesh"
#wire = "$wire"

# mount: what the leaf turns on. A floor pivot stands on a ball and a pin.
[leaf.mount]
kind = "floor pivot"
#axis = "$axis"  # from the hinge edge to the middle of the pin
#spacer = "$spacer"
plate = $plate
pin_diameter = "$pin"
#bottom_pin_length = "$bottom_pin"
#top_pin_length = "$top_pin"
#sleeve_bore = "$bore"
#sleeve_outside = "$sleeve"
#ball_diameter = "$pin"
#slug_length = "$slug"
#grease_fitting = "$fitting"
#access_hole = "$access"
#bolt = $bolt
#pin_grade = "$plate_grade"
#pin_weld = "$quarter"  # leg of the fillet round the pin
#slug_weld = "$small"  # throat of the groove round the slug's top
#sleeve_length = "$top_pin"
#plug_hole = "$plug"  # through the stile, to weld the sleeve
#plug_holes = 4
#ball_seat = "mild"  # or "hardened"
#plate_level = "0.1 deg"  # how far the set plate is out of level
#pin_square = "0.1 deg"  # how far the pin is out of square with its plate
#top_plate = $plate
#top_pin_diameter = "$pin"
#top_sleeve_bore = "$bore"
#top_fixed = "bolted"  # or "welded"
#top_bolts = 4
#top_weld = "$quarter"
#bolt_gauge = "$gauge"  # between the bolts, across the plate

# Instead of the floor pivot: barrel hinges on a post or a wall.
##[leaf.mount]
##kind = "barrel hinge"
##standoff = "$standoff"  # from the post to the leaf
##heights = $hinges  # above the leaf's bottom; the lowest carries
##pin_diameter = "$hinge_pin"
##clearance = "$clearance"
##pin_grade = "$plate_grade"
##barrel_length = "$barrel"
##weld = "$small"  # leg of the fillet that holds each half
##weld_length = "$barrel"

# hold: what holds the nose of the shut leaf, and what the open leaf comes against.
#[leaf.hold]
#shut = "drop rod"  # or "latch", "stop", "unknown"
#at = ["bottom"]  # and "top", where it is held there too
#rod_diameter = "$rod_diameter"
#stop_out = "$stop_out"  # from the axis to the stop
#stop_travel = "$half_inch"  # how far it gives
#stop_height = "$stop_out"  # over the leaf's bottom, where it does not stand on the floor
#nose_speed = "$nose_speed"  # how fast the nose comes against it
#open = "hook"  # or "drop rod", "nothing": what keeps it open

"""
