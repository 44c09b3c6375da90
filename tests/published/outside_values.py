"""Which formulas of the handbook, and which of their branches, outside values have checked.

Run: python -m tests.published.outside_values. Every test in this folder that says beside it where
its value comes from is run on a handbook compiled with a note at each branch. A formula counts as
checked where such a test called it and got a value back (a refusal is none); a branch, where such a
test took it. Branches are those of ``if``, of ``where``, and the arms of ``min``, ``max`` and
``np.clip``; a refusal (an error, or nan) is no branch of a formula.
"""

from __future__ import annotations

import ast
import dataclasses
import importlib
import importlib.abc
import importlib.machinery
import importlib.util
import io
import itertools
import json
import re
import sys
import tokenize
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import CodeType, FrameType, FunctionType, ModuleType
from typing import Any, Final

import numpy as np

HERE: Final = Path(__file__).resolve().parent
HANDBOOK: Final = "leafwright.handbook"

#: Tests that check no value from outside: refusals, and what always holds.
NO_VALUE: Final = frozenset(
    {
        "test_aci318.test_bond_without_a_sheet_is_held",
        "test_area_n.test_refused",
        "test_galvanizing.test_what_the_sheet_does_not_have_is_refused",
        "test_hinge_parts.test_what_cannot_be_is_refused",
        "test_screws.test_small_head_wants_a_washer",
        "test_screws.test_what_pulls_nothing_out_is_refused",
        "test_area_n.test_what_always_holds",
        "test_en1993.test_curves_lie_in_their_order_and_never_pass_1",
        "test_en1993.test_unknown_names_are_refused_with_what_would_do",
        "test_niosh.test_level_legs_are_refused",
        "test_niosh.test_what_the_equation_cannot_judge_is_refused",
        "test_thermal.test_a_colder_part_is_shorter",
        "test_weld_metal.test_what_cannot_be_is_refused",
        "test_weld_shrinkage.test_nothing_is_refused_in_words",
    }
)

#: Tests whose words say "from memory", with the other evidence that stands in them.
BESIDE_MEMORY: Final = {
    "test_area_c.test_clamped_plate": "beta 1 and alpha read in open programs",
    "test_area_c.test_clamped_square_plate_by_its_classical_solution": "Roark's case 8a, read",
    "test_area_d.test_first_yield": "the Hertz loads, the shear of 0.5 Y, and an open note",
    "test_area_f.test_iso_classes": "all but three figures read in two tables",
    "test_area_g.test_fundamental_deviations_by_their_formulas": "the tables read, which it joins",
    "test_area_g.test_snug_inch_fits": "the tables of RC 2, 3, 4 and 8, read",
    "test_area_h.test_nec_table": "the gauge's own formula",
    "test_area_l.test_exposure_coefficients": "two public programs and a metric formula",
    "test_area_l.test_ground_elevation_factor": "a national standard's formula, read",
    "test_area_l.test_exposure_factor_at_ten_metres": "the expanded formula",
    "test_more_fixings.test_plate_bent_along_the_chord": "worked by hand from the straight pull",
    "test_hinge_parts.test_face_bent_along_the_chord_is_under_what_the_2010_edition_had": (
        "virtual work, in test_more_fixings"
    ),
    "test_screws.test_head_is_counted_up_to_three_quarters_of_an_inch": "a maker's guide, read",
    "test_wall_cladding.test_pressures_of_the_residential_code": "the curves of ASCE 7, beside it",
    "test_more_welds.test_loss_at_the_root": "the figure of an open design note, read",
    "test_more_welds.test_mitred_corner": "the range of a tube maker's chart, read",
    "test_weld_metal.test_where_positions_of_fillets_end": "the figure of grooves, read",
    "test_weld_shrinkage.test_bow_of_a_bead": "an institute's rule of thumb along a fillet, read",
    "test_weld_shrinkage.test_fillet_draws_in": "an institute's rule of thumb, read",
    "test_niosh.test_bounds": "the cut-offs of public programs",
    "test_thermal.test_steel_grows_as_the_manual_says": "EN 1993-1-1's rounding, beside it",
    "test_tube_joints.test_round_joints_against_en_1993_1_8": "two transcriptions and a paraphrase",
}

