"""The day: what a session asks for, and how its next sets follow what happened."""
