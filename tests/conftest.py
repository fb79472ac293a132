"""Every run keeps its data in a folder of its own, made before Django reads its settings."""

import os
import tempfile

_DATA = tempfile.TemporaryDirectory(prefix="saltus-tests-")
os.environ["SALTUS_DATA"] = _DATA.name
os.environ["DJANGO_SETTINGS_MODULE"] = "saltus.web.settings"
for _name in ("SALTUS_SECRET_KEY", "SALTUS_ALLOWED_HOSTS", "SALTUS_HTTPS", "SALTUS_DEBUG"):
    os.environ.pop(_name, None)
if "SALTUS_TEST_DATABASE_URL" in os.environ:
    os.environ["DATABASE_URL"] = os.environ["SALTUS_TEST_DATABASE_URL"]
else:
    os.environ.pop("DATABASE_URL", None)

import django

django.setup()
