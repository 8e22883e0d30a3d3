"""What is shown, ready to be placed: the Bench, the Studio, messages, warnings, cards.

Pure: a room and a moment in, texts out. Reports and the edges may come in.

Decisions, numbered as in DEVELOPERS.md:

12. **The view is told what the sessions taught.** Proposals at the bench rest on days that are
    not in the room; the workshop folds them once a session, and `bench_view` takes what they
    taught as a value and stays pure. Price: a verdict on another day folds them again.
"""
