"""What holds for every kind of page: clean under axe at every width, in light and dark; without script; in print."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Browser, Page

    Opening = Callable[..., Page]

PAGES = {
    "index": "index.html#pick=storm-lantern,tide-glass",
    "compare": "compare.html#blocks=storm-lantern,ferrymans-star",
    "block": "blocks/storm-lantern.html#step=9",
    "joined": "blocks/ferrymans-star.html#step=23&a=112233",
    "nest": "blocks/b-onclick-alert-1-nest-b.html",
}
WIDTHS = (320, 360, 768, 1440, 2560)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("kind", ["index", "compare", "joined"])
def test_axe_finds_nothing(open_page: Opening, kind: str, scheme: Literal["light", "dark"]) -> None:
    from axe_playwright_python.sync_playwright import Axe

    page = open_page(PAGES[kind])
    page.emulate_media(color_scheme=scheme)
    for width in WIDTHS[1:]:
        page.set_viewport_size({"width": width, "height": 900})
        found = Axe().run(page, options={"preload": False})
        assert found.violations_count == 0, f"{width}: {found.generate_report()}"


# Source: W3C, Web Content Accessibility Guidelines 2.2, success criterion 1.4.10 (320 CSS pixels).
@pytest.mark.parametrize("kind", PAGES)
def test_no_page_is_wider_than_its_window(open_page: Opening, kind: str) -> None:
    page = open_page(PAGES[kind])
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width


# Source: W3C, Web Content Accessibility Guidelines 2.2, success criterion 1.4.12: the spacing that must not lose text.
SPACED = "* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; }"


@pytest.mark.parametrize("kind", PAGES)
def test_text_set_wider_is_not_cut_off(open_page: Opening, kind: str) -> None:
    page = open_page(PAGES[kind])
    page.set_viewport_size({"width": 360, "height": 900})
    page.evaluate("css => document.head.appendChild(document.createElement('style')).textContent = css", SPACED)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


@pytest.mark.parametrize("kind", PAGES)
def test_every_control_is_reached_by_the_tab_key_and_seen_when_it_is(open_page: Opening, kind: str) -> None:
    page = open_page(PAGES[kind])
    wanted = page.evaluate("""() => {
        const all = document.querySelectorAll("a[href], button, input, select, summary, [tabindex='0']");
        const those = [...all].filter((e) => e.checkVisibility() && !e.disabled);
        those.forEach((e, n) => e.setAttribute("data-n", n));
        return those.length;
    }""")
    reached = set()
    for _ in range(wanted + 5):
        page.keyboard.press("Tab")
        at = page.evaluate("document.activeElement.getAttribute('data-n')")
        reached.add(at)
        if at is not None:
            outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
            assert outline == "solid"
    assert len(reached - {None}) == wanted


@pytest.mark.parametrize("kind", PAGES)
def test_targets_are_large_enough_for_a_finger(open_page: Opening, kind: str) -> None:
    # Source: W3C, Web Content Accessibility Guidelines 2.2, success criterion 2.5.8 (24 by 24 CSS pixels).
    page = open_page(PAGES[kind])
    page.set_viewport_size({"width": 360, "height": 800})
    small = page.evaluate("""() => [...document.querySelectorAll("button, input, select, .button")]
        .filter((e) => e.checkVisibility() && e.type !== "checkbox")
        .map((e) => [e.id || e.textContent, e.getBoundingClientRect().height])
        .filter(([, height]) => height < 24)""")
    assert not small


@pytest.mark.parametrize("kind", PAGES)
def test_without_script_pictures_and_tables_are_there_and_no_dead_control(
    browser: Browser, site: Path, kind: str
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{site.as_uri()}/{PAGES[kind].split('#')[0]}")
    pictures = page.locator("main img, main svg:not(.unseen)")
    assert kind == "compare" or pictures.count() >= 5
    assert all(pictures.nth(n).is_visible() for n in range(pictures.count()))
    tables = page.locator("main table")
    assert tables.count() >= 1
    assert all(tables.nth(n).is_visible() for n in range(tables.count()))
    controls = page.locator("button, input, select")
    assert not any(controls.nth(n).is_visible() for n in range(controls.count()))
    if kind in {"block", "joined"}:
        assert page.locator("#steps li").last.is_visible()
    context.close()


@pytest.mark.parametrize("kind", PAGES)
def test_a_printed_page_shows_no_control(open_page: Opening, kind: str) -> None:
    page = open_page(PAGES[kind])
    page.emulate_media(media="print")
    controls = page.locator("button, input, select, nav")
    shown = [controls.nth(n) for n in range(controls.count()) if controls.nth(n).is_visible()]
    assert not shown


def test_the_comparison_is_chosen_and_kept(open_page: Opening, open_again: Callable[[Page, str], Page]) -> None:
    page = open_page("compare.html")
    page.get_by_label("First block").select_option(label="Tide glass")
    page.get_by_label("Second block").select_option(label="Five boathouses")
    heads = page.locator("#chosen thead th")
    assert [head.strip() for head in heads.all_inner_texts()] == ["Tide glass", "Five boathouses"]
    rows = page.locator("#chosen tbody tr").all_inner_texts()
    assert any(row.split("\t") == ["Patches", "13", "5"] for row in rows)
    again = open_again(page, "compare.html")
    assert "blocks=tide-glass%2Cfive-boathouses" in again.url
    assert again.locator("#chosen tbody tr").all_inner_texts() == rows


def test_a_comparison_of_nonsense_shows_the_page(open_page: Opening) -> None:
    page = open_page("compare.html#blocks=__proto__,<i>,storm-lantern")
    assert page.locator("#chosen thead th").count() == 1


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_block_that_is_being_sewn_has_its_frame_by_day_and_by_night(
    open_page: Opening, scheme: Literal["light", "dark"]
) -> None:
    page = open_page(PAGES["joined"])
    page.emulate_media(color_scheme=scheme)
    frame = page.locator("#front .outline").evaluate("line => getComputedStyle(line).stroke")
    assert frame == page.evaluate("getComputedStyle(document.body).color")
