"""Words on a page of a PDF file: how they are written in it, and how wide they are.

The typeface has the letters of western Europe. Others are shown without their accents where they have any, else as
`?`; no width is ever told too small.
"""

from __future__ import annotations

from unicodedata import category, normalize

_CODE = "cp1252"
# Of the typeface, in thousandths of its size, from the blank to the tilde
_WIDTHS = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
)  # fmt: skip
_WIDEST = 1000  # of all others


def measure_words(words: str, size: int) -> int:
    """How wide a line of text is, in the unit of `size`; with letters beyond the tilde it may be less."""
    widths = sum(_WIDTHS[ord(letter) - 32] if " " <= letter <= "~" else _WIDEST for letter in show(words))
    return -(-widths * size // 1000)


def show(words: str) -> str:
    """The words as the typeface can show them."""
    return "".join(map(_show_letter, normalize("NFC", words)))


def is_shown(words: str) -> bool:
    """Whether the typeface has something for every letter."""
    return show(words).count("?") == words.count("?")


def _show_letter(letter: str) -> str:
    if _has(letter):
        return letter
    plain = "".join(part for part in normalize("NFKD", letter) if category(part) != "Mn")
    return plain if plain and _has(plain) else "" if category(letter) == "Mn" else "?"


def _has(letters: str) -> bool:
    try:
        return bool(letters.encode(_CODE))
    except UnicodeEncodeError:
        return False


def wrap_words(words: str, size: int, width: int) -> list[str]:
    """The words in lines that are at most so wide; a single word that is wider stands alone, cut off."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and measure_words(longer, size) <= width:
            lines[-1] = longer
        else:
            lines.append(shorten_words(word, size, width))
    return lines


def shorten_words(words: str, size: int, width: int) -> str:
    """The words, or as many of their letters as fit."""
    if measure_words(words, size) <= width:
        return words
    while words and measure_words(f"{words}...", size) > width:
        words = words[:-1]
    return f"{words.rstrip()}..."


def write_string(words: str) -> str:
    """A string of a page, in plain letters."""
    written = []
    for byte in show(words).encode(_CODE):
        letter = chr(byte)
        if letter in "()\\":
            written.append(f"\\{letter}")
        else:
            written.append(letter if " " <= letter <= "~" else f"\\{byte:03o}")
    return f"({''.join(written)})"


def write_title(words: str) -> str:
    """A string that is shown by the reader: in any letters."""
    return f"<{(chr(0xFEFF) + words).encode('utf-16-be').hex().upper()}>"
