"""Help topics: one page a topic, for the command line, the screens and the manual page.

The texts are files beside this module; what the program knows already is put in from there.
Knows the pure rooms, the preferences and the formats of the reports. Screens and commands come in.

Decisions, numbered as in DEVELOPERS.md:

84. **What is explained is explained once, in the help.** README had grown to 4,100 words, and
    what a key or a word of the recipe means was nowhere when hands were busy. Topics are text
    files; `benchapp help`, `?` on a screen and the manual page show the same. README says how to
    begin. `tests/help/test_words.py` counts what can be counted of plain English. Price: a
    sentence about a command is looked up, not read in one go.
"""
