"""How the bench calls across the room: tone, bell and voice, each in its own process.

The screen hands plans of deadlines to a `Caller`, a thread that keeps time by itself
(caller, ringer, schedule) and sounds them by what the machine has (found, system,
players, voice, tones). Two edges of the process live here too: the hold that keeps
the screen lit (awake), and the parent that gives the terminal back (guard).

It knows quantities and shown alone and never what a call means; the screens and the
command line may come in.
"""
