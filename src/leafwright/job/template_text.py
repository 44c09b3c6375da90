"""The text of the job file to start from, in the parts that `template` puts together.

``$word`` stands for a value of the job's own units. A line ``# …`` is a remark; ``#key = …`` or
``#[table]`` is an example, and all of them read together once their ``#`` is taken away;
``##key = …`` stands instead of another. Parts for one leaf say ``[leaf.…]``.
"""

HEAD = """\
# A job file of Leafwright. It reads as it stands; every line is yours to change.
#
# A line that begins like this one, with # and a space, is a remark.
# A line with # and no space is a key that you may use: take the # away.
# A line with ## stands instead of another: take that one out, and ## away.
#
# Lengths stand in quotes as a tape shows them: "10'-6 11/16", "2 3/8 in", "2680 mm".
# Leave out the last inch mark: it would end the quotes.
# Left and right, up and down are as seen from the side that seen_from names.

leafwright = $form  # the form of this file

# [job]: what the job is called, and how its sheets are drawn.
[job]
name = $name
seen_from = "yard side"  # where you stand when you say left and right
system = "$system"  # "feet-inch" or "metric"
#tape = "$tape"  # what your tape shows; sheets are rounded to it
paper = "$paper"  # "Letter", "Tabloid", "A4" or "A3"
#revision = "A"
#surveyed = 2026-01-31  # the day of the readings
#crew = 2  # how many work on it
currency = "$currency"
#note = "whatever the sheets should say"

# [basis]: the code that strength is proved by.
[basis]
steel = "AISC 360-22"  # or "EN 1993-1-1:2005"
method = "$method"  # "ASD" or "LRFD"
country = "$country"

# [opening]: what the hole in the wall is, apart from its readings.
[opening]
head = true  # false: open above, as between two gate posts
#side_straightness = "$eighth"  # how far a side may stray from straight
#reveal_depth = "$reveal"  # how deep the wall is
#survey_temperature = "$mild"  # of the day when it was read; see [building] for the others

# [[mark]]: a named point, for readings to or from something that is not the outline.
#[[mark]]
#name = "sill bolt"
#near_x = "$out"  # about where: to the right of the bottom left corner
#near_y = "$zero"  # and up from it
#z = "$zero"  # toward you; leave it out where it is not known

"""

INVENTED = """\
# EXAMPLE: put your own tape readings here. Those below are invented, and rounder than any wall.
"""

TO_READ = """\
# EXAMPLE: write what you read in place of what is invented, and take its set_aside out.
"""

