"""What follows an athlete as one JSON document: SI units, every interval 80 %."""

from typing import Any

from saltus.athlete.qualities import UNITS
from saltus.progress.change import Change
from saltus.progress.follow import Follow
from saltus.progress.response import BlockResponse, LearntResponse
from saltus.progress.retest import RetestDay
from saltus.quantities import INTERVAL, Estimate

__all__ = ["follow_document", "following_document"]


def follow_document(found: Follow) -> dict[str, Any]:
    """The document that ``saltus follow --json`` prints.

    Parameters
    ----------
    found : Follow
        Of one athlete.

    Returns
    -------
    dict
        Only strings, numbers, lists, dicts and None. ``jump`` (m) and ``qualities`` (each in its
        ``unit``) by date; what :func:`following_document` tells; load and soreness.
    """
    return {
        "athlete": found.name,
        "date": found.date.isoformat(),
        "interval": INTERVAL,
        "tested": [day.isoformat() for day in found.tested],
        "jump": {moment.date.isoformat(): _ends(moment.jump_m) for moment in found.moments},
        "qualities": {
            moment.date.isoformat(): {
                quality.value: {"unit": UNITS[quality], **_ends(estimate)}
                for quality, estimate in moment.qualities.items()
            }
            for moment in found.moments
        },
        **following_document(found),
        "load": [
            {
                "week": week.start.isoformat(),
                "sessions": week.sessions,
                "rated": week.rated,
                "session_load": week.session_load,
                "landings": week.landings,
                "landing_load": week.landing_load,
                "sport_landing_load": week.sport_landing_load,
            }
            for week in found.weeks
        ],
        "rises": [
            {
                "week": rise.week.isoformat(),
                "of": rise.of.value,
                "value": rise.value,
                "before": rise.before,
                "text": rise.text,
            }
            for rise in found.rises
        ],
        "soreness": [
            {
                "place": place.place,
                "lately": place.lately,
                "before": place.before,
                "text": place.text,
                "reports": [
                    {
                        "date": report.date.isoformat(),
                        "soreness": report.soreness,
                        "pain": report.pain,
                    }
                    for report in place.reports
                ],
            }
            for place in found.places
        ],
    }


def following_document(found: Follow) -> dict[str, Any]:
    """The part that is kept beside an assessment, since it comes out of the same posterior.

    Returns
    -------
    dict
        ``changes`` between test days (m), the one ``since_first``, ``plateau`` by quality in
        training, ``response`` by block (as shares of the quality), ``learnt`` by quality (as
        multipliers of the ordinary response), ``retest``, and ``errors`` of tests, each with its
        sentence.
    """
    return {
        "changes": [_change(change) for change in found.changes],
        "since_first": None if found.whole is None else _change(found.whole),
        "plateau": {
            each.quality.value: {
                "probability": each.probability,
                "probability_rising": each.probability_rising,
                "plateau": each.plateau,
                "since": each.since.isoformat(),
                "start": each.start.isoformat(),
                "earliest": each.earliest.isoformat(),
                "latest": each.latest.isoformat(),
                "next_quality": each.next_quality.value,
                "text": each.text,
            }
            for each in found.plateaus
        },
        "response": [_response(each) for each in found.response],
        "learnt": {each.quality.value: _learnt(each) for each in found.learnt},
        "retest": None if found.retest is None else _retest(found.retest),
        "errors": [[test, error.text] for test, error in found.errors],
    }


def _change(change: Change) -> dict[str, Any]:
    return {
        "from": change.since.isoformat(),
        "to": change.until.isoformat(),
        **_ends(change.change),
        "smallest_worthwhile": change.smallest,
        "probability_up": change.probability_up,
        "probability_real": change.probability_real,
        "verdict": change.verdict,
    }


def _response(block: BlockResponse) -> dict[str, Any]:
    return {
        "start": block.start.isoformat(),
        "end": block.end.isoformat(),
        "quality": block.quality.value,
        "dose_weeks": block.dose_weeks,
        "expected": _ends(block.expected),
        "observed": _ends(block.observed),
        "probability_more": block.probability_more,
        "text": block.text,
    }


def _learnt(learnt: LearntResponse) -> dict[str, Any]:
    return {
        "ordinary": _ends(learnt.ordinary),
        "learnt": _ends(learnt.learnt),
        "probability_stronger": learnt.probability_stronger,
        "text": learnt.text,
    }


def _retest(retest: RetestDay) -> dict[str, Any]:
    return {
        "date": retest.date.isoformat(),
        "test": retest.test,
        "title": retest.title,
        "minutes": retest.minutes,
        "due": retest.due,
        "text": retest.text,
    }


def _ends(estimate: Estimate) -> dict[str, float]:
    return {"estimate": estimate.value, "low": estimate.low, "high": estimate.high}
