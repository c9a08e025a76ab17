"""A block's page: the player, the colours, other eyes, the quilt, what can be taken along."""

from __future__ import annotations

import json
from io import BytesIO
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest
from PIL import Image

from seamproof.gallery.vision import difference, seen

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Page

    Opening = Callable[..., Page]
    OpeningAgain = Callable[[Page, str], Page]

BLOCK = "blocks/storm-lantern.html"
JOINED = "blocks/ferrymans-star.html"
STEPS = {BLOCK: 26, JOINED: 26}


def step(page: Page) -> int:
    return int(page.locator("#step").input_value())


def filled(page: Page) -> list[str]:
    """The patches that are drawn in cloth in the front view."""
    found: list[str] = page.evaluate(
        "[...document.querySelectorAll('#front [data-patch]')].filter(p => getComputedStyle(p).fill !== 'none')"
        ".map(p => p.dataset.patch)"
    )
    return found


def fill_of(page: Page, letter: str) -> str:
    found: str = page.evaluate(f"getComputedStyle(document.querySelector('#plate .fabric-{letter}')).fill")
    return found


# -- the player


def test_the_player_begins_with_the_first_piece(open_page: Opening) -> None:
    page = open_page(BLOCK)
    assert filled(page) == ["1"]
    assert page.locator("#step-count").inner_text() == "Step 1 of 26"
    assert page.locator("#step-head").inner_text().startswith("A1")


@pytest.mark.parametrize("place", [BLOCK, JOINED, "blocks/five-boathouses.html"])
def test_the_last_frame_is_the_finished_block_pixel_for_pixel(open_page: Opening, place: str) -> None:
    page = open_page(place)
    page.locator("#step-last").click()
    page.mouse.move(0, 0)
    last = page.locator("#front").screenshot()
    page.evaluate("document.querySelector('#front').innerHTML = document.querySelector('#plate svg').outerHTML")
    assert page.locator("#front").screenshot() == last


def test_the_player_steps_by_its_buttons(open_page: Opening) -> None:
    page = open_page(BLOCK)
    page.get_by_role("button", name="On", exact=True).click()
    assert (step(page), filled(page)) == (2, ["1", "2"])
    page.get_by_role("button", name="Last", exact=True).click()
    assert (step(page), len(filled(page))) == (26, 25)
    page.get_by_role("button", name="Back", exact=True).click()
    assert step(page) == 25
    page.get_by_role("button", name="First", exact=True).click()
    assert step(page) == 1
    assert page.evaluate("document.activeElement.id") == "step-play"


def test_the_player_steps_by_its_slider(open_page: Opening) -> None:
    page = open_page(BLOCK)
    page.locator("#step").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert (step(page), len(filled(page))) == (3, 3)
    page.keyboard.press("End")
    assert step(page) == 26
    page.locator("#step").fill("7")
    assert len(filled(page)) == 7
    assert page.locator("#step").get_attribute("aria-valuetext") == f"Step 7 of 26: {page.inner_text('#step-head')}"


def test_the_player_steps_by_its_keys(open_page: Opening) -> None:
    page = open_page(BLOCK)
    page.locator("#step-play").focus()
    for key, at in (("ArrowRight", 2), ("ArrowRight", 3), ("ArrowLeft", 2), ("End", 26), ("Home", 1)):
        page.keyboard.press(key)
        assert step(page) == at


def test_the_player_plays_and_stops(open_page: Opening) -> None:
    page = open_page(BLOCK)
    page.clock.install()
    page.reload()
    page.locator("#step-play").click()
    assert page.locator("#step-play").inner_text() == "Stop"
    page.clock.run_for(1300 * 3 + 50)
    assert step(page) == 4
    page.keyboard.press("p")
    assert page.locator("#step-play").inner_text() == "Play"
    page.clock.run_for(5000)
    assert step(page) == 4


def test_the_player_stops_by_itself_at_the_end_and_begins_again(open_page: Opening) -> None:
    page = open_page(f"{BLOCK}#step=25")
    page.clock.install()
    page.reload()
    page.locator("#step-play").click()
    page.clock.run_for(1350)
    assert (step(page), page.locator("#step-play").inner_text()) == (26, "Play")
    page.locator("#step-play").click()
    assert step(page) == 1


def test_the_line_that_is_sewn_is_the_only_one_shown_bold(open_page: Opening) -> None:
    page = open_page(f"{BLOCK}#step=12")
    kinds = page.evaluate(
        "[...document.querySelectorAll('#sheets .here .now')].filter(e => getComputedStyle(e).visibility === 'visible')"
        ".map(e => e.getAttribute('class'))"
    )
    assert set(kinds) == {"now s12 on"}


