"""Gauge numbers of sheet steel and of tube wall, in inches.

The same number means two thicknesses (11 ga is 0.1196 in as sheet, 0.120 in as tube wall), so a
gauge is read only where it is known which is meant. Other metals, and zinc-coated sheet, have
tables of their own and are not read here.
"""

from fractions import Fraction


def _inches(rows: dict[int, str]) -> dict[int, Fraction]:
    return {number: Fraction(inches) for number, inches in rows.items()}


SHEET_STEEL = _inches(
    {
        7: "0.1793",
        8: "0.1644",
        9: "0.1495",
        10: "0.1345",
        11: "0.1196",
        12: "0.1046",
        13: "0.0897",
        14: "0.0747",
        15: "0.0673",
        16: "0.0598",
        17: "0.0538",
        18: "0.0478",
        19: "0.0418",
        20: "0.0359",
        21: "0.0329",
        22: "0.0299",
        23: "0.0269",
        24: "0.0239",
        25: "0.0209",
        26: "0.0179",
    }
)
"""Thickness of uncoated sheet steel [in] by gauge number.

Manufacturers' Standard Gauge for sheet steel: a weight for each number, made a thickness at
41.82 lb/ft2 for one inch of thickness. Read in a steel service centre's gauge chart.
"""

TUBE_WALL = _inches(
    {
        4: "0.238",
        5: "0.220",
        6: "0.203",
        7: "0.180",
        8: "0.165",
        9: "0.148",
        10: "0.134",
        11: "0.120",
        12: "0.109",
        13: "0.095",
        14: "0.083",
        15: "0.072",
        16: "0.065",
        17: "0.058",
        18: "0.049",
        19: "0.042",
        20: "0.035",
        21: "0.032",
        22: "0.028",
        23: "0.025",
        24: "0.022",
        25: "0.020",
        26: "0.018",
    }
)
"""Wall thickness of steel tube [in] by gauge number.

Birmingham wire gauge (BWG, also called Stubs iron wire gauge), as square and rectangular tube is
sold by. Read in a table of Holtzapffel's measured values and in a tube supplier's wall table.
"""
