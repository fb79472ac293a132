"""Reading an athlete's page: what limits the jump, where it comes from, and what if."""

import re

from playwright.sync_api import expect


def test_the_limiting_quality_can_be_read_and_followed_to_its_tests(demo):
    page = demo.open("/")
    page.get_by_role("link", name="Ines Adler", exact=True).click()
    limit = page.locator(".athlete-limit")
    expect(limit).to_contain_text("rate of force development")
    expect(limit).to_contain_text(re.compile(r"\d+ % sure"))
    behind = page.get_by_text("Which tests this comes from").first
    behind.focus()
    page.keyboard.press("Enter")
    expect(page.locator("details[open] table").first).to_contain_text(
        re.compile(r"countermovement jump of \d+ [A-Z][a-z]{2} 20\d\d")
    )


def test_every_chart_is_drawn_and_has_words_and_a_table(demo):
    page = demo.open("/")
    page.get_by_role("link", name="Ines Adler", exact=True).click()
    figures = page.locator("figure[data-chart]")
    expect(figures.first.locator("svg")).to_be_visible()
    count = figures.count()
    assert count >= 8
    expect(page.locator("figure[data-chart] svg.marks")).to_have_count(count)
    for i in range(count):
        figure = figures.nth(i)
        words = figure.locator("[data-canvas]").get_attribute("aria-label")
        assert len(words) > 20
        assert "Vega" not in words
        section = figure.locator("xpath=ancestor::section[1]")
        expect(section.locator("details table").first).to_be_attached()


def test_a_slider_answers_and_goes_by_keyboard(demo):
    page = demo.open("/")
    page.get_by_role("link", name="Ines Adler", exact=True).click()
    slider = page.get_by_role("slider", name=re.compile("^max strength"))
    slider.focus()
    for _ in range(10):
        page.keyboard.press("ArrowRight")
    answer = page.locator("#what-if-answer")
    expect(answer).to_contain_text(re.compile(r"\d+\.\d"))
    before = answer.inner_text()
    for _ in range(5):
        page.keyboard.press("ArrowRight")
    expect(answer).not_to_have_text(before, use_inner_text=True)


def test_what_if_is_answered_without_script(demo):
    page = demo.open("/", script=False)
    page.get_by_role("link", name="Ines Adler", exact=True).click()
    page.get_by_role("slider", name=re.compile("^max strength")).focus()
    page.keyboard.press("End")
    page.get_by_role("button", name="Ask").click()
    expect(page.locator("#what-if-answer")).to_contain_text(re.compile(r"\d+\.\d"))


def test_a_search_narrows_the_squad_as_it_is_typed(demo):
    page = demo.open("/")
    page.get_by_label("Search").press_sequentially("ost")
    expect(page.locator("#squad-rows tbody tr")).to_have_count(1)
    expect(page.get_by_role("link", name="Nele Ostrin", exact=True)).to_be_visible()


def test_what_needs_the_coachs_eye_is_said(demo):
    page = demo.open("/")
    jonas = page.locator("#squad-rows tr", has_text="Jonas Feld")
    expect(jonas).to_contain_text("No depth jumps until lifted")
    tomas = page.locator("#squad-rows tr", has_text="Tomas Breck")
    expect(tomas).to_contain_text(re.compile(r"\d sessions missed"))


def test_a_single_test_is_added_on_a_phone_without_a_test_day(demo):
    page = demo.open("/", width=360)
    page.get_by_role("link", name="Viktor Hallan", exact=True).click()
    page.get_by_role("link", name="Add a test").click()
    page.get_by_role("link", name="One-repetition maximum").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.get_by_label("Lift").select_option("trap_bar_deadlift")
    page.get_by_label("Load (kg)").fill("290")
    page.get_by_role("button", name="Save", exact=True).last.click()
    keep = page.get_by_role("button", name="Keep it")
    added = page.get_by_text("One-repetition maximum: added to the record.")
    expect(keep.or_(added)).to_be_visible()
    if keep.count():
        keep.click()
    expect(added).to_be_visible()
