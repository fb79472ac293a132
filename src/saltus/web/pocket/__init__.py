"""The pocket page: what an athlete sees and enters on a phone."""
