"""The profile of a kitchen: what is asked once and used everywhere, the same for the command and the window."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from troubleshoot import units
from troubleshoot.egg_classes import EGG_CLASSES
from troubleshoot.errors import AmountError
from troubleshoot.house_wording import egg_contents_g
from troubleshoot.kitchen.amounts import within
from troubleshoot.problems import choose_from
from troubleshoot.settings import CHOCOLATES, CREAM_SPAN, EGGS, FOOD_RULES, OVENS, SPANS, Settings, is_label

#: What is typed to say nothing.
NOTHING = ("", "-", "none", "unknown")


@dataclass(frozen=True, slots=True)
class Field:
    """One line of the profile: its key, the setting it is, its words, what is typed, and the words to choose from."""

    key: str
    setting: str
    words: str
    hint: str
    read: Callable[[str, bool], Any]
    choices: Mapping[str, str] | None = None

    def shown(self, settings: Settings) -> str:
        """Return the value as it can be typed again; nothing for what was not said."""
        value = getattr(settings, self.setting)
        if self.setting == "fahrenheit":
            return "F" if value else "C"
        if value is None or value in ("unknown", ()):
            return ""
        if isinstance(value, tuple):
            return ", ".join(part if isinstance(part, str) else f"{part:g}" for part in value)
        if self.setting == "own_cold_c" and settings.fahrenheit:
            value = value * 9 / 5 + 32
        if self.setting == "oven_off_k" and settings.fahrenheit:
            value = value * 9 / 5
        return value if isinstance(value, str) else f"{value:g}"


def change(settings: Settings, key: str, text: str) -> Settings:
    """Return the settings with one line of the profile changed; an empty text takes it back.

    Errors: an unknown key, a word that cannot be chosen, a number out of its span.
    """
    known = {field.key: field for field in FIELDS}
    if key not in known:
        raise AmountError(f"profile: there is no '{key}'; {choose_from(key, known)}")
    field = known[key]
    plain = text.strip()
    if plain.lower() in NOTHING:
        changes: dict[str, Any] = {field.setting: getattr(Settings(), field.setting)}
    else:
        changes = {field.setting: field.read(plain, settings.fahrenheit)}
    return replace(settings, **changes)


def answers(settings: Settings) -> dict[str, float]:
    """Return the answers to signs that the profile knows, by sign; a family takes those it asks."""
    return {} if settings.altitude_m is None else dict.fromkeys(("height_asl", "altitude"), settings.altitude_m)


def batch(settings: Settings) -> dict[str, float]:
    """Return the batch figures that the profile knows."""
    return {"richer_percent": max(settings.creams)} if settings.creams else {}


def inputs(settings: Settings) -> dict[str, float | str]:
    """Return the inputs of calculations that the profile knows, each in the input's own unit."""
    known: dict[str, float | str | None] = {
        "altitude_m": settings.altitude_m,
        "protein_percent": settings.flour_protein,
        "richer_percent": max(settings.creams, default=None),
        "oven_kind": {"fan": "fan", "no-fan": "conventional"}.get(settings.oven),
        "country": settings.food_rules if settings.food_rules in ("uk", "us") else None,
        "scheme": None if settings.food_rules == "unknown" else settings.food_rules,
        "coating": next((kind for kind in settings.chocolates if kind != "compound"), None),
        "cold_limit_c": settings.own_cold_c,
        "out_limit_h": settings.own_out_h,
        "contents_g": None if settings.egg_class == "unknown" else egg_contents_g(settings.egg_class),
    }
    return {name: value for name, value in known.items() if value is not None}


def _quantity(setting: str, unit: str, words: str) -> Callable[[str, bool], float]:
    def read(text: str, fahrenheit: bool) -> float:
        number, given = units.parse_quantity(text)
        if unit == "degC" and not given and fahrenheit:
            given = "degF"
        low, high = SPANS[setting]
        value = units.convert(number, given, unit) if given else number
        return within(value, low, high, words, {"degC": "°C"}.get(unit, unit))

    return read


def _difference(text: str, fahrenheit: bool) -> float:
    number, given = units.parse_quantity(text)
    if given not in ("", "degC", "degF", "K"):
        raise AmountError(f"'{given}' is no difference of temperature. Write it in degrees.")
    low, high = SPANS["oven_off_k"]
    kelvin = number * 5 / 9 if given == "degF" or (fahrenheit and not given) else number
    return within(kelvin, low, high, "How much hotter the oven is", "°C")


