"""Entries: their shape, their kinds, their streams, and what can be said of their moments.

Every room that writes or reads entries may come in; it knows no other room.

Decisions, numbered as in DEVELOPERS.md:

1. **Entries are the truth, state is folded from them.** A day is run with inky hands and may be
   cut off at any moment, and years later someone asks why. Nothing is edited: a correction is an
   entry. Price: every view is a fold, and kinds can grow but never be renamed.
"""
