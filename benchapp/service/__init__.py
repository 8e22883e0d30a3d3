"""Where deciding, appending and folding meet: for sessions, and for editions and stacks.

It knows the book and the pure rooms; only the edges may come in.

Decisions, numbered as in DEVELOPERS.md:

70. **Time measured inside one boot is never given back.** The heartbeat knew of 20 minutes in the
    water, no entry did, and a clock behind after a restart began the soak anew. The next program
    writes `seen` at the last heartbeat and at its own start, in each stream that counts; folding
    needs no rule for it. What lies between is by the wall clock: ≈, with what is left at most.
"""
