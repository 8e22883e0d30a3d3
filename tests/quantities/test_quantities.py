"""Quantities: what is read, what is refused and with which words, and that it prints back."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp import quantities as q
from benchapp.quantities import Duration, Length, QuantityError, Span

WHOLE = st.integers(0, 999_999)
FIGURES = st.builds(
    lambda whole, places: f"{whole}.{places}" if places else str(whole),
    WHOLE,
    st.from_regex(r"[0-9]{0,3}", fullmatch=True),
)


def complaint(read: Callable[[str], object], text: str) -> QuantityError:
    """The error `read` raises on `text`."""
    with pytest.raises(QuantityError) as caught:
        read(text)
    return caught.value


# -- durations ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "ms", "printed"),
    [
        ("90 s", 90_000, "90 s"),
        ("12 min", 720_000, "12 min"),
        ("12min", 720_000, "12 min"),
        ("1.5 min", 90_000, "1.5 min"),
        ("1.50 min", 90_000, "1.5 min"),
        ("0 min", 0, "0 min"),
        ("1 h 30 min", 5_400_000, "1 h 30 min"),
        ("1 h 0 min 5 s", 3_605_000, "1 h 5 s"),
        ("1 day 6.5 h", 109_800_000, "1 day 6 h 30 min"),
        ("1 day", 86_400_000, "1 day"),
        ("3 days", 259_200_000, "3 days"),
        ("2 weeks", 1_209_600_000, "2 weeks"),
        ("750 ms", 750, "750 ms"),
        ("  48 h ", 172_800_000, "48 h"),
        ("12\u00a0min", 720_000, "12 min"),
        ("000000000012 min", 720_000, "12 min"),
    ],
)
def test_a_duration_is_read_and_printed_in_the_printers_unit(text, ms, printed):
    """Each spelling gives whole milliseconds, and prints in its own unit."""
    duration = q.read_duration(text)
    assert (duration.ms, str(duration)) == (ms, printed)


@pytest.mark.parametrize(
    ("text", "wrong", "mend"),
    [
        ("1:30", '"1:30" can be read two ways', "write 1 h 30 min or 90 s"),
        ("1:30 min", '"1:30 min" can be read two ways', "write 1 h 30 min or 90 s"),
        ("0:01:30", '"0:01:30" has no units', "write 0 h 1 min 30 s"),
        ("12", '"12" has no unit', "write 12 min, or one of s, min, h, days or weeks"),
        ("12 cm", '"cm" is not a unit of time', "write one of s, min, h, days or weeks"),
        ("12 mins", '"mins" is not a unit of time', "write min"),
        ("12 m", '"m" is not a unit of time', "write min"),
        ("2 Days", '"Days" is not a unit of time', "write days"),
        ("2 hours", '"hours" is not a unit of time', "write h"),
        ("1,5 min", '"1,5" has a decimal comma', "write a point: 1.5"),
        ("-3 min", '"-3" is below 0', "write a figure of 0 or more"),
        ("\u22123 min", '"\u22123" is below 0', "write a figure of 0 or more"),
        ("soon", '"soon" is not a duration', "write one such as 12 min"),
        ("", '"" is not a duration', "write one such as 12 min"),
        ("nan min", '"nan min" is not a duration', "write one such as 12 min"),
        ("٣ min", '"٣ min" is not a duration', "write one such as 12 min"),
        ("1e3 s", '"e" is not a unit of time', "write one of s, min, h, days or weeks"),
        ("1_000 s", '"1_000 s" is not a duration', "write one such as 1 h 30 min"),
        ("1 h 30", '"1 h 30" is not a duration', "write one such as 1 h 30 min"),
        ("0.0001 s", '"0.0001 s" is finer than a millisecond', "write whole ms"),
        ("101 h 60 min", '"101 h 60 min": the min are more than 1 h',
         "carry them to the larger unit"),
        ("5 min 1 h", '"5 min 1 h" has its parts out of order',
         "write the larger unit first and once, such as 1 h 30 min"),
        ("1 h 1 h", '"1 h 1 h" has its parts out of order',
         "write the larger unit first and once, such as 1 h 30 min"),
        ("1.5 h 3 min", '"1.5 h 3 min" has a point before its last part',
         "write a point in the last figure only, or one unit, such as 1.5 h"),
        ("999999 days", '"999999 days" is over a hundred years', "write a shorter time"),
        ("1.0000001 h", '"1.0000001" is finer than anyone measures',
         "write at most 6 digits after the point"),
    ],
)  # fmt: skip
def test_a_refused_duration_says_what_is_wrong_and_what_to_write(text, wrong, mend):
    """The message names the slip and its mend, word for word."""
    error = complaint(q.read_duration, text)
    assert (error.wrong, error.mend) == (wrong, mend)
    assert str(error) == f"{wrong}; {mend}"


READERS = [
    q.read_duration, q.read_span, q.read_length, q.read_size, q.read_mass, q.read_grammage,
    q.read_percentage, q.read_turns, q.read_number,
    lambda t: q.read_count(t, "impressions"),
]  # fmt: skip


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(
    "text",
    ["9" * 100_000 + " min", "1/" + "9" * 100_000, "P" + "9" * 90_000 + "D", "1 h " * 40_000],
)
def test_an_absurdly_long_text_is_refused_shortly(read, text):
    """A hundred thousand digits end in our own error, with a message one can read."""
    assert len(str(complaint(read, text))) < 200


@pytest.mark.parametrize("read", READERS)
@given(text=st.text(max_size=30) | st.text("0123456789.,:/- xminhsgcPTDHMS%²×", max_size=20))
def test_a_reader_gives_a_value_or_our_own_error(read, text):
    """Whatever the text, nothing but QuantityError leaves a reader."""
    try:
        value = read(text)
    except QuantityError as error:
        shown = str(error)
    else:
        shown = str(value)
    assert shown
    assert shown.isprintable()


@given(st.integers(0, 3_000_000_000_000), st.sampled_from(["ms", "s", "min", "h", "day", "week",
                                                           "h min", "day h min s"]))
def test_a_duration_printed_in_any_unit_reads_back_equal(ms, unit):
    """Printing and reading lose nothing, whatever unit it is shown in."""
    duration = Duration(ms, unit)
    assert q.read_duration(str(duration)) == duration


@given(FIGURES, st.sampled_from(["s", "min", "h", "days"]))
def test_a_duration_read_prints_the_same_figure_and_unit(figure, unit):
    """What the printer wrote comes back as written, but for idle noughts."""
    try:
        duration = q.read_duration(f"{figure} {unit}")
    except QuantityError as error:
        assert error.wrong.endswith(("finer than a millisecond", "over a hundred years"))  # noqa: PT017
        return
    shown = str(duration).split(" ")
    assert Fraction(shown[0]) == Fraction(figure)
    assert shown[1].removesuffix("s") == unit.removesuffix("s")


def test_durations_compare_by_time_alone():
    """The unit is for printing: 90 s is 1.5 min, and they hash alike."""
    assert q.read_duration("90 s") == q.read_duration("1.5 min")
    assert len({Duration(90_000, "s"), Duration(90_000, "min")}) == 1
    assert Duration(1, "h") < Duration(2, "ms")


def test_a_duration_is_exact():
    """Seconds and minutes are fractions; a float is no number of milliseconds."""
    assert Duration(100).seconds == Fraction(1, 10)
    assert Duration(100).minutes == Fraction(1, 600)
    with pytest.raises(TypeError, match="whole number of milliseconds"):
        Duration(1.5)  # type: ignore[arg-type]
    with pytest.raises(QuantityError, match="below 0"):
        Duration(-1)
    with pytest.raises(QuantityError, match="not a unit of time"):
        Duration(1, "fortnight")


def test_a_duration_its_unit_cannot_write_prints_in_parts():
    """A third of an hour prints exactly, in smaller units."""
    assert str(Duration(1_000, "min")) == "1 s"
    assert str(Duration(1_200_000, "h")) == "20 min"
    assert str(Duration(0, "h min")) == "0 h"


# -- spans -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "minutes", "printed"),
    [
        ("3/5/8 min", (3, 5, 8), "3/5/8 min"),
        ("3 / 5 / 8 min", (3, 5, 8), "3/5/8 min"),
        ("2 min", (2, 2, 2), "2 min"),
        ("2/2/2 min", (2, 2, 2), "2 min"),
        ("0.5/1/1.5 h", (30, 60, 90), "0.5/1/1.5 h"),
        ("90 s/2 min/3 min", (Fraction(3, 2), 2, 3), "90 s/2 min/3 min"),
        ("1 h 10 min/1 h 30 min/2 h", (70, 90, 120), "1 h 10 min/1 h 30 min/2 h"),
        ("1/2/3 days", (1440, 2880, 4320), "1/2/3 days"),
    ],
)
def test_a_span_is_low_usual_high(text, minutes, printed):
    """Three figures, or one for all three; printed as the printer would."""
    span = q.read_span(text)
    assert (span.low.minutes, span.usual.minutes, span.high.minutes) == minutes
    assert str(span) == printed
    assert q.read_span(printed) == span


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("3/5 min", '"3/5 min" has two figures; write low/usual/high, such as 3/5/8 min, or one '
                    "figure"),
        ("1/2/3/4 min", '"1/2/3/4 min" has more than three figures; write low/usual/high, such as '
                        "3/5/8 min, or one figure"),
        ("8/5/3 min", "times go low, usual, high, not 8 min, 5 min, 3 min; "
                      "write low/usual/high, such as 3/5/8 min"),
        ("3/5/8", '"8" has no unit; write 8 min, or one of s, min, h, days or weeks'),
        ("1,5/2/3 min", '"1,5" has a decimal comma; write a point: 1.5'),
        ("1:00/2/3 min", '"1:00" can be read two ways; write 1 h 0 min or 60 s'),
        ("-1/2/3 min", '"-1" is below 0; write a figure of 0 or more'),
        ("1/2/1 h 5 min", '"1" has no unit; write a unit behind it, as in 1 h 5 min'),
        ("/2/3 min", '"" is not a figure; write one such as 12 or 1.25'),
    ],
)  # fmt: skip
def test_a_refused_span_says_what_to_write(text, message):
    """Each slip in a span is named with its mend."""
    assert str(complaint(q.read_span, text)) == message


UNITS = st.sampled_from(["s", "min", "h", "day"])


@given(st.lists(st.builds(Duration, st.integers(0, 10**9), UNITS), min_size=3, max_size=3))
def test_a_span_printed_reads_back_equal(three):
    """Any three rising durations survive printing and reading."""
    span = Span(*sorted(three))
    assert q.read_span(str(span)) == span


# -- lengths and the rest ----------------------------------------------------


@pytest.mark.parametrize(
    ("read", "text", "value", "printed"),
    [
        (q.read_length, "1.2 mm", Fraction(6, 5), "1.2 mm"),
        (q.read_length, "19.8 cm", 198, "19.8 cm"),
        (q.read_length, "10 in", 254, "10 in"),
        (q.read_length, "7 7/8 in", Fraction("200.025"), "7 7/8 in"),
        (q.read_length, "7.875 in", Fraction("200.025"), "7.875 in"),
        (q.read_length, '10"', 254, "10 in"),
        (q.read_length, "7 7/8 inches", Fraction("200.025"), "7 7/8 in"),
        (q.read_length, "1 Inch", Fraction("25.4"), "1 in"),
        (q.read_mass, "9 g", 9, "9 g"),
        (q.read_mass, "2 ounces", Fraction("56.69904625"), "2 oz"),
        (q.read_mass, "1.5 lbs", Fraction("680.388555"), "1.5 lb"),
        (q.read_mass, "0.5 kg", 500, "0.5 kg"),
        (q.read_grammage, "300 g/m2", 300, "300 g/m2"),
        (q.read_grammage, "300 g/m²", 300, "300 g/m²"),
        (q.read_grammage, "300gsm", 300, "300 gsm"),
        (q.read_percentage, "37.5 %", Fraction(3, 8), "37.5 %"),
        (q.read_percentage, "60%", Fraction(3, 5), "60 %"),
        (q.read_turns, "1/8 turn", Fraction(1, 8), "1/8 turn"),
        (q.read_turns, "3.25 turns", Fraction(13, 4), "3.25 turns"),
        (q.read_turns, "3 1/4 turns", Fraction(13, 4), "3 1/4 turns"),
        (q.read_turns, "1 turn", 1, "1 turn"),
        (q.read_turns, "0 turns", 0, "0 turn"),
    ],
)  # fmt: skip
def test_a_measure_is_exact_and_prints_as_written(read, text, value, printed):
    """The base unit holds the exact value; the printer's own unit comes back."""
    measure = read(text)
    base = next(getattr(measure, name) for name in type(measure).__slots__)
    assert base == value
    assert not isinstance(base, float)
    assert str(measure) == printed
    assert read(printed) == measure


