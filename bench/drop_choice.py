"""Choice of the box to drop from, on simulated athletes whose best box is known."""

import time

from saltus.training.today.simulated_drops import ATTEMPTS, LOSS_15_CM, shares


def run(athletes: int = 2000) -> None:
    """Share within one box of the truly best, by how many days were tested."""
    print(f"{athletes} simulated athletes, boxes of 15 to 75 cm, {ATTEMPTS} attempts on each")
    print(f"{LOSS_15_CM[0]:.1%} to {LOSS_15_CM[1]:.1%} lower 15 cm beside the best box")
    print("days tested  within one box   on it   above it")
    for days in (1, 2, 3):
        begun = time.perf_counter()
        within, exact, above = shares(athletes, days)
        seconds = time.perf_counter() - begun
        print(f"{days:11d}  {within:14.1%}  {exact:6.1%}  {above:8.1%}   ({seconds:.1f} s)")
