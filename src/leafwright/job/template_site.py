"""The job file to start from, continued: what stands in the way, and what is read of leaves."""

OBSTACLES = """\
# [[obstacle]]: a box that the leaves must miss, between two opposite corners of it.
#[[obstacle]]
#name = "drain pipe"
#from = $pipe_from  # right of BL, up, and toward you
#to = $pipe_to
#note = "runs up the wall"

"""

ON_SITE = """\

# ---------------------------------------------------------------- on the bench and on site

# [power]: what the outlet on site gives.
#[power]
#volts = $volts
#breaker_amps = $amps
#cord = "$cord"
#cord_length = "$cord_length"

# [weld]: how the seams are welded, by the letters on the wire's or the rods' box.
#[weld]
#process = "GMAW"  # or "FCAW-G", "FCAW-S": cored; "SMAW": stick; "GTAW": TIG
#place = "site"  # from the outlet above; or "shop"
#diameter = "$weld_wire"  # of the wire or the rods
#feed = "$feed"  # of the wire
#amps = $arc_amps  # at the arc; and volts
#volts = $arc_volts
#gas_flow = "$gas_flow"
#input_amps = $input_amps  # what the machine draws then, as its plate says

# [site]: how the leaves are brought and stood up.
#[site]
#lift = "unknown"  # or "by hand", "hoist", "lift truck"
#people = 2
#hand_height = "$handle"  # how high hands lift to
#floor_friction = 0.4
#kick_out = "$out"  # how far the foot may start from the opening
#approach = "toward side"  # or "away side": where the leaf is stood up from
#keep = "plumb axis"  # of a leaf out of square; or "even gaps", "split gaps"

# [[fit_up]]: what is read of a leaf before and after it is welded. Its corners are "bottom hinge",
# "top hinge", "bottom closing" and "top closing"; "hinge@$rail_at" is up an edge, "top@mid" half
# way along.
#[[fit_up]]
#kind = "distance"
#leaf = "left"
#from = "bottom hinge"
#to = "top closing"
#is = "$leaf_diagonal"
#stage = "tacked"  # or "welded"

#[[fit_up]]
#kind = "string"  # how far an edge lies from the string between its corners
#leaf = "left"
#at = "hinge@mid"
#is = "$small"
#toward = "inward"  # or "outward"

#[[fit_up]]
#kind = "height"  # above (+) one level plane
#leaf = "left"
#at = "top closing"
#is = "$zero"

#[[fit_up]]
#kind = "height"
#leaf = "left"
#x = "$out"  # out from the hinge edge
#y = "$out"  # up from the leaf's bottom
#is = "$zero"

# [[hung]]: what is read of a leaf when it hangs.
#[[hung]]
#kind = "gap"
#leaf = "left"
#where = "heel"  # or "closing", "top", "floor"
#at = "$out"  # up from its bottom; at top and floor, out from its hinge edge
#is = "$half_inch"
#angle = "0 deg"  # how far it stands open
#swing = "toward"  # or "away", for a leaf that swings both ways

#[[hung]]
#kind = "plumb"  # how far the axis leans
#leaf = "left"
#direction = "in the wall"  # or "through the wall"
#over = "$plumb_over"
#is = "$zero"
#toward = "right"  # or "left"; through the wall: "viewer" or "away"

#[[hung]]
#kind = "plate"  # how much higher one edge of a pivot plate lies
#leaf = "left"
#plate = "bottom"  # or "top"
#direction = "in the wall"  # or "through the wall"
#is = "$small"
#up = "right"  # or "left"; through the wall: "viewer" or "away"

#[[hung]]
#kind = "diagonals"  # how much longer one is than the other, corner to corner
#leaf = "left"
#is = "$small"
#longer = "hinge bottom"  # the one from that corner; or "closing bottom"

#[[hung]]
#kind = "drift"  # let go at an angle, where does it rest?
#leaf = "left"
#angle = "45 deg"
#swing = "toward"
#rests = "stays"  # or an angle
#sd = "2 deg"
"""