@pytest.mark.parametrize(
    ("read", "text", "message"),
    [
        (q.read_length, "40", '"40" has no unit; write 40 mm (units: mm, cm or in)'),
        (q.read_length, "40 min", '"min" is not a unit for this; write mm, cm or in'),
        (q.read_length, "mm", '"mm" has no figure; write one such as 40 mm'),
        (q.read_length, "1,2 mm", '"1,2" has a decimal comma; write a point: 1.2'),
        (q.read_length, "-2 mm", '"-2" is below 0; write a figure of 0 or more'),
        (q.read_length, "1/0 in", '"1/0" divides by 0; write a fraction such as 1/8'),
        (q.read_length, "1/00008 in", '"1/00008" has too long a fraction; write a short one such '
                                      "as 1/8"),
        (q.read_size, "198 mm", '"198 mm" is not a width and a height; write width x height, as '
                                "198 x 148 mm"),
        (q.read_size, "1 x 2 x 3 mm", '"1 x 2 x 3 mm" is not a width and a height; write width x '
                                      "height, as 198 x 148 mm"),
        (q.read_size, "8 x 10", '"10" has no unit; write 10 mm (units: mm, cm or in)'),
        (q.read_size, "0 x 10 mm", '"0 x 10 mm" has a side of 0; write both sides, above 0'),
        (q.read_mass, "9 t", '"t" is not a unit for this; write g, kg, oz or lb'),
        (q.read_mass, "9", '"9" has no unit; write 9 g (units: g, kg, oz or lb)'),
        (q.read_grammage, "300 g", '"g" is not a unit for this; write g/m2'),
        (q.read_percentage, "0.6", '"0.6" has no unit; write 0.6 % (units: %)'),
        (q.read_turns, "3.25", '"3.25" has no unit; write 3.25 turns (units: turns)'),
        (q.read_turns, "90 °", '"°" is not a unit for this; write turns'),
    ],
)  # fmt: skip
def test_a_refused_measure_says_what_to_write(read, text, message):
    """Missing and wrong units, commas and odd fractions are each named."""
    assert str(complaint(read, text)) == message


