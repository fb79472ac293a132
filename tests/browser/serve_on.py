"""The server with its clock set: ``python serve_on.py 2027-01-04 serve --port 0``."""

import datetime as dt
import sys

import time_machine

from saltus.cli import main

_MORNING = dt.time(8, tzinfo=dt.UTC)

if __name__ == "__main__":
    day = dt.datetime.combine(dt.date.fromisoformat(sys.argv[1]), _MORNING)
    sys.argv = ["saltus", *sys.argv[2:]]
    with time_machine.travel(day, tick=True):
        main()
