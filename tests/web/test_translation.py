"""The German words are complete, agree with their English ones, and are compiled."""

import ast
import gettext
import re
from pathlib import Path

import pytest
from django.utils import translation
from django.utils.translation.template import templatize

import saltus.web
from saltus.athlete.qualities import WORDS
from saltus.web.core_words import core_words

WEB = Path(saltus.web.__file__).parent
CATALOGUE = WEB / "locale" / "de" / "LC_MESSAGES"
HOW = "cd src/saltus/web; django-admin makemessages -l de; translate; django-admin compilemessages"

ONE = {"_", "gettext", "gettext_lazy", "gettext_noop", "_l", "lazy"}
SEVERAL = {"ngettext", "ngettext_lazy"}
PLACEHOLDER = re.compile(r"%%|%\([^)]*\)[a-z]|\{[^}]*\}")


def entries():
    """Entries of the .po file: flags, msgid, plural, texts."""
    for block in (CATALOGUE / "django.po").read_text(encoding="utf-8").strip().split("\n\n"):
        entry, key = {"flags": ""}, None
        for line in block.splitlines():
            if line.startswith("#,"):
                entry["flags"] += line
            elif match := re.match(r'(msgid|msgid_plural|msgstr(?:\[\d])?) (".*")$', line):
                key = match[1]
                entry[key] = ast.literal_eval(match[2])
            elif line.startswith('"'):
                entry[key] += ast.literal_eval(line)
        yield entry


ENTRIES = [entry for entry in entries() if entry["msgid"]]


def texts(entry):
    return [text for key, text in entry.items() if key.startswith("msgstr")]


def test_every_text_has_its_german_words():
    assert len(ENTRIES) > 1000
    assert [e["msgid"] for e in ENTRIES if not all(texts(e))] == [], HOW
    assert [e["msgid"] for e in ENTRIES if "fuzzy" in e["flags"]] == [], HOW
    assert [e["msgid"] for e in ENTRIES if ("msgid_plural" in e) != (len(texts(e)) == 2)] == []


def test_what_is_filled_in_is_the_same_in_both():
    wrong = [
        (entry["msgid"], texts(entry)[-1])
        for entry in ENTRIES
        if set(PLACEHOLDER.findall(entry.get("msgid_plural", entry["msgid"])))
        != set(PLACEHOLDER.findall(texts(entry)[-1]))
    ]
    assert wrong == []


def test_the_compiled_catalogue_says_what_the_text_says():
    with (CATALOGUE / "django.mo").open("rb") as file:
        compiled = gettext.GNUTranslations(file)
    said = {}
    for entry in ENTRIES:
        if "msgid_plural" in entry:
            said |= {(entry["msgid"], n): text for n, text in enumerate(texts(entry))}
        else:
            said[entry["msgid"]] = texts(entry)[0]
    kept = {key: text for key, text in compiled._catalog.items() if key}
    assert kept == said, HOW


def in_code(text):
    """Literal texts that Python code gives to gettext, under any of its names."""
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.Call):
            continue
        name = getattr(node.func, "id", getattr(node.func, "attr", ""))
        count = 1 if name in ONE else 2 if name in SEVERAL else 0
        arguments = node.args[:count]
        if count and all(isinstance(getattr(a, "value", None), str) for a in arguments):
            yield arguments[0].value


def in_template(text):
    """Texts that a template gives to gettext, by Django's own reading of it."""
    for match in _CALL.finditer(templatize(text)):
        yield ast.literal_eval(match[1])


_STRING = r"u?(?:'(?:\\.|[^'\\])*'|\"(?:\\.|[^\"\\])*\")"
_CALL = re.compile(rf"(?<![A-Za-z_])(?:n?gettext|_)\(({_STRING})")


def test_every_text_of_the_pages_is_in_the_catalogue():
    known = {entry["msgid"] for entry in ENTRIES}
    missing = {}
    for path in sorted([*WEB.rglob("*.py"), *WEB.rglob("*.html")]):
        if "migrations" in path.parts:
            continue
        text = path.read_text(encoding="utf-8")
        found = in_code(text) if path.suffix == ".py" else in_template(text)
        if new := sorted({words for words in found if words.strip()} - known):
            missing[str(path.relative_to(WEB))] = new
    assert missing == {}, HOW


def test_the_words_of_the_core_are_in_the_catalogue():
    assert set(core_words()) - {entry["msgid"] for entry in ENTRIES} == set(), HOW
    assert set(WORDS.values()) <= set(core_words())


def test_the_search_for_texts_finds_them():
    assert list(in_code("x = _('one'); ngettext('two', 'twos', n); _(three)")) == ["one", "two"]
    template = (
        "{% translate 'one' %}{% blocktranslate count n=n %}two{% plural %}twos"
        "{% endblocktranslate %}{% blocktranslate with n=x %}three {{ n }}{% endblocktranslate %}"
    )
    assert sorted(set(in_template("{% load i18n %}" + template))) == ["one", "three %(n)s", "two"]


@pytest.mark.django_db
def test_a_page_is_german_for_whoever_wants_it(coach, owner, athlete):
    owner.language = "de"
    owner.save()

    page = coach.get("/settings/")

    assert "<h1>Einstellungen</h1>" in page.text
    assert "Settings" not in page.text


@pytest.mark.django_db
def test_the_browser_is_asked_before_somebody_signs_in(client, owner):
    page = client.get("/sign-in/", headers={"accept-language": "de-AT,de;q=0.9"})

    assert "Passwort" in page.text
    assert page.headers["Content-Language"] == "de"
    assert "Password" in client.get("/sign-in/", headers={"accept-language": "fr"}).text


def test_qualities_have_german_words():
    with translation.override("de"):
        assert [translation.gettext(words) for words in WORDS.values()] == [
            "Maximalkraft",
            "Kraftanstiegsrate",
            "Abdruckgeschwindigkeit",
            "Dehnungs-Verkürzungs-Gewinn",
            "Abdruckweg",
        ]
