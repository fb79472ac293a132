"""An athlete's record in forms, as text, and as it was before."""
