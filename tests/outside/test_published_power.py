"""Power equations against published group means and worked examples."""

import pytest

from saltus.athlete.power_equations import POWER_EQUATIONS, falling_body_power_w


@pytest.mark.parametrize(
    ("equation", "watts"),
    [
        ("sayers_sj", 2920.8),
        ("sayers_cmj", 2925.1),
        ("harman_peak", 2585.0),
        ("canavan_vescovi", 2425.4),
    ],
)
def test_group_means_of_twenty_college_women(equation, watts):
    # Canavan & Vescovi 2004, Med Sci Sports Exerc 36:1589-1593 (read): body mass 65.9 kg. The mean
    # jump, 32.85 cm, was solved back from the predictions, hence the tolerance of 0.1 cm.
    power = POWER_EQUATIONS[equation].power_w(0.3285, 65.9)
    assert power == pytest.approx(watts, abs=0.1 * POWER_EQUATIONS[equation].per_cm)


# mass kg, height m, Sayers SJ, Sayers CMJ, Harman peak, Harman mean; computed, coefficients from
# memory, those of the peak forms confirmed by the group means above.
EXAMPLES = [
    (80, 0.45, 4300.5, 4240.5, 3843.5, 1401),
    (70, 0.40, 3544, 3492, 3174, 1065),
    (60, 0.30, 2484, 2484, 2195, 623),
]


@pytest.mark.parametrize(("mass", "height", "sj", "cmj", "peak", "mean"), EXAMPLES)
def test_worked_examples(mass, height, sj, cmj, peak, mean):
    names = ("sayers_sj", "sayers_cmj", "harman_peak", "harman_mean")
    found = [POWER_EQUATIONS[name].power_w(height, mass) for name in names]
    assert found == pytest.approx([sj, cmj, peak, mean], abs=0.51)


@pytest.mark.parametrize(("mass", "height", "watts"), [(75, 0.60, 1261.6), (80, 0.45, 1165.4)])
def test_power_of_the_falling_body(mass, height, watts):
    # First example read, second computed; g = 9.81 m/s². The first prints fewer digits.
    assert falling_body_power_w(height, mass, 9.81) == pytest.approx(watts, abs=0.5)
