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
print(*(name for name in ("ortools", "altair", "vl_convert") if name in sys.modules))
"""


def test_the_addresses_load_neither_the_solver_nor_the_charts(tmp_path):
    environment = os.environ | {"SALTUS_DATA": str(tmp_path)}
    done = subprocess.run(
        [sys.executable, "-c", _CODE], env=environment, capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == []
