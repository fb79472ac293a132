"""No signal, a killed server, two phones: nothing is lost, nothing is doubled."""

import datetime as dt
import re

from playwright.sync_api import expect


def in_all(session):
    return sum(each.sets for each in session.sets if not each.skipped)


def test_a_session_without_a_signal_is_there_again_and_goes_out_once(host):
    phone = host.phone().ready()
    phone.offline()
    phone.begin()
    first, second, *_ = phone.places()
    phone.to(first)
    phone.log()
    phone.log()
    phone.to(second)
    phone.log()
    expect(phone.sets().locator("[data-entry]")).to_have_text(["On this phone"])
    phone.state(re.compile(r"^On this phone: \d+$"))
    phone.reopen()
    phone.page.get_by_role("link", name="Go on").first.click()
    expect(phone.page.get_by_text("sets: 2 of")).to_be_visible()
    expect(phone.page.get_by_text("sets: 1 of")).to_be_visible()
    phone.page.get_by_role("button", name="How it was").click()
    phone.page.get_by_role("group", name="How hard was it?").get_by_text("7").click()
    phone.page.get_by_label("Minutes").fill("50")
    phone.page.get_by_role("button", name="Keep").click()
    expect(phone.page.get_by_text("session load 350")).to_be_visible()
    phone.reopen()
    assert not [each for each in host.record().log if each.id]
    phone.offline(False)
    phone.sent()
    session = host.logged()
    assert (in_all(session), session.effort, session.minutes) == (3, 7, 50)
    phone.reopen()
    phone.sent()
    assert host.logged() == session


def test_a_server_killed_while_it_is_sent_to_loses_and_doubles_nothing(host):
    phone = host.phone().ready()
    agreed = len(host.entries())
    phone.offline()
    phone.begin()
    for place in phone.places()[:3]:
        phone.to(place)
        phone.log()
        phone.log()
    count = phone.waiting()
    expect(phone.page.locator("#state")).to_have_text(f"On this phone: {count}")

    # The server keeps the entries, and dies before it can say so.
    def answer_is_lost(route):
        assert route.fetch().ok
        host.kill()
        route.abort()

    phone.page.route("**/pocket/entries/", answer_is_lost, times=1)
    with phone.page.expect_event(
        "requestfailed", lambda asked: "/pocket/entries/" in asked.url, timeout=120_000
    ):
        phone.offline(False)
        phone.page.evaluate("window.dispatchEvent(new Event('online'))")
    assert host.process.returncode is not None
    phone.state(re.compile("On this phone"))
    phone.to(phone.places()[3])
    phone.log()  # and more comes meanwhile
    before = len(host.entries())
    assert agreed < before <= agreed + count
    host.start()
    phone.sent()
    kept = host.entries()
    assert len(kept) == len({name for name, _ in kept}) == agreed + count + 1
    assert in_all(host.logged()) == sum(kind == "set" for _, kind in kept)


def test_a_server_that_dies_at_any_moment_is_sent_the_rest(host):
    phone = host.phone().ready()
    agreed = len(host.entries())
    phone.offline()
    phone.begin()
    for place in phone.places()[:4]:
        phone.to(place)
        phone.log()
        phone.log()
    count = phone.waiting()
    phone.offline(False)
    phone.page.evaluate("window.dispatchEvent(new Event('online'))")
    host.kill()  # before, within or after the sending: it must not matter
    host.start()
    phone.sent()
    kept = host.entries()
    assert len(kept) == len({name for name, _ in kept}) == agreed + count
    assert in_all(host.logged()) == sum(kind == "set" for _, kind in kept)


def test_what_was_confirmed_is_on_the_disk(host):
    phone = host.phone().ready()
    phone.begin()
    phone.log()
    phone.state("All sent")
    host.kill()
    assert in_all(host.logged()) == 1
    host.start()
    phone.reopen()
    assert in_all(host.logged()) == 1


def test_two_phones_of_an_athlete_make_one_session(host):
    first, second = host.phone().ready(), host.phone().ready()
    first.offline()
    second.offline()
    here, there, *_ = first.places()
    first.begin()
    first.to(here)
    first.log()
    second.begin()
    second.to(there)
    second.log()
    second.log()
    first.offline(False)
    first.sent()
    second.offline(False)
    second.sent()
    session = host.logged()
    assert in_all(session) == 3
    items = first.today()["items"]
    assert {each.exercise for each in session.sets} == {
        items[here]["exercise"],
        items[there]["exercise"],
    }
    first.reopen()
    first.page.get_by_role("link", name="Go on").first.click()
    expect(first.page.get_by_text("sets: 2 of")).to_be_visible()
    expect(first.page.get_by_text("sets: 1 of")).to_be_visible()