#: Modules that read words or data, or only refuse: their branches are no formula's.
NO_FORMULAS: Final = ("catalogue", "rolled_beams", "_given", "aisc360._values")

#: Arms that no value can take, with the reason.
NEVER_TAKEN: Final = {
    "aci318.bond.basic_bond: tau is None is so": "no value: says what is missing",
    "aisc360.bending.bending_round_bar: F_y * D ** 3 / 6.0 of minimum": (
        "1.6 F_y S is always less, as the docstring says"
    ),
    "aisc360.hss_joints.end_distance_rectangular: 0.0 of maximum": (
        "only where beta is over 1, which the clause's own limit of 0.85 takes first"
    ),
    "anchor_group._tipped: 0.0 of maximum": "only for a pull of less than a rounding under 0",
    (
        "anchor_group.prying_force: np.clip((T / B * np.square(t_c / t) - 1.0) / stub.delta, "
        "0.0, 1.0) lowered"
    ): "only for a pull that the plate does not let through, where the result is nan",
    "bolts_steel.stress_area_unified: threads_per_inch > 0.0 is not so": "leads to a refusal",
    "electrical.awg_table_resistance: row is None is so": "leads to a refusal",
}


@dataclass(frozen=True, slots=True)
class Report:
    """What outside values have checked.

    ``unchecked`` names handbook functions, ``untaken`` branches, ``silent`` tests that say neither
    where their value is from nor stand in `NO_VALUE`, ``remembered`` tests from memory alone, and
    ``stale`` what the lists above name and is not so, or no more; ``failed`` tests that fail, which
    check nothing.
    """

    functions: int
    branches: int
    tests: int
    cases: int
    unchecked: tuple[str, ...]
    untaken: tuple[str, ...]
    silent: tuple[str, ...]
    remembered: tuple[str, ...]
    stale: tuple[str, ...]
    failed: tuple[str, ...]

    @property
    def text(self) -> str:
        """What a person reads."""
        return (
            f"outside values: {self.cases} checks in {self.tests} tests; "
            f"{self.functions - len(self.unchecked)} of {self.functions} handbook functions, "
            f"{self.branches - len(self.untaken)} of {self.branches} branches"
        )


@dataclass(slots=True)
class Taken:
    """The branches that the handbook has, and those that were taken while it is listening."""

    needed: set[str] = field(default_factory=set)
    taken: set[str] = field(default_factory=set)

    def asked(self, label: str, condition: Any) -> Any:
        """Note how a condition came out, and return it."""
        found = np.asarray(condition, dtype=bool)
        if found.any():
            self.taken.add(f"{label} is so")
        if not found.all():
            self.taken.add(f"{label} is not so")
        return condition

    def chosen(self, labels: Sequence[str], function: Callable[..., Any], *arms: Any) -> Any:
        """Note which arms ``min`` or ``max`` gave back, equal ones all, and return the result."""
        result = function(*arms)
        for label, arm in zip(labels, arms, strict=True):
            if np.isclose(np.asarray(arm, float), np.asarray(result, float), 1e-12, 0.0).any():
                self.taken.add(label)
        return result

    def clipped(self, labels: Sequence[str], value: Any, low: Any, high: Any) -> Any:
        """Note where a clipped value lay, and return it clipped."""
        for label, so in zip(
            labels, (value < low, (value >= low) & (value <= high), value > high), strict=True
        ):
            if np.any(so):
                self.taken.add(label)
        return np.clip(value, low, high)


NOTE: Final = "_outside_values_note"


class Noted(ast.NodeTransformer):
    """Puts a note at every branch of a module, and lists the branches."""

    def __init__(self, place: str) -> None:
        self.place = place
        self.needed: set[str] = set()
        self.within: list[str] = []

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        self.within.append(node.name)
        for body in _bodies(node):
            for statement, after in itertools.zip_longest(body, body[1:]):
                if isinstance(statement, ast.If):
                    self._need_if(statement, isinstance(after, ast.Raise))
        self.generic_visit(node)
        self.within.pop()
        return node

    def visit_Raise(self, node: ast.Raise) -> ast.AST:
        return node

    def visit_If(self, node: ast.If) -> ast.AST:
        label = self._label(node.test)
        self.generic_visit(node)
        node.test = self._note("asked", ast.Constant(label), node.test)
        return node

    def visit_IfExp(self, node: ast.IfExp) -> ast.AST:
        label = self._label(node.test)
        self._need(label, node.body, node.orelse)
        self.generic_visit(node)
        node.test = self._note("asked", ast.Constant(label), node.test)
        return node

    def visit_Call(self, node: ast.Call) -> ast.AST:
        name = ast.unparse(node.func).removeprefix("np.")
        several = len(node.args) > 1 and not node.keywords
        if any(isinstance(argument, ast.Starred) for argument in node.args):
            several = False
        if several and name == "where":
            label = self._label(node.args[0])
            self._need(label, *node.args[1:])
            self.generic_visit(node)
            node.args[0] = self._note("asked", ast.Constant(label), node.args[0])
            return node
        if several and name in ("min", "max", "minimum", "maximum"):
            labels = [f"{self._label(arm)} of {name}" for arm in node.args]
            self.needed.update(labels)
            self.generic_visit(node)
            return self._note("chosen", _constants(labels), node.func, *node.args)
        if several and name == "clip":
            labels = [f"{self._label(node)} {how}" for how in ("raised", "left", "lowered")]
            self.needed.update(labels)
            self.generic_visit(node)
            return self._note("clipped", _constants(labels), *node.args)
        self.generic_visit(node)
        return node

    def _need_if(self, node: ast.If, refuses_after: bool) -> None:
        label = self._label(node.test)
        if not isinstance(node.body[-1], ast.Raise):
            self.needed.add(f"{label} is so")
        refused = refuses_after or (bool(node.orelse) and isinstance(node.orelse[-1], ast.Raise))
        if not refused:
            self.needed.add(f"{label} is not so")

    def _need(self, label: str, so: ast.expr, not_so: ast.expr) -> None:
        for arm, how in ((so, "is so"), (not_so, "is not so")):
            if ast.unparse(arm) != "np.nan":
                self.needed.add(f"{label} {how}")

    def _label(self, node: ast.expr) -> str:
        return f"{self.place}.{'.'.join(self.within)}: {ast.unparse(node)}"

    def _note(self, how: str, *arguments: ast.expr) -> ast.Call:
        called = ast.Attribute(ast.Name(NOTE, ast.Load()), how, ast.Load())
        return ast.Call(called, list(arguments), [])


def _constants(labels: Sequence[str]) -> ast.Tuple:
    return ast.Tuple([ast.Constant(label) for label in labels], ast.Load())


def _bodies(node: ast.AST) -> Iterator[list[ast.stmt]]:
    for inner in ast.walk(node):
        for name in ("body", "orelse", "handlers"):
            body = getattr(inner, name, None)
            if isinstance(body, list):
                yield body


class _Finder(importlib.abc.MetaPathFinder):
    """Finds the handbook's modules and has them compiled with notes."""

    def __init__(self, found: Taken) -> None:
        self.found = found

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if not fullname.startswith(HANDBOOK):
            return None
        spec = importlib.machinery.PathFinder.find_spec(fullname, path)
        if spec is not None and spec.origin is not None:
            spec.loader = _Loader(fullname, spec.origin, self.found)
        return spec


class _Loader(importlib.machinery.SourceFileLoader):
    def __init__(self, fullname: str, path: str, found: Taken) -> None:
        super().__init__(fullname, path)
        self.found = found

    def get_code(self, fullname: str) -> CodeType:
        place = fullname.removeprefix(f"{HANDBOOK}.")
        noted = Noted(place)
        tree = noted.visit(ast.parse(self.get_data(self.path)))
        if place not in NO_FORMULAS:
            self.found.needed |= noted.needed
        return compile(ast.fix_missing_locations(tree), self.path, "exec", dont_inherit=True)

    def exec_module(self, module: ModuleType) -> None:
        vars(module)[NOTE] = self.found
        super().exec_module(module)


