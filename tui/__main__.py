"""The command line. Only the workspace itself imports textual; every other answer starts without it."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable

try:
    from tui.end_by_signal import end_at_interrupt
    from tui.spell_path import spell_path
except KeyboardInterrupt:  # before an interrupt can be heard in any other way
    os._exit(130)

HELP = """\
seamrun: what to sew next, from the first cut to the last seam of a batch of patchwork blocks

  seamrun                     choose a project file of this folder, or a sample
  seamrun FILE                open the bench on a project: seamrun lap.yaml
  seamrun new FILE            begin a project file: seamrun new lap.yaml
  seamrun check FILE...       faults, or a summary: seamrun check lap.yaml
  seamrun sheet FILE          the whole run sheet as plain text: seamrun sheet lap.yaml > sheet.txt
      --json                  the plan for other programs: seamrun sheet lap.yaml --json
      --as-sewn               the sheet as the bench has it: seamrun sheet lap.yaml --as-sewn
  seamrun where FILE          how far it is and what comes next: seamrun where lap.yaml
      --json                  the same for other programs: seamrun where lap.yaml --json
  seamrun order FILE          more passes or fewer, other ways to join: seamrun order lap.yaml
      --json                  the same for other programs: seamrun order lap.yaml --json
  seamrun press FILE          the pressing explained, what can't nest and why: seamrun press lap.yaml
      --json                  the same for other programs: seamrun press lap.yaml --json
  seamrun draw FILE           a picture as text: seamrun draw lap.yaml --quilt
      --block NAME            a block, its seams in the order of sewing: seamrun draw lap.yaml --block pinwheel
      --quilt                 the quilt in its fabrics: seamrun draw lap.yaml --quilt
      --press                 the press map, of the quilt or of --block NAME: seamrun draw lap.yaml --press
      -o FILE.svg             as an SVG file in real size: seamrun draw lap.yaml --quilt -o lap.svg
      --overwrite             even if that file is there: seamrun draw lap.yaml --quilt -o lap.svg --overwrite
  seamrun cloth FILE          what to buy, how to lay it out and cut it: seamrun cloth lap.yaml
      --json                  the same for other programs: seamrun cloth lap.yaml --json
      --csv                   the same as a table: seamrun cloth lap.yaml --csv > lap.csv
      --beds                  how many blocks a bed takes: seamrun cloth lap.yaml --beds
      --layout                a picture of the layout as text: seamrun cloth lap.yaml --layout
      -o FILE.svg             or as an SVG file: seamrun cloth lap.yaml --layout -o lap.svg
      --pdf FILE.pdf          templates to print in true size: seamrun cloth lap.yaml --pdf lap.pdf
      --paper letter | a4     on which paper: seamrun cloth lap.yaml --pdf lap.pdf --paper a4
      --all                   squares and rectangles too: seamrun cloth lap.yaml --pdf lap.pdf --all
      --overwrite             even if that file is there: seamrun cloth lap.yaml --pdf lap.pdf --overwrite
  seamrun blocks              traditional blocks to take by name: seamrun blocks
  seamrun blocks NAME         one of them, what its fabrics are for, a picture: seamrun blocks churn dash
      --json                  the same for other programs: seamrun blocks --json
  seamrun schema              JSON Schema of the project file: seamrun schema > seamrun.schema.json
  seamrun --version           which version this is
  seamrun --help              this page

