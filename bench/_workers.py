"""Processes that run a benchmark's athletes side by side."""

from concurrent.futures import ProcessPoolExecutor

from threadpoolctl import threadpool_limits

__all__ = ["workers"]


def workers() -> ProcessPoolExecutor:
    """Two processes with a thread of linear algebra each: threads beyond the cores only wait."""
    return ProcessPoolExecutor(2, initializer=threadpool_limits, initargs=(1,))
