"""python -m tests.benchmarks [NAME...]: print the figures of all benchmarks, or of those named."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator

from tests.benchmarks.answers import measure_check, measure_cloth, measure_growth, measure_quilts
from tests.benchmarks.pairs import Figure
from tests.benchmarks.screens import measure_first_screen, measure_key, measure_large_key

BENCHMARKS: dict[str, Callable[[], Iterator[Figure]]] = {
    "check": measure_check,
    "first-screen": measure_first_screen,
    "key": measure_key,
    "growth": measure_growth,
    "quilts": measure_quilts,
    "cloth": measure_cloth,
    "large-key": measure_large_key,
}


def main(names: list[str]) -> int:
    """The exit status: 0, or 1 where a figure is over its limit, or 2 for a name that is none."""
    unknown = [name for name in names if name not in BENCHMARKS]
    if unknown:
        print(f"no benchmark is named {', '.join(unknown)}; there are {', '.join(BENCHMARKS)}", file=sys.stderr)
        return 2
    are_within = True
    for name in names or BENCHMARKS:
        for figure in BENCHMARKS[name]():
            print(figure.in_one_line, flush=True)
            are_within &= figure.is_within
    return 0 if are_within else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
