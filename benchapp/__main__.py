"""Lets `python -m benchapp` be the same as the `benchapp` command."""

import sys

if __name__ == "__main__":
    from benchapp.cli import main

    sys.exit(main())
