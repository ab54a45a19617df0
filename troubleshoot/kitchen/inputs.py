"""What each input of a calculation is called, its unit, the span in which it makes sense, and a usual value.

One line for each name; where a name means something of its own in one calculation, ``PARTICULAR`` says what is usual
there.  The calculations keep their own limits; these bounds only stop what no kitchen holds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Input:
    """An input: its name in words, its unit (as ``troubleshoot.units`` writes it), bounds, and a usual value."""

    words: str
    unit: str
    low: float
    high: float
    usual: float


@dataclass(frozen=True, slots=True)
class Choice:
    """An input that is one of a few words; the first is usual."""

    words: str
    answers: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Record:
    """An input that is a list of readings, each a time and a temperature, with how it is written."""

    words: str
    how: str
    usual: str


def _g(words: str, usual: float, low: float = 0.0, high: float = 100_000.0) -> Input:
    return Input(words, "g", low, high, usual)


def _c(words: str, usual: float, low: float = -60.0, high: float = 400.0) -> Input:
    return Input(words, "degC", low, high, usual)


def _percent(words: str, usual: float, high: float = 100.0) -> Input:
    return Input(words, "%", 0.0, high, usual)


def _min(words: str, usual: float) -> Input:
    return Input(words, "min", 0.0, 10_080.0, usual)


def _ratio(words: str, usual: float, high: float = 10.0) -> Input:
    return Input(words, "ratio", 0.0, high, usual)


INPUTS: Mapping[str, Input] = {
    "activity": Input("Water activity", "", 0, 1, 0.78),
    "after_g": _g("Weight afterwards", 530),
    "air_c": _c("Air", 22, -20, 60),
    "altitude_m": Input("Height above the sea", "m", -500, 5000, 0),
    "around_c": _c("Air or bath around", 4),
    "baked_g": _g("The same piece baked", 13),
    "baked_mm": Input("Baked piece, across", "mm", 1, 1000, 63),
    "baked_water_percent": _percent("Water in the baked biscuit", 3.6),
    "bath_c": _c("Bath", 40, 0, 100),
    "baume": Input("Reading of the syrup hydrometer, °Bé", "", 0, 45, 30),
    "before_g": _g("Weight before", 570),
    "boiling_c": _c("Boiling", 104, 50, 200),
    "boiling_error_k": Input("Error in boiling water", "K", -20, 20, 0.5),
    "boils_c": _c("Water boils here at", 100, 50, 110),
    "butter_c": _c("Butter", 18, -20, 60),
    "butter_g": _g("Butter", 105),
    "butter_water_percent": _percent("Water in the butter", 17.94, 60),
    "celsius": _c("Syrup", 20, 0, 170),
    "chocolate_c": _c("Chocolate", 45, 0, 120),
    "chocolate_g": _g("Chocolate", 500),
    "chocolate_liquor_percent": _percent("Chocolate liquor", 0),
    "coat_g": _g("Coat of one piece", 15),
    "cocoa_butter_percent": _percent("Cocoa butter on the label", 0),
    "cocoa_solids_percent": _percent("Cocoa solids on the label", 0),
    "cocoa_g": _g("Cocoa", 15),
    "contents_g": _g("One egg without its shell", 51),
    "cold_limit_c": _c("Cold limit of the house", 5, -5, 15),
    "conventional_c": _c("Setting without the fan", 180, 50, 370),
    "cream_c": _c("Cream", 90, 0, 100),
    "cream_g": _g("Cream", 500),
    "cutter_mm": Input("Cutter, across", "mm", 1, 1000, 60),
    "dew_point_c": _c("Dew point", 12, -45, 60),
    "dial_c": _c("Oven setting", 180, 20, 350),
    "done_share": _ratio("Share of the way, 0.5 to 0.99", 0.9, 1),
    "dose_percent": _percent("Gelatine in the cream", 0.8, 3),
    "dough_g": _g("Dough on the scale", 630),
    "drained_g": _g("Candied peel, drained", 550),
    "egg_g": _g("Egg without shells", 250),
    "egg_in_shell_g": _g("Egg in its shell", 58),
    "egg_ratio": _ratio("Egg for each gram of flour", 1.65, 5),
    "eggs": Input("Eggs", "pieces", 0, 10_000, 5),
    "fat_free_cocoa_percent": _percent("Fat-free cocoa on the label", 0),
    "fat_percent": _percent("Fat of the cream", 36),
    "first_g": _g("First cream", 400),
    "first_percent": _percent("Fat of the first cream", 36),
    "flour_g": _g("Flour", 150),
    "from_c": _c("From", 20, 0, 120),
    "ganache_g": _g("Ganache", 1000),
    "gas_mark": Input("Gas mark", "", 0.25, 9, 4),
    "gelatine_g": _g("Gelatine in the cream", 2),
    "glucose_percent": _percent("Glucose syrup to the sugar", 20),
    "glucose_syrup_g": _g("Glucose syrup", 100),
    "heat_j_per_g_k": Input("Specific heat, J/(g K)", "", 0, 10, 3),
    "heaviest_g": _g("Heaviest egg, without shell", 55),
    "high_percent": _percent("Fat of the richer one", 48),
    "humidity_percent": _percent("Humidity of the air", 55),
    "ice_c": _c("Reading in melting ice", 0.3, -20, 20),
    "ice_error_k": Input("Error in ice", "K", -20, 20, 0.3),
    "invert_g": _g("Invert sugar, dry weight", 0),
    "kept_share": _ratio("Share of the sheet kept at one rolling", 0.75, 1),
    "known_min": _min("Known time", 21),
    "known_mm": Input("Known thickness", "mm", 1, 100, 8),
    "left_percent": _percent("Left in bowl and bag", 8),
    "lightest_g": _g("Lightest egg, without shell", 47),
    "liquid_cup_g": _g("One cup of liquid cream", 240),
    "liquid_g": _g("Liquid", 250),
    "loss_percent": _percent("Loss of weight", 10),
    "low_percent": _percent("Fat of the leaner one", 3.6),
    "melted_share": _ratio("Share of the seed that melts, 0.2 to 1", 1, 1),
    "milk_fat_percent": _percent("Milk fat on the label", 0),
    "milk_g": _g("Milk in that liquid", 0),
    "milk_percent": _percent("Fat of the milk", 3.6),
    "milk_solids_percent": _percent("Milk solids on the label", 0),
    "minutes": _min("Minutes between the readings", 30),
    "minutes_out": _min("Time out of the cold", 90),
    "minutes_to_21": _min("Time from {c:57} to {c:21}", 90),
    "minutes_to_5": _min("Time from {c:57} to {c:5}", 300),
    "now_c": _c("Second reading", 45, -60, 120),
    "other_percent": _percent("Sugar and flavour to the cream", 10),
    "out_limit_h": Input("Time out allowed by the house", "h", 0, 12, 2),
    "overrun_percent": _percent("Overrun (air taken up)", 100, 400),
    "panade_c": _c("Panade", 55, 0, 120),
    "panade_after_g": _g("Cooked panade", 490),
    "panade_before_g": _g("Panade ingredients", 505),
    "peel_g": _g("Peel", 500),
    "percent": _percent("Part of it", 10, 1000),
    "piece_c": _c("Pieces", 5, -40, 60),
    "piece_g": _g("One piece", 25),
    "paste_water_percent": _percent("Water in the paste", 62),
    "pieces": Input("Pieces", "pieces", 0, 20_000, 24),
    "piped_g": _g("One raw piece", 25),
    "pressure_kpa": Input("Air pressure", "kPa", 20, 400, 101.325),
    "protein_percent": _percent("Protein of the flour", 12),
    "raw_g": _g("One raw piece", 26),
    "raw_water_percent": _percent("Water in the dough", 12),
    "reached_c": _c("Temperature reached", 70, 0, 120),
    "reading_c": _c("Reading", 104, -40, 250),
    "recipe_g": _g("Recipe added up", 600),
    "remake_min": _min("Time for a remake", 75),
    "remake_saves": _ratio("Share of pieces a remake gives, 0 to 1", 0.95, 1),
    "rerolled_times": Input("Times the trimmings are rolled again", "", 0, 2, 1),
    "rescue_min": _min("Time for the rescue", 20),
    "rescue_saves": _ratio("Share of pieces the rescue saves, 0 to 1", 0.8, 1),
    "richer_percent": _percent("Fat of the richer cream", 48),
    "room_c": _c("Room", 20),
    "second_g": _g("Second cream or milk", 100),
    "second_percent": _percent("Fat of the second", 3.6),
    "seconds": Input("Seconds at that heat", "", 0, 86_400, 15),
    "seed_c": _c("Seed chocolate", 20, 0, 33),
    "service_in_min": _min("Time to service", 90),
    "share": _ratio("Share, 0.2 is a fifth", 0.2, 2),
    "starch_g": _g("Rice flour, cornflour and semolina", 150),
    "shell_water_percent": _percent("Water in the shell", 10, 60),
    "sheet_long_mm": Input("Sheet, long side", "mm", 10, 2000, 300),
    "sheet_wide_mm": Input("Sheet, short side", "mm", 10, 2000, 218),
    "shells": Input("Pieces wanted", "pieces", 0, 20_000, 40),
    "start_c": _c("First temperature", 60),
    "sugar_g": _g("Sugar", 500),
    "sugar_percent": _percent("Sugar in the syrup", 75),
    "surface_c": _c("Surface of the piece", 8, -60, 100),
    "surface_cm2": Input("Surface, cm²", "", 0, 100_000, 130),
    "syrup_g": _g("Syrup", 1000),
    "thermometer_c": _c("Oven thermometer", 165, 20, 400),
    "thickness_mm": Input("Thickness", "mm", 0.3, 100, 8),
    "time_constant_min": _min("Time constant", 45),
    "times": Input("Times its weight", "", 1, 20, 5),
    "to_c": _c("To", 45, 0, 120),
    "total_fat_percent": _percent("Fat in all on the label", 0),
    "transfer_w_m2_k": Input("Heat transfer, W/(m² K)", "", 0, 10_000, 8),
    "wanted_c": _c("Wanted temperature", 31),
    "wanted_egg_ratio": _ratio("Wanted egg for each gram of flour", 1.65, 5),
    "wanted_fat_ratio": _ratio("Wanted butter for each gram of flour", 0.7, 5),
    "wanted_loss_percent": _percent("Wanted loss of the panade", 7, 30),
    "wanted_percent": _percent("Wanted", 66),
    "wanted_ratio": _ratio("Wanted chocolate for each gram of cream", 1, 5),
    "wanted_shell_ratio": _ratio("Wanted share of the piped weight", 0.45, 1),
    "warmed_c": _c("New temperature", 26, -20, 60),
    "warmest_c": _c("Warmest reading", 15, -40, 100),
    "water_g": _g("Water", 500),
    "water_in_g": _g("Water already in", 0),
    "weep_g": _g("Liquid that ran out", 8),
    "weight_g": _g("Weight", 500),
    "wheat_g": _g("Wheat flour", 200),
    "whipped_cup_g": _g("The same cup of whipped cream", 120),
}

CHOICES: Mapping[str, Choice] = {
    "coating": Choice("Kind of chocolate", {"dark": "dark", "milk": "milk", "white": "white"}),
    "cream_name": Choice(
        "Name of the cream",
        {
            "uk_whipping": "whipping (UK)",
            "uk_double": "double (UK)",
            "uk_single": "single (UK)",
            "uk_half": "half (UK)",
            "uk_clotted": "clotted (UK)",
            "us_heavy": "heavy (US)",
            "us_light_whipping": "light whipping (US)",
            "us_light": "light (US)",
            "us_half_and_half": "half and half (US)",
            "anz_cream": "cream (Australia, New Zealand)",
        },
    ),
    "family": Choice(
        "Family",
        {
            "choux": "choux",
            "shortbread": "shortbread",
            "whipped-cream": "whipped cream",
            "melted-chocolate": "melted chocolate",
            "candied-peel": "candied peel",
        },
    ),
    "scheme": Choice("Rules", {"uk": "the United Kingdom", "us": "the United States", "own": "our own limits"}),
    "standard": Choice(
        "Name on the label",
        {
            "eu_chocolate": "chocolate (EU, UK)",
            "eu_couverture": "couverture (EU, UK)",
            "eu_vermicelli": "vermicelli or flakes (EU, UK)",
            "eu_quality_dark": "fine or extra, dark (EU, UK)",
            "eu_quality_milk": "fine or extra, milk (EU, UK)",
            "eu_milk_chocolate": "milk chocolate (EU)",
            "eu_family_milk_chocolate": "family milk chocolate (EU, UK)",
            "eu_white_chocolate": "white chocolate (EU, UK)",
            "us_sweet_chocolate": "sweet chocolate (US)",
            "us_semisweet": "semisweet (US)",
            "us_milk_chocolate": "milk chocolate (US)",
            "us_white_chocolate": "white chocolate (US)",
            "codex_chocolate": "chocolate (Codex)",
            "codex_sweet": "sweet chocolate (Codex)",
            "codex_family_milk": "family milk chocolate (Codex)",
            "codex_couverture": "couverture (Codex)",
            "codex_milk_couverture": "milk couverture (Codex)",
        },
    ),
    "work": Choice("Work", {"creaming": "creaming", "rubbing": "rubbing in", "rolling": "rolling"}),
    "country": Choice("Food rules of", {"uk": "the United Kingdom", "us": "the United States"}),
    "oven_kind": Choice(
        "Kind of oven", {"conventional": "no fan", "fan": "with a fan", "deck": "deck oven", "combi": "combi oven"}
    ),
    "use": Choice("Use", {"glaze": "glaze", "filling": "filling", "truffle": "truffle"}),
}

RECORDS: Mapping[str, Record] = {
    "readings": Record(
        "Readings, each a time and a temperature",
        "minutes or time of day, then the temperature, a comma after each: 0 4, 30 9, 90 14",
        "0 4, 30 9, 90 14",
    ),
}

#: What is usual in one calculation only, and its name in words where that differs.
PARTICULAR: Mapping[tuple[str, str], Input] = {
    ("after_too_much_butter", "butter_g"): _g("Butter", 150),
    ("after_too_much_sugar", "sugar_g"): _g("Sugar", 80),
    ("above_dew_point", "surface_c"): _c("Surface of the piece", 8, -60, 100),
    ("blend_down", "fat_percent"): _percent("Fat of the cream", 48),
    ("blend_down", "wanted_percent"): _percent("Wanted fat", 36),
    ("blend_up", "fat_percent"): _percent("Fat of the cream", 30),
    ("blend_up", "wanted_percent"): _percent("Wanted fat", 36),
    ("boiling_point_at_altitude", "altitude_m"): Input("Height above the sea", "m", -500, 5000, 1500),
    ("bowl_cooling", "chocolate_c"): _c("Chocolate", 45, 0, 120),
    ("bowl_rewarming", "chocolate_c"): _c("Chocolate", 27, 0, 120),
    ("altitude_from_boiling", "boils_c"): _c("Water boils here at", 95, 50, 110),
    ("egg_by_difference", "before_g"): _g("Jug of egg before, or bowl without egg", 420),
    ("egg_by_difference", "after_g"): _g("Jug of egg afterwards, or bowl with egg", 175),
    ("growth_in_syrup", "sugar_percent"): _percent("Sugar in the syrup or the peel", 75),
    ("growth_in_syrup", "celsius"): _c("Syrup or peel", 25, 0, 60),
    ("piece_size", "shells"): Input("Pieces to pipe", "pieces", 0, 20_000, 30),
    ("portions_from_sheet", "cutter_mm"): Input("Cutter, across", "mm", 1, 1000, 50),
    ("portions_from_sheet", "thickness_mm"): Input("Thickness", "mm", 0.3, 100, 6),
    ("remake_beside_rescue", "rescue_min"): _min("Time for the rescue beside it", 0),
    ("butter_to_add", "butter_g"): _g("Butter", 80),
    ("butter_to_add", "wanted_ratio"): _ratio("Wanted butter for each gram of flour", 2 / 3, 1),
    ("chocolate_for_glaze", "chocolate_g"): _g("Chocolate in it", 350),
    ("coat_for_pieces", "left_percent"): _percent("Left in the bowl", 30),
    ("cocoa_butter_to_thin", "percent"): _percent("Cocoa butter", 5, 15),
    ("cooling_time", "time_constant_min"): _min("Time constant", 45),
    ("cooling_time", "wanted_c"): _c("Wanted temperature", 8),
    ("cream_for_pieces", "piece_g"): _g("Filling of one piece", 25),
    ("cream_off_cold", "cream_c"): _c("Cream", 7, -5, 40),
    ("cream_to_melt", "chocolate_c"): _c("Chopped chocolate", 20, 0, 33),
    ("cream_to_melt", "wanted_c"): _c("Wanted temperature", 40, 34, 60),
    ("dough_balance", "butter_g"): _g("Butter", 100),
    ("dough_balance", "sugar_g"): _g("Sugar", 50),
    ("dough_water", "butter_g"): _g("Butter", 100),
    ("dough_water", "liquid_g"): _g("Liquid", 0),
    ("dough_water", "sugar_g"): _g("Sugar", 50),
    ("egg_still_to_add", "egg_g"): _g("Egg in the paste", 200),
    ("fat_ratio", "butter_g"): _g("Butter", 100),
    ("ganache_firmer", "chocolate_g"): _g("Chocolate in it", 350),
    ("ganache_softer", "chocolate_g"): _g("Chocolate in it", 700),
    ("glucose_to_add", "glucose_syrup_g"): _g("Glucose syrup already in", 0),
    ("glucose_to_add", "wanted_percent"): _percent("Wanted share of the sugar", 20, 60),
    ("hold_back_egg", "share"): _ratio("Share held back, 0.15 is 15 %", 0.15, 1),
    ("liquid_share", "liquid_g"): _g("Liquid that went in", 40),
    ("off_working_heat", "chocolate_c"): _c("Chocolate", 33, 0, 120),
    ("panade_for_share", "share"): _ratio("Share of the flour, 0.3 is three tenths", 0.3, 1),
    ("panade_without_butter", "butter_g"): _g("Butter", 130),
    ("part_of_dough", "butter_g"): _g("Butter", 100),
    ("part_of_dough", "percent"): _percent("Part of the dough", 2),
    ("part_of_dough", "sugar_g"): _g("Sugar", 50),
    ("part_of_paste", "percent"): _percent("Part of the paste", 2),
    ("part_of_weight", "percent"): _percent("Part of it", 25, 1000),
    ("pearson_square", "wanted_percent"): _percent("Wanted fat", 36),
    ("peel_water_to_boil_off", "wanted_percent"): _percent("Wanted sugar at the end", 75),
    ("peel_end_point", "altitude_m"): Input("Height above the sea", "m", -500, 5000, 0),
    ("plain_cream_for_gelatine", "gelatine_g"): _g("Gelatine in the cream", 8),
    ("plain_cream_for_gelatine", "wanted_percent"): _percent("Wanted gelatine", 0.8, 3),
    ("gelatine_missing", "wanted_percent"): _percent("Wanted gelatine", 0.8, 3),
    ("plain_cream_for_sugar", "sugar_g"): _g("Sugar", 90),
    ("plain_cream_for_sugar", "wanted_percent"): _percent("Wanted sugar", 10, 30),
    ("probe_check", "boiling_c"): _c("Reading in boiling water", 100.5, 50, 120),
    ("restore_fat", "liquid_g"): _g("Liquid that went in", 60),
    ("restore_fat", "wanted_percent"): _percent("Wanted fat", 33),
    ("oven_correction", "wanted_c"): _c("Wanted temperature", 180, 20, 350),
    ("share_of_cream", "percent"): _percent("Share of the cream", 20, 300),
    ("shells_from_paste", "piece_g"): _g("One raw piece", 25),
    ("solubility", "celsius"): _c("Water or syrup", 20, 0, 100),
    ("span_of_weight", "low_percent"): _percent("The least", 15, 1000),
    ("span_of_weight", "high_percent"): _percent("The most", 25, 1000),
    ("starch_percent", "starch_g"): _g("Rice flour, cornflour and semolina", 60),
    ("after_too_much_starch", "flour_g"): _g("Wheat flour", 200),
    ("step_up", "sugar_percent"): _percent("Sugar in the syrup", 40),
    ("sugar_missing", "sugar_g"): _g("Sugar", 30),
    ("sugar_missing", "wanted_ratio"): _ratio("Wanted sugar for each gram of flour", 1 / 3, 1),
    ("sugar_ratio", "sugar_g"): _g("Sugar", 50),
    ("sugar_share", "sugar_g"): _g("Sugar", 50),
    ("sugar_to_add", "sugar_g"): _g("Sugar already in", 20),
    ("sugar_to_add", "wanted_percent"): _percent("Wanted sugar", 10, 30),
    ("sugar_to_strengthen", "sugar_percent"): _percent("Sugar in the syrup", 50),
    ("sugar_when_dried", "sugar_percent"): _percent("Sugar in the peel", 75),
    ("saturation_temperature", "sugar_percent"): _percent("Sugar in the syrup", 68),
    ("syrup_for_paste", "share"): _ratio("Share of syrup, 0.7 is seven tenths", 0.7, 2),
    ("syrup_for_paste", "peel_g"): _g("Candied peel", 500),
    ("syrup_with_glucose", "wanted_percent"): _percent("Wanted sugar", 65),
    ("syrup_to_make", "wanted_percent"): _percent("Wanted sugar", 65),
    ("sugar_to_strengthen", "wanted_percent"): _percent("Wanted sugar", 65),
    ("water_activity", "celsius"): _c("Syrup", 25, 0, 170),
    ("water_to_add", "sugar_percent"): _percent("Sugar in the syrup", 84),
    ("water_to_add", "wanted_percent"): _percent("Wanted sugar", 75),
    ("water_to_boil_off", "sugar_percent"): _percent("Sugar in the syrup", 50),
    ("water_to_boil_off", "wanted_percent"): _percent("Wanted sugar", 75),
    ("water_to_give_back", "panade_after_g"): _g("Cooked panade", 440),
    ("wait_in_box", "time_constant_min"): _min("Time constant of the boxed piece", 61.5),
    ("weight_ratio", "after_g"): _g("Weight afterwards", 600),
    ("time_constant", "weight_g"): _g("Weight of the piece", 80),
    ("cooling_forecast", "start_c"): _c("First reading", 60),
    ("cooling_forecast", "around_c"): _c("Air or bath around", 2),
    ("water_left", "baked_g"): _g("The same piece baked", 24),
    ("egg_to_flour", "egg_g"): _g("Egg without shells", 250),
    ("stiffen_with_panade", "egg_g"): _g("Egg that went in", 300),
    ("seed_for_temper", "wanted_c"): _c("Wanted temperature", 34, 20, 60),
    ("seed_for_temper", "chocolate_c"): _c("Melted chocolate", 45, 20, 120),
    ("fan_equivalent", "conventional_c"): _c("Setting without the fan", 180, 50, 370),
    ("drying_after_bake", "baked_g"): _g("The same piece baked", 14),
    ("baked_to_piped", "baked_g"): _g("The same piece baked", 12),
    ("gelatine_share", "gelatine_g"): _g("Gelatine in the cream", 4),
    ("loss_to_water", "raw_water_percent"): _percent("Water in the dough", 12),
}


def input_of(calculation: str, parameter: str) -> Input | Choice | Record:
    """Return what an input of a calculation is.  Raises KeyError for one that has no line here."""
    if parameter in CHOICES:
        return CHOICES[parameter]
    if parameter in RECORDS:
        return RECORDS[parameter]
    found = PARTICULAR.get((calculation, parameter)) or INPUTS.get(parameter)
    if found is None:
        raise KeyError(f"{calculation}: its input '{parameter}' has no line in INPUTS of kitchen/inputs.py; write one")
    return found
