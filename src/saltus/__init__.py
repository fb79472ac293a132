"""Saltus: which quality limits an athlete's jump, and a plan to train it."""

__all__ = ["__version__"]

__version__ = "0.1.0"
