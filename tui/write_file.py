"""A file that a command writes: never over one that is there, unless the maker asks for it."""

from __future__ import annotations

import os
import sys

COULD_NOT = 1


def why_not_free(file: str) -> int:
    """0 where there is no such file yet, else 1 after that has been told. A link that leads nowhere counts as there."""
    return _tell_exists(file) if os.path.lexists(file) else 0


def why_not_written(content: bytes, file: str) -> str:
    """Write a file that is not there yet, in silence: the empty text, or why it cannot be."""
    try:
        with open(file, "xb") as new:
            new.write(content)
    except FileExistsError:
        return f"{file} is there already and is left as it is"
    except (OSError, ValueError) as trouble:
        return f"{file} cannot be written: {_name_trouble(trouble)}"
    return ""


def write_file(content: bytes, file: str, overwrite: bool) -> int:
    """Write a file that is not there yet, or in place of one; 1 where it cannot be, after the reason has been told."""
    # Beside it first where it is there already: that one stays whole until the new one is
    target = f"{file}.new" if overwrite else file
    try:
        # "x": never over a file that is there, not even one that came to be a moment ago
        with open(target, "xb") as new:
            new.write(content)
    except FileExistsError:
        return _tell_exists(target)
    except (OSError, ValueError) as trouble:
        return _tell_trouble(file, trouble)
    if overwrite:
        try:
            os.replace(target, file)
        except OSError as trouble:
            os.unlink(target)
            return _tell_trouble(file, trouble)
    return 0


def _tell_exists(file: str) -> int:
    print(
        f"seamrun: {file} is there already and is left as it is; choose another name, or add --overwrite",
        file=sys.stderr,
    )
    return COULD_NOT


def _tell_trouble(file: str, trouble: OSError | ValueError) -> int:
    print(f"seamrun: {file} cannot be written: {_name_trouble(trouble)}", file=sys.stderr)
    return COULD_NOT


def _name_trouble(trouble: OSError | ValueError) -> str | None:
    return trouble.strerror if isinstance(trouble, OSError) else "its name is no file name"