def test_foundations_follow_one_another_and_then_the_joins(open_page: Opening) -> None:
    page = open_page(JOINED)
    seen_sheets = []
    for number in range(1, STEPS[JOINED] + 1):
        page.locator("#step").fill(str(number))
        visible = page.locator("#sheets .one-sheet:visible")
        assert visible.count() == 1
        seen_sheets.append(visible.get_attribute("data-sheet"))
    assert [sheet for n, sheet in enumerate(seen_sheets) if n == 0 or seen_sheets[n - 1] != sheet] == [
        "A", "B", "C", "B", "C", "back",
    ]  # fmt: skip


def test_the_address_brings_the_step_back(open_page: Opening, open_again: OpeningAgain) -> None:
    page = open_page(BLOCK)
    page.locator("#step").fill("9")
    assert step(open_again(page, BLOCK)) == 9


# -- colours


def test_a_colour_of_ones_own_is_shown_everywhere_and_kept(open_page: Opening, open_again: OpeningAgain) -> None:
    page = open_page(BLOCK)
    page.locator("#colour-a").fill("#123456")
    assert fill_of(page, "a") == "rgb(18, 52, 86)"
    assert page.locator("#cloth-a").evaluate("e => e.selectedOptions[0].text") == "a colour of my own"
    assert 'colour = "#123456"' in page.locator("#recipe-text").inner_text()
    grey = page.evaluate("getComputedStyle(document.querySelector('svg.values .fabric-a')).fill")
    assert grey == "rgb(51, 51, 51)"
    assert fill_of(open_again(page, BLOCK), "a") == "rgb(18, 52, 86)"


def test_a_fabric_is_worn_for_another(open_page: Opening) -> None:
    page = open_page(BLOCK)
    page.locator("#cloth-a").focus()
    page.locator("#cloth-a").select_option(label="Night harbour")
    assert fill_of(page, "a") == fill_of(page, "c")
    page.locator("#recolour-back").click()
    assert fill_of(page, "a") == "rgb(224, 145, 47)"
    page.wait_for_function("() => !location.hash.includes('a=')")
    assert page.locator("#recolour-back").is_disabled()


def test_neighbours_of_one_colour_are_warned_of_until_it_is_taken_back(open_page: Opening) -> None:
    page = open_page(BLOCK)
    before = page.locator("#alike").inner_html()
    page.locator("#cloth-b").select_option(label="Night harbour")
    assert "b Old brass and c Night harbour" in page.locator("#alike").inner_text()
    assert "usual eyes (0.0)" in page.locator("#alike").inner_text()
    page.locator("#recolour-back").click()
    assert page.locator("#alike").inner_html() == before


