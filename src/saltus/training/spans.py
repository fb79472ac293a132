"""Ranges with both ends included: counts (sets, reps) and measures (per cent, metres)."""

from dataclasses import dataclass

__all__ = ["Count", "Span"]


@dataclass(frozen=True, slots=True)
class Count:
    """Whole numbers from `low` to `high`, both included.

    Raises
    ------
    ValueError
        If `low` is negative or above `high`.
    """

    low: int
    high: int

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.high:
            raise ValueError(f"a range runs from low to high, none below 0: {self}")

    def __contains__(self, number: int) -> bool:
        return self.low <= number <= self.high

    def __str__(self) -> str:
        return f"{self.low}" if self.low == self.high else f"{self.low} to {self.high}"

    def meet(self, other: "Count | None") -> "Count | None":
        """Return what lies in both ranges, or None if nothing does; against None, this range."""
        if other is None:
            return self
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Count(low, high) if low <= high else None


@dataclass(frozen=True, slots=True)
class Span:
    """Measures from `low` to `high`, both included, in whatever unit they are given.

    Raises
    ------
    ValueError
        If `low` is negative or above `high`.
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.high:
            raise ValueError(f"a range runs from low to high, none below 0: {self}")

    def __contains__(self, value: float) -> bool:
        return self.low <= value <= self.high

    def __str__(self) -> str:
        return f"{self.low:g}" if self.low == self.high else f"{self.low:g} to {self.high:g}"

    def meet(self, other: "Span | None") -> "Span | None":
        """Return what lies in both ranges, or None if nothing does; against None, this range."""
        if other is None:
            return self
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Span(low, high) if low <= high else None
