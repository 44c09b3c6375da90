"""The command line: a shell over `plan`. Every heavy import waits until a command needs it."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from leafwright.pipeline import Plan

OK, BAD_INPUT, SHORT, TO_BE_DECIDED, OWN_FAULT = 0, 2, 3, 4, 70

_EXIT_CODES = """exit codes of plan, prove, cuts, holes, nest, seams, pack, survey and site: 0 all
checks ok or tight; 2 bad input; 3 some check is short; 4 none is short, but something must be
asked or decided. packet exits 0 once it is written."""

#: Parts of the site stage, each with what it tells.
_SITE = {
    "swing": "gaps against angle, the order of a pair, where each gap goes",
    "stand": "the way onto the pins and in under the head, and the people needed",
    "drift": "whether a leaf stays where it is left, and how hard it is to push",
    "fit-up": "a leaf's shape on the pad, which corner to push, what to pack",
    "align": "a hung leaf: what to move, which way, how far",
}

#: What `leafwright site JOB` tells, without one of these.
_OVERVIEW = "overview"

_SHOP = ("cuts", "holes", "nest", "seams", "weld-order", "pack")
_DOCUMENTS = ("prove", *_SHOP, "survey", "site", *_SITE)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="leafwright",
        description="Designs, proves and cuts very large swing doors and gates of welded tube.",
        epilog=_EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="store_true", help="print the version")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")

    new = commands.add_parser("new", help="write a commented job file to start from")
    new.add_argument("file", help="where to write it, as in boathouse.toml")
    new.add_argument("--metric", action="store_true", help="millimetres, not feet and inches")
    new.add_argument("--single", action="store_true", help="one leaf, not a pair")

    plan = commands.add_parser(
        "plan",
        help="work a job out and say how it stands",
        epilog=_EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    plan.add_argument("job", help="a job file, or a folder that holds job.toml")
    plan.add_argument(
        "--json",
        action="store_true",
        help="everything, SI, with the whole analysis model and every cut plane",
    )
    plan.add_argument(
        "--upto",
        choices=("survey", "doorway", "leaf", "proof", "shop", "site"),
        default="site",
        help="the last stage to work out",
    )

    prove = _telling(
        commands, "prove", "tell every check, link by link, with its formulas and sources"
    )
    prove.add_argument(
        "--whole", action="store_true", help="with the formulas of what is plainly ok, too"
    )

    told = "tell every piece to be cut: its length, both ends, which saw and how it is set"
    _telling(commands, "cuts", told)
    told = "tell every hole of every part and plate: where, how large, with which tool"
    _telling(commands, "holes", told)

    nest = _telling(commands, "nest", "tell which sticks to buy and what to cut from each")
    ask = nest.add_mutually_exclusive_group()
    ask.add_argument("--without", metavar="WHAT", help='a length or a supplier is out: "24 ft"')
    ask.add_argument("--short", metavar="N", type=int, help="so many sticks do not come")
    ask.add_argument("--rack-only", action="store_true", help="nothing can be bought")

    _telling(commands, "pack", "tell what to buy and what to take along, operation by operation")
    _telling(
        commands, "survey", "tell what the opening is, how sure that is, and which reading is wrong"
    )
    site = commands.add_parser(
        "site",
        help="tell how the leaves swing, are stood up, hang and are put right",
        usage="leafwright site [-h] [swing | stand | drift | fit-up | align] JOB [--json]",
        description="Without one of the parts, an overview of all of them on one screen.",
        epilog=_EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parts = site.add_subparsers(dest="part", metavar="PART", required=True, prog="leafwright site")
    _job_arguments(parts.add_parser(_OVERVIEW, help="all of them in short, as without a part"))
    for name, told in _SITE.items():
        _job_arguments(parts.add_parser(name, help=told, description=told))

    seams = commands.add_parser(
        "seams",
        help="tell every seam, numbered, what it is made like, and what is not welded yet",
        epilog=_EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    _job_arguments(seams)
    seams.add_argument(
        "--left", action="store_true", help="only what is not ticked yet; JOB is then a folder"
    )
    seams.add_argument("--order", action="store_true", help="in what order to weld them, by steps")

    packet = commands.add_parser("packet", help="write the packet: PDF, SVG, DXF and JSON")
    packet.add_argument("job", help="a job file, or a folder that holds job.toml")
    packet.add_argument("--out", default=None, help="folder to write to (default: NAME-packet)")
    packet.add_argument("--json", action="store_true", help="say what was written as JSON")

    figure = commands.add_parser(
        "figure",
        help="work a formula of the handbook, or list them",
        epilog='as in: leafwright figure two_leg_sling "load=800 lb" "angle=60 deg"',
    )
    figure.add_argument("name", nargs="?", help="a formula, or a subject; without it, all of them")
    figure.add_argument("values", nargs="*", metavar="KEY=VALUE", help="what to put in, with units")
    figure.add_argument("--json", action="store_true", help="the same as JSON: SI, full precision")

    serve = commands.add_parser("serve", help="open the jobs of a folder in the browser")
    serve.add_argument("folder", nargs="?", default=".", help="folder of jobs (default: this one)")
    serve.add_argument(
        "--lan", action="store_true", help="let phones on this network in, each with a code"
    )
    demo = commands.add_parser("demo", help="open a job to try things on, in a scratch folder")
    for command in (serve, demo):
        command.add_argument("--port", type=_port, default=None, help="port (default: a free one)")
        command.add_argument(
            "--no-browser", action="store_true", help="only print the address to open"
        )

    schema = commands.add_parser("schema", help="print a JSON schema")
    schema.add_argument(
        "what",
        nargs="?",
        choices=("plan", "job", "figure", *_DOCUMENTS),
        default="plan",
        help="of what a command prints with --json, or of the job file",
    )
    return parser


def _telling(commands: Any, name: str, told: str) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = commands.add_parser(
        name,
        help=told,
        epilog=_EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    _job_arguments(parser)
    return parser


def _job_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", help="a job file, or a folder that holds job.toml")
    parser.add_argument("--json", action="store_true", help="the same as JSON: SI, full precision")


def _with_part(argv: Sequence[str]) -> list[str]:
    """Return the words of a command, `site JOB` told as `site overview JOB`."""
    words = list(argv)
    if words[:1] == ["figure"]:
        # `figure NAME --json KEY=VALUE`: argparse takes no values after a flag.
        flags = [word for word in words if word in ("--json", "--help", "-h")]
        return ["figure", *flags, *(word for word in words[1:] if word not in flags)]
    if words[:1] != ["site"] or {"-h", "--help"} & set(words[1:2]):
        return words
    first = next((word for word in words[1:] if not word.startswith("-")), None)
    if first not in (_OVERVIEW, *_SITE):
        words.insert(1, _OVERVIEW)
    elif words[1] != first:
        words.remove(first)
        words.insert(1, first)
    return words


def _port(text: str) -> int:
    number = int(text) if text.isascii() and text.isdigit() else -1
    if not 1 <= number <= 65535:
        raise argparse.ArgumentTypeError(f"{text!r} is no port: give one from 1 to 65535")
    return number


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code; no traceback reaches a user."""
    arguments = _parser().parse_args(_with_part(sys.argv[1:] if argv is None else argv))
    try:
        return _run(arguments)
    except KeyboardInterrupt:
        print("\nStopped; nothing half written was kept.", file=sys.stderr)
        return 130
    except BrokenPipeError:
        # Whoever was reading has gone; point stdout at nothing so that exit stays quiet.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return OK
    except OSError as error:
        where = f" {error.filename}" if error.filename else ""
        print(f"Cannot read or write{where}: {error.strerror or error}.", file=sys.stderr)
        return BAD_INPUT
    except Exception as error:
        from leafwright.fault import place_of_fault

        print(
            f"This is a fault of Leafwright, not of your job: {place_of_fault(error)}: "
            f"{error}\nYour files are as they were. Please report it with the job file.",
            file=sys.stderr,
        )
        return OWN_FAULT