@pytest.mark.parametrize("sight", ["protan", "deutan", "tritan"])
def test_the_picture_is_shown_as_other_eyes_see_it(open_page: Opening, open_again: OpeningAgain, sight: str) -> None:
    page = open_page(BLOCK)
    page.locator("#sight").select_option(sight)
    page = open_again(page, BLOCK)
    shown = page.evaluate("getComputedStyle(document.querySelector('#plate svg')).filter")
    assert shown == f'url("#{sight}")'
    image = Image.open(BytesIO(page.locator("#plate svg").screenshot())).convert("RGB")
    pixel = image.getpixel((image.width // 2, image.height // 2))
    expected = seen("#e0912f", sight)  # type: ignore[arg-type]
    wanted = tuple(int(expected[at : at + 2], 16) for at in (1, 3, 5))
    assert isinstance(pixel, tuple)
    assert all(abs(a - b) <= 2 for a, b in zip(pixel, wanted, strict=True))


def test_the_browser_reckons_differences_as_the_pages_do(open_page: Opening) -> None:
    page = open_page(BLOCK)
    colours = ["#000000", "#ffffff", "#c8452f", "#6d7f4c", "#1d2f45", "#e8ece6", "#808080", "#0000ff", "#ffff00"]
    for one in colours:
        for other in colours:
            here = page.evaluate(f"colour.difference('{one}', '{other}')")
            assert here == pytest.approx(difference(one, other), abs=0.001)


# Source: G. Sharma, W. Wu, E. Dalal, Color Research & Application 30(1), 2005, doi 10.1002/col.20070, table 1.
@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        ([50, 2.6772, -79.7751], [50, 0, -82.7485], 2.0425),
        ([50, 0, 0], [50, -1, 2], 2.3669),
        ([50, 2.5, 0], [73, 25, -18], 27.1492),
        ([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644),
    ],
)
def test_the_browser_reckons_ciede2000_as_published(
    open_page: Opening, one: list[float], other: list[float], apart: float
) -> None:
    found = open_page(BLOCK).evaluate(f"colour.apart({json.dumps(one)}, {json.dumps(other)})")
    assert found == pytest.approx(apart, abs=0.00005)


# -- the quilt


@pytest.mark.parametrize(
    ("size", "setting", "count"),
    [((3, 2), "straight", 6), ((4, 4), "turned", 16), ((2, 2), "round", 4), ((12, 12), "mirrored", 144),
     ((3, 3), "spaced", 5), ((1, 1), "upside", 1)],
)  # fmt: skip
def test_a_quilt_is_laid_and_kept(
    open_page: Opening, open_again: OpeningAgain, size: tuple[int, int], setting: str, count: int
) -> None:
    across, down = size
    page = open_page(BLOCK)
    page.locator("#across").fill(str(across))
    page.locator("#down").fill(str(down))
    page.locator("#set").select_option(setting)
    assert page.locator("#laid use").count() == count
    words = page.locator("#quilt-words").inner_text()
    assert f"{across} across and {down} down" in words
    assert f"{6 * across} × {6 * down} in finished" in words
    again = open_again(page, BLOCK)
    assert again.locator("#quilt-words").inner_text() == words


def test_sizes_of_a_metric_block_are_metric(open_page: Opening) -> None:
    page = open_page("blocks/tide-glass.html#across=2&down=3")
    assert "30 × 45 cm finished" in page.locator("#quilt-words").inner_text()


def test_a_wrong_number_of_blocks_is_put_right(open_page: Opening) -> None:
    page = open_page(BLOCK)
    page.locator("#across").fill("99")
    page.locator("#across").press("Tab")
    assert page.locator("#across").input_value() == "12"
    assert page.locator("#laid use").count() == 48


# -- what can be taken along


def saved(page: Page, place: str) -> tuple[str, str]:
    """What is saved when that is pressed: its name and its text."""
    with page.expect_download() as caught:
        page.locator(place).click()
    return caught.value.suggested_filename, caught.value.path().read_text("utf-8")


CARRIED = ("block-cloth.svg", "block-values.svg", "cut-list.csv", "pattern.json", "storm-lantern.recipe.toml")


def test_what_has_colours_says_so(open_page: Opening) -> None:
    found = open_page(BLOCK).locator("[data-carried]").evaluate_all("links => links.map(link => link.href)")
    assert {address.rpartition("/")[2] for address in found} == set(CARRIED)


@pytest.mark.parametrize("name", CARRIED[2:])
def test_in_the_recipes_colours_a_list_is_saved_as_it_lies_there(open_page: Opening, site: Path, name: str) -> None:
    page = open_page(BLOCK)
    content = (site / "blocks" / "storm-lantern" / name).read_text("utf-8")
    assert saved(page, f"[data-carried][href$='{name}']") == (name, content)


@pytest.mark.parametrize("name", CARRIED[:2])
def test_in_the_recipes_colours_a_drawing_is_saved_as_it_lies_there(open_page: Opening, site: Path, name: str) -> None:
    there = ET.fromstring((site / "blocks" / "storm-lantern" / name).read_text("utf-8"))
    here = ET.fromstring(saved(open_page(BLOCK), f"[data-carried][href$='{name}']")[1])
    fills = [[path.get("fill") for path in root.iter() if "fabric-" in path.get("class", "")] for root in (here, there)]
    around = {path: group.get("fill") for group in there.iter() for path in group if "fabric-" in path.get("class", "")}
    assert fills[0] == list(around.values())
    assert len(fills[1]) == 25


def test_a_browser_that_cannot_unpack_takes_the_figures_as_they_lie_there(open_page: Opening) -> None:
    page = open_page(f"{BLOCK}#a=123456")
    page.evaluate("delete window.DecompressionStream")
    page.locator("[data-carried=figures]").click()
    page.wait_for_url("**/storm-lantern/pattern.json")


@pytest.mark.parametrize(
    ("place", "name", "colour"),
    [("[data-carried=cloth]", "block-cloth.svg", "#123456"), ("[data-carried=values]", "block-values.svg", "#333333"),
     ("#save-quilt", "storm-lantern-quilt.svg", "#123456")],
)  # fmt: skip
def test_a_drawing_is_saved_in_the_colours_shown(open_page: Opening, place: str, name: str, colour: str) -> None:
    page = open_page(f"{BLOCK}#a=123456")
    found, text = saved(page, place)
    assert found == name
    root = ET.fromstring(text)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert root.get("width", "").endswith("in")
    fills = {element.get("fill") for element in root.iter() if "fabric-a" in element.get("class", "")}
    assert fills == {colour}


@pytest.mark.parametrize("name", ["block-cloth.svg", "block-values.svg"])
def test_a_drawing_keeps_its_size_in_other_colours(open_page: Opening, site: Path, name: str) -> None:
    roots = [
        ET.fromstring(saved(open_page(f"{BLOCK}#a=123456"), f"[href$='{name}']")[1]),
        ET.fromstring((site / "blocks" / "storm-lantern" / name).read_text("utf-8")),
    ]
    sizes = [[float(root.get(side, "").removesuffix("in")) for side in ("width", "height")] for root in roots]
    assert sizes[0] == pytest.approx(sizes[1], abs=0.01)


def test_the_cut_list_is_saved_in_the_colours_shown(open_page: Opening, site: Path) -> None:
    recipes = (site / "blocks" / "storm-lantern" / "cut-list.csv").read_text("utf-8")
    assert recipes.count("#e0912f") == 1
    page = open_page(f"{BLOCK}#a=123456")
    assert saved(page, "[data-carried=cut-list]") == ("cut-list.csv", recipes.replace("#e0912f", "#123456"))


def test_the_figures_are_saved_in_the_colours_shown(open_page: Opening, site: Path) -> None:
    expected = json.loads((site / "blocks" / "storm-lantern" / "pattern.json").read_text("utf-8"))
    (fabric,) = (fabric for fabric in expected["fabrics"] if fabric["letter"] == "a")
    fabric["colour"] = "#123456"
    name, text = saved(open_page(f"{BLOCK}#a=123456"), "[data-carried=figures]")
    assert (name, json.loads(text)) == ("pattern.json", expected)


def test_the_recipe_is_saved_in_the_colours_shown(open_page: Opening, site: Path) -> None:
    source = (site / "blocks" / "storm-lantern" / "storm-lantern.recipe.toml").read_text("utf-8")
    page = open_page(BLOCK)
    page.locator("#colour-a").fill("#123456")
    assert saved(page, "[data-carried=recipe]")[1] == source.replace("#e0912f", "#123456")


def test_names_with_markup_are_saved_as_they_are(open_page: Opening, site: Path) -> None:
    place = next(path for path in (site / "blocks").glob("*.html") if "nest" in path.name)
    page = open_page(f"blocks/{place.name}#a=123456")
    _, text = saved(page, "[data-carried=figures]")
    assert json.loads(text)["title"] == json.loads((place.with_suffix("") / "pattern.json").read_text("utf-8"))["title"]
    assert "<b onclick" in text
    assert "#123456" in saved(page, "[data-carried=cut-list]")[1]


def test_handout_and_dxf_are_told_to_keep_the_recipes_colours(open_page: Opening, site: Path) -> None:
    page = open_page(f"{BLOCK}#a=123456")
    assert "but for the handout and the DXF" in page.locator("#downloads").inner_text()
    with page.expect_download() as caught:
        page.get_by_role("link", name="for cutting machines").click()
    content = (site / "blocks" / "storm-lantern" / "pattern.dxf").read_bytes()
    assert (caught.value.suggested_filename, caught.value.path().read_bytes()) == ("pattern.dxf", content)


def test_the_recipe_is_copied_in_the_colours_shown(open_page: Opening, site: Path) -> None:
    page = open_page(f"{BLOCK}#a=123456")
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.locator("#copy").click()
    page.wait_for_function("() => document.querySelector('#copied').textContent !== ''")
    copied = page.evaluate("navigator.clipboard.readText()")
    source = (site / "blocks" / "storm-lantern" / "storm-lantern.recipe.toml").read_text("utf-8")
    assert copied == source.replace("#e0912f", "#123456")


def test_an_address_of_nonsense_shows_the_page(open_page: Opening) -> None:
    page = open_page(f"{BLOCK}#step=1e9&a=<script>&c=%00&sight=constructor&across=0&down=-1&set=toString&x=__proto__")
    assert step(page) == 1
    assert fill_of(page, "a") == "rgb(224, 145, 47)"
    assert page.locator("#laid use").count() == 16


def test_an_anchor_leads_to_its_part_and_leaves_the_address(open_page: Opening) -> None:
    page = open_page(f"{BLOCK}#step=5")
    page.get_by_role("navigation", name="On this page").get_by_role("link", name="Proofs").click()
    assert page.evaluate("document.activeElement.id") == "proofs"
    assert page.evaluate("location.hash") == "#step=5"
