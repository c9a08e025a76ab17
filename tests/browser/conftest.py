"""A site of a few blocks, and Debian's chromium to look at it."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from seamproof.gallery.building import build
from seamproof.recipe.writing import new_recipe

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser, BrowserContext, Page

    Opening = Callable[..., Page]

GALLERY = Path(__file__).parents[2] / "gallery"
RECIPES = ("rings/storm-lantern", "rings/tide-glass", "stars/ferrymans-star", "grids/five-boathouses")
EVIL = "<b onclick=alert(1)>קן & 'nest'</b>"
ARGUMENTS = (
    "--no-sandbox",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--force-color-profile=srgb",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("gallery")
    recipes = folder / "recipes"
    recipes.mkdir()
    for name in RECIPES:
        shutil.copy(GALLERY / f"{name}.recipe.toml", recipes)
    text = new_recipe("square-in-a-square", "economy patch").replace("Economy patch", EVIL)
    (recipes / "nest.recipe.toml").write_text(text, encoding="utf-8")
    (recipes / "broken.recipe.toml").write_text('title = "Broken"\n', encoding="utf-8")
    build([str(recipes)], folder / "site")
    return folder / "site"


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    chromium = shutil.which("chromium")
    if chromium is None:
        why = "chromium is not installed: apt-get install chromium"
        if os.environ.get("SEAMPROOF_REQUIRE_ALL"):
            pytest.fail(why)
        pytest.skip(why)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=chromium, args=list(ARGUMENTS))
        yield launched
        launched.close()


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport={"width": 1440, "height": 900}, accept_downloads=True)
    made.set_default_timeout(10_000)
    yield made
    made.close()


@pytest.fixture
def open_page(context: BrowserContext, site: Path) -> Iterator[Opening]:
    """Opens a page of the site; at the end nothing was said on the console, and nothing asked for elsewhere."""
    heard: list[str] = []

    def _open(place: str, page: Page | None = None) -> Page:
        page = page or context.new_page()
        page.on("console", lambda message: heard.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: heard.append(str(error)))
        page.on("request", lambda request: heard.append(request.url) if _is_outside(request.url, site) else None)
        page.goto(f"{site.as_uri()}/{place}")
        return page

    yield _open
    assert not heard


@pytest.fixture
def open_again(open_page: Opening) -> Callable[[Page, str], Page]:
    """Opens a place anew with what is in the address of a page, once all that was chosen there is written in it."""

    def _open_again(page: Page, place: str) -> Page:
        page.wait_for_function("() => kept.isWritten()")
        return open_page(f"{place}{page.evaluate('location.hash')}")

    return _open_again


def _is_outside(url: str, site: Path) -> bool:
    return not url.startswith((site.as_uri(), "blob:file:", "data:,", "blob:null"))
