"""Following an athlete: real change or noise, plateau, response to training, load and soreness."""