def own_words(source: str) -> dict[str, str]:
    """Return what every test of a file says beside it: its docstring, and the comments in it,
    above it, and at the tables and helpers of the file that it names."""
    comments = {
        token.start[0]: token.string.lstrip("# ")
        for token in tokenize.generate_tokens(io.StringIO(source).readline)
        if token.type == tokenize.COMMENT and not token.string.startswith("# noqa")
    }
    said: dict[str, str] = {}
    nodes: dict[str, ast.stmt] = {}
    last = 0
    for node in ast.parse(source).body:
        end = node.end_lineno or node.lineno
        words = [comments[line] for line in range(last + 1, end + 1) if line in comments]
        last = end
        if isinstance(node, ast.FunctionDef):
            words.append(ast.get_docstring(node) or "")
            names = [node.name]
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            names = [target.id for target in targets if isinstance(target, ast.Name)]
        else:
            continue
        for name in names:
            said[name], nodes[name] = " ".join(" ".join(words).split()), node
    return {
        name: " ".join(
            [said[name]]
            + [
                said[inner.id]
                for inner in ast.walk(node)
                if isinstance(inner, ast.Name) and inner.id in said and inner.id != name
            ]
        ).strip()
        for name, node in nodes.items()
        if name.startswith("test_")
    }


def cases_of(function: FunctionType) -> Iterator[dict[str, Any]]:
    """Yield the arguments of every case of a test."""
    tables = []
    for mark in getattr(function, "pytestmark", []):
        if mark.name != "parametrize":
            continue
        given, rows = mark.args
        names = re.split(r"\s*,\s*", given) if isinstance(given, str) else list(given)
        one = len(names) == 1
        tables.append([dict(zip(names, (row,) if one else row, strict=True)) for row in rows])
    for chosen in itertools.product(*tables):
        yield {name: value for row in chosen for name, value in row.items()}


def measured(found: Taken) -> Report:
    """Run every test that says where its value comes from, and return what they reach."""
    from leafwright.figures.find import all_found

    names = {item.function.__code__: name for name, item in all_found().items()}
    checked: set[str] = set()
    called: set[str] = set()
    here = str(HERE)

    def listen(frame: FrameType, event: str, value: Any) -> None:
        if event == "return" and value is not None and frame.f_code in names:
            caller = frame.f_back
            if caller is not None and caller.f_code.co_filename.startswith(here):
                called.add(names[frame.f_code])

    silent, remembered, failed, tests, cases = [], [], [], 0, 0
    taken: set[str] = set()
    stale = NO_VALUE | BESIDE_MEMORY.keys() | NEVER_TAKEN.keys()
    for path in sorted(HERE.glob("test_*.py")):
        source = path.read_text(encoding="utf-8")
        if HANDBOOK not in source:
            continue
        module = importlib.import_module(f"tests.published.{path.stem}")
        for name, words in own_words(source).items():
            place = f"{path.stem}.{name}"
            if place in NO_VALUE:
                stale -= {place}
                continue
            if not words:
                silent.append(place)
                continue
            if "from memory" in words.lower():
                if place not in BESIDE_MEMORY:
                    remembered.append(place)
                    continue
                stale -= {place}
            tests += 1
            function = getattr(module, name)
            for case in cases_of(function):
                called.clear()
                found.taken.clear()
                sys.setprofile(listen)
                try:
                    function(**case)
                except Exception as error:
                    failed.append(f"{place}: {type(error).__name__}")
                    continue
                finally:
                    sys.setprofile(None)
                cases += 1
                checked |= called
                taken |= found.taken
    untaken = found.needed - taken
    return Report(
        functions=len(names),
        branches=len(found.needed),
        tests=tests,
        cases=cases,
        unchecked=tuple(sorted(set(names.values()) - checked)),
        untaken=tuple(sorted(untaken - NEVER_TAKEN.keys())),
        silent=tuple(silent),
        remembered=tuple(remembered),
        stale=tuple(sorted(stale - untaken)),
        failed=tuple(failed),
    )


def main() -> None:
    """Measure and print: for a person, or with --json for the test."""
    found = Taken()
    sys.meta_path.insert(0, _Finder(found))
    report = measured(found)
    if "--json" in sys.argv:
        print(json.dumps(dataclasses.asdict(report)))
        return
    print(report.text)
    for title, listed in (
        ("no outside check", report.unchecked),
        ("branch not taken", report.untaken),
        ("says no source", report.silent),
        ("from memory alone", report.remembered),
        ("listed, but not so", report.stale),
        ("fails", report.failed),
    ):
        for entry in listed:
            print(f"{title}: {entry}")


if __name__ == "__main__":
    # The random cases of the tests, without a deadline that a busy machine misses.
    importlib.import_module("tests.conftest")
    main()
