"""The opening as found: readings to marks, and how sure they are."""

from leafwright.survey.adjust import (
    Adjusted,
    Survey,
    SurveyedMark,
    at,
    coordinate,
    floor_marks,
    side_marks,
    survey,
)
from leafwright.survey.fits import Rectangle, largest_rectangle
from leafwright.survey.observe import Observation
from leafwright.survey.surface import Surface, height_at, heights_at, roughness, surface
from leafwright.survey.swept import (
    Floor,
    FloorUnder,
    HeadOver,
    Sweep,
    floor_heights,
    floor_of,
    head_of,
    head_points,
    highest_floor,
    lowest_head,
)

__all__ = [
    "Adjusted",
    "Floor",
    "FloorUnder",
    "HeadOver",
    "Observation",
    "Rectangle",
    "Surface",
    "Survey",
    "SurveyedMark",
    "Sweep",
    "at",
    "coordinate",
    "floor_heights",
    "floor_marks",
    "floor_of",
    "head_of",
    "head_points",
    "height_at",
    "heights_at",
    "highest_floor",
    "largest_rectangle",
    "lowest_head",
    "roughness",
    "side_marks",
    "surface",
    "survey",
]
