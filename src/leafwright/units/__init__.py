"""What a maker types and what a tape shows; everything between is SI.

Reading keeps the text as typed and its exact value as a fraction; what could mean two things is
refused, with the forms that would do. Showing rounds once, from the exact value.
"""

from leafwright.units.angles import read_angle
from leafwright.units.derived import (
    read_area,
    read_flow,
    read_inertia,
    read_moment,
    read_number,
    read_section_modulus,
)
from leafwright.units.families import Measure, measure_of, show_both
from leafwright.units.lengths import read_length
from leafwright.units.money import Rate, read_money, read_rate
from leafwright.units.quantities import (
    read_areal_mass,
    read_density,
    read_force,
    read_line_load,
    read_mass,
    read_pressure,
    read_speed,
    read_temperature,
    read_temperature_difference,
    read_time,
)
from leafwright.units.shown import (
    System,
    Tape,
    rounded_to_tape,
    show_angle,
    show_force,
    show_length,
    show_machined,
    show_mass,
    show_moment,
    show_money,
    show_pressure,
    show_stress,
)
from leafwright.units.typed import Typed, UnitError

__all__ = [
    "Measure",
    "Rate",
    "System",
    "Tape",
    "Typed",
    "UnitError",
    "measure_of",
    "read_angle",
    "read_area",
    "read_areal_mass",
    "read_density",
    "read_flow",
    "read_force",
    "read_inertia",
    "read_length",
    "read_line_load",
    "read_mass",
    "read_moment",
    "read_money",
    "read_number",
    "read_pressure",
    "read_rate",
    "read_section_modulus",
    "read_speed",
    "read_temperature",
    "read_temperature_difference",
    "read_time",
    "rounded_to_tape",
    "show_angle",
    "show_both",
    "show_force",
    "show_length",
    "show_machined",
    "show_mass",
    "show_moment",
    "show_money",
    "show_pressure",
    "show_stress",
]
