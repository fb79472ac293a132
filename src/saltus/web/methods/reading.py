"""Pages on which a method is read: the one that ships, and a coach's copies."""

from dataclasses import dataclass, fields
from math import ceil
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import get_language, ngettext
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET

from saltus.athlete.qualities import TRAINABLE, WORDS, Quality
from saltus.errors import Fault, MethodError
from saltus.training.exercises import EQUIPMENT, Exercise, LoadRule
from saltus.training.method import Day, DropBy, Method, Phase, PhaseKind, Use
from saltus.training.method_compare import looser
from saltus.web import sentences
from saltus.web.access import method_for, squads_of, user_of
from saltus.web.decimals import decimals
from saltus.web.methods.asked import SECTIONS, Ask
from saltus.web.methods.forms import FilterForm, choices_of
from saltus.web.methods.using import copy_read
from saltus.web.methods.words import (
    CARRIERS,
    DROP_BY,
    HEIGHTS,
    KINDS,
    LOOSER,
    PAIN,
    PLACES,
    family_words,
)
from saltus.web.models import MethodCopy
from saltus.web.testdays.words import LIFTS
from saltus.web.texts import with_lines
from saltus.web.units import current_units

__all__ = ["exercise", "exercises", "index", "method", "read_or_faults"]


@dataclass(frozen=True, slots=True)
class _Place:
    """Exercises of one place on the continuum."""

    name: str
    exercises: tuple[Exercise, ...]


@login_required
@require_GET
def index(request: HttpRequest) -> HttpResponse:
    """The methods there are, and which squad uses which."""
    user = user_of(request)
    squads = squads_of(user).select_related("method", "owner").order_by("name", "pk")
    copies = user.methods.filter(deleted=None).order_by("name", "pk")
    own = [squad for squad in squads if squad.owner_id == user.pk]
    return render(
        request,
        "methods/index.html",
        {
            "own": own,
            "shared": [squad for squad in squads if squad.owner_id != user.pk],
            "copies": [
                (copy, [squad.name for squad in own if squad.method_id == copy.pk])
                for copy in copies
            ],
            "put_aside": user.methods.exclude(deleted=None).order_by("-deleted"),
            "with_shipped": [squad.name for squad in own if squad.method_id is None],
        },
    )


@login_required
@require_GET
def method(request: HttpRequest, method_id: int | None = None) -> HttpResponse:
    """A whole method but its exercises: phases in order of time, and every rule."""
    copy, found, faults = read_or_faults(request, method_id)
    if found is None:
        return _at_fault(request, copy, faults)
    building = [phase for phase in found.phases if phase.kind is PhaseKind.BUILDING]
    context = {
        "copy": copy,
        "method": found,
        "used_by": [] if copy is None else list(copy.squads.order_by("name")),
        "phases": [_phase_told(phase, found, index) for index, phase in enumerate(found.phases)],
        "building": [phase.name for phase in building],
        "emphases": [
            {
                "index": index,
                "limiting": _("not decided yet")
                if emphasis.limiting is None
                else _(WORDS[emphasis.limiting]),
                "shares": [
                    (phase.name, _hundredths(emphasis.shares.get(phase.id, 0.0)))
                    for phase in building
                ],
            }
            for index, emphasis in enumerate(found.emphases)
        ],
        "emphasis_rules": _rules(found, *(emphasis.rule for emphasis in found.emphases)),
        "week_rules": _rules(found, found.week.rule),
        "spacings": [(s, family_words(s.family)) for s in found.spacings],
        "spacing_rules": _rules(found, *(s.rule for s in found.spacings)),
        "match_gaps": [(gap, family_words(gap.family)) for gap in found.match_gaps],
        "match_rules": _rules(found, *(gap.rule for gap in found.match_gaps)),
        "budget_rules": _rules(found, *(b.rule for b in found.budgets), found.landing_steps.rule),
        "heavy_mass": found.landing_steps.over_kg,
        "rise_percent": _hundredths(found.landing_steps.step),
        "heavy_percent": _hundredths(found.landing_steps.heavy_share),
        "progressions": [
            (p, family_words(p.family), _hundredths(p.start_share)) for p in found.progressions
        ],
        "progression_rules": _rules(found, *(p.rule for p in found.progressions)),
        "back_off_percent": _hundredths(found.back_off.sets_share),
        "back_off_rules": _rules(found, found.back_off.rule),
        "careful_rules": _rules(found, found.careful.rule),
        "careful_percent": _hundredths(found.careful.height_share),
        "easing_rules": _rules(found, found.easing.rule),
        "easing_shares": {
            part.name: _hundredths(getattr(found.easing, part.name))
            for part in fields(found.easing)
            if part.name.endswith("share")
        },
        "unloading_sets": f"{found.unloading.sets_share.low * 100:g}–"
        f"{found.unloading.sets_share.high * 100:g}",
        "unloading_rules": _rules(found, found.unloading.rule, found.unloading.second_rule),
        "day_facts": _day_told(found.day),
        "day_rules": _rules(
            found,
            *(
                getattr(found.day, part.name)
                for part in fields(found.day)
                if part.name.endswith("rule")
            ),
        ),
    }
    return render(request, "methods/method.html", context)


