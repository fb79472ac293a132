"""Lines of texts that people write: those at fault, and those that differ."""

from saltus.errors import Fault, RecordError
from saltus.web.texts import difference, with_lines


def test_a_fault_is_told_with_the_line_it_speaks_of():
    here, beyond, nowhere = Fault("a", "x.", 2), Fault("b", "y.", 9), Fault("c", "z.")
    error = RecordError("a.toml", [here, beyond, nowhere])

    assert with_lines(error, "one\n  two  \nthree") == [(here, "two"), (beyond, ""), (nowhere, "")]


def test_what_differs_is_told_with_three_lines_around_it():
    old = [f"line {n}" for n in range(12)]
    new = [*old[:5], "another", *old[6:]]

    found = difference("\n".join(old), "\n".join(new))

    assert found[0] == ("gap", "⋯")
    assert ("removed", "-line 5") in found
    assert ("added", "+another") in found
    assert len(found) == 1 + 3 + 2 + 3
    assert difference("same", "same") == []
