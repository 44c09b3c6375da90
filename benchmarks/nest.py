"""How many nests are proven least, how fast, and beside a general-purpose solver.

    python benchmarks/nest.py [PATH.json] [--general SECONDS] [--only TEXT]

PATH.json is a list of {"name", "class", "capacity", "items": [[length, count], …], "optimum"};
without it the instances are sawn apart here, so that their optimum is known, with some jobs of
three stock lengths and offcuts whose optimum is not. Beside each, the same instance as a plain
arc-flow integer program in HiGHS, stopped after SECONDS (0: leave it out); a ratio with a ≥ had
some of its arc-flows stopped. Times are processor time, so that other work on the machine
counts little.
"""

from __future__ import annotations

import argparse
import itertools
import json
import os
import platform
import random
import statistics
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import highspy
import numpy as np

from leafwright.shop.nest import Nest, Piece, Rules, Stick, nest
from leafwright.shop.nest.columns import quiet_highs
from leafwright.shop.nest.grid import Problem, as_problem

INCH = 0.0254
FOOT = 0.3048
MOST_ARCS = 400_000


@dataclass(frozen=True, slots=True)
class Instance:
    name: str
    group: str
    pieces: tuple[Piece, ...]
    sticks: tuple[Stick, ...]
    rules: Rules
    optimum: float | None


def read(path: Path) -> list[Instance]:
    """One unit of the file is one millimetre here."""
    found = []
    for entry in json.loads(path.read_text(encoding="utf-8")):
        lengths = [length for length, count in entry["items"] for _ in range(count)]
        found.append(
            Instance(
                entry["name"],
                entry["class"],
                tuple(Piece(str(i), length / 1000) for i, length in enumerate(lengths)),
                (Stick("new", "bar", entry["capacity"] / 1000, 1.0),),
                Rules(kerf=0.0),
                float(entry["optimum"]),
            )
        )
    return found


def sawn_apart(seed: int, count: int, kerf: int) -> Instance:
    """``count`` sticks of 20 ft sawn into 1/16 in lengths with nothing left; kerf in 1/16 in."""
    draw = random.Random(seed)
    lengths = []
    for _ in range(count):
        left = 240 * 16
        while left > 0:
            length = draw.randint(24 * 16, 120 * 16)
            if left - length - kerf < 24 * 16:
                length = left
            lengths.append(length / 16 * INCH)
            left -= length + kerf
    return Instance(
        f"sawn {count} sticks, seed {seed}",
        f"sawn apart, kerf {kerf}/16 in",
        tuple(Piece(str(i), length) for i, length in enumerate(lengths)),
        (Stick("new", "20 ft", 20 * FOOT, 1.0),),
        Rules(kerf=kerf / 16 * INCH),
        float(count),
    )


def job(seed: int, *, metric: bool, computed: bool) -> Instance:
    """200 parts of 12 to 60 lengths, three stock lengths, six offcuts, kerf and trims."""
    draw = random.Random(seed)
    kinds = [
        draw.randint(200, 4400) / 1000 if metric else draw.randint(8 * 16, 175 * 16) / 16 * INCH
        for _ in range(draw.randint(12, 60))
    ]
    if computed:
        kinds = [k + draw.random() * INCH / 16 if draw.random() < 0.4 else k for k in kinds]
    stock = (6.0, 6.5, 7.5) if metric else (20 * FOOT, 21 * FOOT, 24 * FOOT)
    rack = [draw.randint(500, 3800) / 1000 for _ in range(6)]
    return Instance(
        f"job {seed}",
        f"job, {'mm' if metric else '1/16 in'}{', some computed lengths' if computed else ''}",
        tuple(Piece(str(i), draw.choice(kinds)) for i in range(200)),
        (
            *(Stick("new", f"stock {i}", length) for i, length in enumerate(stock)),
            *(Stick("offcut", f"rack {i}", length, count=1) for i, length in enumerate(rack)),
        ),
        Rules(0.003, 0.015, 0.01) if metric else Rules(0.094 * INCH, 0.5 * INCH),
        None,
    )


