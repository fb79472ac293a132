"""A kept figure in the dark."""

from saltus.figures.darkened import darkened
from saltus.figures.theme import DARK, LIGHT, config


def test_the_theme_is_exchanged_and_the_samples_are_left():
    figure = {
        "config": config(LIGHT),
        "layer": [{"mark": {"color": "#000000"}}, {"mark": {"color": "#D55E00"}}],
        "datasets": {"a": [{"tint": "#FFFFFF"}]},
    }

    dark = darkened(figure)

    assert dark["config"]["background"] == DARK.paper
    assert dark["config"]["axis"]["labelColor"] == DARK.ink
    assert dark["layer"][0]["mark"]["color"] == DARK.ink
    assert dark["layer"][1]["mark"]["color"] == "#D55E00"
    assert dark["datasets"] == figure["datasets"]
    assert figure["config"]["background"] == LIGHT.paper
