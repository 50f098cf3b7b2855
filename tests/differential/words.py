"""What the name of a material says, by the project's table of words; the way of looking up is written anew here."""

import csv
import unicodedata
from functools import cache
from pathlib import Path

TABLE = Path(__file__).resolve().parents[2] / "src" / "model" / "words" / "materials.csv"
SPECIAL = str.maketrans({"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "ı": "i"})
WRITTEN_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ø": "oe", "ü": "ue", "å": "aa"})


@cache
def meanings(name):
    """The set of meanings; what a longer phrase covers is not looked up again."""
    words = _split(name)
    found = [(at, at + len(phrase), meaning) for phrase, meaning in _table() for at in range(len(words) - len(phrase) + 1)
             if all(_fits(part, word) for part, word in zip(phrase, words[at:]))]
    return frozenset(meaning for start, end, meaning in found
                     if not any(a <= start and b >= end and b - a > end - start for a, b, _ in found))


@cache
def _table():
    with TABLE.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    forms = [(form, row["meaning"]) for row in rows for form in {_plain(row["word"]), _plain(row["word"].translate(WRITTEN_OUT))}]
    return [(form.split(), meaning) for form, meaning in forms]


def _fits(part, word):
    text = part.strip("*")
    if part.startswith("*") and part.endswith("*"):
        return text in word
    if part.startswith("*"):
        return word.endswith(text)
    return word.startswith(text) if part.endswith("*") else word == text


def _split(name):
    words, before = [""], " "
    for letter in name:
        if unicodedata.combining(letter):
            continue
        turns = letter.isnumeric() != before.isnumeric() or (letter.isupper() and before.islower())
        if not letter.isalnum() or turns:
            words.append("")
        if letter.isalnum():
            words[-1] += _plain(letter.lower())
        before = letter
    return [word for word in words if word]


def _plain(text):
    text = unicodedata.normalize("NFD", text.translate(SPECIAL))
    return "".join(letter for letter in text if not unicodedata.combining(letter))
