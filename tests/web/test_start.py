"""The server is there soon: what only some pages need is loaded when they are asked for."""

import os
import subprocess
import sys

_CODE = """
import sys
import django
django.setup()
from django.urls import get_resolver
assert len(get_resolver().url_patterns) > 5
heavy = (
    *("ortools", "altair", "vl_convert", "numba", "polars", "ezc3d"),
    *("scipy.stats", "scipy.optimize", "scipy.integrate", "scipy.ndimage"),
)
print(*(name for name in heavy if name in sys.modules))
"""


def test_the_addresses_load_no_solver_charts_compiler_or_reader_of_files(tmp_path):
    environment = os.environ | {"SALTUS_DATA": str(tmp_path)}
    done = subprocess.run(
        [sys.executable, "-c", _CODE], env=environment, capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == []
