"""A method out of a TOML file: the one that ships, or a coach's edited copy."""

from collections.abc import Mapping
from dataclasses import fields
from pathlib import Path
from typing import Any

from saltus.athlete.qualities import TRAINABLE, Quality
from saltus.errors import MethodError
from saltus.tomltable import Table
from saltus.tomltext import Lines, parse_toml, read_toml
from saltus.training.exercise_file import IDENTIFIER, read_exercises, shipped_toml
from saltus.training.exercises import Exercise
from saltus.training.method import (
    BackOff,
    Budget,
    Careful,
    Day,
    DropBy,
    Easing,
    Emphasis,
    LandingSteps,
    MatchGap,
    Method,
    Phase,
    PhaseKind,
    Progression,
    Rule,
    Spacing,
    Unloading,
    Use,
    WeekShape,
)
from saltus.training.spans import Count, Span

__all__ = ["load_method", "parse_method"]

_SHIPPED = "method.toml"
_LANDING = "landing"
_UNDECIDED = "undecided"
_TOP = (
    "name",
    "rule",
    "phase",
    "emphasis",
    "week",
    "spacing",
    "match_gap",
    "budget",
    "landing_steps",
    "back_off",
    "progression",
    "careful",
    "easing",
    "unloading",
    "day",
    "exercise",
)
_SHARES_ADD_UP_TO = 0.011
_LONGEST_WEEKS = 104


def load_method(path: Path | str | None = None) -> Method:
    """Read a method: the one that ships, or a coach's copy of it.

    Parameters
    ----------
    path : Path or str, optional
        A whole method as TOML; it may also hold ``[exercise.ID]`` tables, read as
        :func:`saltus.training.exercise_file.load_exercises` does. The sections that it
        leaves out whole are those of the method that ships.

    Returns
    -------
    Method
        The method with its exercises.

    Raises
    ------
    MethodError
        If the file has faults or contradicts itself: every fault with its line.
    """
    if path is None:
        shipped, lines = shipped_toml(_SHIPPED)
        return _method(shipped, lines, _SHIPPED, read_exercises({}, Lines(""), _SHIPPED))
    return _read(*read_toml(path, MethodError), path)


def parse_method(text: str, source: Path | str = _SHIPPED) -> Method:
    """Read a method from the text of a file, as :func:`load_method` does from the file.

    Parameters
    ----------
    text : str
        The text; an empty one is the method that ships.
    source : Path or str
        Named in messages.

    Raises
    ------
    MethodError
        If the text has faults or contradicts itself: every fault with its line.
    """
    return _read(*parse_toml(text, source, MethodError), source)


def _read(data: Mapping[str, Any], lines: Lines, source: Path | str) -> Method:
    shipped, _ = shipped_toml(_SHIPPED)
    exercises = read_exercises(data, lines, source)
    merged = {**shipped, **data}
    if isinstance(data.get("rule"), dict):
        merged["rule"] = {**shipped["rule"], **data["rule"]}
    return _method(merged, lines, source, exercises)


def _method(
    data: Mapping[str, Any],
    lines: Lines,
    source: Path | str,
    exercises: Mapping[str, Exercise],
) -> Method:
    reader = _Reader(Table(data, (), lines, []), exercises)
    method = reader.method()
    if reader.top.faults:
        raise MethodError(source, reader.top.faults)
    return method


