"""What the core says reaches a German reader in German, and what is not known stays as it is."""

import ast
import datetime as dt
import re
from dataclasses import replace
from pathlib import Path

import pytest
from django.template import Context, Template
from django.utils import translation
from django.utils.safestring import SafeData, mark_safe

import saltus
from saltus.athlete.assess import assess
from saltus.athlete.cautions import about_pain
from saltus.athlete.health import Pain
from saltus.athlete.next_test import _TAPE_DISTANCE, CANDIDATES
from saltus.errors import Fault, RecordError
from saltus.record.example.folder import member_files
from saltus.record.example.squad import SQUAD
from saltus.record.reading import parse
from saltus.training.gates import check_gates
from saltus.training.method_file import load_method
from saltus.training.planner import make_plan
from saltus.training.replan import replan
from saltus.web.sentence_templates import TEMPLATES
from saltus.web.sentences import inside, told

SOME = ("tomas-breck", "kofi-arden", "nele-ostrin", "ruben-castell")
"""A beginner, and others with pains, a young age, and few free days."""


@pytest.fixture(autouse=True)
def german():
    with translation.override("de"):
        yield


@pytest.fixture(scope="module")
def said():
    """What assessments, plans and new plans of some of the invented squad say, by kind."""
    every = {kind: set() for kind in ("caution", "test", "unmet", "gate", "change", "item")}
    method = load_method()
    for member in SQUAD:
        if member.name not in SOME:
            continue
        record = parse(member_files(member)[0], recordings=False)
        person, situation = record.person, record.situation
        assessment = assess(person, record.observations, goal=record.goal, pains=record.pains)
        plan = make_plan(person, assessment, situation, method, time_limit_s=0.5)
        days = [session.date for session in plan.sessions]
        changed, changes = replan(
            plan,
            person,
            assessment,
            replace(situation, blocked=situation.blocked | {days[3], days[4]}),
            method,
            from_date=days[2],
            time_limit_s=0.5,
        )
        every["caution"] |= {*assessment.cautions, *plan.cautions, *changed.cautions}
        every["test"] |= {t for test in assessment.next_tests for t in (test.title, test.why)}
        every["unmet"] |= {*plan.unmet, *changed.unmet}
        every["change"] |= {text for change in changes for text in (change.what, change.why)}
        every["item"] |= {
            text for s in plan.sessions for i in s.items for text in (i.cue, i.why.text)
        }
        every["gate"] |= {
            str(closed)
            for exercise in method.exercises.values()
            for closed in check_gates(exercise, assessment, person, situation, situation.start)
        }
    return every


@pytest.mark.parametrize("kind", ["caution", "test", "unmet", "gate", "change", "item"])
def test_every_sentence_is_recognised(said, kind):
    assert len(said[kind]) >= 2
    assert sorted(text for text in said[kind] if text and told(text) == text) == []


def test_every_test_that_can_be_proposed_is_known():
    every = [*CANDIDATES, _TAPE_DISTANCE]
    titles = [candidate.title for candidate in every]
    whys = [
        f"It {c.shows}; expected to make the leading quality 71 % sure, now 64 %." for c in every
    ]
    assert [text for text in [*titles, *whys] if told(text) == text] == []


@pytest.mark.parametrize("level", [4, 7])
def test_a_pain_keeps_its_level_its_place_and_its_day(level):
    day = dt.date(2026, 3, 2)
    (text,) = about_pain([Pain(date=day, place="left <b>knee</b>", level=level)], day)
    german = told(text)
    assert german.startswith(f"Schmerz {level}/10, left <b>knee</b>, am 2. März 2026: ")


def test_figures_and_names_come_through_and_their_words_are_translated():
    assert told(
        "Box jump once a week instead of twice (strength-speed, the week of 2027-03-01): only 1 "
        "day of the week can hold it. Lost to it: Fri 2027-03-05 (near a match). One more free "
        "day would make room."
    ) == (
        "Kastensprung einmal pro Woche statt zweimal (Kraft bei Geschwindigkeit, in der Woche ab "
        "1. März 2027): Nur 1 Tag der Woche kommt dafür infrage. Dafür fallen weg: Fr, 5. März "
        "2027 (nah an einem Spiel). Ein freier Tag mehr würde Platz schaffen."
    )
    assert told("near the match of 2026-10-03") == "nah am Spiel vom 3. Okt. 2026"
    assert told("82.5 to 90") == "82,5 bis 90"
    assert told("left Achilles tendon") == "linke Achillessehne"


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", "line 4, person.born: 1 Mar 2026 is before the start, 5 Mar 2026: swap or "),
        ("de", "Zeile 4, person.born: 1. März 2026 liegt vor dem Beginn, 5. März 2026: "),
    ],
)
def test_days_are_written_as_whoever_reads_writes_them(language, said):
    fault = Fault(
        "person.born", "2026-03-01 is before the start, 2026-03-05: swap or correct them.", 4
    )
    with translation.override(language):
        assert told(str(fault)).startswith(said)


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("written", ["2026-13-01", "2026-02-30"])
def test_how_a_file_writes_days_is_told_as_it_is(language, written):
    fault = f'"{written}" is no date; write year-month-day, such as 2026-11-25.'
    with translation.override(language):
        assert f"{written}" in told(fault)
        assert "2026-11-25." in told(fault)


def test_figures_have_the_decimal_sign_of_the_language():
    assert told(
        "To touch 3.05 m the standing reach must be known: measure it flat-footed, one hand up, "
        "and add it to the record."
    ).startswith("Um 3,05 m zu berühren")
    assert told("2026-10-05, Back squat: 7 repetitions; 3 to 5 in this phase.") == (
        "5. Okt. 2026, Kniebeuge hinten: 7 Wiederholungen; 3 bis 5 in dieser Phase."
    )
    assert told("name.csv: 41.5 kg stood on nothing.") == "name.csv: 41.5 kg stood on nothing."


