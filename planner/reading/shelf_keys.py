"""The keys of a file of the shelf, declared once; what is not here is as in a block of a project."""

from __future__ import annotations

from planner.reading.file_keys import BLOCK, Key, Keys

SHELF_FILE = Keys(
    "a block of the shelf",
    (
        Key("block", "line", "the name it is known by in the trade, in small letters", needed=True),
        Key("also called", "fabric list", "other names it is known by"),
        Key("roles", "fabrics", "what its fabrics do in it, by names that its draft uses as fabrics", needed=True),
        *BLOCK.keys,
    ),
)
ROLE = Keys(
    "a role",
    (
        Key("value", "value", "how dark its fabric usually is: as in a fabric of a project", needed=True),
        Key("for", "line", "which patches it is for, in a few words", needed=True),
    ),
)
