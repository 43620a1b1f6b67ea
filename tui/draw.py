"""Pictures of pairs, units, blocks and quilts: grids of cells that can be read without any colour."""

from __future__ import annotations

from tui.canvas import Canvas, Cell, Role
from tui.draw_block import block_room, draw_block
from tui.draw_layout import draw_layout
from tui.draw_pair import draw_pair
from tui.draw_press import draw_press, press_room
from tui.draw_quilt import draw_quilt
from tui.draw_unit import draw_outcome, draw_pile, draw_rest

__all__ = [
    "Canvas",
    "Cell",
    "Role",
    "block_room",
    "draw_block",
    "draw_layout",
    "draw_outcome",
    "draw_pair",
    "draw_pile",
    "draw_press",
    "draw_quilt",
    "draw_rest",
    "press_room",
]
