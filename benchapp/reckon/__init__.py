"""The day's arithmetic, one question a file: numbers in, numbers out, never a recipe.

Pure: the sources of formulas stand beside them. It knows quantities alone;
session and everything above may come in.
"""
