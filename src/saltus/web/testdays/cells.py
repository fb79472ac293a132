"""One athlete's results in one test: what is on record, what was typed, and saving it.

Every figure goes into the record as soon as it makes a test. What does not yet (a height
without its contact time, a result that is asked about) is kept as it was typed, so that nothing
is lost on a closed page. A cell carries a token of what it showed: where somebody else changed
it meanwhile, nothing is overwritten, and both versions are told.
"""

import datetime as dt
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from saltus.athlete.plausible import is_strange_mass, is_strange_reach, last_mass_kg
from saltus.errors import FaultyFile, SaltusError, TestError, UsageError
from saltus.record import Record
from saltus.record.trialresults import results_of, with_results
from saltus.record.trials import Column, Trial
from saltus.web.models import Athlete, TestDay, UnfinishedResult, User
from saltus.web.records import change_record, record_of
from saltus.web.sentences import told
from saltus.web.testdays.expected import questions
from saltus.web.testdays.typed import shown, sign_of, to_si
from saltus.web.testdays.words import column_label, column_short, trial_title
from saltus.web.units import Units

__all__ = ["Cell", "Figure", "State", "cell_of", "save_cell", "trial_of", "trials_of"]

_MOST_ATTEMPTS = 12


class State(StrEnum):
    """How a cell stands."""

    EMPTY = "empty"
    SAVED = "saved"
    UNFINISHED = "unfinished"
    ASKED = "asked"
    WRONG = "wrong"
    CHANGED = "changed"
    """Somebody else changed it meanwhile."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One input: its column, what stands in it, and how it is called, whole and in short."""

    column: Column
    text: str
    label: str
    name: str
    unit: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One athlete and one test.

    Parameters
    ----------
    athlete, trial : Athlete, Trial
        Whose and which.
    title : str
        Of the test.
    figures : tuple of Figure
        The inputs.
    seen : str
        Token of what is on record and typed.
    state : State
        How it stands.
    said : tuple of str
        Sentences about it.
    theirs : str
        What somebody else wrote, where they did.
    now : str
        Token of theirs; `seen` stays what this person saw, so that only a word of theirs
        overwrites it.
    """

    athlete: Athlete
    trial: Trial
    title: str
    figures: tuple[Figure, ...]
    seen: str
    state: State = State.EMPTY
    said: tuple[str, ...] = field(default=())
    theirs: str = ""
    now: str = ""

    @property
    def summary(self) -> str:
        """What stands in it, in one line."""
        return ", ".join(figure.text for figure in self.figures if figure.text)


def trials_of(day: TestDay) -> list[Trial]:
    """Tests of a day, in order."""
    return [Trial.from_row(row) for row in day.tests]


def trial_of(day: TestDay, key: str) -> Trial | None:
    """The test of that key, or None."""
    return next((trial for trial in trials_of(day) if trial.key == key), None)


def cell_of(
    day: TestDay,
    athlete: Athlete,
    record: Record,
    trial: Trial,
    units: Units,
    unfinished: UnfinishedResult | None,
    *,
    attempts: int | None = None,
) -> Cell:
    """A cell as it stands.

    Parameters
    ----------
    day, athlete, record, trial
        Where it stands.
    units : Units
        Of whoever looks at it.
    unfinished : UnfinishedResult or None
        What was typed and is no test yet.
    attempts : int or None
        How many to show, where more than those meant and made.
    """
    values = results_of(record, trial, day.date)
    typed = _retold(unfinished, trial, units) if unfinished else {}
    made = max(
        (int(key.split(".")[1]) for key in values if not key.startswith("force_at")), default=0
    )
    columns = trial.columns(min(max(trial.attempts, made, attempts or 0), _MOST_ATTEMPTS))
    figures = tuple(
        Figure(
            column,
            typed.get(column.key, "")
            if unfinished
            else _text(values.get(column.key), column, units),
            column_label(column, units),
            column_short(column),
            sign_of(column.quantity, units),
        )
        for column in columns
    )
    # A standing reach is shown as it is known, whenever it was measured.
    state = State.SAVED if values and trial.kind != "standing_reach" else State.EMPTY
    said: tuple[str, ...] = ()
    if unfinished:
        _values_found, faults, state = _judged(athlete, record, day, trial, typed, units)
        said = tuple(faults) or (_("Not in the record yet: save it again."),)
        state = state if faults else State.UNFINISHED
    return Cell(
        athlete=athlete,
        trial=trial,
        title=trial_title(trial, units),
        figures=figures,
        seen=_token(values, unfinished),
        state=state,
        said=said,
    )


def save_cell(
    day: TestDay,
    athlete: Athlete,
    trial: Trial,
    typed: Mapping[str, str],
    user: User,
    units: Units,
    *,
    seen: str,
    sent: Sequence[Mapping[str, str]] = (),
    keep: bool = False,
) -> Cell:
    """Save what was typed in a cell, and say how it stands.

    Parameters
    ----------
    day, athlete, trial
        Where.
    typed : mapping of str to str
        By key of column; empty text for nothing.
    user, units
        Who typed, in which units.
    seen : str
        Token of what they saw.
    sent : sequence of mapping
        What the same page sent before without having heard of it, as `typed`: what stands there
        because of that is nobody else's change.
    keep : bool
        Whether a result that was asked about is to be kept; figures that were typed since are
        asked about first.
    """
    typed = _tidy(typed)
    with transaction.atomic():
        locked = (
            Athlete.objects.select_for_update(of=("self",))
            .select_related("assessment")
            .get(pk=athlete.pk)
        )
        record = record_of(locked, recordings=False)
        unfinished = _unfinished(day, locked, trial)
        now = cell_of(day, locked, record, trial, units, unfinished)
        shown_now = {f.column.key: f.text for f in now.figures if f.text}
        keep = keep and unfinished is not None and typed == shown_now
        values, faults, _state = _judged(locked, record, day, trial, typed, units, keep=keep)
        on_record = results_of(record, trial, day.date)
        same_figures = not faults and not unfinished and _listed(values) == _listed(on_record)
        alike = typed == shown_now or same_figures
        if alike and not unfinished:
            return now
        own = any(_stands(each, shown_now, on_record, record, day, trial, units) for each in sent)
        if seen != now.seen and not alike and not own:
            return _with(now, typed, seen)
        wrong = ""
        if not faults:
            try:
                change_record(
                    locked,
                    user,
                    lambda present: with_results(present, trial, day.date, values, note=_note(day)),
                    what=_("test day: %(test)s") % {"test": now.title},
                )
            except SaltusError as error:
                wrong = _sentence(error)
        if faults or wrong:
            UnfinishedResult.objects.update_or_create(
                test_day=day,
                athlete=locked,
                trial=trial.key,
                defaults={"typed": typed, "by": user, "units": f"{units.length} {units.mass}"},
            )
        elif unfinished:
            unfinished.delete()
        return _again(day, locked, trial, units, wrong)


def _tidy(typed: Mapping[str, str]) -> dict[str, str]:
    return {key: text.strip()[:40] for key, text in typed.items() if text.strip()}


def _stands(
    sent: Mapping[str, str],
    shown_now: Mapping[str, str],
    on_record: Mapping[str, float],
    record: Record,
    day: TestDay,
    trial: Trial,
    units: Units,
) -> bool:
    """Whether what was sent is what stands there now."""
    typed = _tidy(sent)
    if not typed:
        return False
    if typed == shown_now:
        return True
    values, faults = _values(record, day, trial, typed, units)
    return not faults and _listed(values) == _listed(on_record)


def _again(day: TestDay, athlete: Athlete, trial: Trial, units: Units, wrong: str) -> Cell:
    athlete.refresh_from_db(fields=["text", "revision"])
    record = record_of(athlete, recordings=False)
    cell = cell_of(day, athlete, record, trial, units, _unfinished(day, athlete, trial))
    if wrong:
        return replace(cell, state=State.WRONG, said=(wrong,))
    return replace(cell, state=State.SAVED) if cell.state is State.EMPTY and cell.summary else cell


def _with(now: Cell, typed: Mapping[str, str], seen: str) -> Cell:
    """A cell that somebody else changed, with what this person typed in it."""
    figures = tuple(replace(f, text=typed.get(f.column.key, "")) for f in now.figures)
    return replace(
        now,
        figures=figures,
        seen=seen,
        now=now.seen,
        state=State.CHANGED,
        said=(_("Somebody else wrote here since you opened the page."),),
        theirs=now.summary or _("nothing"),
    )


def _listed(values: Mapping[str, float]) -> dict[str, list[float]]:
    """Figures by name, attempts that were not made left out."""
    listed: dict[str, list[tuple[int, float]]] = {}
    for key, value in values.items():
        name, attempt = key.split(".")
        listed.setdefault(name, []).append((int(attempt), round(value, 9)))
    return {name: [value for _attempt, value in sorted(pairs)] for name, pairs in listed.items()}


def _judged(
    athlete: Athlete,
    record: Record,
    day: TestDay,
    trial: Trial,
    typed: Mapping[str, str],
    units: Units,
    *,
    keep: bool = False,
) -> tuple[dict[str, float], list[str], State]:
    """Figures in SI, and what keeps them out of the record, if anything does."""
    values, faults = _values(record, day, trial, typed, units)
    if faults:
        return values, faults, State.WRONG
    faults, state = _problem(athlete, record, day, trial, values, units, keep=keep)
    return values, faults, state


def _values(
    record: Record, day: TestDay, trial: Trial, typed: Mapping[str, str], units: Units
) -> tuple[dict[str, float], list[str]]:
    """Figures in SI, and what is wrong with those that are none."""
    before = results_of(record, trial, day.date)
    values: dict[str, float] = {}
    faults: list[str] = []
    for column in trial.columns(_MOST_ATTEMPTS):
        text = typed.get(column.key)
        if text is None:
            continue
        old = before.get(column.key)
        if old is not None and text == _text(old, column, units):
            values[column.key] = old  # as it was: not rounded to what is shown
            continue
        try:
            value = to_si(text, column.quantity, units)
        except UsageError as error:
            faults.append(f"{_place(column)}{error}")
            continue
        slack = 1e-9
        if not column.low - slack <= value <= column.high + slack:
            faults.append(
                _place(column)
                + _(
                    "%(text)s %(unit)s cannot be right: it lies between %(low)s and %(high)s. "
                    "Check the number and its unit."
                )
                % {
                    "text": text if text[-1:].isdigit() else shown(value, column.quantity, units),
                    "unit": sign_of(column.quantity, units),
                    "low": shown(column.low, column.quantity, units),
                    "high": shown(column.high, column.quantity, units),
                }
            )
            continue
        if column.name == "reps" and value != round(value):
            faults.append(_("Repetitions are whole numbers."))
            continue
        values[column.key] = value
    return values, faults


def _problem(
    athlete: Athlete,
    record: Record,
    day: TestDay,
    trial: Trial,
    values: dict[str, float],
    units: Units,
    *,
    keep: bool,
) -> tuple[list[str], State]:
    """What keeps figures out of the record: something missing, or a question."""
    missing = trial.missing(values)
    if missing:
        names = "; ".join(column_label(column, units) for column in missing)
        return [_("Still to come: %(what)s.") % {"what": names}], State.UNFINISHED
    if keep or not values or trial.kind in ("body_mass", "standing_reach"):
        return _strange_measure(record, day.date, trial, values, units, keep=keep)
    try:
        test = trial.observation(values, day.date, standing_reach_m=record.person.standing_reach_m)
    except TestError as error:
        return [told(str(error))], State.WRONG
    before = results_of(record, trial, day.date)
    asked = questions(athlete, record, trial, test, units)
    attempts = sorted({int(key.split(".")[1]) for key in values if "." in key})
    sentences = []
    for place, words in asked.items():
        attempt = attempts[place - 1] if len(attempts) >= place else 0
        if trial.kind in ("maximum", "rep_set", "bar_speed", "isometric_pull"):
            keys = list(values)
            prefix = ""
        else:
            keys = [key for key in values if key.endswith(f".{attempt}")]
            prefix = _("Attempt %(number)s: ") % {"number": attempt} if len(attempts) > 1 else ""
        if all(before.get(key) == values[key] for key in keys):
            continue  # it was asked about already, and kept
        sentences += [prefix + sentence for sentence in words]
    return sentences, State.ASKED


def _strange_measure(
    record: Record, on: dt.date, trial: Trial, values: dict[str, float], units: Units, *, keep: bool
) -> tuple[list[str], State]:
    """Ask about a body mass or a standing reach far from the one before."""
    person = record.person
    if keep or not values:
        return [], State.SAVED
    if trial.kind == "body_mass":
        new, old = values["mass.0"], last_mass_kg(person, on)
        strange = old is not None and is_strange_mass(new, old)
    else:
        new, old = values["standing_reach.0"], person.standing_reach_m
        strange = old is not None and is_strange_reach(new, old)
    if not strange or old is None:
        return [], State.SAVED
    quantity = trial.columns()[0].quantity
    sentence = _("%(new)s %(unit)s, and %(old)s %(unit)s before: keep it?") % {
        "new": shown(new, quantity, units),
        "old": shown(old, quantity, units),
        "unit": sign_of(quantity, units),
    }
    return [sentence], State.ASKED


def _place(column: Column) -> str:
    if column.attempt and column.name != "force_at":
        return _("Attempt %(number)s: ") % {"number": column.attempt}
    return ""


def _text(value: float | None, column: Column, units: Units) -> str:
    return "" if value is None else shown(value, column.quantity, units)


def _retold(unfinished: UnfinishedResult, trial: Trial, units: Units) -> dict[str, str]:
    """What was typed, in the units of whoever looks at it."""
    length, mass = unfinished.units.split()
    theirs = Units(length, mass)
    if theirs == units:
        return dict(unfinished.typed)
    columns = {column.key: column for column in trial.columns(_MOST_ATTEMPTS)}
    retold = {}
    for key, text in unfinished.typed.items():
        if key not in columns:
            continue
        quantity = columns[key].quantity
        try:
            retold[key] = shown(to_si(text, quantity, theirs), quantity, units)
        except UsageError:
            retold[key] = text
    return retold


def _unfinished(day: TestDay, athlete: Athlete, trial: Trial) -> UnfinishedResult | None:
    return UnfinishedResult.objects.filter(test_day=day, athlete=athlete, trial=trial.key).first()


def _token(values: Mapping[str, float], unfinished: UnfinishedResult | None) -> str:
    parts: list[Any] = [sorted(values.items())]
    if unfinished:
        parts.append(sorted(unfinished.typed.items()))
    return hashlib.sha256(json.dumps(parts).encode()).hexdigest()[:16]


def _note(day: TestDay) -> str:
    return day.title or _("Test day")


def _sentence(error: SaltusError) -> str:
    """What is wrong, without the place in a file that nobody here sees."""
    if isinstance(error, FaultyFile):
        return " ".join(told(fault.what) for fault in error.faults)
    return told(str(error))