A file named like a command is opened with its folder before it: seamrun ./check
Exit status: 0 done, 1 could not (file exists, no terminal, no room), 2 the input or the command line is at fault.
"""


class UsageFault(Exception):
    """The command line cannot be understood; the message says what would be right."""


def main() -> None:
    """Entry point of the command `seamrun`."""
    end_at_interrupt()  # before anything else is loaded
    from tui.standard_streams import prepare_streams, send_nowhere

    prepare_streams()
    if os.environ.get("NO_COLOR") == "":  # set but empty means not set
        del os.environ["NO_COLOR"]
    try:
        status = run(sys.argv[1:])
        if status >= 128:  # ended by a signal: the terminal may be gone, and nobody reads a farewell
            send_nowhere(sys.stdout, sys.stderr)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read this has seen enough
        send_nowhere(sys.stdout, sys.stderr)
        status = 0
    except OSError as trouble:
        if trouble.filename is not None or trouble.strerror is None:  # no stream but a file: a bug
            raise
        send_nowhere(sys.stdout)
        print(f"seamrun: could not write: {trouble.strerror[:1].lower()}{trouble.strerror[1:]}", file=sys.stderr)
        status = 1
    except UsageFault as fault:
        print(f"seamrun: {fault}; seamrun --help lists the commands", file=sys.stderr)
        status = 2
    sys.exit(status)


def run(arguments: list[str]) -> int:
    """Carry out one command line; the exit status."""
    if any(argument in ("--help", "-h") for argument in arguments):
        sys.stdout.write(HELP)
        return 0
    if arguments and arguments[0] in COMMANDS:
        return COMMANDS[arguments[0]](arguments[1:])
    if arguments == ["--version"]:
        return _version()
    files, options = _split(arguments, ())
    if len(files) > 1:
        from difflib import get_close_matches

        near = get_close_matches(files[0], COMMANDS, 1)
        if near and not os.path.exists(files[0]):
            raise UsageFault(f"there is no command {spell_path(files[0])}; did you mean {near[0]}?")
        raise UsageFault(f"one project at a time, not {len(files)}")
    return _bench(files[0] if files else None)


def _split(arguments: list[str], known: tuple[str, ...]) -> tuple[list[str], set[str]]:
    """File names and options; after `--` everything is a file name."""
    files, options = [], set()
    for place, argument in enumerate(arguments):
        if argument == "--":
            files += arguments[place + 1 :]
            break
        if argument.startswith("-") and argument != "-":
            if argument not in known:
                such = f"the options here are {' and '.join(known)}" if known else "there are no options here"
                raise UsageFault(f"unknown option {spell_path(argument)}: {such}")
            options.add(argument)
        else:
            files.append(argument)
    return files, options


def _one_file(arguments: list[str], known: tuple[str, ...], example: str) -> tuple[str, set[str]]:
    files, options = _split(arguments, known)
    if len(files) != 1:
        raise UsageFault(f"one FILE is needed, like: {example}")
    return files[0], options


def _sheet(arguments: list[str]) -> int:
    from tui.answers import answer_sheet

    file, options = _one_file(arguments, ("--json", "--as-sewn"), "seamrun sheet lap.yaml")
    if len(options) == 2:
        raise UsageFault("--json and --as-sewn are two different answers: ask for one")
    return answer_sheet(file, as_json="--json" in options, as_sewn="--as-sewn" in options)


def _check(arguments: list[str]) -> int:
    from tui.answers import answer_check

    files, _ = _split(arguments, ())
    if not files:
        raise UsageFault("at least one FILE is needed, like: seamrun check lap.yaml")
    return answer_check(files)


def _where(arguments: list[str]) -> int:
    from tui.answers import answer_where

    file, options = _one_file(arguments, ("--json",), "seamrun where lap.yaml")
    return answer_where(file, as_json="--json" in options)


def _order(arguments: list[str]) -> int:
    from tui.answers import answer_order

    file, options = _one_file(arguments, ("--json",), "seamrun order lap.yaml")
    return answer_order(file, as_json="--json" in options)


def _press(arguments: list[str]) -> int:
    from tui.answers import answer_press

    file, options = _one_file(arguments, ("--json",), "seamrun press lap.yaml")
    return answer_press(file, as_json="--json" in options)


def _draw(arguments: list[str]) -> int:
    values, rest = _take_values(arguments, ("--block", "-o"))
    file, options = _one_file(rest, ("--quilt", "--press", "--overwrite"), "seamrun draw lap.yaml --quilt")
    block, svg = values.get("--block"), values.get("-o")
    if "--quilt" in options and (block is not None or "--press" in options):
        raise UsageFault("--quilt stands alone: --press by itself is the press map of the quilt")
    if block is None and not options & {"--quilt", "--press"}:
        raise UsageFault("what to draw: --block NAME, --quilt or --press")
    if svg is not None and not svg.lower().endswith(".svg"):
        raise UsageFault(f"-o {svg}: the picture is an SVG file, so its name ends in .svg")
    if svg is None and "--overwrite" in options:
        raise UsageFault("--overwrite goes with -o FILE.svg")
    from tui.draw_command import Wanted, answer_draw

    return answer_draw(file, Wanted(block, "--press" in options, svg, "--overwrite" in options))


def _cloth(arguments: list[str]) -> int:
    if "--beds" in arguments:
        return _beds(arguments)
    values, rest = _take_values(arguments, ("--pdf", "--paper", "-o"))
    known = ("--json", "--csv", "--layout", "--all", "--overwrite")
    file, options = _one_file(rest, known, "seamrun cloth lap.yaml")
    pdf, paper, svg = values.get("--pdf"), values.get("--paper"), values.get("-o")
    answers = [name for name in ("--json", "--csv", "--layout") if name in options]
    if len(answers) + (pdf is not None) > 1:
        raise UsageFault(f"{answers[0]} and {answers[1] if pdf is None else '--pdf'} are two answers: ask for one")
    if pdf is not None and svg is None:
        return _templates(file, pdf, paper, options)
    if paper is not None or "--all" in options:
        raise UsageFault("--paper and --all go with --pdf FILE.pdf")
    if svg is not None and answers != ["--layout"]:
        raise UsageFault("-o FILE.svg goes with --layout")
    if svg is not None and not svg.lower().endswith(".svg"):
        raise UsageFault(f"-o {spell_path(svg)}: the layout is an SVG file, so its name ends in .svg")
    if svg is None and "--overwrite" in options:
        raise UsageFault("--overwrite goes with --layout -o FILE.svg or --pdf FILE.pdf")
    from tui.cloth_command import FORMS, answer_cloth

    return answer_cloth(file, FORMS[answers[0] if answers else ""], svg, "--overwrite" in options)


def _beds(arguments: list[str]) -> int:
    from tui.answers import answer_beds

    file, options = _one_file(arguments, ("--beds", "--json"), "seamrun cloth lap.yaml --beds")
    return answer_beds(file, as_json="--json" in options)


def _templates(file: str, pdf: str, paper: str | None, options: set[str]) -> int:
    if not pdf.lower().endswith(".pdf"):
        raise UsageFault(f"--pdf {spell_path(pdf)}: the templates are a PDF file, so its name ends in .pdf")
    if paper is not None and paper not in ("letter", "a4"):
        raise UsageFault(f"--paper {spell_path(paper)}: write letter or a4")
    from tui.templates_command import Wanted, answer_templates

    return answer_templates(file, Wanted(pdf, paper, "--all" in options, "--overwrite" in options))


def _take_values(arguments: list[str], known: tuple[str, ...]) -> tuple[dict[str, str], list[str]]:
    """The options with the value behind each, as `--block pinwheel` or `--block=pinwheel`; and all the rest."""
    values: dict[str, str] = {}
    rest = []
    left = list(arguments)
    while left:
        argument = left.pop(0)
        name, sign, value = argument.partition("=")
        if argument == "--":
            rest += [argument, *left]
            break
        if name not in known:
            rest.append(argument)
            continue
        if not sign:
            if not left or left[0].startswith("-"):
                raise UsageFault(f"{name} wants a value after it")
            value = left.pop(0)
        if name in values:
            raise UsageFault(f"{name} is given twice: one is enough")
        values[name] = value
    return values, rest


def _blocks(arguments: list[str]) -> int:
    from tui.shelf_command import answer_blocks

    words, options = _split(arguments, ("--json",))
    return answer_blocks(" ".join(words) if words else None, as_json="--json" in options)


def _schema(arguments: list[str]) -> int:
    import json

    from planner.reading.file_schema import build_schema

    if arguments:
        raise UsageFault("schema takes nothing after it")
    sys.stdout.write(json.dumps(build_schema(), indent=2, ensure_ascii=False) + "\n")
    return 0


def _new(arguments: list[str]) -> int:
    from tui.new_project import begin_project

    file, _ = _one_file(arguments, (), "seamrun new lap.yaml")
    return begin_project(file)


def _version() -> int:
    from importlib.metadata import PackageNotFoundError, version

    try:
        number = version("seamrun")
    except PackageNotFoundError:
        number = "not installed"
    print(f"seamrun {number}")
    return 0


def _bench(file: str | None) -> int:
    if not all(stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):  # textual draws on stderr
        print(
            "seamrun: the bench needs a terminal; for plain text: seamrun sheet FILE, seamrun where FILE",
            file=sys.stderr,
        )
        return 1
    from tui.load_at_once import loading

    with loading():
        from tui.open_bench import open_bench
    return open_bench(file)


COMMANDS: dict[str, Callable[[list[str]], int]] = {
    "sheet": _sheet,
    "check": _check,
    "where": _where,
    "order": _order,
    "press": _press,
    "draw": _draw,
    "cloth": _cloth,
    "blocks": _blocks,
    "schema": _schema,
    "new": _new,
}

if __name__ == "__main__":
    main()
