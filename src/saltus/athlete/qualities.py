"""The qualities: the model's physical parameters, as a coach would say them."""

from enum import StrEnum

__all__ = ["TRAINABLE", "UNITS", "WORDS", "Quality"]


class Quality(StrEnum):
    """A physical parameter of the push-off model that a coach has a word for."""

    MAX_STRENGTH = "max_strength"
    RATE_OF_FORCE_DEVELOPMENT = "rate_of_force_development"
    PUSH_OFF_SPEED = "push_off_speed"
    STRETCH_SHORTENING_GAIN = "stretch_shortening_gain"
    PUSH_OFF_DISTANCE = "push_off_distance"


TRAINABLE = (
    Quality.MAX_STRENGTH,
    Quality.RATE_OF_FORCE_DEVELOPMENT,
    Quality.PUSH_OFF_SPEED,
    Quality.STRETCH_SHORTENING_GAIN,
)
"""The qualities that a block can be aimed at; the distance of the push-off is measured."""

UNITS = {
    Quality.MAX_STRENGTH: "N/kg",
    Quality.RATE_OF_FORCE_DEVELOPMENT: "N/s/kg",
    Quality.PUSH_OFF_SPEED: "m/s",
    Quality.STRETCH_SHORTENING_GAIN: "1",
    Quality.PUSH_OFF_DISTANCE: "m",
}
"""Unit in which each quality is told."""

WORDS = {
    Quality.MAX_STRENGTH: "max strength",
    Quality.RATE_OF_FORCE_DEVELOPMENT: "rate of force development",
    Quality.PUSH_OFF_SPEED: "push-off speed",
    Quality.STRETCH_SHORTENING_GAIN: "stretch-shortening gain",
    Quality.PUSH_OFF_DISTANCE: "push-off distance",
}
"""What a coach calls it."""
