"""Which families there are: every plugin found by its entry point, each loaded so that no other can stop it."""

from __future__ import annotations

import difflib
import os
import re
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import redirect_stdout
from dataclasses import dataclass
from functools import cache
from importlib import metadata
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final

import pluggy

from seamproof.errors import PluginError
from seamproof.plugin import hookspecs
from seamproof.plugin.family import Family, Parameters

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

GROUP: Final = "seamproof.plugins"
"""The entry point group in which plugins are found."""

CHOOSE: Final = "SEAMPROOF_PLUGINS"
"""Environment variable: names of plugins to load, with commas between; a minus before a name keeps that one out."""

TRACE: Final = "SEAMPROOF_TRACE"
"""Environment variable: anything but nothing or 0 writes every hook call to standard error."""

SLOW: Final = 1.0
"""[s] A plugin that takes longer than this to load is reported, and used."""

_SLUG: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*", re.ASCII)


@dataclass(frozen=True, slots=True)
class Plugin:
    """One plugin that was found, loaded or not.

    Attributes:
        name: The name of its entry point.
        distribution: The distribution that brings it.
        version: That distribution's version.
        families: Slugs of the families taken from it.
    """

    name: str
    distribution: str
    version: str
    families: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.name} (from {self.distribution} {self.version})".rstrip()


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something that was not loaded, or only slowly: `plugin` names it, `reason` says why."""

    plugin: str
    reason: str

    def __str__(self) -> str:
        return f"plugin {self.plugin}: {self.reason}"


class Registry(Mapping[str, Family[Any]]):
    """The families by slug, sorted; frozen once loaded.

    Attributes:
        plugins: Every plugin that was loaded.
        troubles: What was not loaded, and why.
    """

    def __init__(
        self, families: Mapping[str, Family[Any]], plugins: Iterable[Plugin] = (), troubles: Iterable[Trouble] = ()
    ) -> None:
        self._families = MappingProxyType(dict(sorted(families.items())))
        self.plugins = tuple(plugins)
        self.troubles = tuple(troubles)

    def __getitem__(self, slug: str) -> Family[Any]:
        return self._families[slug]

    def __iter__(self) -> Iterator[str]:
        return iter(self._families)

    def __len__(self) -> int:
        return len(self._families)

    def family(self, slug: str) -> Family[Any]:
        """The family of this slug.

        Raises:
            PluginError: there is none; the message names the nearest slug, and plugins that could not be loaded.
        """
        if slug in self._families:
            return self._families[slug]
        near = difflib.get_close_matches(slug, self._families, n=1, cutoff=0.5)
        hint = f"did you mean {near[0]!r}?" if near else "`seamproof families` lists them all"
        broken = "".join(f"; {trouble}" for trouble in self.troubles)
        raise PluginError(f"no family is called {slug[:60]!r}: {hint}{broken}", name=slug)

    def plugin_of(self, slug: str) -> Plugin:
        """The plugin a family comes from. Raises KeyError where there is no such family."""
        for plugin in self.plugins:
            if slug in plugin.families:
                return plugin
        raise KeyError(slug)


def load(
    entry_points: Iterable[metadata.EntryPoint] | None = None,
    choose: str | None = None,
    trace: Callable[[str], object] | None = None,
) -> Registry:
    """Load plugins one by one; a broken one is put down as a trouble and the others go on.

    Args:
        entry_points: Where plugins are; None: those of the group `seamproof.plugins` that are installed.
        choose: Names to load, with commas between, a minus before those to keep out; None or "": all.
        trace: Is given a line of text for every hook call.

    Two families of one slug are both refused, because which of them a recipe means cannot be known. What a plugin
    prints while it is loaded goes to standard error, so that no JSON is spoilt.
    """
    found = metadata.entry_points(group=GROUP) if entry_points is None else entry_points
    points = sorted({(e.name, _distribution(e), e.value): e for e in found}.items(), key=lambda item: item[0])
    wanted, troubles = _choose([name for (name, _, _), _ in points], choose or "")
    manager = pluggy.PluginManager(hookspecs.PROJECT)
    manager.add_hookspecs(hookspecs)
    if trace is not None:
        manager.trace.root.setwriter(trace)
        manager.enable_tracing()
    given = []
    for _, point in points:
        if point.name in wanted:
            plugin = Plugin(point.name, _distribution(point), _version(point))
            with redirect_stdout(sys.stderr):
                families, faults = _load_one(manager, point, plugin)
            troubles += [Trouble(str(plugin), fault) for fault in faults]
            given.append((plugin, families))
    return _unite(given, troubles)


@cache
def families() -> Registry:
    """Every family that is installed, by slug; loaded once, as the environment says (see CHOOSE and TRACE)."""
    is_traced = os.environ.get(TRACE, "") not in {"", "0"}
    return load(choose=os.environ.get(CHOOSE), trace=sys.stderr.write if is_traced else None)


def family(slug: str) -> Family[Any]:
    """The installed family of this slug. Raises PluginError naming the nearest slug where there is none."""
    return families().family(slug)


def _distribution(point: metadata.EntryPoint) -> str:
    return point.dist.name if point.dist else "unknown"


def _version(point: metadata.EntryPoint) -> str:
    return point.dist.version if point.dist else ""


def _choose(names: list[str], choose: str) -> tuple[set[str], list[Trouble]]:
    words = [word.strip() for word in choose.split(",") if word.strip()]
    out = {word[1:].strip() for word in words if word.startswith("-")}
    only = {word for word in words if not word.startswith("-")}
    troubles = [
        Trouble(word, f"{CHOOSE} names it, and no plugin of that name is installed: there is {', '.join(names)}")
        for word in sorted((out | only) - set(names))
    ]
    return (only or set(names)) - out, troubles


def _load_one(
    manager: pluggy.PluginManager, point: metadata.EntryPoint, plugin: Plugin
) -> tuple[list[Family[Any]], list[str]]:
    began = time.monotonic()
    key = f"{plugin.name}@{plugin.distribution}={point.value}"
    try:
        module = point.load()
        manager.register(module, name=key)
        manager.check_pending()
        others = [other for name, other in manager.list_name_plugin() if name != key]
        answers = manager.subset_hook_caller("seamproof_families", remove_plugins=others)()
        given = [family for answer in answers for family in answer]
    except (Exception, SystemExit) as error:  # noqa: BLE001 - whatever a stranger's plugin does, the others go on
        if manager.has_plugin(key):
            manager.unregister(name=key)
        return [], [f"not loaded: {type(error).__name__}: {_one_line(error)}"]
    faults = [f"family {_name(family)} refused: {fault}" for family in given if (fault := fault_of(family))]
    taken = time.monotonic() - began
    if taken > SLOW:
        faults.append(f"slow: it took {taken:.1f} s to load")
    return [family for family in given if not fault_of(family)], faults


def _one_line(error: BaseException) -> str:
    return (" ".join(str(error).split()) or "no reason given")[:300]


def _name(family: object) -> str:
    return repr(getattr(family, "slug", family))[:60]


def fault_of(family: object) -> str | None:
    """What is wrong with a family's description, in words; None where nothing is."""
    if not isinstance(family, Family):
        return f"a {type(family).__name__} is not a Family"
    fault = None
    if not isinstance(family.slug, str) or not _SLUG.fullmatch(family.slug):
        fault = "its slug must be small letters, digits and hyphens"
    elif not (isinstance(family.parameters, type) and issubclass(family.parameters, Parameters)):
        fault = "its parameters must be a class that inherits seamproof.Parameters"
    elif not callable(family.draft):
        fault = "its draft must be a function of parameters and size"
    elif not family.designs:
        fault = "it has no design: name at least one"
    else:
        try:
            family.parameters()
            for design in family.designs.values():
                family.parameters(**design)
        except Exception as error:  # noqa: BLE001 - a validator of the stranger's own may raise anything
            fault = f"its defaults or designs are not allowed by its own parameters: {_one_line(error)}"
    return fault


def _unite(given: list[tuple[Plugin, list[Family[Any]]]], troubles: list[Trouble]) -> Registry:
    owners: dict[str, list[Plugin]] = {}
    for plugin, found in given:
        for family in found:
            owners.setdefault(family.slug, []).append(plugin)
    for slug, those in owners.items():
        if len(those) > 1:
            both = " and ".join(str(plugin) for plugin in those)
            how = f"keep one of them out with {CHOOSE}=-{those[-1].name}"
            troubles.append(Trouble(both, f"each has a family called {slug!r}, so neither is used: {how}"))
    kept = {family.slug: family for _, found in given for family in found if len(owners[family.slug]) == 1}
    plugins = [
        Plugin(p.name, p.distribution, p.version, tuple(f.slug for f in found if f.slug in kept)) for p, found in given
    ]
    return Registry(kept, plugins, troubles)
