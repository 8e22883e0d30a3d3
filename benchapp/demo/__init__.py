"""The demo: an invented studio's year, printed by a simulated printer through the real workshop.

An edge: it joins rooms, and chance is allowed here. Nothing in it writes an entry by hand; what
stands in the book is what the decider made of the printer's doings.

`benchapp/demo/printer.py` holds `Printer`, who prints whole days through a `SessionService`, as
the screens and the plain lines do, and moves the `FakeClock` it is given by as much as each thing
takes. It ticks when the next clock in the room runs out, answers what calls, treads when a step
is done, and says verdicts, tags, notes and readings at clean moments. Everything by chance comes
from the `random.Random` handed in, so a seed is a day. What a printer cannot foresee is said
beforehand in a `SimulatedDay`: which sheet is spoiled before its pull, whose tread comes too
early, where the session is left open. A refusal where the printer was sure is a `PrinterError`;
so a day that ends is itself a test of the decider. The demo's year (`plan.py`) is printed into a
book in memory and copied to disk whole by `Book.backup`. What becomes of a day's sheets stands
beside it there: `table.py` changes boards, sorts, numbers, signs and sends out through
`EditionService`, and finds the sheets by what the book says of them, so that any seed serves. The
sheets of the last two days are left to whoever looks round. `tests/make_pictures.py` draws
README's pictures over such days.
"""
