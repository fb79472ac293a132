"""Every measure that can be taken from a jump: its name, its unit, and what a coach calls it."""

from typing import Final

from saltus.jumps.jump import Measure

__all__ = ["CATALOGUE", "measure"]

CATALOGUE: Final[dict[str, tuple[str, str]]] = {
    # Of every jump.
    "body_weight": ("N", "body weight"),
    "flight_time": ("s", "flight time"),
    "height_flight": ("m", "height from flight time"),
    "height_impulse": ("m", "height from take-off velocity"),
    "height_difference": ("m", "height from flight time less height from take-off velocity"),
    "take_off_velocity": ("m/s", "take-off velocity"),
    # Of the push.
    "time_to_take_off": ("s", "time to take-off"),
    "rsi_mod": ("m/s", "RSImod (height / time to take-off)"),
    "flight_time_to_contraction_time": ("", "flight time / time to take-off"),
    "depth": ("m", "depth of the countermovement"),
    "dip": ("m", "dip before the push"),
    "push_off_distance": ("m", "rise from the lowest point to take-off"),
    "unweighting_time": ("s", "unweighting time"),
    "braking_time": ("s", "braking time"),
    "propulsion_time": ("s", "propulsion time"),
    "peak_sinking_velocity": ("m/s", "fastest sinking"),
    "peak_velocity": ("m/s", "peak velocity"),
    "peak_force": ("N", "peak force of the push"),
    "peak_force_relative": ("BW", "peak force of the push / body weight"),
    "force_at_lowest": ("N", "force at the lowest point"),
    "mean_force_braking": ("N", "mean force, braking"),
    "mean_force_propulsion": ("N", "mean force, propulsion"),
    "impulse_unweighting": ("N·s", "net impulse, unweighting"),
    "impulse_braking": ("N·s", "net impulse, braking"),
    "impulse_propulsion": ("N·s", "net impulse, propulsion"),
    "peak_power": ("W", "peak power"),
    "peak_power_relative": ("W/kg", "peak power / body mass"),
    "mean_power": ("W", "mean power, propulsion"),
    "mean_power_relative": ("W/kg", "mean power, propulsion / body mass"),
    "rfd_braking": ("N/s", "RFD, braking start to lowest point"),
    "rfd_0_50ms": ("N/s", "RFD, 0 to 50 ms"),
    "rfd_0_100ms": ("N/s", "RFD, 0 to 100 ms"),
    "rfd_0_150ms": ("N/s", "RFD, 0 to 150 ms"),
    "rfd_0_200ms": ("N/s", "RFD, 0 to 200 ms"),
    "rfd_0_250ms": ("N/s", "RFD, 0 to 250 ms"),
    # Of drop jumps and hops.
    "contact_time": ("s", "contact time"),
    "rsi": ("m/s", "RSI (height from flight time / contact time)"),
    "rsi_flight_to_contact": ("", "flight time / contact time"),
    "drop_height": ("m", "true drop height"),
    "touch_down_velocity": ("m/s", "velocity at touch-down"),
    "leg_stiffness": ("N/m", "leg stiffness (peak force / sinking in contact)"),
    "leg_stiffness_relative": ("N/m/kg", "leg stiffness / body mass"),
    # Of the landing.
    "landing_peak_force": ("N", "peak landing force"),
    "landing_peak_force_relative": ("BW", "peak landing force / body weight"),
    "landing_time_to_still": ("s", "time from landing to standing still"),
    # Of isometric pulls; force with body weight in it.
    "isometric_peak_force": ("N", "peak force, body weight included"),
    "isometric_net_peak_force": ("N", "peak force, body weight taken off"),
    "isometric_peak_force_relative": ("BW", "peak force / body weight"),
    "force_50ms": ("N", "force 50 ms after onset, body weight included"),
    "force_100ms": ("N", "force 100 ms after onset, body weight included"),
    "force_150ms": ("N", "force 150 ms after onset, body weight included"),
    "force_200ms": ("N", "force 200 ms after onset, body weight included"),
    "force_250ms": ("N", "force 250 ms after onset, body weight included"),
    "pretension": ("N", "force before the pull, above body weight"),
    "time_to_peak_force": ("s", "time from onset to peak force"),
    # Left less right, as a share of both; positive: more on the left.
    "left_right_standing": ("%", "left less right, standing"),
    "left_right_braking": ("%", "left less right, braking"),
    "left_right_propulsion": ("%", "left less right, propulsion"),
    "left_right_contact": ("%", "left less right, contact"),
    "left_right_landing": ("%", "left less right, first 0.2 s of the landing"),
    "left_right_peak": ("%", "left less right, peak force of the pull"),
}
"""Name: (unit, title). A name stands in the JSON and in tables, and never changes."""


def measure(name: str, value: float, se: float) -> Measure:
    """Give a measure its unit and title.

    Raises
    ------
    KeyError
        If the name is not in the catalogue.
    """
    unit, title = CATALOGUE[name]
    return Measure(float(value), float(se), unit, title)
