"""Packs, numbers, proofs and stacks, with their rules, as entries folded into state.

Pure: time comes in as an argument. It knows quantities alone; session, the book
and everything above them may come in.
"""
