"""The squad, a new athlete, their record and an import, in a real browser."""

import re

from playwright.sync_api import expect

CSV = """\
Name;Sex;Born;Height (cm);Weight (kg)
Bo Hansen;m;2004-02-29;185;82,5
Cy Lund;f;2005-04-03;17;64
"""


def rows(page):
    return page.locator(".squad-table tbody tr")


def test_the_squad_is_searched_while_typing(demo):
    page = demo.open("/")
    before = rows(page).count()
    assert before > 5
    page.get_by_label("Search").fill("ines")
    expect(rows(page)).to_have_count(1)
    expect(page.get_by_label("Search")).to_be_focused()
    page.get_by_label("Search").fill("")
    expect(rows(page)).to_have_count(before)


def test_search_works_without_script(demo):
    page = demo.open("/", script=False)
    page.get_by_label("Search").fill("ines")
    page.get_by_role("button", name="Show").click()
    expect(rows(page)).to_have_count(1)


def test_deleting_is_undone(demo):
    page = demo.open("/")
    before = rows(page).count()
    page.get_by_label("Tick: Piet Harlow").check()
    page.get_by_role("button", name="Delete").click()
    expect(rows(page)).to_have_count(before - 1)
    page.get_by_role("button", name="Undo").press("Enter")
    expect(rows(page)).to_have_count(before)


def test_the_squad_fits_a_phone_in_the_dark(demo):
    page = demo.open("/", width=360, dark=True)
    expect(page.get_by_role("link", name="Ines Adler")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_an_athlete_is_added_and_their_record_filled_in_by_keyboard(demo):
    page = demo.open("/squad/add/")
    demo.watched.expected += ("422",)
    page.get_by_label("Name", exact=True).focus()
    page.keyboard.type("Di Moe")
    page.get_by_label("Stature").fill("17")
    page.get_by_label("Body mass").fill("61 1/2")
    page.keyboard.press("Enter")
    expect(page.locator(".field", has=page.get_by_label("Stature"))).to_contain_text(
        "cannot be right"
    )
    page.get_by_label("Stature").fill("171")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Di Moe’s record")).to_be_visible()

    page.get_by_role("link", name=re.compile("^Fill in.*Free time")).press("Enter")
    page.get_by_label("Monday").fill("60")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Free time: saved.")).to_be_visible()

    page.get_by_role("link", name=re.compile("^Add.*Days that count")).press("Enter")
    page.get_by_label("Date").fill("2027-06-05")
    page.get_by_role("button", name="Save").press("Enter")
    expect(page.locator("main")).to_contain_text("5 Jun 2027")

    page.get_by_role("link", name="History").click()
    expect(page.get_by_role("cell", name="Days that count changed")).to_be_visible()


def test_a_fault_in_the_text_is_told_by_its_line(demo, athlete_at):
    page = demo.open(f"{athlete_at('Tomas Breck')}record/text/")
    text = page.get_by_label("The record")
    text.fill(re.sub(r"stature_cm = \d+", "stature_cm = 17", text.input_value()))
    demo.watched.expected += ("422",)
    page.get_by_role("button", name="Check and save").click()
    alert = page.get_by_role("alert")
    expect(alert).to_contain_text("athlete.stature_cm")
    expect(alert).to_contain_text(re.compile(r"line \d+"))
    expect(text).to_have_value(re.compile("stature_cm = 17"))


def test_a_spreadsheet_is_mended_in_its_cells_and_added(demo, tmp_path):
    sheet = tmp_path / "squad.csv"
    sheet.write_text(CSV, encoding="utf-8")
    page = demo.open("/squad/import/")
    page.get_by_label("Spreadsheet", exact=True).set_input_files(sheet)
    page.get_by_role("button", name="Show what it says").click()
    expect(page.locator("main")).to_contain_text("D3: 17 cm cannot be right")
    page.get_by_label("D3").fill("170")
    page.get_by_role("button", name="Check again").click()
    page.get_by_role("button", name="Add 2 athletes").click()
    expect(page.get_by_role("link", name="Bo Hansen")).to_be_visible()
    expect(page.get_by_role("link", name="Cy Lund")).to_be_visible()
    for name in ("Bo Hansen", "Cy Lund"):
        page.get_by_label(f"Tick: {name}").check()
    page.get_by_role("button", name="Archive").click()
    expect(page.get_by_role("link", name="Bo Hansen")).to_have_count(0)


def test_a_spreadsheet_is_mended_on_a_phone_without_sideways_scrolling(demo, tmp_path, until):
    sheet = tmp_path / "squad.csv"
    columns = ("Group", "Standing reach", "Sport", "Years of training", "Remark")
    lines = CSV.splitlines()
    lines = [f"{lines[0]};{';'.join(columns)}", *(f"{row};;;;;" for row in lines[1:])]
    sheet.write_text("\n".join(lines), encoding="utf-8")
    page = demo.open("/squad/import/", width=360)
    page.get_by_label("Spreadsheet", exact=True).set_input_files(sheet)
    page.get_by_role("button", name="Show what it says").click()

    expect(page.get_by_label("D3")).to_be_visible()
    assert until(page, "document.documentElement.scrollWidth <= 360")
    assert page.evaluate(
        "(({scrollWidth, clientWidth}) => scrollWidth <= clientWidth)"
        "(document.querySelector('main .scroll'))"
    )
    assert (
        page.evaluate("getComputedStyle(document.querySelector('.cell-wrong'), '::before').content")
        == '"Height (cm)"'
    )
