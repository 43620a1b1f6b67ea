"""The baseline of what is shown: the smallest Textual app that shows a text, and another one after a key.

Run as a program: small_app.py FILE. Each key shows the text with its number (two @@ in it) one higher.
"""

from __future__ import annotations

import sys
from pathlib import Path

from textual import events
from textual.app import App, ComposeResult
from textual.widgets import Static


class SmallApp(App[None]):
    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text
        self.number = 10
        self.words = Static(self.shown, markup=False)

    @property
    def shown(self) -> str:
        return self.text.replace("@@", str(self.number))

    def compose(self) -> ComposeResult:
        yield self.words

    def on_key(self, event: events.Key) -> None:
        self.number += 1
        self.words.update(self.shown)


if __name__ == "__main__":
    SmallApp(Path(sys.argv[1]).read_text(encoding="utf-8")).run()
