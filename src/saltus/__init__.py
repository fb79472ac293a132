"""Saltus: which quality limits an athlete's jump, and a plan to train it."""

import os

__all__ = ["__version__"]

__version__ = "0.1.0"

# Our matrices are small. Shared out among threads they take many times as long as by one alone,
# most of all where others want the processors too. NumPy reads this when it is first loaded;
# whoever sets it before, or loads NumPy first, keeps what is theirs.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
