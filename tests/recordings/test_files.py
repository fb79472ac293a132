import pytest

from saltus.errors import RecordingError
from saltus.recordings.files import find_recordings


def test_finds_recordings_in_files_and_folders(tmp_path):
    for name in ("b/two.CSV", "b/one.mot", "b/notes.md", "b/.hidden/x.csv", "a.xyz"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).touch()

    found = find_recordings([tmp_path / "a.xyz", tmp_path / "b", tmp_path / "b" / "two.CSV"])

    assert [p.name for p in found] == ["a.xyz", "one.mot", "two.CSV"]
    with pytest.raises(RecordingError, match="no such file or folder"):
        find_recordings([tmp_path / "none"])
    (tmp_path / "c").mkdir()
    with pytest.raises(RecordingError, match="holds no recordings"):
        find_recordings([tmp_path / "c"])