@pytest.mark.parametrize(("text", "pointed"), [
    ("3,25 turns", "3.25 turns"), ("210,5 x 160,25 mm", "210.5 x 160.25 mm"),
    ("1,5/2,5/3 min", "1.5/2.5/3 min"), ("0,125 in", "0.125 in"), ("19,5 °C, 61 %",
     "19.5 °C, 61 %"), ("1,500 g", "1,500 g"), ("3,4,5", "3,4,5"), ("3, 4", "3, 4"),
    ("1.500,5 g", "1.500,5 g"), ("a,b", "a,b"), ("", "")])
def test_a_decimal_comma_becomes_a_point_where_no_list_can_be_meant(text, pointed):
    """A thousand and a half, a list, and words keep theirs."""
    assert q.point_for_comma(text) == pointed


def test_a_comma_before_three_figures_is_refused_with_both_readings():
    """1,500 g may be 1.5 g or 1500 g."""
    assert complaint(q.read_mass, "1,500 g").mend == (
        "write a point: 1.500, or 1500 if thousands are meant")


@pytest.mark.parametrize("text", ["140 lb", "140lbs", "140 LB", "140#", "90 pounds", "140 lb."])
def test_pounds_for_paper_are_refused_with_the_reason(text):
    """A basis weight depends on a sheet size nobody wrote down, so it cannot be read."""
    error = complaint(q.read_grammage, text)
    assert error.wrong == (
        f'"{text}": pounds are not enough: each kind of paper is weighed by a sheet size '
        "of its own"
    )
    assert error.mend == "write the grams a square metre from the wrapper, such as 300 g/m2"


