"""Commands -> Textual bindings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rich.cells import cell_len
from textual.binding import Binding, BindingType

from tui.commands import commands_at


def bindings_at(home: str) -> list[BindingType]:
    """The bindings of one home, each with the id of its command, so that it can be remapped."""
    return [
        Binding(command.keys, command.action, command.label, show=False, tooltip=command.help, id=command.id)
        for command in commands_at(home)
    ]


def footer_words(homes: tuple[str, ...], keys: Mapping[str, str], width: int) -> str:
    """The key line of a screen: as many of its commands as fit, the most needed first."""
    from tui.commands import COMMANDS, spell_keys

    shown = sorted(
        (command for command in COMMANDS if command.home in homes and command.footer), key=lambda one: one.footer
    )
    return fit_words(
        [f"{spell_keys(keys.get(command.id, command.keys).split(',')[0])} {command.label}" for command in shown], width
    )


def fit_words(parts: Sequence[str], width: int) -> str:
    """As many of the parts as fit into so many columns, from the first on; none of them is cut."""
    words = ""
    for part in parts:
        longer = f"{words} · {part}" if words else part
        if cell_len(longer) > width:
            break
        words = longer
    return words
