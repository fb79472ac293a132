"""``saltus simulate``: what an athlete of given qualities would jump."""

from enum import StrEnum

import typer

__all__ = ["StartOption", "simulate"]


class StartOption(StrEnum):
    """How the jump is begun (as :class:`saltus.athlete.pushoff.Start`, which is heavy)."""

    SQUAT = "squat"
    COUNTERMOVEMENT = "countermovement"
    DROP = "drop"


def simulate(
    mass: float = typer.Option(..., help="Body mass, kg."),
    segment: float = typer.Option(
        ..., help="Half of the outstretched leg, foot pointed, m: about 0.28 of stature."
    ),
    torque: float = typer.Option(..., help="Isometric torque at the knee, N m."),
    speed: float = typer.Option(..., help="Speed of the knee without load, rad/s."),
    rfd: float = typer.Option(..., help="Rate at which the torque develops, N m/s."),
    distance: float = typer.Option(..., help="Push-off distance, m."),
    start: StartOption = typer.Option(StartOption.SQUAT, help="How the jump is begun."),
    stretch_gain: float = typer.Option(
        0.0, help="Share that a stretch before the push adds to the force: 0.1 is 10 %."
    ),
    drop: float | None = typer.Option(None, help="Fall before touch-down, m; with --start drop."),
    load: float = typer.Option(0.0, help="External load, kg."),
    as_json: bool = typer.Option(False, "--json", help="Print one JSON document instead (SI)."),
) -> None:
    """Simulate one push-off: height, times, power and force.

    A load that cannot be stood up with is answered in words, with no height.
    """
    from saltus.athlete import pushoff
    from saltus.errors import UsageError

    how = pushoff.Start(start.value)
    if how is pushoff.Start.DROP and drop is None:
        raise UsageError("A drop jump needs the fall before touch-down: add --drop 0.3 (m).")
    if how is not pushoff.Start.DROP and drop is not None:
        typer.echo("--drop is left out: only --start drop falls first.", err=True)
    if how is pushoff.Start.SQUAT and stretch_gain > 0:
        typer.echo("--stretch-gain is left out: a squat jump has no stretch.", err=True)
    pushes = pushoff.simulate(
        how,
        mass_kg=mass,
        segment_m=segment,
        torque_nm=torque,
        speed_rad_s=speed,
        rfd_nm_s=rfd,
        distance_m=distance,
        stretch_gain=stretch_gain,
        load_kg=load,
        drop_m=drop or 0.0,
    )
    why = None
    if not pushes.feasible[0]:
        why = pushoff.why_infeasible(
            how,
            mass_kg=mass,
            segment_m=segment,
            torque_nm=torque,
            distance_m=distance,
            load_kg=load,
            drop_m=drop or 0.0,
        )
    names = (
        "height_m", "push_off_s", "time_to_take_off_s", "contact_s", "depth_m",
        "take_off_velocity_m_s", "peak_power_w", "mean_force_n", "peak_force_n",
    )  # fmt: skip
    found = {name: float(getattr(pushes, name)[0]) for name in names}
    if as_json:
        import json
        import math

        # Contact and depth are the drop jump's: elsewhere the depth was given, not found.
        drop_only = () if how is pushoff.Start.DROP else ("contact_s", "depth_m")
        document = {
            name: None if math.isnan(x) or name in drop_only else x for name, x in found.items()
        }
        typer.echo(json.dumps({"start": start.value, **document, "why": why}, indent=2))
    elif why is not None:
        typer.echo(f"No jump. {why}")
    else:
        typer.echo(_text(start, found))


def _text(start: StartOption, found: dict[str, float]) -> str:
    """The figures as a coach would say them."""
    lines = [
        f"{start.value} jump: {100 * found['height_m']:.1f} cm",
        f"  take-off at {found['take_off_velocity_m_s']:.2f} m/s",
        f"  {found['push_off_s']:.3f} s upwards",
    ]
    if start is StartOption.COUNTERMOVEMENT:
        lines.append(f"  {found['time_to_take_off_s']:.3f} s from the first dip to take-off")
    if start is StartOption.DROP:
        lines.append(
            f"  {found['contact_s']:.3f} s on the ground, "
            f"{100 * found['depth_m']:.1f} cm deep after touch-down"
        )
    lines.append(
        f"  mean force {found['mean_force_n']:.0f} N upwards, peak power "
        f"{found['peak_power_w']:.0f} W"
    )
    return "\n".join(lines)
