"""Numbers, proofs, signatures and where sheets are, with their rules, as entries folded into state.

Pure: time comes in as an argument. `conflicts` has what two books apart need. Drying, session, the
book and everything above them may come in.

Decisions, numbered as in DEVELOPERS.md:

37. **An entry of a print is written over those its writer had seen, and no others.** It names
    them in `over`: numbers, signatures, corrections, where a sheet is, declarations, the
    standard, what is told of a plate. What two books wrote apart then stands side by side in
    whatever order they come together (`versions.py`, `conflicts/differing.py`), and what neither
    could have done having seen the other is named as well: a number voided here and signed there,
    a sheet sold here and destroyed there, a size lowered here under a signature there. One line
    of an old paper taken in by both is one sheet. All pairs of short histories of one sheet are
    tried, three books in any order, and that every clash can be decided and stays so
    (`tests/edition/test_apart.py`); when a correction went over what stood there, one pair in ten
    was told differently by the order, and one side lost in silence. While two things stand, a
    sheet shows what was signed first, and of a declaration the more is reckoned with (size,
    proofs, Roman). A correction decides of what it names alone (what is pencilled, signed,
    destroyed, whether there is such a sheet; one from before `about`, of all of it), saying where
    it is of its place, declaring again of a declaration: after a signature only as one of the
    books has it, or with the total that was signed. Price: every entry carries a few names, and
    two recipes that spell a title differently must be told which is right.
66. **An edition that ends early keeps its total.** N is never lowered after a signature, so *cut
    short* is an entry of its own: the edition ends at a number, and those above it are void by
    one sentence. `edition/ending.py` says which numbers are left; from a cancelled plate none is.
    Said again, the later word counts. Price: a number is void for one of three reasons, its own,
    its sheet's or the cut.
67. **Editions beside one another share only the plates somebody named.** A colourway was
    cancelled with the first edition, whatever it is printed from. `edition/sharing.py` takes over
    nothing where nobody said which plates are shared. Price: two editions of one plate are one
    for the program only when somebody has said so.
69. **A BAT is replaced, not taken back.** It keeps what is pencilled on it, and another is the
    BAT from then on. Sheets are held against one sheet: the BAT, or a standard named later or
    while there is none. Price: two sheets can be marked BAT, and only the register says which
    counts.
"""
