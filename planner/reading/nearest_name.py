"""The nearest of the names that exist, for a name that does not."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from difflib import SequenceMatcher
from itertools import chain

_NEAR = 0.6
_MOST_LISTED = 8
_MOST_COMPARED = 20_000
_LONGEST = 80  # what lies behind is not compared


class NearestName:
    """Finds near names within a budget that is counted, never timed: the same file gets the same words everywhere.

    When the names looked at have used it up, faults go without a suggestion.
    """

    def __init__(self, budget: int = _MOST_COMPARED) -> None:
        self._left = budget

    def find(self, name: str, names: Iterable[str]) -> str | None:
        """The nearest name, the first of equals; None where none is near."""
        best, best_likeness = None, _NEAR
        matcher = SequenceMatcher(a="", b=name.casefold()[:_LONGEST], autojunk=False)
        for other in names:
            if self._left <= 0:
                break
            self._left -= 1
            matcher.set_seq1(other.casefold()[:_LONGEST])
            if matcher.real_quick_ratio() < best_likeness or matcher.quick_ratio() < best_likeness:
                continue
            likeness = matcher.ratio()
            if likeness > best_likeness or (best is None and likeness >= best_likeness):
                best, best_likeness = other, likeness
        return best

    def suggest(self, name: str, *groups: Collection[str]) -> str:
        """Words to end a fault with: `; did you mean 'navy'?`, else the names there are, where they are few."""
        near = self.find(name, chain(*groups)) if self._left > 0 else None
        if near is not None:
            return f"; did you mean '{near}'?"
        count = sum(len(group) for group in groups)
        if 0 < count <= _MOST_LISTED:
            return f"; there {'is' if count == 1 else 'are'} {_list_names(list(chain(*groups)))}"
        return ""


def _list_names(names: list[str]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
