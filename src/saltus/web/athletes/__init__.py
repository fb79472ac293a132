"""One athlete: everything that is known, and what if."""
