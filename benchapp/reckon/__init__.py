"""The day's arithmetic, one question a file: numbers in, numbers out, never a recipe.

Pure: the sources of formulas stand beside them. It knows quantities alone;
session, history and everything above may come in.

Decisions, numbered as in DEVELOPERS.md:

15. **A recipe's grain runs long with long.** Where it says which way, pieces lie on the sheet so
    that both run alike; where it is silent all lie the one way that gives more. Price: a piece
    wanted across the grain is asked for by figures.
19. **Drift is told by ranks, late and seldom.** Mann-Kendall at p < .004 after every impression
    from the eighth. Over 4,000 simulated stable editions it finds a direction in 1.5 of 100 of
    thirty impressions and in 3.3 of sixty with grades, in 2.2 and 4.2 with fine readings (p < .01:
    about 7 and 12); three-sigma limits from the first ten do in 24. Several readings of a print
    share the chance. A wear of .06 grade an impression
    is found in 94 of 100. Fieller's 80 % interval held 79. Price: fewer than eight graded sheets
    never say anything.
39. **Limits are for instruments, from twenty steady readings, and their false alarms are told.**
    In 2,000 simulated stable runs of fifty, limits from the first twenty had one of the thirty
    after outside in 20 of 100, the moving average in 20, either in 28: that stands beside every
    such chart. A change of a setting among the twenty, or a direction in them, and others are
    sought.
80. **Tearing has a bound on its work, and plain strips in reserve.** One search tries all tears,
    on values or on counts of each size, and counts what it tries; past 1.2 million (half a
    second) it stops. Then strips answer (of the sheet, or of blocks of it), with a deckle to keep
    strips along the edges, for a demand the best of many fillings, and the answer says that it is
    not proved. Pieces of one size whose grain is fixed need no search. Price: on a slow machine
    more than half a second; of several small sizes torn without numbers the waste can be a piece
    more than the least.
"""