@pytest.mark.parametrize("what", ["depth_jump", "depth jump", "Depth-jump"])
def test_what_is_restricted_is_told_in_words(what):
    assert told(f"depth jump is restricted: {what} (after surgery: ask first).") == (
        "Tiefsprung ist eingeschränkt: Tiefsprünge (after surgery: ask first)."
    )


def test_reasons_one_after_the_other_are_each_told():
    one = "depth jump is restricted: depth jump (ask: first). It opens after 2026-12-20."
    assert told(f"{one} Or: {one}").count("Frei nach dem 20. Dez. 2026.") == 2


def test_a_kind_of_work_that_finds_no_room_is_told():
    assert told(
        "Depth jump not at all instead of once a week (reactive, the week of 2026-03-02): More "
        "free days or minutes would make room."
    ).endswith(
        "gar nicht statt einmal pro Woche (reactive, in der Woche ab 2. März 2026): Mehr freie "
        "Tage oder Minuten würden Platz schaffen."
    )


def test_each_line_of_a_faulty_file_is_told():
    error = RecordError(
        "a.toml",
        [
            Fault(
                "test[0].load_kg",
                "900 kg cannot be right: the value lies between 1 kg and "
                "500.5 kg; check the number and its unit.",
                3,
            ),
            Fault("gym", "nobody knows this fault."),
        ],
    )
    assert told(str(error)) == (
        "a.toml:\n  Zeile 3, test[0].load_kg: 900 kg kann nicht stimmen: Der Wert liegt zwischen "
        "1 kg und 500,5 kg; prüfe die Zahl und ihre Einheit.\n  gym: nobody knows this fault."
    )


@pytest.mark.parametrize(
    "text",
    [
        "",
        "Nobody ever wrote this sentence, not even once.",
        "Left out: something that nobody knows.",
        "knees, once in a while",
    ],
)
def test_what_is_not_known_stays_as_it_is(text):
    assert told(text) == text


def test_english_readers_get_what_the_core_says():
    text = "The latest test is of 2026-03-02: the figures have grown vague."
    with translation.override("en"):
        assert told(text) == text.replace("2026-03-02", "2 Mar 2026")
    assert told(text) == "Der letzte Test ist vom 2. März 2026: Die Zahlen sind ungenau geworden."


def test_no_text_becomes_safe_for_html():
    text = '"<i>": told'
    assert not isinstance(told(mark_safe("no session")), SafeData)
    page = Template("{{ text|told }}").render(Context({"text": f"<b>x</b> is restricted: {text}."}))
    assert "<" not in page
    assert "ist eingeschränkt" in page


SAMPLES = {
    "weeks": ("the week of 2027-01-04", "der Woche ab 4. Jan. 2027"),
    "load": ("60 kg", "60 kg"),
    "before": ("without load", "ohne Last"),
    "times": ("once", "einmal"),
    "other_times": ("3 times", "3-mal"),
    "years": ("1 year", "1 Jahr"),
    "other_years": ("5 months", "5 Monate"),
    "time": ("1 week", "1 Woche"),
    "free": ("2 weeks", "2 Wochen"),
    "later": ("3 weeks", "3 Wochen"),
    "shows": ("shows max strength alone", "zeigt die Maximalkraft allein"),
    "effect": (
        "not expected to change the picture much (push-off speed leads)",
        "er dürfte am Bild wenig ändern (Abdruckgeschwindigkeit führt)",
    ),
}
DATES = ("date", "to", "dates", "first_date", "last_date")
NUMBERS = ["number", "other", "least", "most", "level", "sets", "reps", "old_sets", "old_reps"]


def sample(name):
    """Something that may stand for a placeholder, and the same in German."""
    name = name.rstrip("0123456789")
    if name in DATES:
        return "2027-03-02", "2. März 2027"
    if name in NUMBERS:
        return ("7",) * 2
    if name.endswith("weekday"):
        return "Tue", "Di"
    if name == "range":
        return "2.5 to 4", "2,5 bis 4"
    if name == "plates":
        return "20 + 1.25", "20 + 1,25"
    if name in ("said", "why", "rest", "reasons"):
        return "blocked", "gesperrt"
    return SAMPLES.get(name, ("<xyz>",) * 2)


@pytest.mark.parametrize("template", TEMPLATES)
def test_every_template_is_found_with_anything_in_it(template):
    names = re.findall(r"%\((\w+)\)s", template)
    text = template % {name: sample(name)[0] for name in names}
    german = translation.gettext(template) % {name: sample(name)[1] for name in names}
    assert told(text) == german


def test_the_templates_say_what_the_core_says():
    source = Path(saltus.__file__).parent
    above = {"figures", "reports", "web", "cli"}
    written = "\0".join(
        node.value
        for path in sorted(source.rglob("*.py"))
        if not above & set(path.relative_to(source).parts)
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    )

    def pieces(text):
        """Into how few pieces of the core's texts a text can be cut."""
        count = 0
        while text:
            end = next((n for n in range(len(text), 0, -1) if text[:n] in written), 0)
            if end == 0:
                return 99
            text, count = text[end:], count + 1
        return count

    stale = [
        (template, part)
        for template in TEMPLATES
        for part in re.split(r"%\(\w+\)s", template.replace("%%", "%"))
        # The core itself puts a sentence together from up to four.
        if pieces(part) > 4
    ]
    assert stale == []


def test_nouns_keep_their_capital_in_german():
    assert inside("Einwiederholungsmaximum") == "Einwiederholungsmaximum"
    with translation.override("en"):
        assert inside("One-repetition maximum") == "one-repetition maximum"
