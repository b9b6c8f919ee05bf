"""The languages that paper is printed in: English, and each folder of message catalogues."""

from functools import cache
from gettext import GNUTranslations, NullTranslations
from pathlib import Path

#: One folder a language, as gettext has them: LANGUAGE/LC_MESSAGES/sheet.po and its sheet.mo.
LOCALE = Path(__file__).parents[1] / "sheet" / "locale"
DOMAIN = "sheet"
ENGLISH = NullTranslations()


class NoSuchLanguage(ValueError):
    """A language that there is no message catalogue of."""


@cache
def languages() -> tuple[str, ...]:
    """Return the languages by their short names, English first."""
    return ("en", *sorted(path.parts[-3] for path in LOCALE.glob(f"*/LC_MESSAGES/{DOMAIN}.mo")))


@cache
def words_of(language: str) -> NullTranslations:
    """Return a language's words; English is the messages themselves.

    Raises NoSuchLanguage, which names those there are.
    """
    if language not in languages():
        known = ", ".join(languages())
        raise NoSuchLanguage(f"language: {language!r} is none of those printed here: {known}")
    if language == "en":
        return ENGLISH
    with (LOCALE / language / "LC_MESSAGES" / f"{DOMAIN}.mo").open("rb") as file:
        return GNUTranslations(file)
