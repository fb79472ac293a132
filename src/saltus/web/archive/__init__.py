"""Everything of one athlete or one coach as a zip of open formats, out and in."""
