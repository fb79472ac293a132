import datetime as dt

import pytest

from saltus.web.models import PlanRun, StoredPlan
from saltus.web.plans.stored import accept, held, proposed
from saltus.web.records import change_text, record_of

pytestmark = pytest.mark.django_db


def items(stored, day):
    return [
        item["exercise"]
        for week in stored.plan["weeks"]
        for session in week["sessions"]
        if session["date"] == day
        for item in session["items"]
    ]


def day_of(iso):
    return dt.date.fromisoformat(iso)


@pytest.fixture
def ahead(planned, session_days):
    """Days of sessions from next Monday on."""
    return [day for day in session_days(held(planned)) if day >= "2027-01-11"]


def test_a_session_is_moved_and_the_change_is_shown_before_it_holds(
    coach, planned, address, work_off, ahead
):
    day = ahead[0]
    to = (day_of(day) + dt.timedelta(days=2)).isoformat()
    before = held(planned)

    answer = coach.post(address(planned, f"{before.number}/move/"), {"date": day, "to": to})

    assert answer.status_code == 302
    assert held(planned) == before
    proposal = work_off(planned)
    assert proposal.breaches == []
    assert items(proposal, to)
    assert not set(items(proposal, day)) & set(items(before, day))
    assert any(change["why"] == "as you settled it" for change in proposal.changes)
    page = coach.get(address(planned)).content.decode()
    assert "Settled by hand" in page
    assert page.count("Leave this day to the planner") >= 2  # in the session, and in the list
    assert "What would change, and why" in page
    assert to in page
    assert '<span class="plan-flag">new</span>' in page or "changed</span>" in page
    coach.post(address(planned, f"{proposal.number}/accept/"))
    assert items(held(planned), to) == items(proposal, to)
    # It stays there when the plan is made again, until it is let go.
    coach.post(address(planned, f"{proposal.number}/again/"))
    again = work_off(planned)
    assert again.changes == []
    assert items(again, to) == items(proposal, to)
    coach.post(address(planned, f"{again.number}/let-go/"), {"date": to})
    free = work_off(planned)
    assert free.plan["pins"] == []


def test_edits_follow_on_one_another_before_any_is_accepted(
    coach, planned, address, work_off, ahead
):
    before = held(planned)
    first, second = ahead[0], ahead[3]
    saturday = day_of(first) + dt.timedelta(days=5 - day_of(first).weekday())
    later = day_of(second) + dt.timedelta(days=5 - day_of(second).weekday())

    coach.post(
        address(planned, f"{before.number}/move/"), {"date": first, "to": saturday.isoformat()}
    )
    one = work_off(planned)
    coach.post(address(planned, f"{one.number}/move/"), {"date": second, "to": later.isoformat()})
    two = work_off(planned)

    assert items(two, saturday.isoformat())
    assert items(two, later.isoformat())
    assert two.based_on == before.number
    pinned = {pin["date"] for pin in two.plan["pins"]}
    assert {saturday.isoformat(), later.isoformat()} <= pinned


def test_a_move_that_cannot_be_is_a_sentence(coach, planned, address, ahead):
    number = held(planned).number
    move = address(planned, f"{number}/move/")

    onto_test = coach.post(move, {"date": ahead[0], "to": "2027-02-06"}, follow=True)
    past = coach.post(move, {"date": ahead[0], "to": "2027-01-05"}, follow=True)
    nothing = coach.post(move, {"date": ahead[0]}, follow=True)

    assert b"outside the plan" in onto_test.content
    assert b"This day is over" in past.content
    assert b"Give the day to which the session moves." in nothing.content
    assert not PlanRun.objects.exists()


def test_an_exercise_is_swapped_for_one_that_may_be_given(coach, planned, address, work_off, ahead):
    stored = held(planned)
    day = next(d for d in ahead if "back_squat" in items(stored, d))
    swap = address(planned, f"{stored.number}/swap/?date={day}&exercise=back_squat")

    page = coach.get(swap)

    form = page.context["form"]
    allowed = [value for value, _ in form.fields["by"].choices]
    assert "front_squat" in allowed
    assert "leg_press" not in allowed  # the gym has none
    assert b"leg press needs" in page.content
    assert coach.post(swap, {"by": "leg_press"}).status_code == 422
    coach.post(swap, {"by": "front_squat"})
    proposal = work_off(planned)
    assert "front_squat" in items(proposal, day)
    assert "back_squat" not in items(proposal, day)
    assert proposal.breaches == []
    later = [d for d in ahead if d > day and "back_squat" in items(stored, d)]
    assert any("back_squat" in items(proposal, d) for d in later)


