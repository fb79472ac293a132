import stat

import pytest

from saltus.errors import UsageError
from saltus.web.environment import read_environment


@pytest.fixture(autouse=True)
def data(tmp_path, monkeypatch):
    monkeypatch.setenv("SALTUS_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


def test_nothing_said_means_this_machine_alone(data):
    found = read_environment()

    assert found.data == data
    assert found.allowed_hosts == ()
    assert not found.https
    assert not found.debug
    assert found.time_zone == "UTC"


def test_a_key_is_made_once_and_read_by_nobody_else(data):
    first = read_environment()

    assert len(first.secret_key) >= 50
    assert not first.secret_key_given
    assert read_environment().secret_key == first.secret_key
    assert stat.S_IMODE((data / "secret-key").stat().st_mode) == 0o600


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("SALTUS_SECRET_KEY", "short", "at least 50"),
        ("SALTUS_HTTPS", "perhaps", "1 or 0"),
        ("SALTUS_DEBUG", "2", "1 or 0"),
        ("SALTUS_TIME_ZONE", "Berlin", "Europe/Berlin"),
        ("SALTUS_DATA", "/dev/null/here", "name another"),
    ],
)
def test_what_cannot_be_right_is_refused(monkeypatch, name, value, said):
    monkeypatch.setenv(name, value)

    with pytest.raises(UsageError, match=said):
        read_environment()


def test_hosts_come_with_commas(monkeypatch):
    monkeypatch.setenv("SALTUS_ALLOWED_HOSTS", " one.example.org, ,two.example.org ")
    monkeypatch.setenv("SALTUS_TIME_ZONE", "Europe/Berlin")

    assert read_environment().allowed_hosts == ("one.example.org", "two.example.org")
    assert read_environment().time_zone == "Europe/Berlin"
