"""Files damaged at random are read or refused in a sentence; nothing else ever happens."""

import random

import numpy as np
import pytest

from saltus.errors import RecordingError
from saltus.recordings.options import ReadOptions
from saltus.recordings.read import read
from saltus.recordings.recording import Recording
from saltus.recordings.write import write_c3d, write_delimited

MUTATIONS = 200
PIECES = [
    b",",
    b";",
    b"\n",
    b"\r",
    b"\t",
    b'"',
    b"\0",
    b"\xff\xfe",
    b"-",
    b"e9",
    b"nan",
    b"1,2,3\n",
]
PIECES += [b"time", b"[N]", b"1e400", b"\xef\xbb\xbf", b"endheader\n", b"nRows=3\n", b" ", b"abc"]


def mutated(data, rng, reach):
    """Return `data` with a few bytes changed, cut, doubled or thrown in, mostly at its start."""
    data = bytearray(data)
    for _ in range(rng.choice([1, 1, 2, 5])):
        end = len(data) if rng.random() < 0.3 else min(reach, len(data))
        at = rng.randrange(max(end, 1))
        match rng.randrange(6):
            case 0 if data:
                data[min(at, len(data) - 1)] = rng.randrange(256)
            case 1:
                data[at:at] = rng.choice(PIECES)
            case 2:
                del data[at : at + rng.choice([1, 2, 10, 300])]
            case 3:
                data[at:at] = data[at : at + rng.choice([5, 50, 500])]
            case 4 if rng.random() < 0.3:
                del data[at:]
            case _ if data:
                data[min(at, len(data) - 1)] ^= 1 << rng.randrange(8)
    return bytes(data)


@pytest.fixture(scope="module")
def originals(tmp_path_factory, jump, write_platforms):
    folder = tmp_path_factory.mktemp("originals")
    force = jump(rate_hz=500.0, stand_s=0.4)
    recording = Recording(500.0, force, 0.4 * force, 0.6 * force)
    write_delimited(recording, folder / "comma.csv")
    write_delimited(recording, folder / "german.csv", delimiter=";", decimal_comma=True)
    write_c3d(recording, folder / "two.c3d")
    still = np.zeros((force.size, 2))
    write_platforms(
        folder / "types.c3d",
        [(kind, force / 4, still, np.zeros(2)) for kind in (1, 2, 3, 4)],
        rate_hz=500.0,
        markers=[(0, 0, 1)],
    )
    one = "".join(f"{value:.2f}\n" for value in force)
    (folder / "one.txt").write_text(one)
    rows = "".join(
        f"{i / 500:.3f}\t0\t{f * 0.4:.3f}\t1\t0\t{f * 0.6:.3f}\t1\n" for i, f in enumerate(force)
    )
    names = "time\t1_force_vx\t1_force_vy\t1_force_vz\t2_force_vx\t2_force_vy\t2_force_vz"
    (folder / "table.mot").write_text(
        f"jump\nversion=1\nnRows={force.size}\nnColumns=7\ninDegrees=yes\nendheader\n{names}\n{rows}"
    )
    (folder / "wide.csv").write_bytes((folder / "comma.csv").read_text().encode("utf-16"))
    return folder


READERS = {
    "comma.csv": (1, 300),
    "german.csv": (2, 300),
    "one.txt": (3, 300),
    "table.mot": (4, 400),
    "wide.csv": (5, 300),
    "two.c3d": (6, 2600),
    "types.c3d": (7, 4000),
}


@pytest.mark.parametrize("name", READERS)
def test_a_damaged_file_never_ends_in_anything_but_a_sentence(name, originals, tmp_path):
    seed, reach = READERS[name]
    rng = random.Random(seed)
    whole = (originals / name).read_bytes()
    path = tmp_path / name
    read_well = 0
    messages = set()
    options = ReadOptions(rate_hz=500.0 if name == "one.txt" else None)

    for _ in range(MUTATIONS):
        path.write_bytes(mutated(whole, rng, reach))
        try:
            recording = read(path, options=options)
        except RecordingError as error:
            messages.add(str(error))
        else:
            read_well += 1
            assert np.isfinite(recording.total_n).all()
            assert 200 <= recording.rate_hz <= 100_000

    assert 0 < read_well < MUTATIONS
    assert all(name in message and len(message) > len(name) + 20 for message in messages)