def test_a_swap_can_hold_from_a_day_on(coach, planned, address, work_off, ahead):
    stored = held(planned)
    day = next(d for d in ahead if "back_squat" in items(stored, d))
    swap = address(planned, f"{stored.number}/swap/?date={day}&exercise=back_squat")

    coach.post(swap, {"by": "front_squat", "onward": "yes"})

    proposal = work_off(planned)
    assert not any("back_squat" in items(proposal, d) for d in ahead)
    assert proposal.what.startswith("Front squat instead of Back squat from")


def test_there_is_nothing_to_swap_where_nothing_stands(coach, planned, address, ahead):
    swap = address(planned, f"{held(planned).number}/swap/")
    for query in ("", "?date=x&exercise=back_squat", f"?date={ahead[0]}&exercise=nothing"):
        assert coach.get(swap + query).status_code == 404


def test_blocked_days_go_into_the_record_and_the_plan_follows(
    coach, planned, address, work_off, ahead
):
    page = coach.get(address(planned, "calendar/"))
    assert page.status_code == 200
    day = ahead[1]

    coach.post(
        address(planned, "calendar/block/"),
        {"start": day, "why": "school trip", "revision": planned.revision},
    )

    planned.refresh_from_db()
    (blocked,) = record_of(planned, recordings=False).blocked
    assert (blocked.start.isoformat(), blocked.end.isoformat(), blocked.why) == (
        day,
        day,
        "school trip",
    )
    assert "# invented" in planned.text  # comments stay
    proposal = work_off(planned)
    assert items(held(planned), day)
    assert items(proposal, day) == []
    assert any(change["why"] == "the day is blocked" for change in proposal.changes)
    assert "school trip" in coach.get(address(planned)).content.decode()
    coach.post(
        address(planned, "calendar/remove/"),
        {"list": "blocked", "place": "0", "revision": planned.revision},
    )
    planned.refresh_from_db()
    assert record_of(planned, recordings=False).blocked == ()


def test_matches_practices_and_free_time_go_into_the_record_too(coach, planned, address, work_off):
    coach.post(
        address(planned, "calendar/sport/"),
        {
            "kind": "match",
            "date": "2027-01-16",
            "landings": "40",
            "what": "cup",
            "revision": planned.revision,
        },
    )
    work_off(planned)
    planned.refresh_from_db()
    assert "Match, cup, 40 landings" in coach.get(address(planned)).content.decode()
    coach.post(
        address(planned, "calendar/sport/"),
        {
            "kind": "practice",
            "weekdays": ["wed"],
            "landings": "30",
            "what": "team practice",
            "revision": planned.revision,
        },
    )
    work_off(planned)
    planned.refresh_from_db()
    coach.post(
        address(planned, "calendar/minutes/"),
        {"mon": "60", "wed": "", "fri": "45", "revision": planned.revision},
    )
    proposal = work_off(planned)
    shown = coach.get(address(planned)).content.decode()
    assert "Team practice, 30 landings" in shown
    assert "Practice, team practice" not in shown

    planned.refresh_from_db()
    record = record_of(planned, recordings=False)
    told = {(s.kind.value, s.date, s.weekdays, s.landings) for s in record.sport}
    assert told == {
        ("match", dt.date(2027, 1, 30), (), 20.0),
        ("match", dt.date(2027, 1, 16), (), 40.0),
        ("practice", None, ("wed",), 30.0),
    }
    assert record.minutes == {"mon": 60, "fri": 45}
    weekdays = {
        day_of(session["date"]).weekday()
        for week in proposal.plan["weeks"]
        for session in week["sessions"]
        if session["date"] >= "2027-01-06"
    }
    assert weekdays <= {0, 4}


@pytest.mark.parametrize("when", [{"date": "2027-01-30"}, {"weekdays": ["tue"]}])
def test_a_second_match_on_a_day_is_asked_about_once(coach, planned, address, when):
    page = address(planned, "calendar/sport/")
    given = {"kind": "match", "landings": "20", **when}

    def post(**more):
        planned.refresh_from_db()
        PlanRun.objects.all().delete()
        return coach.post(page, given | {"revision": planned.revision} | more)

    if "weekdays" in when:
        assert post().status_code == 302  # there is no other yet
    asked = post()
    assert asked.status_code == 422
    assert b"There is a match on that day already" in asked.content
    assert b'type="checkbox" name="besides"' in asked.content
    assert b'type="checkbox" name="besides"' not in coach.get(address(planned, "calendar/")).content
    before = len(record_of(planned, recordings=False).sport)
    assert post(kind="practice").status_code == 302  # of another kind
    assert post(besides="on").status_code == 302
    planned.refresh_from_db()
    assert len(record_of(planned, recordings=False).sport) == before + 2


