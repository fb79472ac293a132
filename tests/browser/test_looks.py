"""The phone of 360 px and the dark; and the pictures of docs/, made by the same run."""

import os
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

PICTURES = Path(__file__).parents[2] / "docs" / "pages"


def background(page):
    red, green, blue = re.findall(
        r"\d+", page.evaluate("getComputedStyle(document.body).backgroundColor")
    )[:3]
    return (int(red) + int(green) + int(blue)) / 3


def test_in_the_dark_the_page_and_its_charts_are_dark(demo):
    page = demo.open("/", dark=True)
    assert background(page) < 60
    with page.expect_response(re.compile(r"/chart.*dark=1")) as asked:
        page.get_by_role("link", name="Ines Adler", exact=True).click()
    assert asked.value.ok
    expect(page.locator("figure[data-chart] svg.marks").first).to_be_visible()
    inks = page.evaluate(
        """() => [...document.querySelectorAll('figure[data-chart] svg text')].map(
          (text) => getComputedStyle(text).fill.match(/\\d+/g).slice(0, 3).map(Number))"""
    )
    assert inks
    assert min(sum(ink) / 3 for ink in inks) > 110  # light letters on a dark ground


def test_the_squad_reads_on_a_phone(demo):
    page = demo.open("/", width=360)
    row = page.locator("#squad-rows tr", has_text="Ines Adler")
    expect(row).to_contain_text(re.compile(r"\d+\.\d"))
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    size = page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)")
    assert size >= 16


def test_the_keyboard_reaches_the_page_past_the_navigation(demo):
    page = demo.open("/")
    page.keyboard.press("Tab")
    skip = page.get_by_role("link", name="Skip to the page")
    expect(skip).to_be_focused()
    assert skip.bounding_box()["x"] >= 0
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_be_focused()


def picture(page, name, *, height):
    """Take a picture, if asked for: they are committed, and looked at before."""
    page.evaluate("document.fonts.ready")
    page.set_viewport_size({"width": page.viewport_size["width"], "height": height})
    taken = page.screenshot(animations="disabled", caret="hide")
    assert len(taken) > 10_000
    if os.environ.get("SALTUS_PICTURES"):
        PICTURES.mkdir(parents=True, exist_ok=True)
        (PICTURES / f"{name}.png").write_bytes(taken)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_pictures_of_an_athlete(demo, dark):
    page = demo.open("/", dark=dark)
    page.get_by_role("link", name="Ines Adler", exact=True).click()
    expect(page.get_by_role("heading", level=1, name="Ines Adler")).to_be_visible()
    figures = page.locator("figure[data-chart]")
    expect(page.locator("figure[data-chart] svg.marks")).to_have_count(figures.count())
    picture(page, "athlete-dark" if dark else "athlete", height=1250)


def test_pictures_of_the_other_pages(demo):
    page = demo.open("/")
    picture(page, "squad", height=900)
    page.get_by_role("link", name="Ines Adler", exact=True).click()
    page.get_by_role("link", name="Plan", exact=True).click()
    page.set_viewport_size({"width": 1280, "height": 1000})
    page.get_by_role("link", name="Go to this week").click()
    picture(page, "plan", height=1000)
    page.get_by_role("link", name="Ines Adler", exact=True).click()
    page.get_by_role("link", name="Log", exact=True).click()
    expect(page.locator(".log-rows").first).to_be_visible()
    picture(page, "log", height=1000)
    page.get_by_role("link", name="Squad", exact=True).click()
    page.get_by_role("link", name="Ruben Castell", exact=True).click()
    page.get_by_role("link", name="Plan", exact=True).click()
    expect(page.locator("#proposal")).to_be_visible()
    picture(page, "proposal", height=1000)
    page.get_by_role("link", name="Test days", exact=True).click()
    page.locator("main a", has_text="Autumn tests").click()
    picture(page, "test-day", height=800)
    phone = demo.open("/", width=360)
    picture(phone, "phone", height=740)
