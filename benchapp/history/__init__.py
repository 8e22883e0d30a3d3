"""What past sessions teach: times, ink, spoilage, screws; hints at the bench; better recipes.

Pure: folded sessions in. Planning, views, reports and the edges may come in.

Decisions, numbered as in DEVELOPERS.md:

14. **Only what was judged is a record.** Sheets to damp are learnt from verdicts; unjudged
    sheets, warm-ups and ghosts teach nothing, and common practice stands in as a prior worth ten
    sheets. Price: a printer who never judges never gets a rate of their own.
20. **Times go on teaching a recipe.** A value taken over from `learn` keeps the first value's
    weight and all its days; a value changed by hand starts afresh. A change is offered only where
    the recipe is further off than one standard deviation and 4 %. Of 500 simulated printers (true
    20 min, first 15 or 27, applied daily) nine in ten are within 5 % after ten days and 99 of 100
    after thirty, with 0.7 changes each after the tenth day. Price: a change that is offered and
    then typed by hand to another value counts as by hand.
"""
