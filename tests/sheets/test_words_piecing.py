"""The words of blocks that are cut and pieced, and of blocks sewn by hand over papers."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest

from seamproof.cutting import tight_curves
from seamproof.pattern import work_out
from seamproof.plugin import registry
from seamproof.recipe import Recipe
from seamproof.sheets import words_cutting, words_hand, words_joins, words_piecing
from seamproof.sheets.handout import handout_data
from seamproof.sheets.handout_fonts import user_texts
from seamproof.sheets.options import HandoutOptions

if TYPE_CHECKING:
    from collections.abc import Iterator

    from seamproof.pattern import Pattern
    from seamproof.sheets.handout_nodes import Node, Words


def said(words: Words) -> str:
    return words if isinstance(words, str) else "".join(w if isinstance(w, str) else w["b"] for w in words)


def made(family: str, roles: dict[str, str], finished: str, **more: Any) -> Pattern:
    make = {"copies": 4} | {key: more.pop(key) for key in ("method", "copies") if key in more}
    colours = {"a": {"colour": "#3f6b5c"}, "b": {"colour": "#e5d3ad"}, "c": {"colour": "#c8452f"}}
    fabrics = {key: colours[key] for key in sorted(set(roles.values()))}
    recipe = {"title": "Tried", "family": family, "finished": finished, "parameters": more, "fabrics": fabrics}
    return work_out(Recipe.model_validate(recipe | {"roles": roles, "make": make}))


def told(pattern: Pattern) -> str:
    assert pattern.piecing is not None
    lines = []
    for batch in pattern.piecing.batches:
        lines.append(words_piecing.batch_head(pattern, batch))
        lines += [said(words) for words in words_piecing.batch_words(pattern, batch, set())]
    return "\n".join(lines)


@pytest.fixture(scope="module")
def star() -> Pattern:
    roles = {"centre": "a", "inner triangle": "b", "point": "c", "background": "a", "corner": "b"}
    return made("ohio-star", roles, "9 in", method="pieced")


@pytest.fixture(scope="module")
def rosette() -> Pattern:
    return made("hexagon-rosette", {"centre": "a", "ring": "b"}, "9 in", rings=2, method="hand")


def test_a_star_is_made_of_crossed_pairs_and_then_in_rows(star: Pattern) -> None:
    # Common practice, no source: a 3 in hourglass takes squares of finished + 1 1/4 in, and is trimmed to 3 1/2 in.
    words = told(star)
    assert "squares of four triangles. Make 16 (4 in each block)" in words
    assert "4 1/4 in" in words
    assert "Trim each to 3 1/2 × 3 1/2 in unfinished" in words
    assert words.splitlines()[-1] == "Each measures 9 1/2 × 9 1/2 in unfinished."
    assert star.piecing is not None
    lengths = [round(star.construction.join(batch.model).length, 3) for batch in star.piecing.batches if not batch.way]
    assert lengths == sorted(lengths), "long seams come last"


def test_geese_are_told_with_both_their_squares() -> None:
    # Common practice, no source: 4 × 2 in geese of squares of 5 1/4 and 2 7/8 in; they measure 4 1/2 × 2 1/2 in.
    pattern = made("flying-geese", {"goose": "a", "wing": "b"}, "8 in", columns=2, geese=4, method="pieced")
    words = told(pattern)
    for part in ("one square of 5 1/4 in", "four of 2 7/8 in", "make 8 such sets", "4 1/2 × 2 1/2 in unfinished"):
        assert part in words


def test_eight_at_a_time_gives_its_reason_and_the_other_way() -> None:
    # Common practice, no source: eight 3 in units of two squares of 7 3/4 in, or two of squares of 3 7/8 in.
    words = told(made("half-square-triangles", {"dark": "a", "light": "b"}, "6 in", method="pieced"))
    for part in ("squares of 7 3/4 in", "instead of 8", "8 squares of 3 7/8 in", "in four, 3 7/8 in from its edges"):
        assert part in words


def test_corners_are_told_with_both_sizes_and_drawn() -> None:
    # derived: an 8 in square in a square is flipped of 8 1/2 in and four squares of 4 1/2 in.
    roles = {"centre": "a", "round 1": "b"}
    pattern = made("square-in-a-square", roles, "8 in", method="pieced", rounds=1)
    words = told(pattern)
    assert "a square of 8 1/2 in of a a and 4 squares of 4 1/2 in of b b" in words
    rows = [row[1] for need in pattern.cloth.needs for row in words_cutting.group_rows(pattern, need)]
    assert rows == ["4 squares of 8 1/2 in", "16 squares of 4 1/2 in"]
    shown = [*walked(handout_data(pattern, HandoutOptions())["body"])]
    assert any("on a corner" in str(node) for node in shown)


@pytest.mark.parametrize("copies", [2, 5])
@pytest.mark.parametrize("family", ["ohio-star", "hourglass", "flying-geese", "geese-ring", "geese-puzzle"])
def test_what_is_pressed_before_it_is_cut_lies_as_the_map_of_pressing_shows_it(family: str, copies: int) -> None:
    drafted = registry.family(family)
    patches = drafted.draft(drafted.parameters(), 9.0).patches
    roles = {role: "abc"[n % 3] for n, role in enumerate(dict.fromkeys(patch.role for patch in patches))}
    pattern = made(family, roles, "9 in", method="pieced", copies=copies)
    assert pattern.piecing is not None
    for batch in pattern.piecing.batches:
        if batch.way is None or batch.way.kind not in {"quarter-square", "geese"}:
            continue
        one_side = set(batch.way.cuts[0].patches)
        lie = set()
        for label in batch.labels:
            whole = pattern.construction.join(label)
            inner = [join for join in pattern.construction.joins if join.label in {whole.first, whole.second}]
            for join in [*inner, whole] if batch.way.kind == "geese" else inner:
                toward = words_joins.toward_of(pattern, join)
                side = set() if toward == "open" else set(pattern.construction.patches_of(getattr(join, toward)))
                lie.add("open" if toward == "open" else bool(side & one_side))
        assert len(lie) == 1
        words = "\n".join(said(line) for line in words_piecing.batch_words(pattern, batch, set()))
        (is_toward,) = lie
        expected = {
            "geese": {True: "toward the large triangle", False: "toward the small triangles", "open": "seams open"},
            "quarter-square": {True: "its seam toward", False: "its seam away from", "open": "its seam open"},
        }[batch.way.kind][is_toward]
        assert expected in words


@pytest.mark.parametrize("family", ["checks", "ohio-star", "flying-geese", "rail-fence", "hourglass", "ladder"])
def test_what_is_pressed_before_it_is_cut_lies_alike_in_every_second_block(family: str) -> None:
    drafted = registry.family(family)
    patches = drafted.draft(drafted.parameters(), 9.0).patches
    roles = {role: "abc"[n % 3] for n, role in enumerate(dict.fromkeys(patch.role for patch in patches))}
    pattern = made(family, roles, "9 in", method="pieced", copies=12)
    assert pattern.piecing is not None
    assert pattern.piecing.ways
    assert pattern.rows is not None
    changed = {label for way in pattern.rows.ways for label, _ in way.joins}
    told = {label for batch in pattern.piecing.batches for label in batch.labels}
    made_whole = {label for way in pattern.piecing.ways for label in way.labels if way.kind == "strip set"}
    before = {label for label in changed if label not in told} | changed & made_whole
    halves = {
        label
        for way in pattern.piecing.ways
        if way.kind in {"half-square", "eight half-squares"}
        for label in way.labels
    }
    assert not before - halves


def test_what_is_cut_whole_is_said_to_stay_whole(star: Pattern) -> None:
    rows = [row for need in star.cloth.needs for row in words_cutting.group_rows(star, need)]
    whole = [row for row in rows if "leave them whole" in row[1]]
    assert [row[2] for row in whole] == ["for U1"] * 3
    assert {re.match(r"\d+", row[1])[0] for row in whole} == {"4", "8"}  # type: ignore[index]


def test_strips_are_told_in_their_order_with_the_length_to_cut() -> None:
    words = told(made("checks", {"dark": "a", "light": "b"}, "9 in", across=3, method="pieced"))
    assert "a a (3 1/2 in), b b (3 1/2 in) then a a (3 1/2 in)" in words
    assert "cut the set across every 3 1/2 in: 8 pieces from it" in words


def test_every_unit_is_named_before_it_is_used(star: Pattern) -> None:
    assert star.piecing is not None
    known: set[str] = set()
    for batch in star.piecing.batches:
        head = words_piecing.batch_head(star, batch)
        names = {kind.name for kind in batch.kinds}
        assert set(re.findall(r"\bU\d+\b", head)) - names <= known
        known |= names


def test_a_pieced_handout_speaks_of_no_join_by_its_number(star: Pattern) -> None:
    texts = " ".join(user_texts(handout_data(star, HandoutOptions())["body"]))
    assert "U7" in texts
    assert not re.search(r"(?<![-\w])J\d", texts)


def test_curves_are_told_with_their_notches_and_tight_ones_are_named() -> None:
    wide = made("drunkards-path", {"dark": "a", "light": "b"}, "8 in", method="pieced")
    assert "the middle and the quarter points" in told(wide)
    assert "tight" not in told(wide)
    narrow = made("drunkards-path", {"dark": "a", "light": "b"}, "2 1/2 in", method="pieced")
    # derived: a quarter circle in a square of 1 1/4 in has a radius of less than 1 in.
    assert tight_curves(narrow.block)
    assert "The curve is tight: its radius is" in told(narrow)
    curved = next(join for join in narrow.construction.joins if join.kind == "curved")
    assert words_joins.tight_words(narrow, curved)


def test_by_hand_every_patch_is_sewn_once_and_papers_come_out_when_all_round_is_sewn(rosette: Pattern) -> None:
    out: list[str] = []
    sewn = set()
    for number, join in enumerate(rosette.construction.joins):
        new = words_hand.new_patch(rosette, join)
        assert new not in sewn
        sewn.add(new)
        if number:
            beside = words_hand.neighbours(rosette, join, new)
            # derived: between one and the next of the patches it is sewn to the needle turns once, at the least.
            assert len(join.pivots) >= len(beside) - 1
        out += words_hand.papers_out(rosette, join)
    # derived: of a rosette of two rings the seven inner hexagons have all their neighbours.
    assert sorted(out, key=int) == [str(n) for n in range(1, 8)]
    assert len(out) == len(set(out))


def test_by_hand_a_paper_is_the_finished_patch(rosette: Pattern) -> None:
    words = " ".join(map(said, words_hand.basting(rosette)))
    assert "76 papers" in words
    assert "without allowance" in words
    assert "1/4 in larger all round" in words


@pytest.mark.parametrize("family", ["pinwheel-of-five", "log-cabin", "half-square-triangles"])
def test_headings_skip_no_level(family: str) -> None:
    # Source: ISO 14289-1 (PDF/UA-1), 7.4.2: no heading level may be skipped.
    drafted = registry.family(family)
    roles = {patch.role: "ab"[n % 2] for n, patch in enumerate(drafted.draft(drafted.parameters(), 9.0).patches)}
    pattern = made(family, roles, "9 in", method="pieced", copies=1)
    levels = [node["level"] for node in walked(handout_data(pattern, HandoutOptions())["body"]) if node["k"] == "h"]
    assert all(onward <= level + 1 for level, onward in pairwise(levels))


def walked(nodes: list[Node]) -> Iterator[Node]:
    for node in nodes:
        yield node
        yield from walked(node.get("body", []))
        for cell in node.get("cells", []):
            yield from walked(cell)
