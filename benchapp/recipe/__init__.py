"""The recipe of a print: text in, a frozen Recipe out, or every problem with its place.

Pure: no file, clock or screen. It knows quantities; every room but reckon and
edition may come in.

Decisions, numbered as in DEVELOPERS.md:

4. **YAML is read as events, never as values.** The usual reading turns `1:30` into 90, `no` into
   false and keeps the last of two equal keys; a 306-byte file of aliases unfolds to 9^9 leaves.
   Price: a reader of our own.
"""