READINGS = """\
# ---------------------------------------------------------------- the opening, as it was read
# EXAMPLE: put your own tape readings here. Those below are invented, and rounder than any wall.
# Corners are BL, BR, TL and TR. L@$half_way is on the left side, that far up; R@mid is half way
# up the right one. Read more than you need: that is how a wrong reading is found.

# [[reading]] of kind "distance": between two marks.
[[reading]]
kind = "distance"
from = "BL"
to = "BR"
is = "$wide"  # EXAMPLE

[[reading]]
kind = "distance"
from = "L@$half_way"
to = "R@$half_way"
is = "$wide"  # EXAMPLE

[[reading]]
kind = "distance"
from = "TL"
to = "TR"
is = "$wide"  # EXAMPLE

[[reading]]
kind = "distance"
from = "BL"
to = "TL"
is = "$high"  # EXAMPLE

[[reading]]
kind = "distance"
from = "BR"
to = "TR"
is = "$high"  # EXAMPLE

[[reading]]
kind = "distance"
from = "BL"
to = "TR"
is = "$diagonal"  # EXAMPLE

[[reading]]
kind = "distance"
from = "BR"
to = "TL"
is = "$diagonal"  # EXAMPLE
by = "tape"  # or "long tape", "laser", "level", "plumb line", "rule"
#sd = "$sd"  # how far off it may well be, where you know better
#on = 2026-01-31
#who = "the one who read it"
#note = "hook end held on a nail"
#set_aside = "why it is not to be used"

# kind "plumb": how far one mark stands sideways from the plumb line through another.
[[reading]]
kind = "plumb"
from = "BL"
to = "TL"
is = "$zero"  # EXAMPLE
toward = "outward"  # or "inward", "left", "right"

[[reading]]
kind = "plumb"
from = "BR"
to = "TR"
is = "$zero"  # EXAMPLE
toward = "outward"

# kind "level": how high a mark is above (+) or below (-) one laser line.
[[reading]]
kind = "level"
at = "BL"
is = "$low"  # EXAMPLE
#plane = "laser"  # another name for each time the laser is set up

[[reading]]
kind = "level"
at = "BR"
is = "$low"  # EXAMPLE

[[reading]]
kind = "level"
at = "TL"
is = "$over"  # EXAMPLE

[[reading]]
kind = "level"
at = "TR"
is = "$over"  # EXAMPLE

# kind "rise": how much higher (+) one mark is than another, where you have no laser.
#[[reading]]
#kind = "rise"
#from = "BL"
#to = "BR"
#is = "$zero"

# kind "offset": how far a mark lies off the string between two others.
#[[reading]]
#kind = "offset"
#at = "L@$half_way"
#from = "BL"
#to = "TL"
#is = "$zero"
#toward = "inward"  # or "outward", "left", "right"

# kind "head": how high the head is above a mark, between its corners.
#[[reading]]
#kind = "head"
#x = "$out"  # to the right of BL
#is = "$zero"
#above = "TL"

# kind "depth": how deep the reveal is at a mark.
#[[reading]]
#kind = "depth"
#at = "BR"
#is = "$reveal"

# kind "floor": how high the floor is above a mark, some way out along a leaf's swing.
[[reading]]
kind = "floor"
leaf = "left"
out = "$out"
is = "$zero"  # EXAMPLE
#above = "BL"

# Or at a place on plan; read one or two at the end of each leaf's swing.
#[[reading]]
#kind = "floor"
#x = "$out"  # to the right of BL
#z = "$out"  # toward you; with a - beyond the wall
#is = "$zero"

"""

RIGHT_FLOOR = """\
[[reading]]
kind = "floor"
leaf = "right"
out = "$out"
is = "$zero"  # EXAMPLE

"""

DOORWAY = """\
# ---------------------------------------------------------------- what is wanted

# [doorway]: how the opening is to be closed; a gap that is not given is worked out.
[doorway]
leaves = "$leaves"  # "single", "pair" or "unequal pair"
#leaf_height = "$leaf_height"
#running_clearance = "$small"  # least gap while a leaf turns
#heel_gap = "$half_inch"  # hinge side
#meeting_gap = "$quarter"  # between two leaves
#closing_gap = "$quarter"  # nose side of a single leaf
#top_gap = "$half_inch"
#bottom_gap = "$half_inch"  # least, over the highest floor
#greatest_bottom_gap = "$tab"
#opens_to = "90 deg"  # looked at as far as this, and to be stopped there
#jamb = { section = "$frame", shim = "$half_inch" }  # posts of your own
#transom = { section = "$frame", shim = "$half_inch" }  # and a beam between

"""

