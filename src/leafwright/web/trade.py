"""The trade's words for what a job file holds: what a field asks, what helps, what it may be."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Ask:
    """How a key is asked for.

    Attributes:
        label: what the maker reads beside the field.
        help: what helps to fill it in; it may be empty.
        default: the plan's default that holds where nothing is written, by its name.
        empty: what holds where nothing is written, in words.
        kind: how it is typed, where the model's type alone does not say: section, mark, note.
    """

    label: str
    help: str = ""
    default: str = ""
    empty: str = ""
    kind: str = ""


_SECTION = "as the catalogue writes it, or a size of your own"

#: By the table's name in the model and the key in the file.
ASKS: dict[tuple[str, str], Ask] = {
    ("Header", "name"): Ask("Name"),
    ("Header", "seen_from"): Ask("Drawn as seen from the"),
    ("Header", "system"): Ask("Tape"),
    ("Header", "tape"): Ask("Finest mark of the tape", empty="1/16 in, or 1 mm"),
    ("Header", "paper"): Ask("Paper", empty="Tabloid, or A3"),
    ("Header", "revision"): Ask("Revision"),
    ("Header", "surveyed"): Ask("Day of the survey"),
    ("Header", "crew"): Ask("How many work on it"),
    ("Header", "currency"): Ask("Currency"),
    ("Header", "note"): Ask("Note", kind="note"),
    ("OpeningTable", "survey_temperature"): Ask("How warm it was at the survey"),
    ("Basis", "steel"): Ask("Steel is proved by"),
    ("Basis", "method"): Ask("Method"),
    ("Basis", "country"): Ask("Country"),
    ("OpeningTable", "head"): Ask("Is there something over it?", "no for a gate, open above"),
    ("OpeningTable", "side_straightness"): Ask(
        "How far a side may stray from straight (sd)", default="side straightness"
    ),
    ("OpeningTable", "reveal_depth"): Ask("Depth of the reveal"),
    ("Mark", "name"): Ask("Name of the mark", "anything but a corner's or a side's name"),
    ("Mark", "near_x"): Ask(
        "About how far right", "from the bottom left corner; left of it is minus"
    ),
    ("Mark", "near_y"): Ask("About how far up", "from the bottom left corner; below it is minus"),
    ("Mark", "z"): Ask("How far toward you", "where it is known; away is minus", empty="not known"),
    ("DistanceReading", "from"): Ask("From the mark", kind="mark"),
    ("DistanceReading", "to"): Ask("To the mark", kind="mark"),
    ("LevelReading", "at"): Ask("At the mark", kind="mark"),
    ("LevelReading", "plane"): Ask("Laser plane", "another name for each set-up of the laser"),
    ("RiseReading", "from"): Ask("From the mark", kind="mark"),
    ("RiseReading", "to"): Ask("To the mark", kind="mark"),
    ("PlumbReading", "from"): Ask("Plumb line through the mark", kind="mark"),
    ("PlumbReading", "to"): Ask("Off it stands the mark", kind="mark"),
    ("PlumbReading", "toward"): Ask("It stands off toward"),
    ("OffsetReading", "at"): Ask("The mark off the line", kind="mark"),
    ("OffsetReading", "from"): Ask("Line or string from the mark", kind="mark"),
    ("OffsetReading", "to"): Ask("To the mark", kind="mark"),
    ("OffsetReading", "toward"): Ask("It stands off toward"),
    ("HeadReading", "x"): Ask("How far right", "from the bottom left corner"),
    ("HeadReading", "above"): Ask("Height above the mark", kind="mark"),
    ("HeadReading", "is"): Ask("Reading", "above the mark is plus, below it minus"),
    ("DepthReading", "at"): Ask("At the mark", kind="mark"),
    ("FloorReading", "leaf"): Ask("Under the leaf that hangs"),
    ("FloorReading", "out"): Ask("How far out from its hinge", empty="the highest there is"),
    ("FloorReading", "x"): Ask(
        "Or on plan: how far right", "from the bottom left corner, instead of a leaf"
    ),
    ("FloorReading", "z"): Ask("On plan: how far toward you", "away is minus"),
    ("FloorReading", "above"): Ask("Height above the mark", kind="mark"),
    ("Reading", "is"): Ask("Reading"),
    ("LevelReading", "is"): Ask("Reading", "above the plane is plus, below it minus"),
    ("RiseReading", "is"): Ask("Reading", "plus where the second is higher"),
    ("FloorReading", "is"): Ask("Reading", "above the mark is plus, below it minus"),
    ("Reading", "sd"): Ask("Its sd", "how far it may well be off", empty="as the instrument's"),
    ("Reading", "by"): Ask("Read with"),
    ("Reading", "on"): Ask("Read on"),
    ("Reading", "who"): Ask("Who"),
    ("Reading", "set_aside"): Ask(
        "Set aside, because", "a reading that is set aside stays here and does not count"
    ),
    ("Reading", "note"): Ask("Note"),
    ("Obstacle", "name"): Ask("What it is", "as bollard, or desk"),
    ("Obstacle", "from"): Ask("One corner of it"),
    ("Obstacle", "to"): Ask("The corner opposite"),
    ("Obstacle", "note"): Ask("Note"),
    ("Site", "lift"): Ask("The leaves are stood up"),
    ("Site", "people"): Ask("How many people are there", empty="as many as the job says"),
    ("Site", "hand_height"): Ask("How high they push, over the floor", default="hand height"),
    ("Site", "floor_friction"): Ask(
        "Grip of the foot on the floor",
        "0.2 wet, 0.4 dry; less slides sooner",
        default="floor friction",
    ),
    ("Site", "kick_out"): Ask("How far the foot may stand out of the wall", default="kick-out"),
    ("Site", "approach"): Ask("On which side it lies", empty="whichever does"),
    ("FitUpReading", "leaf"): Ask("Which leaf"),
    ("FitUpReading", "stage"): Ask("Tacked or welded"),
    ("FitUpReading", "from"): Ask("From the place", kind="leaf-mark"),
    ("FitUpReading", "to"): Ask("To the place", kind="leaf-mark"),
    ("FitUpReading", "at"): Ask("At the place", kind="leaf-mark"),
    ("FitUpReading", "toward"): Ask("It lies off the string"),
    ("FitUpReading", "x"): Ask("How far out from the hinge edge"),
    ("FitUpReading", "y"): Ask("How far up from its bottom"),
    ("FitUpHeight", "is"): Ask("Reading", "over one level line; under it is minus"),
    ("HungReading", "leaf"): Ask("Which leaf"),
    ("HungReading", "where"): Ask("Which gap"),
    ("HungGap", "at"): Ask(
        "Where", "up from its bottom at heel and closing edge, out from the hinge at top and floor"
    ),
    ("HungReading", "angle"): Ask("How far open", "as 90 deg", empty="shut"),
    ("HungReading", "swing"): Ask("Opened", empty="the way it opens"),
    ("HungReading", "direction"): Ask("Looked at"),
    ("HungReading", "over"): Ask("Read over a height of"),
    ("HungPlumb", "is"): Ask("The upper place is off by"),
    ("HungPlumb", "toward"): Ask("Off toward"),
    ("HungReading", "rests"): Ask("Comes to rest at", "an angle as 15 deg, or: stays"),
    ("HungDrift", "angle"): Ask("Let go at", "as 45 deg"),
    ("HungDrift", "sd"): Ask("How far the angle may be off", "as 1 deg"),
    ("DoorwayTable", "greatest_bottom_gap"): Ask("Greatest gap over the floor"),
    ("LeafTable", "name"): Ask("What it is called"),
    ("LeafTable", "width"): Ask("Width", empty="what the opening leaves for it"),
    ("LeafTable", "swing"): Ask("Swings"),
    ("LeafTable", "frame"): Ask("Section of the frame", _SECTION, kind="section"),
    ("LeafTable", "grade"): Ask("Steel of the frame", empty="as the section is sold", kind="grade"),
    ("LeafTable", "corners"): Ask("Corners"),
    ("LeafTable", "handle_height"): Ask("Handle above its bottom", default="handle height"),
    ("LeafTable", "mid_rail"): Ask("Mid rails"),
    ("LeafTable", "brace"): Ask("Braces"),
    ("LeafTable", "infill"): Ask("Infill"),
    ("LeafTable", "mount"): Ask("What it turns on"),
    ("Brace", "pattern"): Ask("Pattern"),
    ("Brace", "panel"): Ask("In the panel"),
    ("Brace", "foot"): Ask("Foot at the"),
    ("Brace", "section"): Ask("Section", empty="as the frame", kind="section"),
    ("Brace", "grade"): Ask("Steel", empty="as the frame", kind="grade"),
    ("Brace", "through"): Ask("Which bar of an X is not cut"),
    ("Brace", "end_allowance"): Ask("Tab at each end of a rod", default="rod end allowance"),
    ("Infill", "kind"): Ask("What"),
    ("Infill", "on"): Ask("On which face", "as seen from the face side"),
    ("Infill", "panel"): Ask("In the panel"),
    ("Infill", "thickness"): Ask("Thickness", "a sheet's gauge will do: 14 ga"),
    ("Infill", "density"): Ask("Density", empty="a sheet is steel; else it is needed"),
    ("Infill", "mass_per_area"): Ask("Or weight per area", empty="from thickness and density"),
    ("Infill", "opening"): Ask("Mesh: clear opening"),
    ("Infill", "wire"): Ask("Mesh: wire"),
    ("Infill", "screw_heads"): Ask("Screw heads stand off it by", empty="flush"),
    ("Infill", "note"): Ask("Note", "as cedar"),
    ("FloorPivot", "axis"): Ask("Pin from the hinge edge", empty="the middle of the stile"),
    ("FloorPivot", "spacer"): Ask("Spacer between plate and leaf", default="spacer"),
    ("FloorPivot", "pin_diameter"): Ask("Pin: diameter", "as measured"),
    ("FloorPivot", "bottom_pin_length"): Ask("Bottom pin: length"),
    ("FloorPivot", "top_pin_length"): Ask("Top pin: length"),
    ("FloorPivot", "sleeve_bore"): Ask("Sleeve: bore", "as measured"),
    ("FloorPivot", "sleeve_outside"): Ask("Sleeve: outside"),
    ("FloorPivot", "ball_diameter"): Ask("Ball: diameter", "as measured"),
    ("FloorPivot", "slug_length"): Ask("Slug: length"),
    ("FloorPivot", "grease_fitting"): Ask("Grease fitting", "as 1/4-28"),
    ("FloorPivot", "access_hole"): Ask("Hole to reach the fitting"),
    ("FloorPivot", "plate"): Ask("Plate"),
    ("FloorPivot", "bolt"): Ask("Bolt at the top"),
    ("Plate", "thickness"): Ask("Plate: thickness"),
    ("Plate", "width"): Ask("Plate: width"),
    ("Plate", "length"): Ask("Plate: length"),
    ("Plate", "grade"): Ask("Plate: steel", "as A36", kind="unknown"),
    ("Bolt", "size"): Ask("Bolt: size", "as 3/4-10 or M12"),
    ("Bolt", "grade"): Ask("Bolt: grade", "as A325 or 8.8", kind="unknown"),
    ("Bolt", "hole"): Ask("Hole made for it"),
    ("BarrelHinge", "standoff"): Ask("From the post to the leaf"),
    ("BarrelHinge", "heights"): Ask(
        "Hinges at", "2 to 4 heights above the leaf's bottom, the lowest carries: 8 in; 70 in"
    ),
    ("BarrelHinge", "pin_diameter"): Ask("Pin: diameter", "as measured"),
    ("BarrelHinge", "clearance"): Ask("Play of the pin in its barrel"),
    ("SectionTable", "name"): Ask("Name of the size"),
    ("SectionTable", "shape"): Ask("Shape"),
    ("SectionTable", "width"): Ask("Width, or diameter"),
    ("SectionTable", "height"): Ask("Height"),
    ("SectionTable", "wall"): Ask("Wall, or thickness"),
    ("SectionTable", "grade"): Ask("Its steel", kind="grade"),
    ("GradeTable", "name"): Ask("Name of the steel"),
    ("GradeTable", "yield_strength"): Ask("Yields at"),
    ("GradeTable", "ultimate_strength"): Ask("Breaks at"),
    ("GradeTable", "source"): Ask("From which certificate"),
    ("Loads", "person"): Ask("Person on the nose", default="person"),
    ("Loads", "push"): Ask("Push at the handle", default="push"),
    ("Limits", "nose_sag"): Ask("Nose may sag", default="nose sag limit"),
    ("Limits", "racking"): Ask("Nose may lean", default="racking limit"),
    ("StockTable", "lengths"): Ask("Sold in lengths of", "as in 20 ft; 24 ft"),
    ("StockTable", "kerf"): Ask("Saw cut", default="kerf"),
    ("StockTable", "end_trim"): Ask("Mill end cut off", default="end trim"),
    ("Offcut", "section"): Ask("Section", _SECTION, kind="section"),
    ("Offcut", "length"): Ask("Length"),
    ("Offcut", "count"): Ask("How many"),
    ("Saw", "mitre_range"): Ask(
        "The saw swings so far from square", "each way", default="saw mitre range"
    ),
    ("Anchor", "kind"): Ask("Anchors: what kind", "as screw or wedge", kind="unknown"),
    ("Anchor", "size"): Ask("Anchors: size"),
    ("Anchor", "embedment"): Ask("Anchors: how deep"),
    ("Anchor", "edge_distance"): Ask("Anchors: to the nearest edge"),
    ("Anchor", "per_plate"): Ask("Anchors: in each plate"),
    ("Building", "anchor"): Ask("Anchors"),
    ("Building", "beam"): Ask("What is over the opening", "as W12x26", kind="unknown"),
    ("Building", "beam_span"): Ask("It spans"),
    ("Building", "beam_load"): Ask("What else it carries"),
    ("Building", "beam_grade"): Ask("Its steel", kind="unknown"),
    ("Building", "paint"): Ask("Old paint", "or the years it was put on in", kind="paint"),
    ("Building", "slab"): Ask("Floor slab", "as on grade", kind="unknown"),
    ("Building", "slab_thickness"): Ask("Slab: thickness"),
    ("Building", "slab_edge"): Ask("From a pivot to the slab's nearest edge"),
    ("Building", "slab_tendons"): Ask("Tendons in the slab"),
    ("Building", "indoors"): Ask("Are the leaves indoors?"),
    ("Building", "exit_route"): Ask("Is it a way out?"),
    ("Building", "fire_rated_wall"): Ask("Is the wall fire-rated?"),
    ("Building", "powered"): Ask("Does a motor open it?"),
    ("Building", "public"): Ask("Do others than your own people use it?"),
    ("Building", "least_temperature"): Ask("Coldest it gets"),
    ("Building", "greatest_temperature"): Ask("Warmest it gets"),
    ("Post", "section"): Ask("Post: section", _SECTION, kind="section"),
    ("Post", "height"): Ask("Post: height"),
    ("Post", "footing_diameter"): Ask("Footing: diameter"),
    ("Post", "footing_depth"): Ask("Footing: depth"),
    ("Wind", "standard"): Ask("Wind by which code", "as ASCE 7"),
    ("Wind", "speed"): Ask("Wind speed"),
    ("Wind", "exposure"): Ask("Exposure"),
    ("Wind", "ground"): Ask("Ground round about", "as flat"),
    ("Wind", "K_z"): Ask("K_z"),
    ("Wind", "K_d"): Ask("K_d"),
    ("Wind", "G"): Ask("G"),
    ("Wind", "C_f"): Ask("C_f"),
    ("Wind", "solidity"): Ask("How much of the leaf is solid", "1 for a closed leaf"),
    ("Power", "volts"): Ask("Volts"),
    ("Power", "breaker_amps"): Ask("Breaker, amperes"),
    ("Power", "cord"): Ask("Cord", "as 12 AWG"),
    ("Power", "cord_length"): Ask("Cord: length"),
    ("Answer", "says"): Ask("What the answer is", kind="note"),
    ("Answer", "by"): Ask("Who says so"),
    ("Answer", "document"): Ask("In which document"),
    ("Answer", "on"): Ask("Dated"),
    ("Answer", "until"): Ask("Runs out on", empty="never"),
}

#: By key and word: what a choice is called where its word in the file is not what a maker says.
CHOICES: dict[tuple[str, str], str] = {
    ("swing", "toward"): "toward you",
    ("swing", "away"): "away from you",
    ("swing", "both"): "both ways",
    ("system", "feet-inch"): "feet and inches",
    ("system", "metric"): "millimetres",
    ("on", "face"): "the face, toward you",
    ("on", "back"): "the back",
    ("on", "both"): "both faces",
    ("foot", "closing stile"): "meeting or closing stile",
    ("panel", "each"): "each panel",
    ("panel", "whole leaf"): "the whole leaf",
    ("through", "rising"): "the one that rises from the hinges",
    ("through", "falling"): "the one that falls from the hinges",
    ("pattern", "X"): "X",
    ("head", "yes"): "yes, a head",
    ("head", "no"): "no, it is open above",
    ("lift", "unknown"): "not settled yet",
    ("toward", "viewer"): "toward you",
    ("toward", "away"): "away from you",
    ("approach", "toward side"): "on your side",
    ("approach", "away side"): "on the other side",
}

#: What may be picked where any other word may be typed too, by the field's kind.
LISTS: dict[str, tuple[str, ...]] = {
    "unknown": ("unknown",),
    "paint": ("unknown", "none", "new", "tested, no lead"),
    "rate": (
        "frame_tube",
        "plate",
        "sheet",
        "boards",
        "mesh",
        "galvanizing",
        "wire",
        "gas",
        "shop",
        "site",
        "second_person",
        "travel",
        "lift",
    ),
}

#: What one entry of a list, or a table that may be put in, is called.
ENTRIES: dict[str, str] = {
    "Mark": "a mark of your own",
    "Brace": "a brace",
    "Infill": "an infill",
    "Plate": "a plate",
    "Bolt": "a bolt",
    "Anchor": "anchors",
    "Post": "a post",
    "Wind": "the wind",
    "Power": "the outlet on site",
    "Offcut": "an offcut",
    "SectionTable": "a size of your own",
    "GradeTable": "a steel of your own",
    "DistanceReading": "a distance between two marks",
    "LevelReading": "a mark above or below a laser plane",
    "RiseReading": "how much higher one mark is than another",
    "PlumbReading": "a mark off a plumb line",
    "FloorReading": "the floor along a leaf's swing, or anywhere",
    "OffsetReading": "a mark off a line or a string between two others",
    "HeadReading": "the head along the opening",
    "DepthReading": "the depth of the reveal",
    "Obstacle": "an obstacle",
    "FitUpDistance": "a distance between two places of the leaf",
    "FitUpString": "an edge off a string",
    "FitUpHeight": "a height, of a place of the leaf or of the floor under it",
    "HungGap": "a gap",
    "HungPlumb": "the axis off plumb",
    "HungDrift": "the leaf let go",
}


def ask_of(table: str, key: str) -> Ask:
    """Return how a key is asked for; one without words of its own by its name in the file."""
    shared = [f"{kind}Reading" for kind in ("FitUp", "Hung") if table.startswith(kind)]
    if shared or table.endswith("Reading"):
        shared.append("Reading")
    names = (table, *shared)
    found = next((ASKS[name, key] for name in names if (name, key) in ASKS), None)
    return found or Ask(key.replace("_", " ").capitalize())


def choice_words(key: str, word: str) -> str:
    """Return what a choice is called."""
    return CHOICES.get((key, word), word)
