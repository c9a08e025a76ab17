"""How long a site takes, cold and when nothing has changed, and how soon a large index answers.

Run by hand: pytest tests/benchmarks/bench_gallery.py
"""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from seamproof.gallery.building import build
from seamproof.gallery.card import Card
from seamproof.gallery.index_page import index_page
from seamproof.gallery.memory import MEMORY
from seamproof.recipe.finding import find_recipes

GALLERY = Path(__file__).parents[2] / "gallery"
DESIGNS = 200
CARDS = 500


@pytest.fixture(scope="module")
def recipes(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The gallery's recipes again and again, each time in colours of their own."""
    folder = tmp_path_factory.mktemp("recipes")
    paths = [Path(path) for path in find_recipes([str(GALLERY)])]
    for number in range(DESIGNS):
        path = paths[number % len(paths)]
        text = path.read_text("utf-8").replace('colour = "#', f'colour = "#{number // len(paths):x}', 1)
        text = text.replace(text.split('colour = "#')[1][:7], text.split('colour = "#')[1][:6], 1)
        (folder / f"{path.name.split('.')[0]}-{number}.recipe.toml").write_text(text, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def site(recipes: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("site") / "site"
    build([str(recipes)], folder, workers=2)
    return folder


def test_200_designs_on_two_processes(benchmark: Any, recipes: Path, tmp_path: Path) -> None:
    built = benchmark.pedantic(lambda: build([str(recipes)], tmp_path / "site", workers=2), rounds=1)
    assert built.made == DESIGNS


def test_200_designs_of_which_none_has_changed(benchmark: Any, recipes: Path, site: Path) -> None:
    built = benchmark.pedantic(lambda: build([str(recipes)], site, workers=2), rounds=3)
    assert not built.is_changed


def test_200_designs_of_which_one_has_changed(benchmark: Any, recipes: Path, site: Path) -> None:
    one = next(recipes.iterdir())

    def change() -> None:
        one.write_text(one.read_text("utf-8") + "\n# changed\n", encoding="utf-8")

    built = benchmark.pedantic(lambda: build([str(recipes)], site, workers=2), setup=change, rounds=2)
    assert built.made == 1


@pytest.mark.browser
def test_an_index_of_500_cards_until_it_answers(benchmark: Any, site: Path, tmp_path: Path) -> None:
    """From the address to the answer to a word typed; and what the index weighs with every picture."""
    from playwright.sync_api import sync_playwright

    chromium = shutil.which("chromium")
    if chromium is None:
        pytest.skip("chromium is not installed: apt-get install chromium")
    shutil.copytree(site, tmp_path / "large")
    blocks = json.loads((site / MEMORY).read_bytes())["blocks"]
    cards = [Card.read(block["card"]) for block in blocks if block["card"]]
    many = [replace(cards[n % len(cards)], title=f"{cards[n % len(cards)].title} {n}") for n in range(CARDS)]
    (tmp_path / "large" / "index.html").write_text(index_page("Many", many, []), encoding="utf-8")
    address = (tmp_path / "large" / "index.html").as_uri()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-quic"])

        def answered() -> None:
            page = browser.new_page(viewport={"width": 1440, "height": 900})
            page.goto(address)
            page.locator("#find").fill("watch")
            assert "watch" in (page.locator(".card:visible .name").first.text_content() or "").lower()
            page.close()

        benchmark.pedantic(answered, rounds=3, warmup_rounds=1)
        browser.close()
    pictures = sum((site / "pictures" / f"{card.name}.svg").stat().st_size for card in many)
    whole = len((tmp_path / "large" / "index.html").read_bytes()) + pictures
    benchmark.extra_info |= {"bytes of the index with every picture": whole}
    assert whole < 1_500_000