def _word(words: str, known: tuple[str, ...]) -> Callable[[str, bool], str]:
    def read(text: str, _fahrenheit: bool) -> str:
        found = next((word for word in known if word.lower() == text.lower()), None)
        if found is None:
            raise AmountError(f"{words}: there is no '{text}'; {choose_from(text, known)}")
        return found

    return read


def _scale(text: str, _fahrenheit: bool) -> bool:
    if text.strip("°").upper() not in ("C", "F"):
        raise AmountError("Temperatures in: write C or F.")
    return text.strip("°").upper() == "F"


def _label(words: str) -> Callable[[str, bool], str]:
    def read(text: str, _fahrenheit: bool) -> str:
        if not is_label(text):
            raise AmountError(f"{words}: write one short line of plain text.")
        return text

    return read


def _fats(text: str, _fahrenheit: bool) -> tuple[float, ...]:
    parts = [part for part in text.replace(";", ",").replace("%", " ").split(",") if part.strip()]
    numbers = [units.parse_quantity(part)[0] for part in parts]
    return tuple(sorted(within(number, *CREAM_SPAN, "The fat of a cream", "%") for number in numbers))


def _kinds(text: str, fahrenheit: bool) -> tuple[str, ...]:
    read = _word("Chocolates in the house", CHOCOLATES)
    parts = [part.strip() for part in text.replace(";", ",").split(",") if part.strip()]
    return tuple(dict.fromkeys(read(part, fahrenheit) for part in parts))


#: The lines of the profile in the order in which they are asked.
FIELDS: tuple[Field, ...] = (
    Field("units", "fahrenheit", "Temperatures in", "C or F", _scale, {"C": "°C", "F": "°F"}),
    Field(
        "oven",
        "oven",
        "Your oven",
        "fan or no-fan",
        _word("Your oven", OVENS),
        {"unknown": "Say both settings", "fan": "With a fan", "no-fan": "Without a fan"},
    ),
    Field(
        "oven_correction",
        "oven_off_k",
        "How much hotter than its dial the oven is",
        "In degrees. Write a minus where it is colder. The settings in the advice then follow your dial.",
        _difference,
    ),
    Field(
        "altitude",
        "altitude_m",
        "Height above the sea",
        "In metres, or with a unit, such as 4500 ft. It answers the question for you.",
        _quantity("altitude_m", "m", "The height above the sea"),
    ),
    Field(
        "eggs",
        "egg_class",
        "Eggs you buy",
        ", ".join(EGG_CLASSES),
        _word("Eggs you buy", EGGS),
        {"unknown": "Not said", **EGG_CLASSES},
    ),
    Field(
        "flour_protein",
        "flour_protein",
        "Protein of your plain flour, in 100 g",
        "In grams, from the bag.",
        lambda text, _: within(units.parse_quantity(text)[0], *SPANS["flour_protein"], "The protein", "%"),
    ),
    Field("creams", "creams", "Creams in the house, by fat", "In per cent, with commas: 18, 36, 48", _fats),
    Field("chocolates", "chocolates", "Chocolates in the house", "With commas: dark, milk, white, compound", _kinds),
    Field(
        "food_rules",
        "food_rules",
        "Food rules you work by",
        "uk, us or own",
        _word("Food rules you work by", FOOD_RULES),
        {"unknown": "Not said", "uk": "United Kingdom", "us": "United States", "own": "Our own limits"},
    ),
    Field(
        "own_cold",
        "own_cold_c",
        "Your own cold limit",
        "The warmest that chilled food may be kept.",
        _quantity("own_cold_c", "degC", "The cold limit"),
    ),
    Field(
        "own_out",
        "own_out_h",
        "Your own limit out of the cold",
        "In hours.",
        _quantity("own_out_h", "h", "The time out of the cold"),
    ),
    Field(
        "kitchen",
        "kitchen",
        "This kitchen, in the case book",
        "A word for the place, such as lakeside. It tells kitchens apart that share a book.",
        _label("This kitchen"),
    ),
    Field(
        "role",
        "role",
        "Role on shift, in the case book",
        "Such as pastry commis. Never a person's name.",
        _label("The role"),
    ),
)
