import pytest

from saltus.training.method_file import load_method
from saltus.web.methods.words import place_words


@pytest.mark.parametrize(
    ("where", "gone", "words"),
    [
        ("week.sets", (), "The week"),
        ("budget[1].landings", (), "Landing budget, number 2"),
        ("budget[1].landings", ("budget", 0), "Landing budget, number 3"),
        ("budget[1].landings", ("budget", 2), "Landing budget, number 2"),
        ("exercise.back_squat.stand_ins", (), "Exercise, Back squat"),
        ("rule.some_thing.text", (), "Rule, some thing"),
        ("nowhere[0].at", (), "The method"),
    ],
)
def test_a_place_is_told_in_words(where, gone, words):
    assert place_words(where, load_method(), gone).casefold() == words.casefold()


def test_a_phase_goes_by_its_name_also_after_one_before_it_went():
    method = load_method()
    first, second = (phase.name for phase in method.phases[:2])
    assert place_words("phase[0].use[1].rule", method) == f"Phase, {first}"
    assert place_words("phase[0].use[1].rule", method, ("phase", 0)) == f"Phase, {second}"