def _run(arguments: argparse.Namespace) -> int:
    if arguments.version:
        from importlib.metadata import version

        print(f"leafwright {version('leafwright')}")
        return OK
    if arguments.command == "new":
        return _new(Path(arguments.file), metric=arguments.metric, single=arguments.single)
    if arguments.command == "plan":
        return _plan(arguments.job, upto=arguments.upto, as_json=arguments.json)
    if arguments.command == "prove":
        return _prove(arguments.job, whole=arguments.whole, as_json=arguments.json)
    if arguments.command in ("cuts", "holes", "nest"):
        return _shop(arguments)
    if arguments.command == "survey":
        return _survey(arguments.job, as_json=arguments.json)
    if arguments.command in ("pack", "site"):
        part = arguments.part if arguments.command == "site" else "pack"
        return _site(part, arguments.job, as_json=arguments.json)
    if arguments.command == "seams" and arguments.order:
        return _site("weld-order", arguments.job, as_json=arguments.json)
    if arguments.command == "seams":
        return _seams(arguments.job, only_left=arguments.left, as_json=arguments.json)
    if arguments.command == "packet":
        return _packet(arguments.job, out=arguments.out, as_json=arguments.json)
    if arguments.command == "figure":
        return _figure(arguments.name, arguments.values, as_json=arguments.json)
    if arguments.command == "serve":
        return _serve(arguments.folder, arguments.lan, arguments.port, not arguments.no_browser)
    if arguments.command == "demo":
        return _serve(None, False, arguments.port, not arguments.no_browser)
    if arguments.command == "schema":
        return _schema(arguments.what)
    _parser().print_help()
    return OK


