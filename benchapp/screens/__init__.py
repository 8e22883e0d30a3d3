"""The screens: Textual, one file a screen, widgets beside, one theme.

Screens place what pure functions say; no trade is decided here. They may know
every other room, and no other room knows them. The pure helpers (`gate`,
`angle`, `glyphs`) do not import Textual.
"""
