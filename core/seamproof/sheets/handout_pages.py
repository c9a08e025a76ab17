"""Template pages as values for the typesetter, and what must be found on them when the print is proven."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from seamproof.geometry.points import bounds
from seamproof.sheets.options import CORRECTABLE, PAPER_NAMES, RULE, RULE_CM, wrong_settings
from seamproof.sheets.pages import window_of
from seamproof.sheets.pages_frame import RULE_HALF, SQUARE, TICK_REACH, rule_sketch
from seamproof.sheets.words_pages import page_title, page_words, template_caption
from seamproof.units import MM_PER_INCH

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from seamproof.geometry import Edge, Outline, Point, Transform
    from seamproof.pattern import Pattern
    from seamproof.recipe.model import Paper
    from seamproof.sheets.handout_nodes import Drawings
    from seamproof.sheets.options import HandoutOptions
    from seamproof.sheets.pages import Placed, TemplatePage
    from seamproof.sheets.pages_frame import Rule

FORMAT: Final = 1


def page_data(
    pattern: Pattern, pages: Sequence[TemplatePage], options: HandoutOptions, drawings: Drawings
) -> list[dict[str, Any]]:
    """Each template page as a value for the typesetter."""
    paper = options.paper or pattern.recipe.make.paper
    return [
        _page(pattern, page, paper, drawings) | _furniture(page, n, paper, drawings, options.large_print)
        for n, page in enumerate(pages)
    ]


def expectations(pages: Sequence[TemplatePage]) -> dict[str, Any]:
    """What must be found on the template pages, in inches on the paper from its upper left corner."""
    return {
        "format": FORMAT,
        "unit": "in",
        "pages": [
            {
                "width": page.frame.width * page.stretch[0],
                "height": page.frame.height * page.stretch[1],
                "stretch": list(page.stretch),
                "prints": page.prints,
                "items": [*(_template(page, item) for item in page.placed), _square(page), *_rules(page)],
            }
            for page in pages
        ],
    }


def _page(pattern: Pattern, page: TemplatePage, paper: Paper, drawings: Drawings) -> dict[str, Any]:
    """What lies on a page and what is said of it."""
    items = [
        {
            "x": item.x,
            "y": item.y,
            "width": item.sketch.width,
            "height": item.sketch.height,
            "clip": item.tile is not None,
            "room": page.frame.left + page.frame.room[0] - item.x if item.tile else 0.0,
            "draw": drawings.add(f"template-{item.name}", item.sketch.drawing),
            "caption": template_caption(pattern, item),
        }
        for item in page.placed
    ]
    return {"title": page_title(page), "words": page_words(pattern, page, paper), "items": items}


def _furniture(page: TemplatePage, n: int, paper: Paper, drawings: Drawings, large: bool) -> dict[str, Any]:
    """The page itself: its size, margins, rules, square and table."""
    frame = page.frame
    across, down = frame.rules(page.free)
    rules = []
    for name, rule in (("across", across), ("down", down)):
        sketch, (x, y) = rule_sketch(rule, large=large)
        rules.append({"x": x, "y": y, "draw": drawings.add(f"rule-{n}-{name}", sketch.drawing)})
    return {
        "width": frame.width,
        "height": frame.height,
        "margins": list(frame.margins),
        "stretch": list(page.stretch),
        "header": frame.header,
        "footer": frame.footer,
        "rules": rules,
        "square": list(frame.square),
        "square_words": "1 in square",
        "table": _table(paper, across),
    }


def _table(paper: Paper, across: Rule) -> dict[str, Any]:
    """What the rules measure when a setting is wrong, worked out from the papers."""
    rows = [[f"{RULE:g} in", f"{RULE_CM:g} cm", "prints true to size. Sew!"]]
    rows += [
        [f"{RULE * setting.scale:.2f} in", f"{RULE_CM * setting.scale:.1f} cm", f"{setting.words}. Print again."]
        for setting in wrong_settings(paper)
    ]
    low, high = f"{RULE * (1 - CORRECTABLE):.2f}", f"{RULE * (1 + CORRECTABLE):.2f}"
    rows.append(
        [f"{low} to {high} in", "", "is a little off: ask the designer for a copy made with --printed ACROSSxDOWN."]
    )
    return {
        "head": ["Your rules measure", "", f"Your printer ({PAPER_NAMES[paper]} at “actual size”, 100 %)"],
        "rows": rows,
        "x": across.x - 0.06,
        "y": across.y + 0.27,
        "width": RULE + 0.12,
    }


def _template(page: TemplatePage, item: Placed) -> dict[str, Any]:
    move, stretch = item.to_page, page.stretch
    cut = _ring(item.template.cut, move, stretch)
    lines = [[_stretched(move.point(p), stretch) for p in line.printed] for line in item.template.lines]
    x0, y0, x1, y1 = bounds(cut)
    return {
        "kind": "template",
        "name": item.name,
        "label": item.template.label,
        "mirrored": item.is_mirrored,
        "box": [x0, y0, x1 - x0, y1 - y0],
        "closed": True,
        "path": cut,
        "lines": lines,
        "window": [_stretched(corner, stretch) for corner in window_of(item)] if item.tile else None,
    }


def _square(page: TemplatePage) -> dict[str, Any]:
    x, y = page.frame.square
    ring = [(x, y), (x + SQUARE, y), (x + SQUARE, y + SQUARE), (x, y + SQUARE)]
    return _mark("square", "1 in square", ring, page, closed=True)


def _rules(page: TemplatePage) -> Iterator[dict[str, Any]]:
    """Each rule's line, with the ticks at its two ends."""
    for rule in page.frame.rules(page.free):
        for unit, shown, long, side in (
            ("in", rule.inches, rule.inches, -1),
            ("cm", rule.centimetres, rule.centimetres * 10 / MM_PER_INCH, 1),
        ):
            near = side * RULE_HALF
            far = near + side * TICK_REACH[0 if unit == "in" else 1]
            path = [_on_rule(rule, 0, near), _on_rule(rule, long, near)]
            ends = [(_on_rule(rule, along, near), _on_rule(rule, along, far)) for along in (0, long)]
            way = "down" if rule.down else "across"
            yield _mark("rule", f"{shown:g} {unit} rule {way}", path, page, closed=False, lines=ends)


def _on_rule(rule: Rule, along: float, aside: float) -> Point:
    return (rule.x + aside, rule.y + along) if rule.down else (rule.x + along, rule.y + aside)


def _mark(
    kind: str,
    name: str,
    path: Sequence[Point],
    page: TemplatePage,
    *,
    closed: bool,
    lines: Sequence[tuple[Point, Point]] = (),
) -> dict[str, Any]:
    points = [_stretched(point, page.stretch) for point in path]
    ends = [[_stretched(point, page.stretch) for point in line] for line in lines]
    x0, y0, x1, y1 = bounds(points)
    box = [x0, y0, x1 - x0, y1 - y0]
    return {"kind": kind, "name": name, "box": box, "closed": closed, "path": points, "lines": ends, "window": None}


def _ring(outline: Outline, move: Transform, stretch: tuple[float, float]) -> list[Point]:
    return [_stretched(point, stretch) for edge in map(move.edge, outline.edges) for point in _points(edge)]


def _points(edge: Edge) -> Sequence[Point]:
    return edge.flattened()[:-1]


def _stretched(point: Point, stretch: tuple[float, float]) -> Point:
    return (round(point[0] * stretch[0], 6), round(point[1] * stretch[1], 6))