REST = """\
# [[section]]: a size of your own, where the catalogue has none.
#[[section]]
#name = $own_section
#shape = "rectangular tube"  # or "round tube", "round bar", "flat bar", "angle"
#width = "$own_size"
#height = "$own_size"
#wall = "$own_wall"
#grade = "heat 4711"

# [[grade]]: a steel of your own, from its mill certificate.
#[[grade]]
#name = "heat 4711"
#yield_strength = "$yield"
#ultimate_strength = "$ultimate"
#source = "mill certificate 4711"

# [loads]: what a leaf is proved for beside its own weight.
#[loads]
#person = "$person"  # somebody hanging on its nose
#push = "$push"  # a hard shove at the handle
#indoor_pressure = "$indoor"
#water_or_ice = "$ice"  # on the infill, beside its own weight

# [limits]: how far a leaf may move.
#[limits]
#nose_sag = "$eighth"
#racking = "$eighth"
#bow = "$bow"  # out of its plane, in wind
#post_lean = "$eighth"  # of a gate's post, at its top

# ---------------------------------------------------------------- the shop

# [stock]: how steel is sold here, and what the saw takes.
[stock]
lengths = $sticks
#kerf = "$kerf"
#end_trim = "$trim"
#share_cuts = true  # two ends slanted alike may be made by one cut

# [saw]: how far the saw swings from square.
#[saw]
#mitre_range = "45 deg"
"""

#: What follows the saws.
LAST = """
# [price]: what things cost, each for its unit.
#[price]
#frame_tube = "$by_weight"
#sheet = "$by_weight"
#boards = "$by_area"
#screws = "0.30 each"
#concrete = "6.50 each"  # a bag
#galvanizing = "$by_weight"
#primer = "24 each"  # a can; or for what it covers
#paint = "$by_area"
#shop = "95 /h"
#site = "110 /h"
#lift = "240 /day"

# ---------------------------------------------------------------- the building

# [building]: what a leaf hangs from and stands on. "unknown" is an answer: it will be asked.
[building]
beam = "unknown"  # over the opening, as "$beam"
#beam_span = "$span"
#beam_load = "$beam_load"  # what else it carries
#beam_grade = "unknown"
#beam_rise = "$eighth"  # how far it may come up once the leaves hang
#beam_drop = "$half_inch"  # and how far down
paint = "unknown"  # "none", "new", "tested, no lead", or when it was put on
slab = "unknown"
#slab_thickness = "$slab"
#slab_edge = "$edge"  # from the pivot to the nearest edge
#concrete_strength = "$concrete"
slab_tendons = "unknown"  # or "none found", "present"
indoors = "unknown"  # or "yes", "no": in the open, wind must be answered for
exit_route = "unknown"  # or "yes", "no"
fire_rated_wall = "unknown"  # or "yes", "no"
powered = false  # true: a motor opens it
public = "unknown"  # or "yes", "no": do others than your own people use it?
#least_temperature = "$cold"
#greatest_temperature = "$warm"

# [building.anchor]: what holds the pivot plates.
#[building.anchor]
#kind = "screw"
#size = "$anchor"
#embedment = "$embedment"
#edge_distance = "$embedment"
#per_plate = 4
#spacing_along = "$anchors_along"
#spacing_across = "$anchors_across"
#report = "the maker's report, by number"  # what follows is from it
#effective_embedment = "$effective"
#steel_tension = "$anchor_steel"
#steel_shear = "$anchor_shear"
#pullout = "$pullout"
#category = 1
#cracked = "yes"  # or "no"

# [post]: what a gate hangs from.
#[post]
#section = "$post"
#height = "$high"
#footing_diameter = "$footing"
#footing_depth = "$footing_deep"
#buried = "$buried"  # how far the post goes on under the ground
#grade = "$leaf_grade"
#soil_pressure = "$soil"  # sideways, a foot or a metre down

# [wind]: what the wind is taken to be, for a leaf outdoors.
#[wind]
#standard = "$wind"
#speed = "$speed"
#pressure = "$wind_pressure"  # on the leaf: taken as it is, whatever the speed
#exposure = "C"  # "B", "C" or "D"
#ground = "flat"
#K_z = 0.85
#K_d = 0.85
#G = 0.85
#C_f = 1.4
#solidity = 1.0

# [[answer]]: an answer to what a check asked, and who gave it.
#[[answer]]
#about = "building/slab"  # the key that the check shows
#says = "no tendons within a metre of either pivot"
#by = "who says so"
#document = "scan report 12"
#on = 2026-01-31
#until = 2027-01-31  # the day it runs out
"""
