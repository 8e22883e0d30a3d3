"""What leaves the studio: HTML, CSV, JSON and iCalendar, as texts ready to write.

It knows the book and the pure rooms, and no screen; the screens and the command
line may come in.

Decisions, numbered as in DEVELOPERS.md:

32. **The phone rings by its own clock.** Changes of boards leave as times of the wall, with
    neither zone nor Z, because that is how they are meant, and an iCalendar file has no METHOD,
    being no message. SEQUENCE counts the entries of a stack, those taken back too, and the minute
    in which the preferences were last written: chosen hours move events without any entry. Price:
    any preference kept makes every event newer, which a phone does not show.
38. **A day is set against six days before it, from entries alone.** Reading a session back must
    not grow with the book, so only the last six of the same print are folded with it; a step is
    called longer from three times before, a tenth and five minutes over the day. Price: a review
    takes up to seven folds, and differs where an export left the earlier days out.
40. **Side by side is read from reviews.** One pure function lines up what reviews say, for the
    screens, the text and the JSON alike; a cell is empty where nothing was said, and a line that
    differs says so in a word, not by colour. Price: a review of each day that is looked at.
"""
