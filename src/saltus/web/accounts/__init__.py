"""Signing in, the first account, sharing."""
