"""The studio's one file: entries appended, replayed, searched, checked and backed up.

The only room that knows SQLite. It knows the pure rooms; the papers, the screens
and the command line may come in.
"""
