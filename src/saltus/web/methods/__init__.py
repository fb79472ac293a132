"""The method: read, copied, edited."""
