"""Commands for those who work on Saltus."""
