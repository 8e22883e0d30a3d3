"""The registry of all kinds of entries, read from the classes of events. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from inspect import cleandoc
from types import MappingProxyType, ModuleType
from typing import Final

from benchapp.events import call, edition, impression, pack, session, stack, stock, timer
from benchapp.events.event import BookEvent, rules_of
from benchapp.events.field_types import Rule


@dataclass(frozen=True)
class Kind:
    """A kind of entry, as its class describes it: where it is stored, and its fields."""

    event: type[BookEvent]

    @property
    def stream(self) -> str:
        """The family of streams it lives in."""
        return self.event.stored_stream

    @property
    def name(self) -> str:
        """The name it is stored under."""
        return self.event.stored_kind

    @cached_property
    def fields(self) -> tuple[str, ...]:
        """The stored names of those fields that every entry of the kind has."""
        return tuple(f.stored for f in self.event.stored_fields if not f.optional)

    @cached_property
    def optional(self) -> tuple[str, ...]:
        """Those an entry has only where they were meant: books from before them have none."""
        return tuple(f.stored for f in self.event.stored_fields if f.optional)

    @cached_property
    def rules(self) -> Mapping[str, Rule]:
        """What each field may hold."""
        return rules_of(self.event)

    def find_unfit(self, body: Mapping[str, object]) -> str | None:
        """The first field of a body that holds what it may not, with what it must be; or None."""
        return next((f"{name} must be {rule.must}" for name, rule in self.rules.items()
                     if name in body and not rule.fits(body[name])), None)

    @property
    def help(self) -> str:
        """What happened, and what its fields mean."""
        return cleandoc(self.event.__doc__ or "")


_FAMILIES: Final = (session, impression, call, pack, timer, edition, stack, stock)


def _kinds(*modules: ModuleType) -> Mapping[tuple[str, str], Kind]:
    events = [x for module in modules for x in vars(module).values()
              if isinstance(x, type) and issubclass(x, BookEvent) and "stored_kind" in vars(x)]
    return MappingProxyType({(e.stored_stream, e.stored_kind): Kind(e) for e in events})


#: Every kind there is, by (stream family, name). Kinds may grow; none is renamed.
KINDS: Final = _kinds(*_FAMILIES)
