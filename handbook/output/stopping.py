"""Being told to stop (Ctrl-C, `kill`, a terminal that closes) ends a command in good order.

Left to themselves such signals end the program in mid-work, and what it had begun to write stays
behind. Here each becomes an ordinary exit, so that everything that tidies up after itself does.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import current_thread, main_thread
from types import FrameType
from typing import NoReturn

_NAMES = ("SIGINT", "SIGTERM", "SIGHUP")
"""Not every system has all three."""


@contextmanager
def in_good_order() -> Iterator[None]:
    """Meanwhile a signal to stop is an exit with 128 + its number, as shells count it."""
    before = {number: signal.getsignal(number) for number in _numbers()}
    for number in before:
        signal.signal(number, _stop)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _numbers() -> list[signal.Signals]:
    """Signals that are not ignored already (as under `nohup`); only a main thread hears any."""
    if current_thread() is not main_thread():
        return []
    there = [getattr(signal, name) for name in _NAMES if hasattr(signal, name)]
    return [number for number in there if signal.getsignal(number) is not signal.SIG_IGN]


def _stop(number: int, frame: FrameType | None) -> NoReturn:
    os.write(2, b"\nStopped.\n")  # the stream itself may be in the middle of a write
    sys.exit(128 + number)