def test_what_is_wrong_in_a_form_of_the_calendar_is_told_at_its_field(coach, planned, address):
    wrong = coach.post(
        address(planned, "calendar/block/"),
        {"start": "2027-01-20", "end": "2027-01-10", "revision": planned.revision},
    )
    neither = coach.post(
        address(planned, "calendar/sport/"),
        {"kind": "match", "landings": "0", "revision": planned.revision},
    )

    assert (wrong.status_code, neither.status_code) == (422, 422)
    assert b"The last day is before the first." in wrong.content
    assert b"Give either a day or weekdays." in neither.content
    assert not PlanRun.objects.exists()


def test_two_who_edit_the_same_plan_are_told(
    coach, planned, editor, client_of, address, work_off, ahead
):
    seen = held(planned)
    saturday = day_of(ahead[0]) + dt.timedelta(days=5 - day_of(ahead[0]).weekday())
    wish = {"date": ahead[0], "to": saturday.isoformat()}
    client_of(editor).post(address(planned, f"{seen.number}/move/"), wish)
    theirs = work_off(planned)

    late = coach.post(address(planned, f"{seen.number}/move/"), wish)

    assert late.status_code == 409
    assert b"was changed by Egil since you opened it" in late.content
    assert proposed(planned) == theirs
    assert StoredPlan.objects.count() == 2


def test_a_proposal_against_a_plan_that_no_longer_holds_is_not_kept(
    coach, planned, owner, address, work_off, monkeypatch
):
    seen = held(planned)
    coach.post(address(planned, f"{seen.number}/again/"))
    run = PlanRun.objects.get()
    from saltus.web.plans import working_out

    real = working_out.audit

    def overtaken(*args, **kwargs):
        other = StoredPlan.objects.create(
            athlete=planned,
            number=7,
            plan=seen.plan,
            made_from_revision=planned.revision,
            based_on=seen.number,
        )
        accept(planned, other.number, owner)
        return real(*args, **kwargs)

    monkeypatch.setattr(working_out, "audit", overtaken)

    assert working_out.work(run.token) is None
    assert held(planned).number == 7
    assert proposed(planned) is None
    assert "Nothing was overwritten" in PlanRun.objects.get().fault


def test_the_calendar_of_a_record_that_was_changed_meanwhile_is_left_alone(
    coach, planned, owner, address
):
    seen = planned.revision
    change_text(planned, owner, planned.text + "\n# a note\n", what="note", revision=seen)

    late = coach.post(
        address(planned, "calendar/block/"), {"start": "2027-01-20", "revision": seen}
    )

    assert late.status_code == 409
    planned.refresh_from_db()
    assert record_of(planned, recordings=False).blocked == ()


def test_what_is_over_cannot_be_moved_and_offers_no_form(coach, planned, address, session_days):
    past = next(day for day in session_days(held(planned)) if day < "2027-01-06")
    page = coach.get(address(planned)).content.decode()
    assert f'data-session="{past}"' not in page
    assert f'id="day-{past}"' in page

    answer = coach.post(
        address(planned, f"{held(planned).number}/move/"),
        {"date": past, "to": "2027-01-13"},
        follow=True,
    )

    assert b"This day is over" in answer.content
    assert not PlanRun.objects.exists()


def test_a_first_plan_can_be_edited_before_it_is_accepted(
    coach, jumper, address, work_off, session_days
):
    coach.post(address(jumper, "new/"), {"start": "2027-01-11", "method": "shipped"})
    first = work_off(jumper)
    day = session_days(first)[0]
    to = (day_of(day) + dt.timedelta(days=5)).isoformat()

    coach.post(address(jumper, f"{first.number}/move/"), {"date": day, "to": to})

    second = work_off(jumper)
    assert items(second, to) == items(first, day)
    assert second.based_on is None
    assert any(change["why"] == "as you settled it" for change in second.changes)
    coach.post(address(jumper, f"{second.number}/accept/"))
    assert held(jumper) == second