class _Reader:
    """Reads the sections; what refers to rules, families and phases is checked as it comes."""

    def __init__(self, top: Table, exercises: Mapping[str, Exercise]) -> None:
        self.top = top
        self.exercises = exercises
        self.families = {family for e in exercises.values() for family in e.families}
        self.rules: dict[str, Rule] = {}

    def method(self) -> Method:
        self.top.known(_TOP)
        self._read_rules()
        phases = tuple(self._phase(table) for table in self.top.tables("phase"))
        self._in_order(phases)
        return Method(
            name=self.top.text("name"),
            rules=self.rules,
            exercises=self.exercises,
            phases=phases,
            emphases=self._emphases(phases),
            week=self._week(self._section("week")),
            spacings=tuple(self._spacing(table) for table in self.top.tables("spacing")),
            match_gaps=tuple(self._match_gap(table) for table in self.top.tables("match_gap")),
            budgets=self._budgets(),
            landing_steps=self._landing_steps(self._section("landing_steps")),
            back_off=self._back_off(self._section("back_off")),
            progressions=tuple(
                self._progression(table, phases) for table in self.top.tables("progression")
            ),
            careful=self._careful(self._section("careful")),
            easing=self._easing(self._section("easing")),
            unloading=self._unloading(self._section("unloading")),
            day=self._day(self._section("day")),
        )

    def _section(self, key: str) -> Table:
        empty = Table({}, (key,), self.top.lines, [])
        return self.top.table(key) or empty

    def _read_rules(self) -> None:
        rules = self._section("rule")
        for name in rules.data:
            table = rules.table(name)
            if not IDENTIFIER.fullmatch(name):
                rules.fault(name, "its name has other marks than letters a to z, digits, _ and -.")
            if table is not None:
                table.known(("text", "source"))
                self.rules[name] = Rule(name, table.text("text"), table.text("source"))

    def _rule(self, table: Table, key: str = "rule") -> str:
        name = table.text(key)
        if name and name not in self.rules:
            table.fault(key, f'there is no rule "{name}": add [rule.{name}] or name another.')
        return name

    def _family(self, table: Table, *, landing: bool = False) -> str:
        family = table.text("family")
        if family and family not in self.families and not (landing and family == _LANDING):
            known = ", ".join(sorted(self.families))
            table.fault("family", f'no exercise is of the family "{family}"; there are: {known}.')
        return family

    def _phase(self, table: Table) -> Phase:
        table.known(("id", "name", "rule", "kind", "weeks", "use"))
        uses = tuple(self._use(use) for use in table.tables("use"))
        twice = {use.family for use in uses if sum(u.family == use.family for u in uses) > 1}
        for family in sorted(twice):
            table.fault("use", f'the family "{family}" is used twice: keep one of them.')
        if not uses:
            table.fault("use", "the phase uses no family: give it at least one.")
        return Phase(
            id=table.text("id"),
            name=table.text("name"),
            rule=self._rule(table),
            kind=table.choice("kind", PhaseKind),
            weeks=_count(table, "weeks", 1, _LONGEST_WEEKS),
            uses=uses,
        )

    def _use(self, table: Table) -> Use:
        table.known(("family", "rule", "per_week", "sets", "reps", "percent"))
        percent = table.pair("percent", high=130, unit="%") if "percent" in table.data else None
        use = Use(
            rule=self._rule(table),
            family=self._family(table),
            per_week=_count(table, "per_week", 0, 7),
            sets=_count(table, "sets", 1, 12),
            reps=_count(table, "reps", 1, 60),
            percent=None if percent is None else Span(*percent),
        )
        members = [e for e in self.exercises.values() if use.family in e.families]
        if members and not any(_fits(use, exercise) for exercise in members):
            table.fault(
                None,
                f'no exercise of the family "{use.family}" can be done with {use.sets} sets of '
                f"{use.reps}{f' at {use.percent} %' if use.percent else ''}: widen the ranges.",
            )
        return use

    def _in_order(self, phases: tuple[Phase, ...]) -> None:
        """Phases stand in order of time, and the last one unloads."""
        ids = [phase.id for phase in phases]
        for index, phase in enumerate(phases):
            if phase.id and not IDENTIFIER.fullmatch(phase.id):
                what = "it has other marks than letters a to z, digits, _ and -."
                self._fault(("phase", index, "id"), what)
            if ids.index(phase.id) != index:
                self._fault(("phase", index, "id"), f'there are two phases "{phase.id}".')
        kinds = [phase.kind for phase in phases]
        order = list(PhaseKind)
        if kinds != sorted(kinds, key=order.index):
            self._fault(("phase",), "phases stand in order of time: building, peaking, unloading.")
        if kinds.count(PhaseKind.BUILDING) == 0:
            self._fault(("phase",), 'there is no phase of kind "building": give at least one.')
        for kind in (PhaseKind.PEAKING, PhaseKind.UNLOADING):
            if kinds.count(kind) > 1:
                self._fault(("phase",), f'there can be only one phase of kind "{kind}".')
        if kinds.count(PhaseKind.UNLOADING) == 0:
            self._fault(("phase",), 'there is no phase of kind "unloading": give one.')
        for index, phase in enumerate(phases):
            if phase.kind is PhaseKind.UNLOADING:
                self._no_jumps(index, phase)

    def _no_jumps(self, index: int, phase: Phase) -> None:
        for at, use in enumerate(phase.uses):
            members = [e for e in self.exercises.values() if use.family in e.families]
            if any(exercise.lands for exercise in members):
                self._fault(
                    ("phase", index, "use", at),
                    f'the family "{use.family}" has landings, and the phase "{phase.id}" unloads: '
                    "leave it out.",
                )

    def _emphases(self, phases: tuple[Phase, ...]) -> tuple[Emphasis, ...]:
        building = {phase.id for phase in phases if phase.kind is PhaseKind.BUILDING}
        emphases = []
        for table in self.top.tables("emphasis"):
            table.known(("rule", "limiting", "shares"))
            word = table.text("limiting")
            limiting = None if word == _UNDECIDED else table.choice("limiting", Quality)
            shares_table = table.table("shares")
            shares = {}
            if shares_table is not None:
                shares_table.known(building)
                shares = {key: shares_table.number(key, high=1) for key in shares_table.data}
                total = sum(shares.values())
                if abs(total - 1) > _SHARES_ADD_UP_TO:
                    table.fault("shares", f"the shares add up to {total:g}: they must add up to 1.")
            emphases.append(Emphasis(self._rule(table), limiting, shares))
        given = {emphasis.limiting for emphasis in emphases}
        for quality in (None, *TRAINABLE):
            if quality not in given:
                word = _UNDECIDED if quality is None else str(quality)
                self._fault(("emphasis",), f'there is no emphasis for "{word}": add one.')
        return tuple(emphases)

    def _week(self, table: Table) -> WeekShape:
        table.known(("rule", "sessions", "items", "sets", "shortest_min"))
        return WeekShape(
            rule=self._rule(table),
            sessions=_count(table, "sessions", 0, 7),
            items=_count(table, "items", 1, 20),
            sets=table.count("sets", low=1, high=60),
            shortest_min=table.number("shortest_min", high=180, unit="min"),
        )

    def _spacing(self, table: Table) -> Spacing:
        table.known(("rule", "family", "days", "days_minors"))
        spacing = Spacing(
            rule=self._rule(table),
            family=self._family(table, landing=True),
            days=table.count("days", low=1, high=7),
            days_minors=table.count("days_minors", low=1, high=7),
        )
        if spacing.days_minors < spacing.days:
            table.fault("days_minors", f"it must be at least that of adults, {spacing.days}.")
        return spacing

    def _match_gap(self, table: Table) -> MatchGap:
        table.known(("rule", "family", "days_before", "days_after"))
        return MatchGap(
            rule=self._rule(table),
            family=self._family(table, landing=True),
            days_before=table.count("days_before", high=7),
            days_after=table.count("days_after", high=7),
        )

    def _budgets(self) -> tuple[Budget, ...]:
        budgets = []
        for table in self.top.tables("budget"):
            table.known(("rule", "from_years", "minors", "per_session", "per_week", "first_week"))
            budget = Budget(
                rule=self._rule(table),
                from_years=table.number("from_years", high=30, unit="years"),
                minors=table.flag("minors"),
                per_session=table.number("per_session", high=400),
                per_week=table.number("per_week", high=2000),
                first_week=table.number("first_week", high=2000),
            )
            if budget.per_session > budget.per_week:
                table.fault("per_session", f"it is more than the week's {budget.per_week:g}.")
            if budget.first_week > budget.per_week:
                table.fault("first_week", f"it is more than per_week, {budget.per_week:g}.")
            budgets.append(budget)
        for minors in (False, True):
            if not any(b.minors is minors and b.from_years == 0 for b in budgets):
                whom = "those under 18" if minors else "adults"
                self._fault(("budget",), f"there is no budget for {whom} from 0 years: add one.")
        return tuple(budgets)

    def _landing_steps(self, table: Table) -> LandingSteps:
        table.known(
            (
                "rule",
                "step",
                "allowance",
                "look_back",
                "over_kg",
                "heavy_share",
                "practice_cost",
                "match_cost",
            )
        )
        return LandingSteps(
            rule=self._rule(table),
            step=table.number("step", high=1),
            allowance=table.number("allowance", high=200),
            look_back=table.count("look_back", low=1, high=12),
            over_kg=table.number("over_kg", low=40, high=250, unit="kg"),
            heavy_share=table.number("heavy_share", high=1),
            practice_cost=table.number("practice_cost", high=5),
            match_cost=table.number("match_cost", high=5),
        )

    def _back_off(self, table: Table) -> BackOff:
        table.known(("rule", "every_weeks", "sets_share"))
        return BackOff(
            rule=self._rule(table),
            every_weeks=table.count("every_weeks", low=2, high=12),
            sets_share=table.number("sets_share", low=0.2, high=1),
        )

    def _progression(self, table: Table, phases: tuple[Phase, ...]) -> Progression:
        table.known(("rule", "family", "start_share", "step_points", "every_weeks"))
        family = self._family(table)
        if not any(use.family == family and use.percent for phase in phases for use in phase.uses):
            for exercise in self.exercises.values():
                if family in exercise.families and exercise.load is None:
                    table.fault("family", f'"{exercise.id}" carries no load that could rise.')
        return Progression(
            rule=self._rule(table),
            family=family,
            start_share=table.number("start_share", high=1),
            step_points=table.number("step_points", high=20, unit="points"),
            every_weeks=table.count("every_weeks", low=1, high=12),
        )

    def _careful(self, table: Table) -> Careful:
        table.known(("rule", "weeks", "ease_weeks", "height_share", "reserve_reps"))
        return Careful(
            rule=self._rule(table),
            weeks=table.count("weeks", high=52),
            ease_weeks=table.count("ease_weeks", high=52),
            height_share=table.number("height_share", high=1),
            reserve_reps=table.count("reserve_reps", high=10),
        )

    def _easing(self, table: Table) -> Easing:
        table.known(field.name for field in fields(Easing))
        easing = Easing(
            rule=self._rule(table),
            from_days=table.count("from_days", low=7, high=365),
            weeks=table.count("weeks", high=12),
            load_share=table.number("load_share", low=0.3, high=1),
            volume_share=table.number("volume_share", low=0.2, high=1),
            long_days=table.count("long_days", low=7, high=365),
            long_weeks=table.count("long_weeks", high=12),
            long_load_share=table.number("long_load_share", low=0.3, high=1),
            long_volume_share=table.number("long_volume_share", low=0.2, high=1),
        )
        for long, least in (("long_days", easing.from_days), ("long_weeks", easing.weeks)):
            if getattr(easing, long) < least:
                short = "from_days" if long == "long_days" else "weeks"
                table.fault(long, f"it must be at least that of {short}, {least:g}.")
        for share in ("load_share", "volume_share"):
            most = getattr(easing, share)
            if getattr(easing, f"long_{share}") > most:
                table.fault(f"long_{share}", f"it must be at most that of {share}, {most:g}.")
        return easing

    def _unloading(self, table: Table) -> Unloading:
        table.known(
            (
                "rule",
                "no_jump_days",
                "sets_share",
                "rest_days",
                "second_rule",
                "second_rest_days",
                "second_no_jump_days",
            )
        )
        return Unloading(
            rule=self._rule(table),
            no_jump_days=_count(table, "no_jump_days", 0, 28),
            sets_share=Span(*table.pair("sets_share", high=1)),
            rest_days=table.count("rest_days", high=14),
            second_rule=self._rule(table, "second_rule"),
            second_rest_days=table.count("second_rest_days", high=14),
            second_no_jump_days=table.count("second_no_jump_days", high=14),
        )

    def _day(self, table: Table) -> Day:
        table.known(field.name for field in fields(Day))
        day = Day(
            rule=self._rule(table),
            beginner_years=table.number("beginner_years", high=30, unit="years"),
            most_reserve=table.count("most_reserve", high=8),
            least_change=table.number("least_change", high=0.2),
            most_rise=table.number("most_rise", high=0.2),
            missed_rule=self._rule(table, "missed_rule"),
            missed_lighter=table.number("missed_lighter", low=0.01, high=0.5),
            missed_sets=table.count("missed_sets", low=1, high=6),
            loss_rule=self._rule(table, "loss_rule"),
            speed_loss=table.number("speed_loss", low=0.02, high=0.6),
            height_loss=table.number("height_loss", low=0.02, high=0.6),
            form_rule=self._rule(table, "form_rule"),
            below=table.number("below", high=0.5),
            well_below=table.number("well_below", high=0.5),
            below_lighter=table.number("below_lighter", high=0.5),
            well_below_lighter=table.number("well_below_lighter", high=0.5),
            well_below_sets=table.number("well_below_sets", high=1),
            pain_rule=self._rule(table, "pain_rule"),
            held_rule=self._rule(table, "held_rule"),
            held_loss=table.number("held_loss", high=0.2),
            held_probability=table.number("held_probability", low=0.5, high=1),
            box_rule=self._rule(table, "box_rule"),
            box_sessions=table.count("box_sessions", low=1, high=12),
            box_step_m=table.number("box_step_m", low=0.01, high=0.5, unit="m"),
            drop_rule=self._rule(table, "drop_rule"),
            drop_by=table.choice("drop_by", DropBy),
            drop_probability=table.number("drop_probability", low=0.5, high=1),
            end_rule=self._rule(table, "end_rule"),
            end_sessions=table.count("end_sessions", low=3, high=20),
            end_gain=table.number("end_gain", high=0.1),
            end_probability=table.number("end_probability", high=1),
        )
        if day.well_below > day.below:
            table.fault("well_below", f"it must be at most that of below, {day.below:g}.")
        if day.well_below_lighter < day.below_lighter:
            what = f"it must be at least that of below_lighter, {day.below_lighter:g}."
            table.fault("well_below_lighter", what)
        return day

    def _fault(self, path: tuple[str | int, ...], what: str) -> None:
        self.top.faults.append(self.top.lines.fault(path, what))


def _count(table: Table, key: str, low: int, high: int) -> Count:
    ends = table.pair(key, low=low, high=high, whole=True)
    return Count(int(ends[0]), int(ends[1]))


def _fits(use: Use, exercise: Exercise) -> bool:
    """Whether an exercise can be done within the ranges of a use."""
    if exercise.sets.meet(use.sets) is None or exercise.reps.meet(use.reps) is None:
        return False
    return exercise.load is None or exercise.load.within(use.percent) is not None
