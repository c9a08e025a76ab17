"""The index: find, choose, order, pick, by mouse and by keyboard, all kept in the address."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    Opening = Callable[..., Page]
    OpeningAgain = Callable[[Page, str], Page]


def titles(page: Page) -> list[str]:
    return page.locator(".card:visible .name").all_text_contents()


def address_has(page: Page, text: str) -> None:
    page.wait_for_function("text => location.hash.includes(text)", arg=text)


def test_every_block_has_a_card_that_leads_to_its_page(open_page: Opening) -> None:
    page = open_page("index.html")
    assert len(titles(page)) == 5
    page.get_by_role("link", name="Storm lantern").click()
    page.wait_for_url("**/storm-lantern.html")
    assert page.get_by_role("heading", level=1).inner_text() == "Storm lantern"


def test_pictures_of_cards_are_loaded(open_page: Opening) -> None:
    page = open_page("index.html")
    page.wait_for_function("() => [...document.images].every((image) => image.complete && image.naturalWidth > 0)")


def test_a_block_is_found_by_its_name(open_page: Opening) -> None:
    page = open_page("index.html")
    page.get_by_label("Name").fill("LANT storm")
    assert titles(page) == ["Storm lantern"]
    assert page.locator("#count").inner_text() == "1 block"
    address_has(page, "find=LANT+storm")


def test_marks_over_letters_do_not_hide_a_block(open_page: Opening) -> None:
    page = open_page("index.html")
    page.get_by_label("Name").fill("TÍDE")
    assert titles(page) == ["Tide glass"]


@pytest.mark.parametrize(
    ("label", "choice", "found"),
    [
        ("Family", "Pineapple", ["Storm lantern"]),
        ("Finished size", "9 in", ["Ferryman’s star"]),
        ("Patches", "13 to 24", ["Ferryman’s star", "Tide glass"]),
        ("Foundations", "5", ["Ferryman’s star"]),
        ("Foundations", "none", ["Five boathouses"]),
        ("Technique", "partial seam", ["Five boathouses"]),
    ],
)
def test_blocks_are_chosen_and_the_address_brings_the_choice_back(
    open_page: Opening, open_again: OpeningAgain, label: str, choice: str, found: list[str]
) -> None:
    page = open_page("index.html")
    page.get_by_label(label, exact=True).select_option(label=choice)
    assert titles(page) == found
    again = open_again(page, "index.html")
    assert titles(again) == found
    assert again.get_by_label(label, exact=True).evaluate("e => e.selectedOptions[0].text") == choice


def test_choices_add_up_and_show_all_takes_them_back(open_page: Opening) -> None:
    page = open_page("index.html")
    page.get_by_label("Technique").select_option(label="straight seams")
    page.get_by_label("Family").select_option(label="Pinwheel of five")
    assert titles(page) == []
    assert page.locator("#none").is_visible()
    page.locator("#clear-too").click()
    assert len(titles(page)) == 5
    assert page.evaluate("document.activeElement.id") == "find"
    page.wait_for_function("() => !location.hash.includes('=')")


def test_blocks_are_ordered_both_ways(open_page: Opening, open_again: OpeningAgain) -> None:
    page = open_page("index.html")
    page.get_by_label("In order of").select_option(label="patches")
    upward = titles(page)
    assert upward[0] == "Five boathouses" or "nest" in upward[0]
    assert upward[-1] == "Storm lantern"
    page.get_by_label("the other way round").check()
    assert titles(page)[0] == "Storm lantern"
    again = open_again(page, "index.html")
    assert titles(again) == titles(page)


@pytest.mark.parametrize("key", ["name", "family", "finished size", "foundations", "technique", "level"])
def test_every_order_keeps_every_block(open_page: Opening, key: str) -> None:
    page = open_page("index.html")
    page.get_by_label("In order of").select_option(label=key)
    assert len(titles(page)) == 5


def test_blocks_are_picked_and_laid_side_by_side(open_page: Opening) -> None:
    page = open_page("index.html")
    page.get_by_label("compare Storm lantern").check()
    assert page.locator("#picked").is_visible()
    assert not page.locator("#compare").is_visible()
    page.get_by_label("compare Tide glass").check()
    page.locator("#compare").click()
    page.wait_for_url("**/compare.html#blocks=*")
    heads = page.locator("#chosen thead th").all_inner_texts()
    assert [head.strip() for head in heads] == ["Storm lantern", "Tide glass"]


def test_no_more_than_four_are_picked(open_page: Opening) -> None:
    page = open_page("index.html")
    boxes = page.locator("[name=pick]")
    for number in range(4):
        boxes.nth(number).check()
    assert boxes.nth(4).is_disabled()
    page.locator("#unpick").click()
    assert not boxes.nth(4).is_disabled()
    assert not page.locator("#picked").is_visible()


def test_a_block_is_found_and_opened_by_keyboard_alone(open_page: Opening) -> None:
    page = open_page("index.html")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    while page.evaluate("document.activeElement.id") != "find":
        page.keyboard.press("Tab")
    page.keyboard.type("storm")
    while page.evaluate("document.activeElement.closest('.card')") is None:
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/storm-lantern.html")


def test_the_recipe_with_a_fault_is_listed(open_page: Opening) -> None:
    page = open_page("index.html")
    assert "broken.recipe.toml" in page.locator(".failed").inner_text()


def test_a_title_with_markup_is_text(open_page: Opening) -> None:
    page = open_page("index.html")
    assert any("<b onclick=alert(1)>" in title for title in titles(page))


HOSTILE = "#find=%00%FF&family=constructor&size=__proto__&sort=toString&down=9&pick=a,b,__proto__,<i>&patches=9-1"


def test_an_address_of_nonsense_shows_the_page(open_page: Opening) -> None:
    page = open_page(f"index.html{HOSTILE}")
    page.get_by_label("Name").fill("")
    assert len(titles(page)) == 5


def test_going_back_brings_the_choice_back(open_page: Opening) -> None:
    page: Any = open_page("index.html")
    page.get_by_label("Name").fill("storm")
    address_has(page, "find=storm")
    page.get_by_role("link", name="Storm lantern").click()
    page.wait_for_url("**/storm-lantern.html")
    page.go_back()
    assert titles(page) == ["Storm lantern"]


def test_on_a_phone_all_the_chosen_blocks_are_seen_at_once(open_page: Opening) -> None:
    page = open_page("compare.html#blocks=storm-lantern,tide-glass,ferrymans-star,five-boathouses")
    page.set_viewport_size({"width": 360, "height": 740})
    chosen = page.locator("#chosen")
    assert chosen.locator("thead img:visible").count() == 4
    assert chosen.evaluate("box => box.scrollWidth <= box.clientWidth")
    ends = chosen.locator("tbody td").evaluate_all("cells => cells.map(cell => cell.getBoundingClientRect().right)")
    assert max(ends) <= 360
