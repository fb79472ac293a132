"""Benchmarks: each a ratio against something that anyone can install, or a table of results.

``python -m bench`` lists them; ``python -m bench NAME`` runs one.
"""

import saltus  # noqa: F401  first of all, for it settles how many threads NumPy takes
