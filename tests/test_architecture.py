"""The folder list is the architecture: imports point one way, and every file holds one subject."""

from __future__ import annotations

import ast
import importlib
import subprocess
import sys
import warnings
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

import leafwright

ROOT = Path(__file__).parents[1] / "src" / "leafwright"

# What a module may import stands before it. A group knows nothing of the others on its line.
LAYERS = (
    ("records", "fault"),
    ("runner",),
    ("units",),
    ("handbook",),
    ("chain",),
    ("figures",),
    ("job",),
    ("survey",),
    ("doorway",),
    ("leaf",),
    ("frame",),
    ("proof",),
    ("mount",),
    ("shop",),
    ("site",),
    ("price",),
    ("gathered", "not_yet"),
    ("outfit",),
    ("pipeline",),
    ("say",),
    ("say_loads",),
    ("say_cutting",),
    ("documents",),
    ("say_site",),
    ("paper", "solid"),
    ("told", "packet"),
    ("web",),
    ("cli",),
)

# The frame kernel is plain structural mechanics; only these turn a leaf into a frame for it.
FRAME = "leafwright.frame"
BRIDGES = {FRAME, f"{FRAME}.of_leaf", f"{FRAME}.load_cases"}

# Too slow to load for a command that does not use them.
HEAVY = {"ezdxf", "highspy", "numpy", "pydantic", "reportlab", "scipy", "xlsxwriter"}

LINES = 500


def name_of(file: Path) -> str:
    """Return the dotted name under which ``file`` is imported."""
    parts = file.relative_to(ROOT.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


FILES = {name_of(file): file for file in sorted(ROOT.rglob("*.py"))}


def imported(module: str) -> Iterator[str]:
    """Yield the modules of this project that ``module`` imports, inside functions too."""
    file = FILES[module]
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            source = node.module or ""
            if node.level:
                package = (
                    module.split(".") if file.name == "__init__.py" else module.split(".")[:-1]
                )
                above = package[: len(package) - node.level + 1]
                source = ".".join([*above, source] if source else above)
            # `from leafwright.leaf import joints` imports a module, `… import Joint` a name in one.
            inner = [f"{source}.{alias.name}" for alias in node.names]
            names = [name if name in FILES else source for name in inner]
        else:
            continue
        yield from (name for name in names if name.partition(".")[0] == "leafwright")


# A module that is missing altogether is left to the test that imports everything.
IMPORTS = {module: sorted(FILES.keys() & set(imported(module)) - {module}) for module in FILES}


def part(module: str) -> str:
    """Return the file or folder directly under the package that ``module`` lies in."""
    return module.split(".")[1] if "." in module else "leafwright"


def layer(module: str) -> int:
    """Return how far down the order ``module`` stands; the root, which shows it all, is last."""
    for number, parts in enumerate(LAYERS):
        if part(module) in parts:
            return number
    return len(LAYERS)


def test_every_part_has_its_place_in_the_order() -> None:
    unplaced = {part(module) for module in FILES if layer(module) == len(LAYERS)} - {"leafwright"}
    assert not unplaced, f"give {sorted(unplaced)} a place in LAYERS"


def test_imports_point_one_way() -> None:
    upward = [
        f"{module} imports {other}"
        for module, others in IMPORTS.items()
        for other in others
        if part(other) != part(module) and layer(other) >= layer(module)
    ]
    assert not upward, "\n".join(upward)


def test_the_frame_kernel_knows_nothing_of_doors() -> None:
    frame = {module for module in FILES if module.startswith(f"{FRAME}.")}
    kernel = frame - BRIDGES
    assert {f"{FRAME}.{name}" for name in ("model", "solve", "forces", "equilibrium")} <= kernel
    beyond = [
        f"{module} imports {other}"
        for module in sorted(kernel)
        for other in IMPORTS[module]
        if other not in kernel and other != "leafwright.records"
    ]
    assert not beyond, "\n".join(beyond)


def test_no_import_goes_in_a_circle() -> None:
    finished: set[str] = set()

    def visit(module: str, path: tuple[str, ...]) -> None:
        if module in path:
            circle = [*path[path.index(module) :], module]
            pytest.fail(" imports ".join(circle))
        if module not in finished:
            for other in IMPORTS[module]:
                visit(other, (*path, module))
            finished.add(module)

    for module in IMPORTS:
        visit(module, ())


def test_no_file_holds_two_subjects() -> None:
    lengths = {
        module: len(file.read_text(encoding="utf-8").splitlines()) for module, file in FILES.items()
    }
    long = {module: length for module, length in lengths.items() if length > LINES}
    assert not long, f"past {LINES} lines, look for the second subject: {long}"


def test_the_root_offers_what_it_declares_and_no_more() -> None:
    # Loaded first, because loading `leafwright.pipeline` puts a module of that name into the root.
    for module in FILES:
        importlib.import_module(module)
    declared = list(getattr(leafwright, "__all__", []))
    assert len(declared) == len(set(declared))
    hidden = [name for name in declared if isinstance(getattr(leafwright, name), ModuleType)]
    assert not hidden, f"a module of the same name hides {hidden}"
    public = {name for name in vars(leafwright) if not name.startswith("_")}
    parts = {part(module) for module in FILES}
    for_types = {"Any", "TYPE_CHECKING", "annotations"}
    assert public - parts - for_types == set(declared)


def test_every_file_compiles_without_a_warning() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for file in FILES.values():
            compile(file.read_text(encoding="utf-8"), str(file), "exec")


def in_a_new_python(code: str) -> subprocess.CompletedProcess[str]:
    """Return what Python did with ``code``, any warning being an error."""
    return subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        capture_output=True,
        text=True,
        cwd=ROOT.parent,
        check=False,
    )


def test_every_module_imports_without_a_warning() -> None:
    result = in_a_new_python("\n".join(f"import {module}" for module in FILES))
    assert result.returncode == 0, result.stderr


def test_the_command_line_starts_without_the_heavy_libraries() -> None:
    result = in_a_new_python("import leafwright.cli, sys; print(*sys.modules)")
    assert result.returncode == 0, result.stderr
    loaded = HEAVY & set(result.stdout.split())
    assert not loaded, f"import leafwright.cli loads {sorted(loaded)}"
