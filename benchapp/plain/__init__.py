"""The session by lines: one line in, one or more out, for screen readers, pipes and dumb terminals.

Only the command line comes in here. It knows the service and the words of the
registry of actions; what an action does, and how it is told, is said elsewhere.

Decisions, numbered as in DEVELOPERS.md:

59. **In the plain lines an end is written at its own moment.** Lines come late: a pipe waits, a
    machine is busy. `plain/meanwhile.py` lets time pass from one end to the next, each tick at
    the moment of that end, so that a wait has its own length and the output depends only on what
    was typed and when. A thread reads standard input by a reader of its own, since the
    interpreter waits for its own reader's lock when it ends. Price: if the machine slept, a wait
    ends when it woke.
"""

from benchapp.plain.loop import CannotBegin, LineStream, rehearse_plain, resume_plain, run_plain

__all__ = ["CannotBegin", "LineStream", "rehearse_plain", "resume_plain", "run_plain"]
