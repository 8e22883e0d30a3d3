"""The commands, one function each: called by the command line with its arguments.

Each gives the exit code. None imports the screens before it shows one.
"""
