"""What there is of paper, ink, tissue and blotters: counts and batches, and what is left of them.

Pure: entries and uses in, values out. Planning, reports, screens and the edges may come in.

Decisions, numbered as in DEVELOPERS.md:

87. **Of the stock only counts and batches are entries.** What was used is read off the pulls
    whenever it is asked for, so it can never differ from them, and a pull taken back gives its
    sheet back. A paper is its name with its weight; pieces become sheets by the tear of the
    recipe they were printed with. A count holds from its moment, one of an earlier day from the
    end of that day, and the last of each lot stands in the place of those before. Of two books'
    counts the later holds. Only days that went on after a count of what they print on are
    folded. Price: what no pull shows (blotters, an unweighed day's ink) is *not known*, and lots
    counted at several times leave a range.
"""
