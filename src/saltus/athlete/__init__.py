"""Tests of any kind, on any dates, turned into an athlete's qualities and what each is worth."""
