"""A small commented project to start from."""

from __future__ import annotations

import os
import sys

from tui.spell_path import spell_path

BEGINNING = """\
# A project for seamrun: what to sew, in your own words. Change anything, then: seamrun check {name}
project: My first batch
measure: in                 # in or cm: what a number without an ending means
seam: 1/4                   # the seam allowance
thread: light grey
fabrics:                    # value: light, medium, dark, or 1 (lightest) to 10
  slate: {{value: dark}}
  sand:  {{value: light}}
  reed:  {{value: medium}}
parts:                      # units that several blocks share
  little four:
    rows:
      - [slate, sand]
      - [sand, slate]
blocks:                     # sizes are finished sizes
  double four patch:
    size: 12
    rows:                   # each row from left to right; a cell is a fabric or a part
      - [little four, reed]
      - [reed, little four]
  pinwheel:
    size: 12
    rows:                   # a stroke cuts a cell: what stands left of it lies left of the line
      - [slate \\ sand, slate / sand]
      - [sand / slate, sand \\ slate]
make:                       # how many of each
  - {{block: double four patch, count: 4}}
  - {{block: pinwheel, count: 2}}
"""


def begin_project(file: str) -> int:
    """Write a beginning to a file that does not exist yet; 1 where it does, or cannot be written."""
    called = spell_path(file)
    text = BEGINNING.format(name=os.path.basename(called))
    try:
        # "x": never over a file that is there, not even one that came to be a moment ago
        with open(file, "x", encoding="utf-8", newline="\n") as new:
            new.write(text)
    except FileExistsError:
        print(f"seamrun: {called} is there already and is left as it is; choose another name", file=sys.stderr)
        return 1
    except (OSError, ValueError) as trouble:
        reason = trouble.strerror if isinstance(trouble, OSError) else "its name is no file name"
        print(f"seamrun: {called} cannot be written: {reason}", file=sys.stderr)
        return 1
    print(f"{called} is begun. Next: seamrun check {called}, then seamrun {called}")
    return 0
