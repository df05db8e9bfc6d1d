"""The notations of a record that are not measures: ids, days, phone numbers, addresses, points.

Pure functions from text to a value; each raises `NotationError` and shows what is expected.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from urllib.parse import urlsplit

from handbook import measures
from handbook.measures import NotationError

LONGEST_WORDS = 2000
ID_PATTERN = "^[A-Za-z][A-Za-z0-9-]{0,31}$"
YES = {"yes": True, "true": True, "no": False, "false": False}

# Control characters but the line break, overrides of the writing direction, halves of pairs.
_UNSEEN = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")


@dataclass(frozen=True, order=True)
class Point:
    """A point on a level's plan, in inches: `x` to the right, `y` up."""

    x: float
    y: float


@dataclass(frozen=True, order=True)
class YearMonth:
    """A month of a year."""

    year: int
    month: int

    def __str__(self) -> str:
        return f"{self.year:04d}-{self.month:02d}"


@dataclass(frozen=True)
class PhoneNumber:
    """A phone number as written, which is how it is dialled at the house."""

    text: str

    def __str__(self) -> str:
        return self.text

    @property
    def tel(self) -> str:
        """The `tel:` URI (RFC 3966): separators dropped, an extension as `;ext=`.

        A number without `+` is left local and without a phone-context: the record does not say
        which country's plan it is from, and phones take the `;` of `911;phone-context=+1` as a
        pause in dialling.
        """
        number, _, extension = self.text.partition(" x")
        digits = re.sub(r"[^\d+]", "", number)
        return f"tel:{digits};ext={extension}" if extension else f"tel:{digits}"


def parse_text(text: str) -> str:
    """Read plain words: stripped, up to 2,000 characters, line breaks allowed."""
    words = text.strip().replace("\t", " ")
    if len(words) > LONGEST_WORDS:
        raise NotationError(
            f"the text is {len(words)} characters long; {LONGEST_WORDS} is the most",
            "shorten it",
        )
    odd = _UNSEEN.search(words)
    if odd:
        message = f"the text holds a character that cannot be seen (U+{ord(odd[0]):04X})"
        raise NotationError(message, "delete it; it often comes along when text is pasted")
    return words


def parse_id(text: str) -> str:
    """Read an id: a letter, then letters, digits and hyphens, 32 at the most."""
    word = text.strip()
    if not re.fullmatch(ID_PATTERN.strip("^$"), word):
        like = re.sub(r"[^A-Za-z0-9]+", "-", word).strip("-")
        like = like if re.fullmatch(ID_PATTERN.strip("^$"), like) else "W1"
        raise NotationError(
            f"{word[:40]!r} cannot be an id",
            f"a letter first, then letters, digits or hyphens, 32 at the most, like `{like}`",
        )
    return word


def parse_distance(text: str) -> measures.Length:
    """Read a length that cannot be below zero."""
    length = measures.parse_length(text)
    if length.inches < 0:
        raise NotationError(
            f"{text!r} is less than nothing", f"write it like {measures.LENGTHS_LIKE}"
        )
    return length


def parse_day(text: str) -> date:
    """Read an ISO 8601 calendar date, year first; no other order, since they are mixed up."""
    match = re.fullmatch(r"(\d{4})-(\d{2})-(\d{2})", text.strip(), re.ASCII)
    if not match:
        raise NotationError(f"{text!r} is not a day", "year, month, day, like `2026-04-10`")
    try:
        return date(*map(int, match.groups()))
    except ValueError:
        raise NotationError(f"there is no day {text.strip()}", "year, month, day") from None


def parse_month(text: str) -> YearMonth:
    """Read an ISO 8601 month, `2026-04`."""
    match = re.fullmatch(r"(\d{4})-(0[1-9]|1[0-2])", text.strip(), re.ASCII)
    if not match:
        raise NotationError(f"{text!r} is not a month", "year, then month, like `2026-04`")
    return YearMonth(int(match[1]), int(match[2]))