def arc_flow_seconds(problem: Problem, seconds: float) -> tuple[float, bool] | None:
    """Processor time of the plain arc-flow program, and whether it finished; None if too big."""
    weights, top = problem.weights, max(problem.rooms)
    start = time.process_time()
    reached = {0}
    arcs: set[tuple[int, int, int]] = set()
    for j, weight in enumerate(weights):
        # Longer pieces lie before shorter ones on a stick, so only these arcs are needed.
        for at in sorted(reached):
            for n in range(problem.demand[j]):
                tail, head = at + n * weight, at + (n + 1) * weight
                if head > top:
                    break
                arcs.add((tail, head, j))
                reached.add(head)
        if len(arcs) > MOST_ARCS:
            return None
    nodes = {node: i for i, node in enumerate(sorted(reached | set(problem.rooms)))}
    kinds, m = len(problem.rooms), len(weights)
    ends = sorted(nodes)
    lp_arcs = [(nodes[a], nodes[b], j) for a, b, j in sorted(arcs)]
    lp_arcs += [(nodes[a], nodes[b], -1) for a, b in itertools.pairwise(ends)]
    columns, rows = len(lp_arcs) + kinds, len(nodes) + m
    starts, index, value = [0], [], []
    for a, b, j in lp_arcs:
        index += [a, b]
        value += [-1.0, 1.0]
        if j >= 0:
            index.append(len(nodes) + j)
            value.append(1.0)
        starts.append(len(index))
    for room in problem.rooms:
        index += [nodes[0], nodes[room]]
        value += [1.0, -1.0]
        starts.append(len(index))
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = columns, rows
    lp.col_cost_ = np.array([*([0.0] * len(lp_arcs)), *(float(c) for c in problem.costs)])
    lp.col_lower_ = np.zeros(columns)
    lp.col_upper_ = np.array(
        [
            *(float(problem.demand[j]) if j >= 0 else highspy.kHighsInf for _, _, j in lp_arcs),
            *(float(c) for c in problem.counts),
        ]
    )
    lp.row_lower_ = np.array([*([0.0] * len(nodes)), *(float(d) for d in problem.demand)])
    lp.row_upper_ = np.array([*([0.0] * len(nodes)), *([highspy.kHighsInf] * m)])
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = np.array(starts, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(index, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(value)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * columns
    h = quiet_highs()
    h.setOptionValue("mip_rel_gap", 0.0)
    h.setOptionValue("mip_abs_gap", 0.999)
    h.setOptionValue("time_limit", seconds)
    h.passModel(lp)
    h.run()
    return time.process_time() - start, h.getModelStatus() == highspy.HighsModelStatus.kOptimal


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("path", nargs="?", type=Path, help="published instances, JSON")
    parser.add_argument("--general", type=float, default=10.0, help="seconds for each arc-flow")
    parser.add_argument("--only", default="", help="only classes or names with this text")
    asked = parser.parse_args()
    if asked.path:
        instances = read(asked.path)
    else:
        instances = [sawn_apart(s, 40, kerf) for kerf in (0, 2) for s in range(6)]
        for metric, computed in ((False, False), (False, True), (True, False)):
            instances += [job(s, metric=metric, computed=computed) for s in range(12)]
    print(f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}")
    groups: dict[str, list[tuple[bool, bool, float, float | None, bool]]] = {}
    for instance in instances:
        if asked.only not in f"{instance.group} {instance.name}":
            continue
        start = time.process_time()
        answer = nest(instance.pieces, instance.sticks, instance.rules)
        took = time.process_time() - start
        solved = isinstance(answer, Nest) and (
            answer.proven
            if instance.optimum is None
            else abs(answer.cost - instance.optimum) < 1e-6
        )
        proven = isinstance(answer, Nest) and answer.proven
        if proven and not solved:
            raise SystemExit(f"{instance.name}: proven, yet not the optimum {instance.optimum}")
        general = None
        if asked.general > 0:
            problem, _ = as_problem(instance.pieces, instance.sticks, instance.rules)
            general = arc_flow_seconds(problem, asked.general)
        ratio = None if general is None else general[0] / max(took, 1e-4)
        stopped = general is not None and not general[1]
        groups.setdefault(instance.group, []).append((solved, proven, took, ratio, stopped))
    print(
        f"{'class':34}{'nests':>6}{'least':>6}{'proven':>7}{'median s':>10}{'worst s':>9}  arc-flow"
    )
    for group, runs in groups.items():
        ratios = [ratio for _, _, _, ratio, _ in runs if ratio is not None]
        beside = f"{statistics.median(ratios):.0f} ×" if ratios else "too big"
        if asked.general <= 0:
            beside = "not run"
        if any(stopped for *_, stopped in runs):
            beside = "≥ " + beside
        times = [took for _, _, took, _, _ in runs]
        counts = Counter(solved=sum(r[0] for r in runs), proven=sum(r[1] for r in runs))
        print(
            f"{group:34}{len(runs):6}{counts['solved']:6}{counts['proven']:7}"
            f"{statistics.median(times):10.2f}{max(times):9.2f}  {beside}",
            flush=True,
        )


if __name__ == "__main__":
    main()
