"""Numbers in links that are handed on: signed and dated, so that nobody makes one up."""

from django.core import signing

__all__ = ["SignedNumber"]


class SignedNumber:
    """Signs the numbers of one kind of thing.

    Parameters
    ----------
    salt : str
        Of that kind: what was signed for another is no good here.
    days : int
        For so long a token can be read.
    """

    def __init__(self, salt: str, days: int):
        self._signer = signing.TimestampSigner(salt=salt)
        self._longest_s = days * 86_400

    def token(self, number: int) -> str:
        """What stands in the link."""
        return self._signer.sign(str(number))

    def number(self, token: str) -> int | None:
        """The number in a link; None where it is none of ours, or too old."""
        try:
            return int(self._signer.unsign(token, max_age=self._longest_s))
        except (signing.BadSignature, ValueError):
            return None
