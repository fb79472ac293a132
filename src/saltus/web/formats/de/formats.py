"""Days in German: 4. März 2027.

The full stop stands for the ordinal, and months are shortened as the German rules of spelling
have it (Amtliches Regelwerk, § 101 and § 104; from memory).
"""

DATE_FORMAT = "j. N Y"
DATETIME_FORMAT = "j. N Y, H:i"
MONTH_DAY_FORMAT = "j. N"
FULL_MONTH_DATE_FORMAT = "j. F Y"
WEEKDAY_DATE_FORMAT = "D, j. N Y"
WEEKDAY_MONTH_DAY_FORMAT = "D, j. N"
WEEKDAY_DAY_FORMAT = "D, j."
FULL_WEEKDAY_DATE_FORMAT = "l, j. F Y"
FULL_WEEKDAY_MONTH_DAY_FORMAT = "l, j. F"
