"""How an athlete is doing, in the terminal."""

import datetime as dt
from collections.abc import Sequence

from rich.console import Console

from saltus.athlete.qualities import WORDS
from saltus.cli.terminal import (
    Measures,
    capital,
    heading,
    interval_line,
    line_width,
    per_cent,
    say,
    table,
)
from saltus.progress.follow import Follow
from saltus.progress.retest import RetestDay

__all__ = ["print_follow"]

_APART = dt.timedelta(weeks=1)
_WEEKS_SHOWN = 8
_RISES_SHOWN = 3
_PLACES_SHOWN = 6
_VERDICTS = {
    "rise": "real rise",
    "fall": "real fall",
    "none": "too small",
    "unclear": "unclear",
}


def print_follow(
    console: Console, found: Follow, *, imperial: bool, notes: Sequence[str] = ()
) -> None:
    """Print how an athlete is doing as a coach would say it.

    Parameters
    ----------
    console : Console
        Where to.
    found : Follow
        Of one athlete.
    imperial : bool
        Inches in place of centimetres.
    notes : sequence of str
        What the coach should know of the record as it was read.
    """
    units = Measures(imperial)
    console.print(f"[bold]{found.name}[/bold]  {_day(found.date)}")
    console.print("[dim]Every interval holds the truth with a probability of 80 %.[/dim]")
    _jump(console, found, units)
    _changes(console, found, units)
    _errors(console, found)
    _plateaus(console, found)
    _qualities(console, found, units)
    _response(console, found)
    _load(console, found)
    _places(console, found)
    if found.retest is not None:
        _retest(console, found.retest, units)
    heading(console, "Cautions")
    said = (
        "Saltus gives no medical advice. Pain above 5 out of 10, pain that is not back to usual "
        "the next morning, night pain, swelling or giving way: no jumping until somebody "
        "qualified has looked at it."
    )
    for sentence in (said, *notes):
        say(console, f"- {sentence}")


def _jump(console: Console, found: Follow, units: Measures) -> None:
    heading(console, "Jump over time (countermovement, no arms)")
    estimates = [moment.jump_m for moment in found.moments]
    low, high = min(e.low for e in estimates), max(e.high for e in estimates)
    rows = []
    for moment in found.moments:
        told = moment.jump_m.scaled(1 / units.length)
        rows.append(
            (
                _day(moment.date),
                f"{told.value:.1f} {units.length_word}",
                f"{told.low:.1f} to {told.high:.1f}",
                interval_line(moment.jump_m, low, high, line_width(console)),
                "" if moment.date in found.tested else "no test",
            )
        )
    table(console, rows)


def _changes(console: Console, found: Follow, units: Measures) -> None:
    heading(console, "What really changed, from one test day to the next")
    shown = [change for change in found.changes if change.until - change.since >= _APART]
    if not shown:
        say(console, "A change needs tests on two days, a week apart or more.")
        return
    rows = [
        (
            f"{_day(change.since)} to {_day(change.until)}",
            units.change(change.change),
            per_cent(change.probability_real),
            _VERDICTS[change.verdict],
        )
        for change in (*shown, *([found.whole] if found.whole and len(shown) > 1 else ()))
    ]
    table(console, rows, header=("", "change", "real?", ""), right=(2,))
    smallest = shown[0].smallest / units.length
    say(
        console,
        f"Real is a change of more than {smallest:.1f} {units.length_word}, the smallest that "
        "matters; it is called so from a probability of 80 % on.",
    )


def _errors(console: Console, found: Follow) -> None:
    for test, error in found.errors:
        say(console, f"{capital(test)}: {error.text}")


def _plateaus(console: Console, found: Follow) -> None:
    heading(console, "Does what is trained still rise?")
    if not found.plateaus:
        say(console, "No quality is in training by the record, or no test is recent enough.")
    for each in found.plateaus:
        if not each.plateau:
            say(console, each.text)
            continue
        say(
            console,
            f"{capital(WORDS[each.quality])} has probably stopped rising between "
            f"{_day(each.earliest)} and {_day(each.latest)} ({per_cent(each.probability)}). Change "
            f"the emphasis to {WORDS[each.next_quality]}: of the others, a block on it promises "
            "most.",
        )


def _qualities(console: Console, found: Follow, units: Measures) -> None:
    first, last = found.moments[0], found.moments[-1]
    if first is last:  # `saltus assess` tells a single day
        return
    heading(console, f"Qualities, {_day(last.date)} against {_day(first.date)}")
    rows = [
        (
            WORDS[quality],
            *units.quality(quality, first.qualities[quality]),
            *units.quality(quality, now),
        )
        for quality, now in last.qualities.items()
    ]
    table(console, rows, header=("", "then", "", "now", ""), right=(1, 3))


def _response(console: Console, found: Follow) -> None:
    heading(console, "What each block brought")
    if not found.response:
        say(console, "No block of training has tests before and after it yet.")
        return
    for each in found.response:
        say(console, f"{_day(each.start)} to {_day(each.end)}: {each.text}")
    trained = {each.quality for each in found.response}
    heading(console, "How this athlete responds, as far as that is known")
    for learnt in found.learnt:
        if learnt.quality in trained:
            say(console, learnt.text)
    say(console, "That goes into the worth of the next block.")


def _load(console: Console, found: Follow) -> None:
    heading(console, "What training cost")
    if not found.weeks:
        say(console, "Nothing has been logged yet.")
        return
    rows = [
        (
            _day(week.start),
            f"{week.sessions}",
            "-" if week.session_load is None else f"{week.session_load:.0f}",
            f"{week.landings:.0f}",
            f"{week.landing_load:.0f}",
        )
        for week in found.weeks[-_WEEKS_SHOWN:]
    ]
    header = ("week of", "sessions", "session load", "landings", "by their cost")
    table(console, rows, header=header, right=(1, 2, 3, 4))
    for rise in found.rises[-_RISES_SHOWN:]:
        say(console, rise.text)


def _places(console: Console, found: Follow) -> None:
    told = [place.text for place in found.places if place.text]
    if told:
        heading(console, "Soreness and pain")
        for text in told[:_PLACES_SHOWN]:
            say(console, text)


def _retest(console: Console, retest: RetestDay, units: Measures) -> None:
    heading(console, "The next test")
    say(
        console,
        f"{capital(retest.title)} on {_day(retest.date)}, {retest.minutes:.0f} minutes. By then "
        f"the jump is expected to have moved by {units.change(retest.worth.change_m)}; the test "
        f"errs by {retest.error_m / units.length:.1f} {units.length_word} from day to day.",
    )
    say(
        console,
        "It is due by then, though it is not expected to change what is best to train."
        if retest.due
        else "The chance that its result makes another quality the better bet is "
        f"{per_cent(retest.worth.probability_turns)}.",
    )


def _day(date: dt.date) -> str:
    return f"{date.day} {date:%b %Y}"
