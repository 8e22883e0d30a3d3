"""How the bench calls across the room: tone, bell and voice, each in its own process.

The screen hands plans of deadlines to a `Caller`, a thread that keeps time by itself
(caller, ringer, schedule) and sounds them by what the machine has (found, system,
players, voice, tones). Two edges of the process live here too: the hold that keeps
the screen lit (awake), and the parent that gives the terminal back (guard).

It knows quantities and shown alone and never what a call means; the screens and the
command line may come in.

Decisions, numbered as in DEVELOPERS.md:

16. **Calls have a thread of their own and know their deadlines ahead.** A terminal that stops
    reading freezes everything that draws; such a thread stayed 0.2 ms exact while a screen was
    dead for 9.6 s. `session/calls.py` says what will call, `screens/sounding.py` makes it a plan
    on the boot clock, `calls/` sounds it; what rang before time was looked at is written by the
    action `Sounded`. Price: what silences a call is said twice, to the decider and to the plan,
    and held together by `tests/calls/test_room_histories.py`. A clock without a session has a
    stream of its own, `clock/…`. A pack that no open session looks after writes *due*, *called*
    and *answered* in the pack's stream; `session/room_clocks.py` names both. The wash lists them
    but does not answer them, as no later step would see to them. Rests and open sheets are called
    once, without an entry.
18. **A parent waits for every screen command, and for nothing else.** Only another process can
    give a terminal back after kill -9. It is parted before a book or thread is open, so it holds
    no lock, and the screen ends when it is gone. Price: one sleeping interpreter; `--plain` is
    one.
77. **A signal is obeyed within a second.** Its handler comes between two instructions and not
    from the loop, which stands still with a terminal that takes no output. A thread of the child
    (`calls/guard.py`) ends the process after .8 s if the screen has not left by itself; what was
    acknowledged is on disk by then. While entries are only in memory it waits. Price: such an end
    leaves the log beside the book, which the next start takes in.
"""
