import itertools
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saltus.quantities import POUND
from saltus.training.exercises import Carrier
from saltus.training.gym_loads import (
    Loading,
    has_equipment,
    load_below,
    loadable,
    missing_equipment,
    put_together,
    side_text,
)
from saltus.training.situation import Gym

KILOGRAMS = (25.0, 20.0, 15.0, 10.0, 5.0, 2.5, 1.25, 0.5)
POUNDS = tuple(POUND * x for x in (45, 35, 25, 10, 5, 2.5))

plates = st.one_of(
    *(
        st.dictionaries(st.sampled_from(unit), st.integers(0, 9), max_size=6)
        for unit in (KILOGRAMS, POUNDS)
    ),
    st.dictionaries(st.sampled_from(KILOGRAMS + POUNDS), st.integers(0, 5), max_size=5),
)
bars = st.sampled_from((7.5, 10.0, 15.0, 20.0, 45 * POUND))


def barbell_gym(bar, plates_kg):
    return Gym(equipment=frozenset({"barbell"}), bar_kg=bar, plates_kg=plates_kg)


def every_side(plates_kg):
    """All weights of one side, by trying every number of every plate."""
    choices = [[n * weight for n in range(count // 2 + 1)] for weight, count in plates_kg.items()]
    return [sum(side) for side in itertools.product(*choices)]


@given(bar=bars, plates_kg=plates, target=st.floats(0, 400))
def test_every_rounded_load_is_made_of_the_plates_that_there_are(bar, plates_kg, target):
    loading = load_below(barbell_gym(bar, plates_kg), Carrier.BARBELL, target)
    if loading is None:
        assert target < bar
        return
    assert loading.total_kg <= target + 1e-6
    assert loading.total_kg == pytest.approx(bar + 2 * sum(loading.plates_kg))
    for weight in set(loading.plates_kg):
        assert 2 * loading.plates_kg.count(weight) <= plates_kg[weight]


@given(bar=bars, plates_kg=plates, target=st.floats(0, 400))
def test_no_load_between_the_rounded_one_and_the_target_could_be_made(bar, plates_kg, target):
    loading = load_below(barbell_gym(bar, plates_kg), Carrier.BARBELL, target)
    whole = (bar + 2 * side for side in every_side(plates_kg))
    best = max((load for load in whole if load <= target + 1e-6), default=None)
    if best is None:
        assert loading is None
    else:
        assert loading.total_kg == pytest.approx(best, abs=2e-3)


@given(bar=bars, plates_kg=plates)
def test_loads_rise_and_begin_with_the_bar(bar, plates_kg):
    loads = loadable(barbell_gym(bar, plates_kg), Carrier.BARBELL)
    assert loads[0] == bar
    assert list(loads) == sorted(set(loads))


def test_a_common_bar_in_kilograms():
    gym = barbell_gym(20.0, {20.0: 2, 10.0: 2, 2.5: 2})
    assert loadable(gym, Carrier.BARBELL) == (20, 25, 40, 45, 60, 65, 80, 85)
    assert load_below(gym, Carrier.BARBELL, 64.9).plates_kg == (20.0,)
    assert load_below(gym, Carrier.BARBELL, 65.0).plates_kg == (20.0, 2.5)
    assert load_below(gym, Carrier.BARBELL, 19.0) is None


def test_an_odd_plate_stays_on_the_floor():
    assert loadable(barbell_gym(20.0, {10.0: 3}), Carrier.BARBELL) == (20, 40)


def test_the_fewest_plates_make_a_load():
    gym = barbell_gym(20.0, {20.0: 2, 10.0: 4, 5.0: 8})
    assert load_below(gym, Carrier.BARBELL, 60.0).plates_kg == (20.0,)


def test_a_common_bar_in_pounds():
    gym = replace(barbell_gym(45 * POUND, {45 * POUND: 4, 10 * POUND: 2}), unit="lb")
    pounds = [round(load / POUND, 6) for load in loadable(gym, Carrier.BARBELL)]
    assert pounds == [45, 65, 135, 155, 225, 245]
    loading = load_below(gym, Carrier.BARBELL, 70.0)
    assert side_text(loading, gym) == "135 lb: 45 a side"


def test_dumbbells_come_in_pairs_and_kettlebells_alone():
    gym = Gym(dumbbells_kg=(10.0, 7.5), kettlebells_kg=(24.0, 16.0))
    assert loadable(gym, Carrier.DUMBBELLS) == (15.0, 20.0)
    assert loadable(gym, Carrier.DUMBBELL) == (7.5, 10.0)
    assert loadable(gym, Carrier.KETTLEBELL) == (16.0, 24.0)
    assert side_text(Loading(15.0, Carrier.DUMBBELLS), gym) == "15 kg: two of 7.5"
    assert side_text(Loading(20.0, Carrier.BARBELL), gym) == "20 kg: the bar alone"
    assert side_text(Loading(16.0, Carrier.KETTLEBELL), gym) == "16 kg"


def test_a_machine_goes_up_in_steps():
    kg = Gym(equipment=frozenset({"leg_press"}))
    assert loadable(kg, Carrier.MACHINE)[:3] == (5, 10, 15)
    lb = replace(kg, unit="lb")
    assert loadable(lb, Carrier.MACHINE)[0] == pytest.approx(10 * POUND)


def test_nothing_is_loaded_on_what_is_not_there():
    assert loadable(Gym(plates_kg={20.0: 4}), Carrier.BARBELL) == ()
    assert loadable(Gym(), Carrier.KETTLEBELL) == ()


def test_equipment_is_named_or_shown_by_its_weights(method):
    gym = Gym(equipment=frozenset({"barbell"}), boxes_m=(0.3,))
    assert has_equipment(gym, "boxes")
    assert not has_equipment(gym, "dumbbells")
    assert missing_equipment(method.exercises["box_squat"], gym) == ("rack",)


def test_a_load_of_a_plan_is_put_together_as_the_gym_makes_it(method, gym):
    squat, swing = method.exercises["back_squat"], method.exercises["kettlebell_swing"]

    assert put_together(squat, 82.5, gym) == Loading(82.5, Carrier.BARBELL, (20.0, 10.0, 1.25))
    assert put_together(squat, 83.1, gym) is None
    assert put_together(swing, 24.0, gym).carrier is Carrier.KETTLEBELL
    assert put_together(method.exercises["box_jump"], 20.0, gym) is None