def _new(file: Path, *, metric: bool, single: bool) -> int:
    from leafwright.job.template import starting_file

    if not file.suffix:
        file = file.with_suffix(".toml")
    name = file.stem.replace("-", " ").replace("_", " ").capitalize()
    try:
        text = starting_file(
            name, system="metric" if metric else "feet-inch", leaves="single" if single else "pair"
        )
    except ValueError as error:
        print(f"{error}", file=sys.stderr)
        return BAD_INPUT
    try:
        with file.open("x", encoding="utf-8") as handle:
            handle.write(text)
    except FileExistsError:
        print(
            f"{file} is there already and was left as it is; choose another name.", file=sys.stderr
        )
        return BAD_INPUT
    print(f"Wrote {file}. Put your own readings in it, then: leafwright plan {file}")
    return OK


def _planned(job: str, upto: str) -> Plan | None:
    """Return the plan of a job file, or None after saying what is wrong with the file."""
    from datetime import datetime
    from typing import cast

    from leafwright.job.errors import JobError
    from leafwright.job.file import load_job
    from leafwright.pipeline import Stage, plan

    try:
        read = load_job(job)
    except JobError as error:
        print(error.report(), file=sys.stderr)
        return None
    return plan(read.job, upto=cast(Stage, upto), on=datetime.now().astimezone().date())


def _plan(job: str, *, upto: str, as_json: bool) -> int:
    made = _planned(job, upto)
    if made is None:
        return BAD_INPUT
    from leafwright.told.plan import exit_code, plan_text

    if as_json:
        from leafwright.documents.report import plan_json

        _print(plan_json(made))
    else:
        print(plan_text(made))
    return exit_code(made)


def _prove(job: str, *, whole: bool, as_json: bool) -> int:
    made = _planned(job, "site")
    if made is None:
        return BAD_INPUT
    from leafwright.documents.calculation import calculation
    from leafwright.documents.records import document_json
    from leafwright.told.prove import prove_exit_code, prove_text

    _print(document_json(calculation(made)) if as_json else prove_text(made, whole=whole))
    return prove_exit_code(made)


def _shop(arguments: argparse.Namespace) -> int:
    made = _planned(arguments.job, "site")
    if made is None:
        return BAD_INPUT
    from leafwright.documents.of_plan import cuts_document, holes_document
    from leafwright.documents.records import Document, document_json
    from leafwright.told import cuts, holes, nest

    told: tuple[Document, str, int]
    if arguments.command == "cuts":
        cut = cuts_document(made)
        told = cut, cuts.cuts_text(made, cut), cuts.cuts_exit_code(cut)
    elif arguments.command == "holes":
        found = holes_document(made)
        told = found, holes.holes_text(made, found), holes.holes_exit_code(found)
    else:
        try:
            told = nest.told_nest(made, arguments)
        except ValueError as error:
            print(error, file=sys.stderr)
            return BAD_INPUT
    document, text, code = told
    _print(document_json(document) if arguments.json else text)
    return code


