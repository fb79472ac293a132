"""Plans: weeks by days, moved and repaired."""
