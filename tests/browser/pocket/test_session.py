"""A session on a phone: two taps a set, what follows, what hurts, what was not planned."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

_SMALLEST_PX = 44
"""For what is pressed during training: WCAG 2.2, 2.5.5 (AAA) asks 44 px; 2.5.8 (AA) asks 24."""


def heading(page, name):
    expect(page.get_by_role("heading", level=1, name=name)).to_be_visible()


def lifted(phone):
    """Place of the first exercise with a load and a question for what was left."""
    items = phone.today()["items"]
    return next(
        i
        for i, each in enumerate(items)
        if each["load_kg"] and "reserve" in each["asks"] and not each["closed"]
    )


def violations(page):
    page.evaluate(Axe().axe_script)
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
    wide = page.evaluate("document.documentElement.scrollWidth")
    told = [f"{each['id']}: {[node['html'][:200] for node in each['nodes'][:3]]}" for each in found]
    return told + ([f"{wide} px wide"] if wide > 360 else [])


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_every_screen_is_in_nobodys_way_on_a_phone(host, dark):
    phone = host.phone(dark=dark)
    page = phone.page
    agree = page.get_by_role("button", name="Agree")
    expect(agree).to_be_visible(timeout=120_000)
    wrong = {"cautions": violations(page)}
    phone.ready()
    place = lifted(phone)
    wrong["today"] = violations(page)
    page.get_by_role("link", name="Begin").first.click()
    expect(page.get_by_role("button", name="Begin")).to_be_visible()
    wrong["session"] = violations(page)
    page.get_by_role("button", name="Begin").click()
    heading(page, "How are you today?")
    page.get_by_role("button", name="Add a place").last.click()
    wrong["before"] = violations(page)
    page.get_by_role("button", name="Go on", exact=True).click()
    expect(page.get_by_text(re.compile("^Exercise 1 of"))).to_be_visible()
    phone.to(place)
    wrong["exercise"] = violations(page)
    page.get_by_role("button", name="Done:").click()
    expect(page.locator("#quick-heading")).to_be_visible()
    wrong["second tap"] = violations(page)
    page.get_by_role("button", name="Other numbers").click()
    expect(page.locator("#full-heading")).to_be_visible()
    wrong["all numbers"] = violations(page)
    page.get_by_role("button", name="Keep").click()
    expect(phone.sets()).to_have_count(1)
    wrong["after a set"] = violations(page)
    page.get_by_role("button", name="Leave out").click()
    expect(page.locator("#skip-heading")).to_be_visible()
    wrong["left out"] = violations(page)
    page.get_by_role("button", name="Back").click()
    page.get_by_role("button", name="It hurts").click()
    expect(page.locator("#hurts-heading")).to_be_visible()
    wrong["hurts"] = violations(page)
    page.evaluate("location.hash = location.hash.replace(/exercise.*/, 'after')")
    heading(page, "How hard was it?")
    wrong["after"] = violations(page)
    page.evaluate("location.hash = '/free'")
    heading(page, "Other training")
    wrong["free"] = violations(page)
    assert {name: found for name, found in wrong.items() if found} == {}


def test_a_set_takes_two_taps_and_big_ones(host):
    phone = host.phone().ready()
    page = phone.page
    phone.begin()
    place = lifted(phone)
    phone.to(place)
    done = page.get_by_role("button", name="Done:")
    assert done.evaluate("each => each.getBoundingClientRect().height") >= 1.5 * _SMALLEST_PX
    done.click()
    two = page.get_by_role("group", name="How many more could you have done?")
    buttons = two.get_by_role("button")
    expect(buttons).to_have_count(6)
    sizes = buttons.evaluate_all(
        "all => all.map(each => each.getBoundingClientRect()).map(r => Math.min(r.width, r.height))"
    )
    assert min(sizes) >= _SMALLEST_PX
    buttons.nth(2).click()
    expect(phone.sets()).to_have_count(1)
    expect(phone.sets()).to_contain_text("2 left")
    phone.state("All sent")
    expect(phone.sets().locator("[data-entry]")).to_have_text("Sent")
    item = phone.today()["items"][place]
    (done,) = host.logged().sets
    assert (done.exercise, done.reps, done.reserve) == (item["exercise"], item["reps"], 2)
    assert done.load_kg == pytest.approx(item["load_kg"])


def test_load_plates_and_last_time_stand_large_and_plain(host):
    phone = host.phone().ready()
    phone.begin()
    place = lifted(phone)
    phone.to(place)
    item = phone.today()["items"][place]
    figure = phone.page.locator(".pocket-figure").first
    expect(figure).to_have_text(re.compile(rf"^{item['load_kg']:g}\s(kg|lb)$"))
    assert figure.evaluate("(e) => parseFloat(getComputedStyle(e).fontSize)") >= 40
    if item["plates"]:
        plates = " + ".join(f"{each:g}" for each in item["plates"])
        expect(phone.page.locator(".pocket-plates")).to_contain_text(plates)
    if item["last"]:
        expect(phone.page.get_by_text("Last time")).to_be_visible()


def test_the_next_load_follows_the_set_with_its_reason(host):
    phone = host.phone().ready()
    phone.begin()
    items = phone.today()["items"]
    place, answer = next(
        (i, each)
        for i, item in enumerate(items)
        if "reserve" in item["asks"]
        for each in item["answers"]
        if each["when"].get("missed") == [2, None] and stands_for(each, item["load_kg"])
    )
    phone.to(place)
    page = phone.page
    page.get_by_role("button", name="Other numbers").click()
    page.get_by_role("textbox", name="Repetitions done").fill(str(items[place]["reps"] - 2))
    page.get_by_role("textbox", name="Repetitions missed").fill("2")
    page.get_by_role("button", name="Keep").click()
    expect(phone.sets()).to_have_count(1)
    if answer["stop"]:
        expect(page.locator(".eye.stop")).to_contain_text(answer["why"])
    else:
        expect(page.locator(".pocket-why")).to_have_text(answer["why"])
        number = page.locator(".pocket-figure").first
        expect(number).to_have_text(re.compile(rf"^{answer['load_kg']:g}\s"))


def stands_for(answer, load_kg):
    low, high = answer["when"].get("load_kg", [None, None])
    return (low is None or low <= load_kg) and (high is None or load_kg <= high)


def test_the_rest_is_told_from_the_clock_also_after_the_screen_was_off(host):
    phone = host.phone().ready()
    page = phone.page
    page.clock.install()
    phone.reopen()
    page = phone.page
    phone.begin()
    phone.to(lifted(phone))
    phone.log()
    time = page.get_by_role("timer")
    expect(time).to_have_text(re.compile(r"^\d+:\d\d$"))
    page.clock.fast_forward("20:00")  # as a phone wakes: timers late, the clock right
    expect(time).to_have_text("Ready")
    page.get_by_role("button", name="+30 s").click()
    expect(time).to_have_text(re.compile(r"^0:(30|29)$"))
    page.get_by_role("button", name="Enough rest").click()
    expect(time).to_be_hidden()


def test_a_set_is_corrected_and_taken_away(host):
    phone = host.phone().ready()
    page = phone.page
    phone.begin()
    phone.to(lifted(phone))
    phone.log()
    phone.log()
    page.get_by_role("button", name="Change set 1").click()
    page.get_by_role("textbox", name="Repetitions done").fill("1")
    page.get_by_label("Remarks").fill("slipped")
    page.get_by_role("button", name="Keep").click()
    expect(phone.sets().first).to_contain_text("slipped")
    page.get_by_role("button", name="Change set 2").click()
    page.get_by_role("button", name="Take this set away").click()
    expect(phone.sets()).to_have_count(1)
    phone.sent()
    (left,) = host.logged().sets
    assert (left.reps, left.note) == (1, "slipped")


def test_what_is_no_number_is_asked_again(host):
    phone = host.phone().ready()
    page = phone.page
    phone.begin()
    phone.to(lifted(phone))
    page.get_by_role("button", name="Other numbers").click()
    field = page.get_by_role("textbox", name="Repetitions done")
    field.fill("some")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_role("alert")).to_have_text("Write a number, such as 7.5.")
    expect(field).to_be_focused()


def test_pain_stops_what_is_risky_and_says_whom_to_see(host):
    phone = host.phone().ready()
    page = phone.page
    items = phone.today()["items"]
    risky = next(
        i
        for i, each in enumerate(items)
        if not each["closed"] and each["stops_at_pain"] is not None and each["stops_at_pain"] <= 8
    )
    page.get_by_role("link", name="Begin").first.click()
    page.get_by_role("button", name="Begin").click()
    page.get_by_role("button", name="half an hour more").click()
    page.get_by_role("button", name="Add a place").last.click()
    pain = page.locator("[data-list=pain]")
    pain.get_by_label("Where?").select_option("left knee")
    pain.get_by_role("button", name="8", exact=True).click()
    expect(pain).to_contain_text("left knee: 8 of 10")
    page.get_by_role("button", name="Go on", exact=True).click()
    expect(page.get_by_text(re.compile("^Exercise 1 of"))).to_be_visible()
    phone.to(risky)
    expect(page.get_by_text("Not today")).to_be_visible()
    expect(page.get_by_text("see a physiotherapist or a doctor")).to_be_visible()
    expect(page.get_by_role("button", name="Done:")).to_be_hidden()
    phone.sent()
    session = host.logged()
    assert (session.pain, session.sleep_hours) == (8, 8)
    assert [
        (each.place, each.level) for each in host.record().situation_from(session.date).pains
    ].count(("left knee", 8)) == 1


def test_an_exercise_is_left_out_with_its_reason(host):
    phone = host.phone().ready()
    phone.begin()
    phone.page.get_by_role("button", name="Leave out").click()
    phone.page.get_by_role("button", name="No time").click()
    expect(phone.page.get_by_text("Exercise 2 of")).to_be_visible()
    phone.sent()
    (left,) = host.logged().sets
    assert (left.skipped, left.reps) == ("No time", 0)


def test_other_training_is_written_down(host):
    phone = host.phone().ready()
    page = phone.page
    page.get_by_role("button", name="Write down other training").click()
    page.get_by_role("button", name="Go on").click()
    expect(page.get_by_role("alert")).to_have_text("Write what you did.")
    page.get_by_label("What was it?").fill("Beach volleyball")
    page.get_by_role("button", name="Go on").click()
    heading(page, "Beach volleyball")
    page.get_by_role("button", name="Add a set").click()
    which = page.get_by_label("Exercise")
    which.select_option("leg_press")  # also what no planned session of these days holds
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_text(re.compile("^Leg press: 5 repetitions"))).to_be_visible()
    page.get_by_role("button", name="How it was").click()
    page.get_by_role("group", name="How hard was it?").get_by_text("6").click()
    page.get_by_label("Minutes").fill("75")
    page.get_by_label("Jumps and landings").fill("60")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_text("session load 450")).to_be_visible()
    phone.sent()
    session = host.logged()
    assert (session.free, session.what, session.load, session.landings) == (
        True,
        "Beach volleyball",
        450,
        60,
    )


def test_a_session_of_another_day_is_written_down_afterwards(host):
    phone = host.phone().ready()
    page = phone.page
    bundle = phone.bundle()
    done = {each.date.isoformat() for each in host.record().log}
    missed = [
        each
        for each in bundle["sessions"]
        if each["date"] < bundle["today"] and each["items"] and each["date"] not in done
    ]
    session = missed[-1]
    page.evaluate(f"location.hash = '/session/{session['id']}'")
    page.get_by_role("button", name="Everything went as planned").click()
    page.get_by_role("button", name="Yes, keep them").click()
    heading(page, "How hard was it?")
    page.get_by_role("group", name="How hard was it?").get_by_text("5").click()
    page.get_by_label("Minutes").fill("60")
    page.get_by_role("button", name="Keep").click()
    phone.sent()
    (logged,) = [each for each in host.record().log if each.date.isoformat() == session["date"]]
    assert logged.load == 300
    open_items = [each for each in session["items"] if not each["closed"]]
    assert sum(each.sets for each in logged.sets) == sum(each["sets"] for each in open_items)


def test_the_keyboard_alone_logs_a_set(host):
    phone = host.phone().ready()
    page = phone.page
    phone.begin()
    phone.to(lifted(phone))
    expect(page.get_by_role("heading", level=1)).to_be_focused()
    tab_to(page, page.get_by_role("button", name="Done:"))
    page.keyboard.press("Enter")
    expect(page.locator("#quick-heading")).to_be_focused()
    group = page.get_by_role("group", name="How many more could you have done?")
    tab_to(page, group.get_by_role("button", name="1", exact=True))
    page.keyboard.press("Space")
    expect(phone.sets()).to_contain_text("1 left")


def tab_to(page, target):
    for _ in range(40):
        if target.evaluate("(each) => each === document.activeElement"):
            return
        page.keyboard.press("Tab")
    raise AssertionError("the keyboard does not reach it")


def test_a_phone_may_install_it(host):
    phone = host.phone().ready()
    session = phone.context.new_cdp_session(phone.page)
    told = session.send("Page.getAppManifest")
    assert told["errors"] == []
    assert '"start_url": "/pocket/"' in told["data"]
    found = session.send("Page.getInstallabilityErrors")["installabilityErrors"]
    # A context of a test counts as a private window, in which nothing is installed.
    assert [each["errorId"] for each in found if each["errorId"] != "in-incognito"] == []


def test_without_script_there_are_forms(host):
    phone = host.phone(script=False)
    phone.page.get_by_role("link", name="write it down").click()
    expect(phone.page.get_by_role("heading", level=1)).to_be_visible()
