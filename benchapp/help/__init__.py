"""Help topics: one page a topic, for the command line, the screens and the manual page.

The texts are files beside this module; what the program knows already is put in from there.
Knows the pure rooms, the preferences and the formats of the reports. Screens and commands come in.
"""
