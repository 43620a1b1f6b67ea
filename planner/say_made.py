"""What a project makes, in words."""

from __future__ import annotations

from planner.blocks import Blocks


def say_made(blocks: Blocks) -> str:
    """All of it: `4 pinwheel, a quilt of 12 blocks (8 pinwheel, 4 churn dash)`."""
    return ", ".join(
        say_block(blocks, number) if block.is_top else f"{block.copies} {block.title}"
        for number, block in enumerate(blocks.drafted)
        if block.copies
    )


def say_block(blocks: Blocks, number: int) -> str:
    """One drafted block with how many there are: `4 pinwheel`, `12 nine patch in the quilt`."""
    block = blocks.drafted[number]
    if block.is_top:
        many = count_blocks(blocks)
        within = [
            f"{blocks.count(one) - blocks.drafted[one].copies} {blocks.drafted[one].title}" for one in blocks.in_quilt
        ]
        return f"a quilt of {many} {'block' if many == 1 else 'blocks'} ({', '.join(within)})"
    inside = blocks.count(number) - block.copies
    words = [f"{block.copies} {block.title}"] if block.copies else []
    if inside:
        words.append(f"{inside} in the quilt" if words else f"{inside} {block.title} in the quilt")
    return ", ".join(words)


def count_blocks(blocks: Blocks) -> int:
    """How many blocks the quilt has."""
    return sum(piece.block >= 0 for piece in blocks.top.pieces) if blocks.top else 0
