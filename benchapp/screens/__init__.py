"""The screens: Textual, one file a screen, widgets beside, one theme.

Screens place what pure functions say; no trade is decided here. They may know
every other room, and no other room knows them. The pure helpers (`gate`,
`angle`, `glyphs`) do not import Textual.

Decisions, numbered as in DEVELOPERS.md:

8. **The switch is one press, then silence.** Terminals send no key-up, and key repeat looks like
   presses. A fixed lock-out of 250 ms let thousands of false advances through in simulation;
   asking for 750 ms of silence since the last event let none through up to a repeat delay of 660
   ms. Price: two presses within that time are one.
17. **Every sound is a bar that stands still.** Nothing blinks: the same for those who asked for
    less motion, and nothing to fear for those whom flicker hurts. It lies over the screen, so
    that no count moves under the eye (that it lies over the screen: overturned by 55).
24. **A tread that may only have woken something does nothing.** While the terminal says that its
    keys go elsewhere, and after the boot clock ran on while the monotonic clock stood, the first
    tread shows that it is heard. Price: one tread; a display that went dark by itself, and
    systems whose monotonic clock counts sleep, cannot be told.
25. **A pedal is learned by holding it.** The longest silence inside one hold is the repeat delay,
    whatever bounces. Any key may be a pedal's, escape too, so silence ends listening, not a key.
26. **A walk begins by a tread and its first answer changes nothing.** Begun by itself it would
    talk before the sheet is looked at; with *keep* first, a foot that treads twice would write a
    verdict. Price: with the walk on, a sheet left unjudged takes two treads.
31. **A screen laid over another goes away once.** Keys typed before the first frame came to a
    card one after the other, and each took a screen off the stack, the one under it too.
44. **What plans is loaded after the first frame.** The Bench asks for its first promise on its
    second look, the Studio for its line when its shelf is read; the imports were a tenth of the
    Bench's. A test asks a fresh interpreter. Price: imports inside two functions.
50. **Nothing waits for a thread that plans.** The event loop and the interpreter join a pool's
    threads, so leaving took as long as a plan nobody saw. `screens/background.py` starts a thread
    of its own that ends with the program. The work is bounded as well. If very many fit, the
    count is sought in growing steps, and one number's chance is used for the numbers just below
    it, which never promises too much. A day of 174 pulls went from 29 s to 3. Price: beyond forty
    pulls a chance may be lower than its own plan would give.
55. **What appears by itself covers nothing.** A message at the foot hid the keys, and a call hid
    a caution. A passing message and the calls bar take rows of their own, or the line a screen
    has for messages, and the same words are not shown twice. Price: the screen moves down by a
    row or two.
76. **What a terminal sends is bounded, and a flood is dropped.** The framework queued every key:
    a stuck key was acted on for minutes after it ended, and a signal waited behind it. The driver
    gives the app 32 messages ahead and keeps 1,000 more (`screens/backlog.py`); beyond that
    nobody meant them, so all of it is dropped until the line was quiet for two seconds. Price: a
    text of more than a thousand letters sent as keys, not as a paste, is lost, and the screen
    says so.
"""
