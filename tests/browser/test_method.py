"""A coach copies the method, changes a phase in a form, and is told what is wrong with a slip."""

import re

from playwright.sync_api import expect


def test_a_copy_of_the_method_is_changed_in_forms(demo):
    page = demo.open("/")
    page.get_by_role("link", name="Method", exact=True).click()
    page.get_by_role("link", name="Make a copy").first.click()
    page.get_by_label("Name").fill("Harbour method")
    page.get_by_role("button", name=re.compile("copy", re.IGNORECASE)).click()
    expect(page.get_by_role("heading", name="Harbour method")).to_be_visible()
    change = page.locator(".method-phase .method-change").first
    change.click()
    weeks = page.get_by_label(re.compile("week", re.IGNORECASE)).first
    before = weeks.input_value()
    demo.watched.expected += ("422",)
    weeks.fill("nonsense")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator(".fault").first).to_be_visible()
    page.get_by_label(re.compile("week", re.IGNORECASE)).first.fill(before)
    squats(page).get_by_label("Sets").fill("3 to 4")
    page.get_by_role("button", name="Save", exact=True).click()
    again = page.get_by_role("button", name="Save it all the same")
    expect(again.or_(page.get_by_role("heading", name="Harbour method"))).to_be_visible()
    if again.is_visible():  # what the change brings is told before
        again.click()
    expect(page.get_by_role("heading", name="Harbour method")).to_be_visible()
    change = page.locator(".method-phase .method-change").first
    change.click()
    expect(squats(page).get_by_label("Sets")).to_have_value("3 to 4")


def squats(page):
    """The row of a phase's form that tells how the squat is used."""
    return page.locator(".method-uses tbody tr", has=page.get_by_label("Sets")).nth(1)


def test_the_method_that_ships_tells_its_sources(demo):
    page = demo.open("/methods/shipped/")
    page.get_by_text(re.compile(r"^\d+ rules$")).click()
    expect(page.locator("#rule ~ details")).to_contain_text(
        re.compile("common practice", re.IGNORECASE)
    )
