"""Ctrl+C and the like: the program ends at once, without a word, with the status that a shell expects."""

from __future__ import annotations

import os
import signal


def end_at_interrupt() -> None:
    """End at an interrupt by itself, not by an exception: while modules load, one of those is a traceback.

    For when no screen is shown; a screen must first leave the terminal as it was.
    """
    signal.signal(signal.SIGINT, lambda number, frame: os._exit(status_of(number)))


def status_of(number: int) -> int:
    """The exit status of a program that a signal has ended."""
    return 128 + number
