import datetime as dt
import json

import pytest

from saltus.record import parse
from saltus.record.glance import Coming, Concern, ConcernKind, coming, concerns, glance, plan_glance

TODAY = dt.date(2026, 11, 25)  # a Wednesday

RECORD = """\
saltus_record = 1
[athlete]
name = "Invented"
[[body_mass]]
date = 2026-01-01
mass_kg = 70
"""


def facts(more=""):
    return json.loads(json.dumps(glance(parse(RECORD + more))))


def jump(day):
    return (
        f'[[test]]\nkind = "countermovement_jump"\ndate = {day}\nmethod = "mat"\nheights_cm = 34\n'
    )


def sessions(*days):
    return "".join(f"[[session]]\ndate = {day}\n" for day in days)


def plan(*days, end="2027-03-01"):
    weeks = [{"sessions": [{"date": day} for day in days]}]
    return plan_glance({"weeks": weeks, "start": "2026-10-01", "goal_date": end})


def kinds(more, with_plan=None):
    return [c.kind for c in concerns(facts(jump("2026-11-20") + more), with_plan, TODAY)]


def test_all_is_well():
    assert kinds("") == []


@pytest.mark.parametrize(
    ("level", "settled", "kind"),
    [
        (6, "true", ConcernKind.PAIN_STOP),
        (4, "false", ConcernKind.PAIN_STOP),
        (4, "true", ConcernKind.PAIN),
    ],
)
def test_a_sore_tendon_is_told(level, settled, kind):
    pain = (
        f'[[pain]]\ndate = 2026-11-20\nplace = "left knee"\nlevel = {level}\n'
        f"settled_next_morning = {settled}\n"
    )
    found = concerns(facts(jump("2026-11-20") + pain), None, TODAY)

    assert found == (Concern(kind, dt.date(2026, 11, 20), "left knee", level),)
    assert kind.health


def test_old_and_small_pains_are_not_told():
    assert kinds('[[pain]]\ndate = 2026-10-01\nplace = "knee"\nlevel = 7\n') == []
    assert kinds('[[pain]]\ndate = 2026-11-20\nplace = "knee"\nlevel = 2\n') == []


def test_the_latest_word_on_a_place_counts():
    worse = '[[pain]]\ndate = 2026-11-10\nplace = "Knee"\nlevel = 7\n'
    better = '[[pain]]\ndate = 2026-11-20\nplace = "knee"\nlevel = 1\n'

    assert kinds(worse + better) == []


def test_a_restriction_is_told_while_it_holds():
    assert kinds('[[restriction]]\nwhat = "landing"\nstart = 2026-11-01\n') == [
        ConcernKind.RESTRICTED
    ]
    assert kinds('[[restriction]]\nwhat = "landing"\nstart = 2026-11-01\nend = 2026-11-24\n') == []


def test_missed_sessions_are_counted_with_a_day_to_spare():
    planned = plan("2026-11-12", "2026-11-16", "2026-11-18", "2026-11-20", "2026-11-25")
    done = sessions("2026-11-17", "2026-11-21")

    found = concerns(facts(jump("2026-11-20") + done), planned, TODAY)

    assert found == (Concern(ConcernKind.SESSIONS_MISSED, dt.date(2026, 11, 12), number=2),)


def test_one_missed_session_or_no_log_at_all_is_not_told():
    planned = plan("2026-11-16", "2026-11-18", "2026-11-20")

    assert kinds(sessions("2026-11-16", "2026-11-18"), planned) == []
    assert kinds("", planned) == []


@pytest.mark.parametrize(
    ("end", "expected"),
    [
        ("2026-11-24", [ConcernKind.PLAN_ENDED]),
        ("2026-11-25", [ConcernKind.PLAN_ENDS]),
        ("2026-12-02", [ConcernKind.PLAN_ENDS]),
        ("2026-12-03", []),
    ],
)
def test_the_end_of_the_plan_is_told_a_week_ahead(end, expected):
    assert kinds("", plan("2026-11-25", end=end)) == expected


def test_a_test_is_overdue_after_eight_weeks():
    assert concerns(facts(jump("2026-09-30")), None, TODAY) == ()
    assert concerns(facts(jump("2026-09-29")), None, TODAY)[0].number == 57
    assert concerns(facts(), None, TODAY)[0].kind is ConcernKind.NEVER_TESTED


def test_what_comes_next():
    more = (
        '[[target]]\ndate = 2027-04-17\nwhat = "the final"\n'
        '[[target]]\ndate = 2026-12-05\npriority = "trial"\nwhat = "test day"\n'
        "[[target]]\ndate = 2026-11-01\n"
        '[[match]]\nweekdays = ["sat"]\n[[blocked]]\nstart = 2026-11-27\nend = 2026-11-30\n'
    )
    found = coming(facts(more), plan("2026-11-24", "2026-11-26"), TODAY)

    assert found == Coming(
        session=dt.date(2026, 11, 26),
        match=dt.date(2026, 12, 5),  # the Saturday before is blocked
        target=dt.date(2026, 12, 5),
        target_what="test day",
    )


def test_a_single_match_is_played_on_a_blocked_day_too():
    more = "[[match]]\ndate = 2026-11-28\n[[blocked]]\nstart = 2026-11-28\n"

    assert coming(facts(more), None, TODAY).match == dt.date(2026, 11, 28)


def test_nothing_comes():
    assert coming({}, None, TODAY) == Coming()
