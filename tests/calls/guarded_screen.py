"""The small keys app of the screens' tests, under the guard; loaded in the child alone."""

from __future__ import annotations

import sys

from benchapp.calls.guard import run_guarded


def screen() -> int:
    """Run the app."""
    from tests.screens.pty_app import Keys

    app = Keys()
    app.start()
    return app.return_code or 0


if __name__ == "__main__":
    code = run_guarded(screen, "benchapp resume 2026-05-03")
    print(f"<code {code}><textual {'textual' in sys.modules}>", flush=True)