def _day_told(day: Day) -> list[tuple[str, str]]:
    """Figures of a day by what its form calls them."""
    unit = current_units.get()
    told = []
    for each in SECTIONS["day"]:
        value = getattr(day, each.at)
        if each.at == "rule":
            continue
        if each.ask is Ask.HEIGHT:
            text = decimals(f"{round(value * unit.metre, 1):g} {unit.length}")
        elif isinstance(value, DropBy):
            text = str(DROP_BY[value])
        else:
            text = decimals(f"{value:g}")
        told.append((str(each.label), text))
    return told


@login_required
@require_GET
def exercises(request: HttpRequest, method_id: int | None = None) -> HttpResponse:
    """The exercises of a method, by place on the continuum; those that are asked for."""
    copy, found, faults = read_or_faults(request, method_id)
    if found is None:
        return _at_fault(request, copy, faults)
    form = FilterForm(
        request.GET,
        choices={
            "family": choices_of(found)["family"],
            "quality": [(str(quality), _(WORDS[quality])) for quality in TRAINABLE],
            "place": [(str(place), str(words)) for place, words in PLACES.items()],
        },
    )
    wanted = form.cleaned_data if form.is_valid() else {}
    shown = [each for each in found.exercises.values() if _wanted(each, wanted)]
    context = {
        "copy": copy,
        "method": found,
        "form": form,
        "filtered": any(wanted.values()),
        "count": len(shown),
        "all": len(found.exercises),
        "places": [
            _Place(str(words), of_place)
            for place, words in PLACES.items()
            if (of_place := tuple(each for each in shown if each.place is place))
        ],
    }
    partial = "methods/_exercises.html" if request.htmx else "methods/exercises.html"  # type: ignore[attr-defined]
    return render(request, partial, context)


@login_required
@require_GET
def exercise(request: HttpRequest, exercise_id: str, method_id: int | None = None) -> HttpResponse:
    """One exercise: what it is for, what it costs, and what must be true before it."""
    copy, found, faults = read_or_faults(request, method_id)
    if found is None:
        return _at_fault(request, copy, faults)
    each = found.exercises.get(exercise_id)
    if each is None:
        raise Http404
    shipped = copy_read(None).exercises.get(exercise_id)
    context = {
        "copy": copy,
        "method": found,
        "exercise": each,
        "place": PLACES[each.place],
        "facts": _facts(each),
        "needs": _needs(each),
        "families": sorted(family_words(family) for family in each.families),
        "adds": [(_(WORDS[quality]), _hundredths(share)) for quality, share in each.adds.items()],
        "stand_ins": [found.exercises[name] for name in each.stand_ins],
        "uses": [(phase, use) for phase in found.phases if (use := phase.use_of(each)) is not None],
        "own": copy is not None and shipped is None,
        "changed": shipped is not None and each != shipped,
        "looser": [] if shipped is None else [str(LOOSER[part]) for part in looser(each, shipped)],
    }
    return render(request, "methods/exercise.html", context)


def read_or_faults(
    request: HttpRequest, method_id: int | None
) -> tuple[MethodCopy | None, Method | None, list[tuple[Fault, str]]]:
    """A copy of one's own (or none, for the method that ships), read, or what is wrong with it."""
    copy = None if method_id is None else method_for(request, method_id)
    try:
        return copy, copy_read(copy), []
    except MethodError as error:
        text = "" if copy is None else copy.text
        return copy, None, with_lines(error, text)


def _at_fault(
    request: HttpRequest, copy: MethodCopy | None, faults: list[tuple[Fault, str]]
) -> HttpResponse:
    context = {"copy": copy, "faults": faults}
    return render(request, "methods/at_fault.html", context, status=422)


def _wanted(each: Exercise, wanted: dict[str, Any]) -> bool:
    words = wanted.get("q", "").casefold().split()
    said = " ".join(
        (each.name, *map(family_words, each.families), str(PLACES[each.place]), *each.cues)
    ).casefold()
    return (
        all(word in said for word in words)
        and (not wanted.get("family") or wanted["family"] in each.families)
        and (not wanted.get("place") or wanted["place"] == each.place)
        and (not wanted.get("quality") or Quality(wanted["quality"]) in each.adds)
    )


def _phase_told(phase: Phase, found: Method, index: int) -> dict[str, Any]:
    return {
        "index": index,
        "phase": phase,
        "kind": KINDS[phase.kind],
        "rules": [found.rules[phase.rule]],
        "uses": [
            {
                "use": use,
                "family": family_words(use.family),
                "percent": _percent(use),
                "rule": found.rules[use.rule],
                "exercises": found.family(use.family),
            }
            for use in phase.uses
        ],
        "asked": [family_words(use.family) for use in phase.uses if use.per_week.low > 0],
    }


