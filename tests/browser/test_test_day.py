"""A test day: entered from the keyboard, on a phone, without script; recordings dropped on it."""

import base64
import re
import time

from playwright.sync_api import expect

from saltus.record.example.folder import member_files, write_recording
from saltus.record.example.squad import SQUAD


def next_day(page):
    page.get_by_role("link", name="Test days", exact=True).click()
    page.locator("main a", has_text=re.compile(r"20\d\d$")).first.click()


def figure(page, athlete, words):
    return page.get_by_label(re.compile(f"^{athlete}, {words}"))


def test_results_are_entered_from_the_keyboard_alone(demo):
    page = demo.open("/")
    next_day(page)
    first = figure(page, "Ines Adler", "Body mass")
    first.focus()
    page.keyboard.type("73,5")  # as half of Europe types it
    page.keyboard.press("Enter")
    expect(figure(page, "Jonas Feld", "Body mass")).to_be_focused()
    page.keyboard.type("88")
    page.keyboard.press("Tab")
    expect(figure(page, "Jonas Feld", "Countermovement jump.*attempt 1")).to_be_focused()
    row = page.locator("tr", has=page.get_by_role("rowheader", name="Ines Adler"))
    expect(row.locator(".cell-state.saved").first).to_be_visible()
    figure(page, "Kofi Arden", "Countermovement jump.*attempt 1").focus()
    for height in ("38", "39.5"):
        page.keyboard.type(height)
        page.keyboard.press("Tab")
    page.keyboard.type("38.5")
    with page.expect_response(lambda answer: "heights.3=38.5" in (answer.request.post_data or "")):
        page.keyboard.press("Tab")
    kofi = page.locator("tr", has=page.get_by_role("rowheader", name="Kofi Arden"))
    expect(kofi.locator(".cell-state.saved")).to_have_count(1)
    page.reload()
    expect(figure(page, "Ines Adler", "Body mass")).to_have_value("73.5")
    expect(figure(page, "Kofi Arden", "Countermovement jump.*attempt 2")).to_have_value("39.5")


def test_a_result_that_was_not_expected_is_asked_about_and_can_be_kept(demo):
    page = demo.open("/")
    next_day(page)
    squat = figure(page, "Viktor Hallan", "Back squat")
    squat.fill("518")  # pounds, typed for kilograms
    squat.press("Tab")
    cell = page.locator("form.cell", has=squat)
    expect(cell).to_contain_text("Not in the record yet.")
    cell.get_by_role("button", name=re.compile("^Keep it")).press("Enter")
    expect(cell.locator(".cell-state.saved")).to_be_visible()


def stands(page, athlete, words, text):
    """Wait until the server shows a figure: what a page sends as it goes arrives in its own time"""
    until = time.monotonic() + 20
    while figure(page, athlete, words).input_value() != text:
        assert time.monotonic() < until, f"{words} of {athlete} is lost"
        page.reload()


def test_a_page_left_in_the_middle_of_a_figure_loses_nothing(demo):
    page = demo.open("/")
    next_day(page)
    day = page.url
    jump = "Countermovement jump.*attempt 1"
    figure(page, "Ruben Castell", jump).fill("33.3")  # the field is not left
    cell = page.locator("form.cell", has=figure(page, "Ruben Castell", jump))
    expect(cell.locator(".cell-unsaved")).to_have_text("Not saved yet")
    page.goto("/")
    page.goto(day)
    stands(page, "Ruben Castell", jump, "33.3")


def test_a_figure_typed_while_another_is_under_way_is_not_lost_with_the_page(demo):
    page = demo.open("/")
    next_day(page)
    day = page.url
    jump = "Countermovement jump.*attempt "
    held = []

    def keep_the_answer(route):
        held.append(route.fetch())

    page.route("**/save/", keep_the_answer)
    figure(page, "Sanna Lund", f"{jump}1").fill("31.1")
    figure(page, "Sanna Lund", f"{jump}1").press("Tab")
    figure(page, "Sanna Lund", f"{jump}2").fill("31.2")
    while not held:
        page.wait_for_timeout(20)  # lets the held answer come: it is saved, and nobody told
    page.unroute("**/save/")
    page.goto("/")
    page.goto(day)
    stands(page, "Sanna Lund", f"{jump}2", "31.2")
    expect(figure(page, "Sanna Lund", f"{jump}1")).to_have_value("31.1")


def test_one_at_a_time_on_a_phone(demo):
    page = demo.open("/", width=360)
    next_day(page)
    page.get_by_role("link", name="One at a time").click()
    expect(page.locator("main")).to_contain_text(re.compile("Ines|Jonas"))
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 360
    for target in page.locator("main a:visible, main button:visible, main input:visible").all():
        box = target.bounding_box()
        assert box is None or min(box["width"], box["height"]) >= 24 or in_text(target), target


def in_text(target):
    """Links in a sentence may be as small as the sentence's letters."""
    return target.evaluate("e => e.tagName === 'A' && getComputedStyle(e).display === 'inline'")


def test_a_result_is_saved_without_script(demo):
    page = demo.open("/", script=False)
    next_day(page)
    mass = figure(page, "Sanna Lund", "Body mass")
    before = float(mass.input_value() or 64)
    mass.fill(f"{before + 1:g}")
    page.locator("form.cell", has=mass).get_by_role("button", name="Save").click()
    expect(figure(page, "Sanna Lund", "Body mass")).to_have_value(f"{before + 1:g}")


def dropped(page, target, paths):
    """Drop files as a hand would: the events of a real drag, with the files in them."""
    files = [[path.name, base64.b64encode(path.read_bytes()).decode()] for path in paths]
    transfer = page.evaluate_handle(
        """(files) => {
          const transfer = new DataTransfer();
          for (const [name, content] of files) {
            const bytes = Uint8Array.from(atob(content), (c) => c.charCodeAt(0));
            transfer.items.add(new File([bytes], name));
          }
          return transfer;
        }""",
        files,
    )
    for kind in ("dragenter", "dragover", "drop"):
        target.dispatch_event(kind, {"dataTransfer": transfer})


def test_recordings_are_dropped_and_show_their_jumps(demo, tmp_path):
    ruben = next(member for member in SQUAD if member.name == "ruben-castell")
    _, recordings = member_files(ruben)
    name, recording = next((n, r) for n, r in recordings.items() if "cmj" in n or "jump" in n)
    good, bad = tmp_path / f"again-{name.split('/')[-1]}", tmp_path / "notes.csv"
    write_recording(recording, good)
    good.write_bytes(good.read_bytes() + b"\n")  # not the very file that is there already
    bad.write_text("not a recording\n")
    page = demo.open("/")
    page.get_by_role("link", name="Ines Adler", exact=True).click()
    page.get_by_role("link", name="Recordings", exact=True).first.click()
    dropped(page, page.locator("[data-drop]"), [good, bad])
    done = page.locator("[data-done]")
    expect(done).to_be_visible()
    told = page.locator(".uploads li")
    expect(told).to_have_count(2)
    expect(told.nth(1).locator(".fault")).to_be_visible()
    done.click()
    expect(page.locator("main")).to_contain_text(good.name)
