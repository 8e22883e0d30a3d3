"""One day's work: entries in, state out; a state and an action in, new entries out.

Pure: time comes in as an argument. It knows recipe, edition, reckon and quantities;
the book, the screens, the papers and the command line may come in.
"""
