"""The steel of a job: catalogue sections and grades, with the maker's own added."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from leafwright.handbook import outlines
from leafwright.handbook.catalogue import Catalogue, CatalogueSection, find, load_catalogue
from leafwright.handbook.grades import CatalogueError, Grade, StrengthRow, strength_of
from leafwright.job.model import GradeTable, Job, SectionTable
from leafwright.records import Source

#: Density of steel where a section of the maker's own gives none [kg/m3]: 490 lb/ft3.
STEEL_DENSITY = 7849.0476

_catalogue = functools.cache(load_catalogue)


@dataclass(frozen=True, slots=True)
class Steel:
    """Where sections are looked up: the maker's own first, then the catalogue."""

    catalogue: Catalogue
    own_sections: tuple[SectionTable, ...]
    # What was looked up before: the same words give the same section, and a plan asks often.
    _found: dict[tuple[str, str | None], CatalogueSection] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    def section(self, text: str, grade: str | None = None) -> CatalogueSection:
        """Return the section that a job's words name.

        Args:
            text: a name of a ``[[section]]`` of the job, or a catalogue designation.
            grade: name of its grade, or None for the one it usually comes in.

        Raises:
            CatalogueError: no such section or grade.
        """
        if (text, grade) not in self._found:
            own = next((o for o in self.own_sections if o.name == text), None)
            self._found[text, grade] = (
                find(self.catalogue, text, grade=grade)
                if own is None
                else _own_section(own, self.catalogue, grade)
            )
        return self._found[text, grade]


def steel(job: Job) -> Steel:
    """Return the sections and grades that a job may use."""
    return steel_with(job.section, job.grade)


def steel_with(sections: Iterable[SectionTable], grades: Iterable[GradeTable]) -> Steel:
    """Return the catalogue's sections and grades, with the maker's own added."""
    catalogue = _catalogue()
    own = tuple(_own_grade(table, catalogue.grades[0]) for table in grades)
    return Steel(replace(catalogue, grades=(*own, *catalogue.grades)), tuple(sections))


def _own_grade(table: GradeTable, like: Grade) -> Grade:
    """Return a maker's own grade; of the design wall a certificate says nothing, so as ``like``."""
    row = StrengthRow("", math.inf, True, table.yield_strength.si, table.ultimate_strength.si)
    return replace(
        like,
        name=table.name,
        standard=table.source,
        strength=(row,),
        yield_guaranteed=True,
        source=Source(table.source),
        how_known="entered in the job file",
    )


def _own_section(table: SectionTable, catalogue: Catalogue, grade: str | None) -> CatalogueSection:
    name = grade or table.grade
    if name is None:
        raise CatalogueError(
            f"the section {table.name!r} has no grade; give grade = … in its [[section]]"
        )
    grades = [g for g in catalogue.grades if g.name == name]
    if not grades:
        known = ", ".join(g.name for g in catalogue.grades)
        raise CatalogueError(f"no grade is called {name!r}; known: {known}")
    width = table.width.si
    height = table.height.si if table.height else width
    wall = table.wall.si if table.wall else 0.0
    hollow = table.shape in ("rectangular tube", "round tube")
    if hollow and wall <= 0:
        raise CatalogueError(f"the section {table.name!r} is a tube and has no wall")
    yield_stress, tensile = strength_of(grades[0], table.shape, wall or min(width, height))
    section = CatalogueSection(
        designation=table.name,
        family="the maker's own",
        shape=table.shape,
        width=width,
        height=height,
        nominal_wall=wall,
        design_wall=wall * grades[0].design_wall_ratio if hollow else wall,
        corners="2t" if table.shape == "rectangular tube" else "",
        density=STEEL_DENSITY,
        mass_per_metre=0.0,
        grade=grades[0],
        yield_stress=yield_stress,
        tensile_strength=tensile,
        yield_guaranteed=grades[0].yield_guaranteed,
        source=Source("the job file"),
        how_known="entered in the job file",
    )
    try:
        area = outlines.moments(section.mass_outline()).area
        section.properties()
    except ValueError as error:
        raise CatalogueError(f"the section {table.name!r} cannot be made: {error}") from None
    return replace(section, mass_per_metre=STEEL_DENSITY * area)
