"""Handwriting: the forms that are taught, and the judging of ink against them."""
