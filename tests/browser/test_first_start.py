"""From nothing to a squad: the first visit, the first athlete, with and without JavaScript."""

import re

import pytest
from playwright.sync_api import expect


def make_account(page, squad="Fjord Jumpers"):
    expect(page.get_by_role("heading", name="Welcome")).to_be_visible()
    page.get_by_label("Name", exact=True).fill("Olga Ness")
    page.get_by_label("E-mail").fill("olga@fjord.example")
    page.get_by_label("Name of your squad").fill(squad)
    page.get_by_label("Password").fill("a long enough phrase")
    page.get_by_role("button", name="Begin").click()


def add_athlete(page, name="Ada Ilves"):
    page.get_by_role("link", name="Add an athlete").click()
    page.get_by_label("Name", exact=True).fill(name)
    page.get_by_label(re.compile("^Mass|^Body mass|mass", re.IGNORECASE)).first.fill("70")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_text(f"{name} is in the squad.")).to_be_visible()


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_the_first_visit_makes_an_account_and_an_athlete(empty, script):
    page = empty.open("/", script=script)
    make_account(page)
    expect(page.get_by_role("heading", name="Fjord Jumpers")).to_be_visible()
    add_athlete(page)
    page.get_by_role("link", name="Squad", exact=True).click()
    expect(page.get_by_role("link", name="Ada Ilves", exact=True)).to_be_visible()
    page.get_by_role("button", name="Sign out").click()
    page.goto("/welcome/")  # closed once there is an account
    page.get_by_label("E-mail").fill("olga@fjord.example")
    page.get_by_label("Password").fill("a long enough phrase")
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("link", name="Ada Ilves", exact=True)).to_be_visible()


def test_a_slip_in_the_form_is_told_at_its_field(empty):
    page = empty.open("/")
    empty.watched.expected += ("422",)
    make_account(page)
    page.get_by_role("link", name="Add an athlete").click()
    page.get_by_label("Name", exact=True).fill("Ada Ilves")
    page.get_by_role("button", name="Add", exact=True).click()
    wrong = page.locator(".field.wrong")
    expect(wrong).to_have_count(1)
    expect(wrong).to_contain_text(re.compile("mass", re.IGNORECASE))
    expect(page.get_by_label("Name", exact=True)).to_have_value("Ada Ilves")
