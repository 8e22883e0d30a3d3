"""Tests of the screens and of what they stand on."""