def _hundredths(share: float) -> float:
    """A share in per cent, without what binary fractions add."""
    return round(share * 100, 2)


def _percent(use: Use) -> str:
    return "" if use.percent is None else f"{sentences.told(str(use.percent))} %"


def _rules(found: Method, *ids: str) -> list[Any]:
    return [found.rules[name] for name in dict.fromkeys(ids)]


def _facts(each: Exercise) -> list[tuple[str, str]]:
    sides = " " + _("each leg") if each.per_side else ""
    rest = _("%(seconds)s s") % {"seconds": decimals(f"{each.rest_s:g}")}
    if each.rest_between_reps_s:
        rest += _(", and %(seconds)s s between repetitions") % {
            "seconds": decimals(f"{each.rest_between_reps_s:g}")
        }
    facts = [
        (_("Sets"), sentences.told(str(each.sets))),
        (_("Repetitions"), sentences.told(str(each.reps)) + sides),
        (_("Times a week"), sentences.told(str(each.per_week))),
        (_("Load"), _load(each.load)),
        (_("Rest"), rest),
    ]
    if each.height is not None:
        facts.insert(4, (_("Height"), _height(each)))
    if each.lands:
        cost = decimals(f"{each.landings_per_rep:g} × {each.landing_cost:g}")
        if each.landing_cost_per_drop_m:
            cost += _(", and %(cost)s more for each metre dropped") % {
                "cost": decimals(f"{each.landing_cost_per_drop_m:g}")
            }
        facts.append((_("Landings in a repetition × cost"), cost))
    if each.equipment:
        facts.append((_("Equipment"), ", ".join(_(EQUIPMENT[n]) for n in sorted(each.equipment))))
    return facts


def _load(load: LoadRule | None) -> str:
    if load is None:
        return _("the body alone")
    of = (
        _("body mass")
        if load.of is None
        else _("the maximum: %(lift)s") % {"lift": _in_a_sentence(str(LIFTS[load.of]))}
    )
    text = _("%(percent)s %% of %(of)s, with %(carriers)s") % {
        "percent": sentences.told(str(load.percent)),
        "of": of,
        "carriers": _(" or ").join(str(CARRIERS[carrier]) for carrier in load.on),
    }
    return _("%(load)s, or none") % {"load": text} if load.may_be_none else text


def _in_a_sentence(name: str) -> str:
    """A name within a sentence: German nouns keep their capital there."""
    return name if (get_language() or "").startswith("de") else name.casefold()


def _height(each: Exercise) -> str:
    unit = current_units.get()
    height = each.height
    assert height is not None

    def told(metres: float) -> str:
        return decimals(f"{round(metres * unit.metre, 1):g}")

    text = _("%(what)s: %(low)s to %(high)s %(unit)s") % {
        "what": HEIGHTS[height.kind],
        "low": told(height.range_m.low),
        "high": told(height.range_m.high),
        "unit": unit.length,
    }
    for limit in height.limits:
        if limit.over_kg is not None:
            whom = _("above %(mass)s %(unit)s of body mass") % {
                "mass": f"{limit.over_kg * unit.kilogram:.0f}",
                "unit": unit.mass,
            }
        else:
            whom = _("under 18 or age unknown")
        text += _("; %(whom)s at most %(high)s %(unit)s") % {
            "whom": whom,
            "high": told(limit.max_m),
            "unit": unit.length,
        }
    if height.start_m is not None:
        text += _("; at most %(high)s %(unit)s to begin with") % {
            "high": told(height.start_m),
            "unit": unit.length,
        }
    return text


def _needs(each: Exercise) -> list[str]:
    needs = each.needs
    told = [_("Pain: %(band)s") % {"band": PAIN[needs.pain]}]
    if needs.squat_per_mass:
        told.append(
            _("Squat maximum of %(times)s × body mass")
            % {"times": decimals(f"{needs.squat_per_mass:g}")}
        )
    if needs.landing_practice_weeks:
        told.append(
            ngettext(
                "%(weeks)s week of landing practice",
                "%(weeks)s weeks of landing practice",
                ceil(needs.landing_practice_weeks),
            )
            % {"weeks": decimals(f"{needs.landing_practice_weeks:g}")}
        )
    if needs.training_age_years:
        told.append(
            _("Years of regular training: %(years)s")
            % {"years": decimals(f"{needs.training_age_years:g}")}
        )
    if needs.age_years:
        told.append(_("At least %(years)s years old") % {"years": needs.age_years})
    if needs.soft_surface:
        told.append(_("A forgiving surface"))
    if needs.adult_supervision:
        told.append(_("Someone qualified watches a minor do it"))
    return told
