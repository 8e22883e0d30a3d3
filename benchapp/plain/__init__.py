"""The session by lines: one line in, one or more out, for screen readers, pipes and dumb terminals.

Only the command line comes in here. It knows the workshop and the words of the
registry of actions; what an action does, and how it is told, is said elsewhere.
"""

from benchapp.plain.loop import CannotBegin, LineStream, rehearse_plain, resume_plain, run_plain

__all__ = ["CannotBegin", "LineStream", "rehearse_plain", "resume_plain", "run_plain"]
