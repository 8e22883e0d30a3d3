"""One day's work: entries in, state out; a state and an action in, new entries out.

Pure: time comes in as an argument. `actions` has one file a family of actions. History, planning,
views, the book and the edges may come in.

Decisions, numbered as in DEVELOPERS.md:

13. **A weighing belongs to the day.** `ink used`, `control sheet` and `dry sheet` go to no sheet,
    and the set-up card does not carry them over: taken over with one key they would be weighed
    twice. Price: these few names are reserved among readings.
23. **A slip is a tread before the low time, taken back by the next within seconds.** A quick
    double press cannot be told from key repeat, so the time the step should have taken tells it.
    The moments are those of the presses, since a screen that stood still brings two together.
    Price: who catches up after treads forgotten leaves more than four seconds between them.
27. **What is decided is folded while it is decided.** A rule emits events into a context. Each is
    folded at once as it will be from disk, so that what follows by itself (a wait begins, the
    wash, the next sheet, the close) is one loop, `draft_auto_steps`, after every action. Price:
    every entry is folded twice, in the context and in the service.
28. **Hands belong to the room, and only a wash cleans them.** Two sessions open share one
    printer; a helper takes the clean steps without making inky hands clean. A property holds it
    over generated days.
29. **No plate goes through before every plate of the sheet is inked.** A step follows what names
    its plate, so the first pull could begin while the second plate still warmed, and the sheet
    lay trapped for a quarter of an hour. It may still be chosen.
34. **What a book says of another's session lies in a stream of its own**,
    `session/2026-05-03@a@b`: verdicts, tags, notes, readings, marks and what a pull was for, no
    more. The fold puts it among the session's entries by the writers' wall clocks, made never to
    run backwards inside a stream, and after the pull it is about, so that whichever book takes
    the other in reads the same; the later word stands. A session of another book, looked at,
    brings no ink, helper or time here, and a pack is used only in the book that damped it. What
    is done to a stack that another book began lies in `stack/…@b` in the same way, by the same
    clocks, but never before what its writer had seen: each entry names the last of every other
    book. A sheet laid on boards that the other book took down before lies there, up again. Price:
    a clock that is wrong decides which of two words is the later.
49. **A take-back folds the journal anew without what it names.** There is no second code that
    undoes: a step reopened keeps its old start, a pull gives its number back, what time did
    stays, because that is what the remaining entries say. Price: a fold of the day, some
    milliseconds.
52. **A menu key means one thing for good.** Used tags once climbed to the first keys, and `t 2 3`
    meant two tags within twenty seconds. `session/tags.py` writes out the keys of the trade's
    tags, and a test pins them; own words follow in file order. Used tags have letters no group
    has, given out by first use and kept all session. Answers that come and go either bring their
    own key (a step its place in the recipe) or are only in the list. Price: the newest tag is not
    always the nearest.
53. **A value that teaches is read when it is typed.** `session/values.py` asks the readers of
    quantities before a setting or a reading is written. Before, an unreadable screw was kept and
    an older figure was used instead. Words stay free where nothing is reckoned. Price: a printer
    who writes no unit is asked once.
54. **A step in hand while benchapp was closed has no time.** Its end says so (`taken`), so that
    an older book reads as before. The limit is 90 s since benchapp was last seen alive. That mark
    is written once a minute and at leaving, and a program that crashed needs some seconds to
    start again. A pause pressed before leaving keeps the time. Price: up to a minute and a half
    of absence counts as work; a crash noticed late in a long step loses its time.
57. **Press, blankets and heat are set in the room.** `session/room_settings.py` keeps what was
    said of each last, and by which session: folded from `setting changed` and from pulls, as a
    plate's own figure is at the press only once that plate goes through. A pull writes `setting
    found` where the room has it otherwise than its session said, so that a day read by itself
    tells the truth and days from before read as they did. A pull without a word leaves a screw in
    doubt only if its recipe has another figure or other names for it; letting the pressure off
    always does. Price: a printer who sets the screws back and does not say so has the other
    print's figure on record.
58. **A fact of the room is asked once, by the last.** `session/room_facts.py` knows three of
    them: heat, rags, and the damp sheets of one paper. The session that comes to one first leaves
    it to an open one that was worked on today and has it still to ask (`step left`, `step taken
    over`); there it is asked with the session's own step, and `must answered` goes to every
    owner. It is written, not only shown, so that each day read by itself has its fact. Price: two
    recipes that word the answers differently share the words of the one that is asked.
60. **What is said of an inky step is kept until its turn.** Its tread makes hands inky, and then
    no key may answer. So skip and left to can be said from the clean moment before it, of every
    inky step up to the wash (`session/coming.py` tries the treads out), and are carried out where
    the step would begin: nothing begins early, and nothing that follows it either. An inky step
    that the end of a wait began can be taken back alone; it then waits for the pedal. Price: two
    kinds of entries more.
61. **A day whose recipe cannot be built is a line in the list, not the end of the book.** Folding
    it gives no session; lists show it as unreadable, its review says why (exit 3), exports name
    what they leave out, `--jsonl` keeps it whole. Price: whoever looks up a session may find
    none.
63. **Hands are clean while paper rests, and no paper counts as ready before it is.** A tread
    after the wipe once took the whole pack as rested. Now the wash comes before the wait. A tread
    in the wait takes one sheet as it is, and says first how long it has rested
    (`views/cut_short.py` reads that off the drafts of the action, tried out). Sheets in the water
    call until a tread answers; that tread begins *sheets out*, so its time is work. A pull
    without paper asks like a `must`, but only clean hands. Price: such a pull takes a key.
64. **A tread just after a wait is for the wait.** Within two seconds after time alone began a
    step of the hands, or ended a wait by itself, a tread changes nothing
    (`session/late_tread.py`). It is told from the entry's word, so it needs no state. Price: a
    step that really takes under two seconds takes a second press.
65. **A pack has one size, with its reason.** `session/pack_size.py` is asked by the Bench, the
    card, the Plan and `prepare`. One sheet that is still needed takes a spare along, because each
    sheet that was spoiled asked for a pack of its own. Price: one sheet may be left over; how
    long sheets keep is known to the Plan alone.
68. **A day on a cancelled plate does not count for the edition.** Its opening keeps that the
    plate was cancelled, so a session needs no register to say so. Its pulls are for the
    cancellation proof by rule, and figures count such sheets apart. Price: a cancelling corrected
    later does not change what an open day proposes.
75. **A recipe does not know that its plate was reworked.** Opened anew it said the state from
    before, and the proof had that state by rule. The edge compares it with the days before, and
    `opened` keeps which plates are asked about. A state written anew in the recipe is believed.
    Price: every proofing day of one print is read when another opens.
"""
