"""A frozen value with some of its fields changed, without going through all the others.

`dataclasses.replace` reads every field and calls the whole constructor. For a session of
over forty fields that is twenty times the work of copying its dictionary, and folding a
day does little else.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    # The same by its types: names and types of the fields are checked as ever.
    from dataclasses import replace as replace
else:

    def replace(value: Any, /, **changes: Any) -> Any:
        """`value` with these fields changed, as `dataclasses.replace` gives it.

        Args:
            value: A frozen dataclass whose constructor only keeps what it is given.
            changes: The new values, by the names of the fields.

        Raises:
            TypeError: There is no field of that name.
        """
        held = getattr(value, "__dict__", None)
        if held is None:  # it has slots, because it is small
            return dataclasses.replace(value, **changes)
        if not changes.keys() <= held.keys():
            unknown = ", ".join(sorted(changes.keys() - held.keys()))
            raise TypeError(f"{type(value).__name__} has no field {unknown}")
        made = object.__new__(type(value))
        made.__dict__.update(held)
        made.__dict__.update(changes)
        return made