@pytest.mark.parametrize(
    ("text", "printed", "document", "area"),
    [
        ("198 x 148 mm", "198 × 148 mm", "148 × 198 mm", Fraction("293.04")),
        ("198×148 mm", "198 × 148 mm", "148 × 198 mm", Fraction("293.04")),
        ("8 X 10 in", "8 × 10 in", "10 × 8 in", Fraction("516.128")),
        ("8 1/2 x 11 in", "8 1/2 × 11 in", "11 × 8 1/2 in", Fraction("603.2246")),
        ("19.8 cm x 148 mm", "19.8 cm × 148 mm", "148 mm × 19.8 cm", Fraction("293.04")),
    ],
)
def test_a_size_is_width_then_height_and_turns_for_documents(text, printed, document, area):
    """On the bed width stands first; documents about prints give height first."""
    size = q.read_size(text)
    assert (str(size), size.document(), size.area_cm2) == (printed, document, area)
    assert q.read_size(printed) == size


def test_sizes_compare_by_what_they_measure():
    """Centimetres and millimetres of one plate are one size."""
    assert q.read_size("19.8 x 14.8 cm") == q.read_size("198 x 148 mm")


@given(st.fractions(min_value=0, max_value=9999, max_denominator=9999),
       st.sampled_from(["mm", "cm"]), st.sampled_from(["decimal", "fraction"]))
