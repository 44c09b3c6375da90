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
from leafwright.survey.observe import Observation

__all__ = [
    "Adjusted",
    "Observation",
    "Survey",
    "SurveyedMark",
    "at",
    "coordinate",
    "floor_marks",
    "side_marks",
    "survey",
]
