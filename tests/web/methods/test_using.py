"""Which method a squad uses."""

import pytest

from saltus.training.method_file import load_method
from saltus.web.methods.using import method_of
from saltus.web.models import MethodCopy

pytestmark = pytest.mark.django_db


def test_a_squad_without_a_copy_uses_the_method_that_ships(squad):
    assert method_of(squad) == load_method()


def test_a_squad_uses_its_owner_s_copy_with_the_exercises_in_it(squad, owner):
    squad.method = MethodCopy.objects.create(
        owner=owner,
        name="Ours",
        text=(
            'name = "ours"\n\n[exercise.box_jump]\nsets = [2, 3]\n\n'
            "[exercise.back_squat]\nreps = [1, 5]\n"
        ),
    )
    method = method_of(squad)
    assert method.name == "ours"
    assert method.exercises["box_jump"].sets.high == 3
    assert method.exercises["back_squat"].reps.high == 5
    assert method.phases == load_method().phases
