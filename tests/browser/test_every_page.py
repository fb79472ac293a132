"""Every page that can be reached by its links, one of each kind: axe finds nothing, nothing is
wider than a phone, in light and in the dark.
"""

import re
from collections import deque
from urllib.parse import urljoin, urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import Resolver404, resolve
from playwright.sync_api import expect

_LEFT_OUT = {"sign-out"}
_OF_LOOKS = ["color-contrast", "link-in-text-block", "target-size"]
"""Rules that may find in the dark, or on a phone, what they did not find before."""
_WIDE, _NARROW = 1280, 360
_CHARTS_FIT = """() => [...document.querySelectorAll("[data-canvas]")].every(
  (canvas) => canvas.scrollWidth <= canvas.clientWidth)"""
_REACHING_OUT = f"""() => [...document.querySelectorAll("body *")]
  .filter((each) => each.getBoundingClientRect().right > {_NARROW} && !each.closest(".scroll"))
  .slice(0, 5).map((each) => each.outerHTML.slice(0, 300))"""
_LINK = re.compile(r"<a\b[^>]*\bhref=\"([^\"#]*)")
_EXAMPLE = "Ines Adler"
_MOST = 150


@pytest.fixture(scope="session")
def _pages():
    return {}


@pytest.fixture
def pages(demo, _pages):
    """An address of each kind of page, by the name of the address."""
    if not _pages:
        _pages.update(found(demo.open("/"), demo.address))
        demo.close()
    return _pages


def found(page, address):
    """Follow links from the squad page, the example athlete's first."""
    waiting, kinds = deque(["/"]), {}
    first = page.get_by_role("link", name=_EXAMPLE, exact=True).get_attribute("href")
    waiting.append(first)
    asked = set()
    while waiting and len(asked) < _MOST:
        path = waiting.popleft()
        name = name_of(path)
        if name is None or name in _LEFT_OUT or name in kinds or path in asked:
            continue
        asked.add(path)
        answer = page.request.get(urljoin(address, path))
        if answer.status >= 400:
            kinds[name] = f"{path}: {answer.status}"
            continue
        if not answer.headers.get("content-type", "").startswith("text/html"):
            kinds[name] = None  # a download
            continue
        kinds[name] = path
        for link in _LINK.findall(answer.text()):
            parts = urlsplit(urljoin(urljoin(address, path), link.replace("&amp;", "&")))
            if parts.netloc == urlsplit(address).netloc and parts.scheme == "http":
                waiting.append(parts.path + (f"?{parts.query}" if parts.query else ""))
    return {name: path for name, path in kinds.items() if path}


def broken(pages):
    return [path for path in pages.values() if ": " in path]


def name_of(path):
    try:
        return resolve(urlsplit(path).path).url_name
    except Resolver404:
        return None


def test_the_walk_finds_the_pages_and_none_is_broken(pages):
    assert broken(pages) == []
    assert {
        "squad",
        "athlete",
        "record",
        "athlete-add",
        "test-days",
        "test-day",
        "recording",
        "settings",
    } <= set(pages)


def violations(page, rules=None):
    """What axe finds; all of its rules, or these."""
    options = {"resultTypes": ["violations"]} | ({"runOnly": rules} if rules else {})
    found = page.evaluate("(options) => axe.run(document, options)", options)["violations"]
    return [
        f"{each['id']} ({len(each['nodes'])}): {[node['html'][:160] for node in each['nodes'][:3]]}"
        for each in found
    ]


@pytest.mark.parametrize("half", [0, 1])
def test_nothing_is_in_anybodys_way(demo, pages, until, half):
    page = demo.open("/")
    wrong = []
    for name, path in list(pages.items())[half::2]:
        if path in broken(pages):
            continue  # told by the walk
        page.emulate_media(color_scheme="light")
        page.set_viewport_size({"width": _WIDE, "height": 900})
        page.goto(path)
        page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
        page.evaluate(Axe().axe_script)
        wrong += [f"{name}: {words}" for words in violations(page)]
        page.emulate_media(color_scheme="dark")
        wrong += [f"{name}, dark: {words}" for words in violations(page, _OF_LOOKS)]
        page.set_viewport_size({"width": _NARROW, "height": 740})
        until(page, _CHARTS_FIT)  # axe tells which did not
        wrong += [f"{name}, dark phone: {words}" for words in violations(page)]
        page.emulate_media(color_scheme="light")
        wrong += [f"{name}, phone: {words}" for words in violations(page, _OF_LOOKS)]
        if not until(page, f"document.documentElement.scrollWidth <= {_NARROW}"):
            wrong.append(f"{name}: wider than {_NARROW}: {page.evaluate(_REACHING_OUT)}")
    assert wrong == [], "\n".join(wrong)


def test_the_pages_before_signing_in_are_in_nobodys_way_either(demo):
    page = demo.open("/sign-in/", signed_in=False, width=_NARROW, dark=True)
    page.evaluate(Axe().axe_script)
    assert violations(page) == []
    page.emulate_media(color_scheme="light")
    assert violations(page) == []


def test_a_page_that_is_not_there_is_in_nobodys_way_and_leads_back(demo, until):
    demo.watched.expected += ("404",)
    page = demo.open("/nothing-like-it/", width=_NARROW)
    page.evaluate(Axe().axe_script)
    assert violations(page) == []
    assert until(page, f"document.documentElement.scrollWidth <= {_NARROW}")
    page.locator("main").get_by_role("link").first.click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    assert urlsplit(page.url).path == "/"
