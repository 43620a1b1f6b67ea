"""Every command of the workspace, declared once: the key line, the palette, the keys page and the keymap read this."""

from __future__ import annotations

from typing import NamedTuple


class Command(NamedTuple):
    """`id` is home.name, and home says which screen has it ("app": all of them). `footer`: 1 is shown first in the
    key line, 0 never."""

    id: str
    keys: str
    action: str
    label: str
    help: str
    footer: int = 0

    @property
    def home(self) -> str:
        return self.id.partition(".")[0]


COMMANDS = (
    Command("bench.one", "space", "count_one", "one", "Count one: a pair sewn, a press, a check, a cut", 1),
    Command("bench.all", "enter", "finish_step", "all", "Count the whole step: what is left of it is done", 2),
    Command("bench.back", "u", "take_back", "take back", "Take back the last key, as often as wanted", 3),
    Command("bench.ahead", "right", "look_ahead", "ahead", "Look at the next step without losing the place"),
    Command("bench.behind", "left", "look_behind", "behind", "Look at the step before without losing the place"),
    Command("bench.place", "escape", "return_to_place", "to the place", "Return from looking to the step at hand"),
    Command("bench.spoiled", "x", "spoil", "spoiled", "One of this step is ruined: cut and sew it again"),
    Command("bench.wrong", "w", "measure_wrong", "measured wrong", "Units that measure too small or too large"),
    Command("bench.picture", "v", "show_picture", "picture", "The picture of this step, large, on a page of its own"),
    Command("bench.large", "l", "toggle_large", "large print", "Only the verb, the letters and the tally, very large"),
    Command("app.sheet", "s", "show_sheet", "sheet", "The whole sheet: passes, batches, and what is done", 6),
    Command("app.blocks", "b", "show_blocks", "block", "A block: its seams in sewing order, press arrows", 7),
    Command("app.cuts", "c", "show_cuts", "cuts", "The cut list: what to cut from which fabric"),
    Command("app.cloth", "f", "show_cloth", "cloth", "The cloth, fabric by fabric: what to buy, how the pieces lie"),
    Command("app.piles", "p", "show_piles", "piles", "What lies where: the chain, the iron, the piles"),
    Command("app.keys", "question_mark", "show_keys", "keys", "All keys and what they do", 4),
    Command("app.theme", "t", "toggle_theme", "light or dark", "Light or dark until you leave; settings.yaml keeps it"),
    Command("app.palette", "ctrl+p", "command_palette", "commands", "Search every command"),
    Command("app.quit", "q,ctrl+q", "leave", "leave", "Leave: what lies where, and the iron off", 5),
    Command("page.close", "escape,backspace", "close", "back", "Go back to the bench", 1),
    Command("page.up", "up", "scroll_up", "up", "One line up"),
    Command("page.down", "down", "scroll_down", "down", "One line down", 2),
    Command("page.before", "pageup", "page_up", "page up", "One page up"),
    Command("page.after", "pagedown,space", "page_down", "page down", "One page down", 3),
    Command("page.left", "left", "go_left", "left", "To the left where a page is wide"),
    Command("page.right", "right", "go_right", "right", "To the right where a page is wide"),
    Command("block.next", "n,tab", "next_block", "next block", "The next block", 2),
    Command("block.before", "N,shift+tab", "block_before", "block before", "The block before"),
    Command("block.press", "m", "show_press", "press map", "Where the allowances fall, or the sewing order again", 4),
    Command("cloth.next", "n,tab", "next_fabric", "next cloth", "The next fabric", 2),
    Command("cloth.before", "N,shift+tab", "fabric_before", "cloth before", "The fabric before"),
    Command("cloth.draw", "d", "draw_to_file", "to a file", "All fabrics to a new SVG file in this folder", 4),
    Command("return.go_on", "enter,space", "go_on", "go on", "Go on where you stopped", 1),
    Command("leave.go", "enter", "go", "leave", "Leave the bench", 1),
    Command("ask.never_mind", "escape", "never_mind", "go back", "No answer: nothing is changed", 9),
    Command(
        "spoiled.in_hand", "enter,1", "in_hand", "the one in hand", "The one in hand is ruined, not counted yet", 1
    ),
    Command("spoiled.counted", "2", "counted", "a counted one", "One that is counted already is ruined", 2),
    Command("wrong.more", "up,plus", "more", "one more", "One more of them is wrong", 1),
    Command("wrong.fewer", "down,minus", "fewer", "one fewer", "One fewer of them is wrong", 2),
    Command("wrong.small", "s", "small", "too small", "They measure too small", 3),
    Command("wrong.large", "l", "large", "too large", "They measure too large", 4),
    Command("wrong.again", "m", "again", "to the machine", "Unpick them and sew them again", 5),
    Command("wrong.spoiled", "x", "spoiled", "spoiled", "Cut and sew them anew", 6),
)

KEY_WORDS = {
    "question_mark": "?",
    "escape": "esc",
    "right": "→",
    "left": "←",
    "up": "↑",
    "down": "↓",
    "pageup": "pgup",
    "pagedown": "pgdn",
    "ctrl+p": "ctrl+p",
}


def commands_at(home: str) -> tuple[Command, ...]:
    """The commands of one home."""
    return tuple(command for command in COMMANDS if command.home == home)


def spell_keys(keys: str) -> str:
    """Keys for the eye: `?`, `esc`, `q or ctrl+q`."""
    return " or ".join(KEY_WORDS.get(key, key.replace("_", " ")) for key in keys.split(","))