def test_a_length_prints_and_reads_back_equal(figure, unit, spelling):
    """Exact lengths survive, also those no decimal can write."""
    length = Length(figure * (10 if unit == "cm" else 1), unit, spelling)
    assert q.read_length(str(length)) == length


@pytest.mark.parametrize("value", [0.1, 1.0, True, "1", None])
def test_only_exact_numbers_make_a_measure(value):
    """Floats and texts are turned away where a value is made."""
    for kind in (q.Length, q.Mass, q.Grammage, q.Percentage, q.Turns):
        with pytest.raises(TypeError, match="never a float"):
            kind(value)


def test_a_count_names_what_is_counted():
    """A number of things is read with its word, in either number."""
    assert q.read_count("120 impressions", "impressions") == 120
    assert q.read_count("1 impression", "impressions") == 1
    assert q.read_count("40") == 40


@pytest.mark.parametrize(
    ("text", "nouns", "message"),
    [
        ("120", ("impressions",), '"120" has no unit; write 120 impressions'),
        ("120 prints", ("impressions",),
         '"prints" is not the word to count here; write 120 impressions'),
        ("1.5 impressions", ("impressions",), '"1.5 impressions" is not a whole number; write one '
                                              "such as 120 impressions"),
        ("many", ("impressions",), '"many" is not a whole number; write one such as 120 '
                                   "impressions"),
        ("40 of", (), '"of" is not the word to count here; write 40'),
        ("-4", (), '"-4" is below 0; write a figure of 0 or more'),
    ],
)  # fmt: skip
def test_a_refused_count_says_what_to_write(text, nouns, message):
    """No word, another word, or no whole number: each has its mend."""
    assert str(complaint(lambda t: q.read_count(t, *nouns), text)) == message


def test_a_message_never_carries_control_characters_on():
    """An escape sequence in a figure is shown as replaced, not sent to the terminal."""
    error = complaint(q.read_duration, "\x1b[31m5 min")
    assert error.wrong == '"\ufffd[31m5 min" is not a duration'


# -- counts on the bench -----------------------------------------------------


@pytest.mark.parametrize(
    ("ms", "shown"),
    [(0, "0:00"), (999, "0:00"), (5_000, "0:05"), (725_000, "12:05"), (3_599_999, "59:59"),
     (3_600_000, "1:00:00"), (3_725_000, "1:02:05"), (-999, "0:00"), (-5_000, "-0:05")],
)  # fmt: skip
def test_a_running_count_shows_whole_seconds(ms, shown):
    """Minutes and seconds, hours in front from an hour on, a minus once it is over."""
    assert q.mmss(ms) == shown


@pytest.mark.parametrize(
    ("ms", "shown"),
    [(0, "0 s"), (45_000, "45 s"), (60_000, "1 min"), (720_000, "12 min"), (749_999, "12 min"),
     (750_000, "13 min"), (3_570_000, "1 h"), (3_900_000, "1 h 5 min"), (-5, "0 s")],
)  # fmt: skip
def test_a_time_for_reading_is_rounded_to_minutes(ms, shown):
    """To the nearest minute, in hours and minutes when long."""
    assert q.minutes_text(ms) == shown


@pytest.mark.parametrize(
    ("ms", "shown"),
    [(90_000, "1.5 min"), (30_000, "30 s"), (60_000, "1 min"), (66_000, "1.1 min"),
     (100_000, "2 min"), (900_000, "15 min"), (3_594_000, "59.9 min"), (3_900_000, "1 h 5 min")],
)  # fmt: skip
def test_a_time_that_was_said_keeps_its_half_minute(ms, shown):
    """The usual minute and a half of a wash is not shown as two."""
    assert q.figure_text(ms) == shown


@pytest.mark.parametrize(("count", "words"), [(0, "0 sheets"), (1, "1 sheet"), (2, "2 sheets")])
def test_one_thing_is_one_thing(count, words):
    """Only one takes no s."""
    assert q.items_text(count, "sheet") == words
