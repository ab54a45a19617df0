"""Cycles are collected on the window's thread, whichever thread makes the objects."""

from __future__ import annotations

import gc
import threading


class Noted:
    """Lies in a cycle, and notes on which thread it went."""

    def __init__(self, went: list[int]) -> None:
        self.went, self.itself = went, self

    def __del__(self) -> None:
        self.went.append(threading.get_ident())


def test_a_thread_that_makes_many_objects_sweeps_nothing_up(qtbot):
    """What was put away waits for the window's thread, which then sweeps it up by itself."""
    went: list[int] = []
    Noted(went)
    made: list[list[int]] = []
    busy = threading.Thread(target=lambda: made.extend([number] for number in range(50_000)))
    busy.start()
    busy.join()
    assert not gc.isenabled()
    assert went == []
    qtbot.waitUntil(lambda: bool(went), timeout=20_000)
    assert went == [threading.get_ident()]
