"""What is told to hosts is what there is."""

import re
import sqlite3
from pathlib import Path

import pytest
from django.db import connection

from saltus.web.environment import SETTINGS
from saltus.web.serve import place_of_backups

ROOT = Path(__file__).parents[2]
HOSTING = (ROOT / "docs" / "hosting.md").read_text(encoding="utf-8")
COMPOSE = (ROOT / "compose.yaml").read_text(encoding="utf-8")


def test_every_setting_is_told():
    rows = dict(re.findall(r"^\| `([A-Z_]+)` \| (.+) \|$", HOSTING, re.MULTILINE))

    assert {name: text.replace("`", "") for name, text in rows.items()} == SETTINGS


def test_the_environment_knows_every_setting_that_is_named_anywhere():
    named = set(re.findall(r"\b(SALTUS_[A-Z_]+)\b", HOSTING + COMPOSE))

    assert named - {"SALTUS_DOMAIN"} <= set(SETTINGS)


def test_the_compose_file_needs_no_more_than_its_example_says():
    needed = set(re.findall(r"\$\{([A-Z_]+)", COMPOSE))
    example = (ROOT / "deploy" / "example.env").read_text(encoding="utf-8")

    assert needed == set(re.findall(r"^([A-Z_]+)=", example, re.MULTILINE))
    assert "{$SALTUS_DOMAIN}" in (ROOT / "deploy" / "Caddyfile").read_text(encoding="utf-8")


@pytest.mark.django_db
def test_what_is_deleted_is_overwritten():
    if connection.vendor != "sqlite":
        pytest.skip("PostgreSQL has its own ways")
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA secure_delete")
        assert cursor.fetchone() == (1,)
    assert sqlite3.sqlite_version_info > (3, 35)


@pytest.mark.django_db
def test_postgresql_is_left_to_its_own_tools():
    if connection.vendor == "sqlite":
        assert place_of_backups().backups.name == "backups"
    else:
        with pytest.raises(Exception, match="pg_dump"):
            place_of_backups()
