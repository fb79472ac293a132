import datetime as dt
from dataclasses import replace

import numpy as np

from saltus.athlete.person import Sex
from saltus.athlete.prior import Constant, State, prior_for


def test_a_measured_push_off_distance_replaces_the_guess_and_narrows_it(person):
    guessed = prior_for(person)
    measured = prior_for(replace(person, push_off_distance_m=0.38))

    assert np.exp(measured.state_mean[State.DISTANCE]) == np.float64(0.38)
    assert measured.state_sd[State.DISTANCE] < guessed.state_sd[State.DISTANCE]


def test_years_of_training_raise_what_is_expected(person):
    novice = prior_for(replace(person, training_age_years=0.0))
    trained = prior_for(replace(person, training_age_years=6.0))

    assert trained.state_mean[State.TORQUE] > novice.state_mean[State.TORQUE]


def test_an_unstated_sex_lies_between_and_is_less_sure(person):
    male, female, unstated = (
        prior_for(replace(person, sex=sex)) for sex in (Sex.MALE, Sex.FEMALE, Sex.UNSTATED)
    )

    torque = State.TORQUE
    assert female.state_mean[torque] < unstated.state_mean[torque] < male.state_mean[torque]
    assert unstated.state_sd[torque] > male.state_sd[torque]


def test_an_unknown_stature_makes_the_leg_less_sure(person):
    known = prior_for(person)
    unknown = prior_for(replace(person, stature_m=None))

    segment = Constant.SEGMENT
    assert unknown.constant_sd[segment] > known.constant_sd[segment]


def test_a_jumping_sport_is_read_from_free_text(person):
    volleyball = prior_for(replace(person, sport="Beach Volleyball, 2nd league"))
    rowing = prior_for(replace(person, sport="rowing"))

    assert volleyball.state_mean[State.RATE] > rowing.state_mean[State.RATE]


def test_priors_of_two_people_do_not_share_memory(person):
    prior_for(person).state_mean[:] = 0.0

    assert np.all(prior_for(replace(person, born=dt.date(1990, 1, 1))).state_mean != 0.0)
