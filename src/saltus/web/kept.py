"""What takes long to work out, kept in memory for whoever asks for the same again."""

import threading
from collections import OrderedDict
from collections.abc import Callable
from typing import Generic, TypeVar

__all__ = ["Kept"]

K = TypeVar("K")
V = TypeVar("V")


class Kept(Generic[K, V]):
    """The latest answers by what they hang on, for all threads of the process.

    Parameters
    ----------
    most : int
        How many are kept; the one that nobody asked for the longest goes first.
    """

    def __init__(self, most: int):
        self._most = most
        self._found: OrderedDict[K, V] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, key: K, make: Callable[[], V]) -> V:
        """The answer for a key, worked out by `make` where it is not known.

        Whatever `make` raises is passed on, and nothing is kept.
        """
        with self._lock:
            if key in self._found:
                self._found.move_to_end(key)
                return self._found[key]
        made = make()  # without the lock: others need not wait for it
        with self._lock:
            self._found[key] = made
            while len(self._found) > self._most:
                self._found.popitem(last=False)
        return made