def parse_yes_no(text: str) -> bool:
    """Read yes or no."""
    answer = YES.get(text.strip().lower())
    if answer is None:
        raise NotationError(f"{text!r} is neither yes nor no", "write `yes` or `no`")
    return answer


def parse_number(text: str) -> float:
    """Read a plain decimal number without a unit."""
    if not re.fullmatch(r"-?(\d{1,9}|\d{1,3}(,\d{3}){1,2})(\.\d{1,9})?", text.strip(), re.ASCII):
        raise NotationError(f"{text!r} is not a plain number", "digits alone, like `12` or `0.93`")
    return float(text.strip().replace(",", ""))


def parse_count(text: str) -> int:
    """Read a whole number, zero or more."""
    if not re.fullmatch(r"\d{1,9}|\d{1,3}(,\d{3}){1,2}", text.strip(), re.ASCII):
        raise NotationError(f"{text!r} is not a whole number", "digits alone, like `2`")
    return int(text.strip().replace(",", ""))


def parse_degrees(text: str) -> float:
    """Read degrees of a circle, `90`, `22.5 deg` or with the degree sign."""
    try:
        value = parse_number(re.sub(r"\s*(°|deg|degrees)$", "", text.strip()))
    except NotationError:
        value = -1
    if not 0 <= value <= 360:
        raise NotationError(f"{text!r} is not an angle", "degrees from 0 to 360, like `90`")
    return value


def parse_phone(text: str) -> PhoneNumber:
    """Read a phone number, also a short emergency one; an extension is kept as ` x12`."""
    match = re.fullmatch(
        r"(\+?[\d .()-]+?)(?:\s*(?:x|ext\.?|extension)\s*(\d{1,6}))?", text.strip(), re.ASCII
    )
    digits = re.sub(r"\D", "", match[1]) if match else ""
    if not match or not 3 <= len(digits) <= 15:  # ITU-T E.164: 15 digits at the most
        raise NotationError(f"{text!r} is not a phone number", "write it like `555-0142` or `911`")
    number = re.sub(r"\s+", " ", match[1]).strip()
    return PhoneNumber(f"{number} x{match[2]}" if match[2] else number)


def parse_url(text: str) -> str:
    """Read an https address without query or fragment; a last slash is added if left off."""
    hint = "write it like `https://house.example/`"
    address = text.strip()
    if not re.fullmatch(r"https://[!-~]+", address, re.IGNORECASE):
        raise NotationError(f"{address[:60]!r} is not an https address", hint)
    if re.search(r"[?#]", address):
        raise NotationError("the address has a part after `?` or `#`", "leave that part off")
    if not _sound(address):
        raise NotationError(f"{address[:60]!r} is not an address that pages can be put under", hint)
    return address if address.endswith("/") else address + "/"


def _sound(address: str) -> bool:
    try:
        parts = urlsplit(address)
        host, _ = parts.hostname or "", parts.port
    except ValueError:
        return False
    labels = r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*"
    odd = re.search(r"[\"'<>\\^`{|}]|/\.\.?(/|$)", parts.path)
    return "@" not in parts.netloc and bool(re.fullmatch(labels, host)) and not odd


def parse_email(text: str) -> str:
    """Read one e-mail address."""
    address = text.strip()
    if len(address) > 254 or not re.fullmatch(
        r"[\w.+-]{1,64}@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+", address, re.ASCII
    ):
        raise NotationError(
            f"{address[:60]!r} is not an e-mail address", "like `office@builder.example`"
        )
    return address


def parse_file_name(text: str) -> str:
    """Read the name of a file inside the record's folder, with `/` between folders."""
    name = text.strip()
    parts = name.split("/")
    if (
        len(name) > 200
        or re.search(r"[\\:*?\"<>|~\x00-\x1f\x7f]", name)
        or any(part.strip() in ("", ".", "..") for part in parts)
    ):
        raise NotationError(
            f"{name[:60]!r} is not a file inside this folder", "like `photos/hall-bath.jpg`"
        )
    return name