def _survey(job: str, *, as_json: bool) -> int:
    made = _planned(job, "doorway")
    if made is None:
        return BAD_INPUT
    from leafwright.documents.of_plan import survey_document
    from leafwright.documents.records import document_json
    from leafwright.told.survey import survey_exit_code, survey_text

    document = survey_document(made)
    _print(survey_text(made, document) if not as_json else document_json(document))
    return survey_exit_code(document)


def _site(part: str, job: str, *, as_json: bool) -> int:
    made = _planned(job, "site")
    if made is None:
        return BAD_INPUT
    from leafwright.documents.records import document_json
    from leafwright.told.site import told_part

    document, text, code = told_part(part, made)
    _print(document_json(document) if as_json else text)
    return code


def _seams(job: str, *, only_left: bool, as_json: bool) -> int:
    made = _planned(job, "site")
    if made is None:
        return BAD_INPUT
    from leafwright.documents.of_plan import seams_document
    from leafwright.documents.records import document_json
    from leafwright.job.store.log import log_beside
    from leafwright.told.seams import NO_LOG, seams_exit_code, seams_text

    log = log_beside(Path(job))
    if only_left and log is None:
        print(NO_LOG.format(job), file=sys.stderr)
        return BAD_INPUT
    document = seams_document(made, log)
    text = seams_text(made, document, only_left=only_left)
    _print(document_json(document) if as_json else text)
    return seams_exit_code(document)


def _print(told: Any) -> None:
    """Print text as it is, and anything else as JSON."""
    if isinstance(told, str):
        print(told)
        return
    import json

    json.dump(told, sys.stdout, indent=1, ensure_ascii=False, allow_nan=False)
    print()


def _packet(job: str, *, out: str | None, as_json: bool) -> int:
    made = _planned(job, "site")
    if made is None:
        return BAD_INPUT
    from leafwright.packet import write_packet
    from leafwright.told.plan import packet_text

    place = Path(job)
    name = place.name if place.is_dir() else place.stem
    folder = Path(out) if out else Path(f"{name}-packet")
    show = sys.stderr.isatty()

    def progress(words: str) -> None:
        if show:
            print(f"  {words}", file=sys.stderr)

    written = write_packet(made, folder, progress=progress)
    if as_json:
        files = [str(f) for f in written]
        _print({"folder": str(folder), "files": files, "for_cutting": made.for_cutting})
    else:
        print(packet_text(made, folder, len(written)))
    return OK


def _figure(name: str | None, values: Sequence[str], *, as_json: bool) -> int:
    from leafwright.figures import FigureError
    from leafwright.told.figured import figure_document, figure_words

    try:
        document = figure_document(name, values)
    except FigureError as error:
        print(error, file=sys.stderr)
        return BAD_INPUT
    if as_json:
        from leafwright.documents.report import as_json as json_of

        _print(json_of(document))
    else:
        print(figure_words(document))
    return OK


def _serve(folder: str | None, lan: bool, port: int | None, browser: bool) -> int:
    """Serve a folder of jobs, or with None a scratch folder with the demo job in it."""
    from leafwright.web.serve import demo_folder, serve

    place = demo_folder() if folder is None else Path(folder)
    if place.exists() and not place.is_dir():
        print(f"{place} is a file; name the folder that it lies in.", file=sys.stderr)
        return BAD_INPUT
    serve(place, lan=lan, port=port, browser=browser, say=_say)
    return OK


def _say(words: str) -> None:
    print(words, flush=True)


def _schema(what: str) -> int:
    import json

    if what in _DOCUMENTS:
        from leafwright.documents.records import document_schema

        schema = document_schema(what)
    elif what == "figure":
        from leafwright.documents.report import schema_for
        from leafwright.figures import FigureDocument

        schema = schema_for(FigureDocument, "Figures of the handbook")
    else:
        from leafwright.documents.report import job_schema, plan_schema

        schema = plan_schema() if what == "plan" else job_schema()
    print(json.dumps(schema, indent=1, ensure_ascii=False))
    return OK


if __name__ == "__main__":
    sys.exit(main())
