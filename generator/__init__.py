"""Firedeck: from records of cylinder-head specifications to pages for the bench."""
