"""Test days: many athletes, many tests, recordings."""
