import inspect

import pytest

from saltus import errors
from saltus.errors import Fault, FaultyFile, RecordError, SaltusError


def test_every_error_is_in_the_tree_drawn_in_the_docstring():
    found = {
        name
        for name, thing in vars(errors).items()
        if inspect.isclass(thing) and issubclass(thing, Exception)
    }

    assert found == {name for name in errors.__all__ if name != "Fault"}
    for name in found:
        assert name in errors.__doc__
        assert issubclass(getattr(errors, name), SaltusError)


def test_a_faulty_file_lists_every_fault_with_its_line():
    error = RecordError("a.toml", [Fault("mass_kg", "is 8", 3), Fault("born", "is missing")])

    assert isinstance(error, FaultyFile)
    assert "line 3, mass_kg: is 8" in str(error)
    assert "born: is missing" in str(error)


def test_a_fault_without_a_line_names_its_field():
    assert str(Fault("test[2].load_kg", "is negative")) == "test[2].load_kg: is negative"


@pytest.mark.parametrize("name", ["RecordingError", "TestError", "UsageError"])
def test_what_a_person_typed_wrong_is_a_value_error(name):
    assert issubclass(getattr(errors, name), ValueError)