def test_two_tabs_of_a_phone_send_each_entry_once(host):
    phone = host.phone().ready()
    other = phone.context.new_page()
    host.site.watched.follow(other)
    other.goto("/pocket/")
    expect(other.get_by_role("heading", name="Today", exact=True)).to_be_visible()
    sent = []
    phone.context.on(
        "request",
        lambda asked: (
            sent.extend(each["id"] for each in asked.post_data_json["entries"])
            if asked.method == "POST" and "/pocket/entries/" in asked.url
            else None
        ),
    )
    phone.offline()
    phone.begin()
    phone.to(phone.places()[0])
    phone.log()
    phone.log()
    phone.offline(False)
    for page in (phone.page, other):
        page.evaluate("window.dispatchEvent(new Event('online'))")
    phone.sent()
    expect(other.locator("#state")).to_have_text("All sent")
    kept = host.entries()
    assert len(kept) == len({name for name, _ in kept})
    assert in_all(host.logged()) == 2


def test_signed_out_the_phone_keeps_what_there_is_and_asks(host):
    phone = host.phone().ready()
    phone.begin()
    host.site.watched.expected += ("401",)
    phone.context.clear_cookies(name=host.told["cookie"])
    phone.log()
    notice = phone.page.locator("#notice")
    expect(notice).to_contain_text("Sign in again")
    expect(phone.sets().locator("[data-entry]")).to_have_text(["On this phone"])
    notice.get_by_role("link", name="Sign in").click()
    phone.sign_in()
    phone.sent()
    assert in_all(host.logged()) == 1


def test_another_athlete_on_the_same_phone_sees_and_sends_nothing_of_the_first(host):
    first, second = host.told["athletes"]
    phone = host.phone().ready()
    phone.begin()
    host.site.watched.expected += ("401",)
    phone.context.clear_cookies(name=host.told["cookie"])
    phone.log()
    phone.state(re.compile("On this phone"))
    phone.page.locator("#notice").get_by_role("link", name="Sign in").click()
    phone.sign_in(1)
    phone.ready()
    phone.state("All sent")  # of the second, who has nothing here
    phone.page.get_by_text("This phone", exact=True).click()
    expect(phone.page.get_by_text(second["name"], exact=True)).to_be_visible()
    expect(phone.page.get_by_text(first["name"])).to_have_count(0)
    kept = phone.page.evaluate(
        """async () => {
          const store = await import("/static/saltus/pocket/store.js");
          return (await store.bundle.read()).athlete.id;
        }"""
    )
    assert kept == second["id"]
    today = dt.datetime.now(dt.UTC).date()
    assert not [each for each in host.record(1).log if each.date == today and each.id and each.sets]
    phone.page.get_by_role("button", name="Sign out").click()
    phone.sign_in(0)
    expect(phone.page.locator("#state")).to_be_visible()
    phone.sent()
    assert in_all(host.logged(0)) == 1


def test_results_and_plan_are_read_without_a_signal(host, until):
    phone = host.phone().ready()
    assert until(
        phone.page,
        """async () => {
          const kept = await caches.open("saltus-pocket-pages");
          return (await kept.keys()).length >= 2;
        }""",
    )
    host.kill()
    phone.reopen()
    for name in ("My results", "My plan"):
        phone.page.get_by_role("link", name=name).click()
        expect(phone.page.get_by_role("heading", level=1)).to_be_visible()
        phone.page.goto("/pocket/")
    phone.page.get_by_text("This phone", exact=True).click()
    phone.page.get_by_role("button", name="Sign out").click()
    expect(phone.page.get_by_role("heading", name="not on this phone")).to_be_visible()
    assert phone.page.evaluate("caches.has('saltus-pocket-pages')") is False


def test_an_entry_that_is_not_taken_holds_up_no_other(host):
    phone = host.phone().ready()
    phone.offline()
    phone.page.evaluate(
        """async () => {
          const store = await import("/static/saltus/pocket/store.js");
          const { athlete } = await store.bundle.read();
          const id = store.newId();
          await store.addEntry({
            id, athlete: athlete.id, session: id, date: "2001-01-01", kind: "after",
            at: "2001-01-01T00:00:00.000Z", data: { effort: 3 }, sent: false, refused: null,
          });
        }"""
    )
    phone.reopen()
    phone.begin()
    phone.log()
    phone.offline(False)
    phone.sent()
    assert in_all(host.logged()) == 1
    expect(phone.page.locator("#notice")).to_contain_text("were not taken")
    phone.page.goto("/pocket/#/")
    phone.page.reload()
    expect(phone.page.get_by_text(re.compile("^Not taken: .*2001"))).to_be_visible()
    phone.page.get_by_role("button", name="Let it go").click()
    expect(phone.page.locator("#notice")).to_be_hidden()
