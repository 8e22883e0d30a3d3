"""Long work beside the screen, in a thread that nothing waits for when the program is left."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import ParamSpec, TypeVar

P = ParamSpec("P")
R = TypeVar("R")


async def in_background(job: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
    """Run `job` in a thread of its own and give what it returns.

    `asyncio.to_thread` would do but for the end: the event loop, and then the interpreter, wait
    for every thread of their pool. This thread ends with the program, wherever it is.

    Raises:
        Exception: What the job raised.
    """
    loop = asyncio.get_running_loop()
    found: asyncio.Future[R] = loop.create_future()

    def tell(setter: Callable[[], None]) -> None:
        with suppress(RuntimeError):  # the loop is closed: nobody waits for it any more
            loop.call_soon_threadsafe(lambda: None if found.done() else setter())

    def work() -> None:
        try:
            result = job(*args, **kwargs)
        except Exception as error:  # noqa: BLE001 - raised where it is waited for
            wrong = error
            tell(lambda: found.set_exception(wrong))
        else:
            tell(lambda: found.set_result(result))

    threading.Thread(target=work, name="background", daemon=True).start()
    return await found
