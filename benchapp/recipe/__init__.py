"""The recipe of a print: text in, a frozen Recipe out, or every problem with its place.

Pure: no file, clock or screen. It knows quantities; every room but reckon and
edition may come in.
"""
