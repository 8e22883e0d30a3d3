"""What is kept beside the book in case it is lost: text mirrors, and backups made by themselves.

Nothing here is in a day's way: it is written when a session has closed, when nothing has happened
for a while, or when the book is put away.

Decisions, numbered as in DEVELOPERS.md:

72. **Copies are made by a thread with a way into the book of its own.** A book is one thread's,
    and no tread waits for a copy. `copies/beside.py` writes the mirror when a session has closed
    or nothing was written for a minute; what is left when the book is put away is written then,
    for a second at most. `folder.json` says up to which row the folder mirrors the book, so that
    a pass reads what is new alone; without it each file's last line is held against the stream's.
    A file that has more than the book, as after a restore, is left; one that differs is put
    aside.
73. **A rebuilt book is the one that was mirrored, or has a name of its own.** Rows of other
    books' entries are no part of a line, so `folder.json` has them. If each row has its entry, it
    is the same book, and `book restore` decides about its origin as of any copy. If one is
    missing, nobody knows which ids and marks it gave. Price: then a session that was open is only
    read and judged.
74. **Backups are ordered by rows.** A clock at 1970 would make the newest the first to go. Of
    each origin the newest stay for themselves, so that a new book in the place pushes nothing
    out. Each copy is read through, chains too, before it has a name and any other goes. Price: a
    long book takes seconds at the end of a session, in the thread.
"""
