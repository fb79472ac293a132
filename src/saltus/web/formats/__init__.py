"""How each language writes a day: Django's names of formats, and some of our own.

Templates give them to the filter ``date``, code to :func:`django.utils.formats.date_format`.
``tests/web/test_days.py`` holds that every language has the same ones.
"""
