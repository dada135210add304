"""Quantities as drivers write and read them."""

from __future__ import annotations

import subprocess
import sys

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.units import METRIC_TWIN, SPOKEN_UNITS, convert, parse_to, registry, spoken

EXPRESSIONS = "units.parse_to hands the whole text to pint, which evaluates it as an expression"


def test_there_is_one_registry():
    """Every caller gets the same registry: quantities of two registries cannot be added."""
    assert registry() is registry()
    assert isinstance(registry(), pint.UnitRegistry)


def test_importing_the_module_does_not_load_pint():
    """A question that needs no conversion does not wait for pint."""
    code = "import sys, cabassist.units; print('pint' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "False"


# Exact by definition: gallon 231 cubic inches = 3.785411784 L, pound 0.45359237 kg, inch 2.54 cm (NIST Handbook 44,
# appendix C). From those: psi 6.894757 kPa, foot-pound 1.355818 N m, BTU/h 0.29307107 W (NIST SP 811, appendix B).
@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("450 L", "gal", 450 / 3.785411784),
        ("450L", "gal", 450 / 3.785411784),
        ("120 gal", "gal", 120.0),
        ("120 gallons", "gal", 120.0),
        ("18 kg", "lb", 18 / 0.45359237),
        ("61 cm", "in", 61 / 2.54),
        ("7.6 bar", "psi", 760 / 6.894757),
        ("644 N*m", "ft_lb", 644 / 1.355818),
        ("10 kW", "Btu/h", 10_000 / 0.29307107),
        ("126.6 W/K", "Btu/h/delta_degF", 126.6 / 0.29307107 / 1.8),
        ("600 s", "min", 10.0),
        ("3 L/h", "gal/h", 3 / 3.785411784),
        ("10 km/L", "mi/gal", 10 / 1.609344 * 3.785411784),
        ("1.2", "1", 1.2),
        ("-5 gal", "gal", -5.0),
    ],
)
def test_a_written_quantity_is_read_in_any_unit_of_its_kind(text: str, unit: str, value: float):
    """Litres, kilograms and bar are taken where gallons, pounds and psi are kept."""
    assert parse_to(text, unit) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(("text", "unit"), [("120", "gal"), ("0.78", "fraction"), (" 66 ", "degF")])
def test_a_number_without_a_unit_is_in_the_unit_of_the_field(text: str, unit: str):
    """A bare number means the field's own unit, in quotes or at a prompt as well."""
    assert parse_to(text, unit) == pytest.approx(float(text))


@pytest.mark.parametrize("text", ["19 degC", "19 °C"])
def test_a_temperature_in_celsius_is_read(text: str):
    """A thermostat setting may be written in Celsius: 19 °C is 66.2 °F."""
    assert parse_to(text, "degF") == pytest.approx(66.2)


@pytest.mark.parametrize("text", ["78 percent", "78 %"])
def test_a_share_may_be_written_in_percent(text: str):
    """An efficiency of 78 percent is 0.78."""
    assert parse_to(text, "fraction") == pytest.approx(0.78)


@pytest.mark.parametrize("text", ["4,5 L", "12,25 L", "0,5 gal"])
def test_a_decimal_comma_is_never_read_as_a_larger_number(text: str):
    """A metric writer's 4,5 L is refused or is 4.5 L; it is not 45 L."""
    try:
        read = parse_to(text, "L")
    except ValueError:
        return

    number, unit = text.split()
    assert read == pytest.approx(convert(float(number.replace(",", ".")), unit, "L"))


def test_a_comma_between_thousands_is_read():
    """1,500 W is fifteen hundred watts."""
    assert parse_to("1,500 W", "W") == 1500.0


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("5 ft", "gal"),
        ("5 bananas", "gal"),
        ("gal", "V"),
        ("5 gal gal", "gal"),
        ("4'5", "gal"),
        ("", "gal"),
        ("   ", "gal"),
        ("\x00", "gal"),
        ("🙂", "gal"),
        ("__import__('os')", "gal"),
        ("x" * 1_000, "gal"),
    ],
)
def test_what_is_no_quantity_of_the_kind_is_refused(text: str, unit: str):
    """A length for a capacity, an unknown unit or no quantity at all gives an error that names text and unit."""
    with pytest.raises(ValueError, match=f"cannot be read as a quantity in {unit}"):
        parse_to(text, unit)


@pytest.mark.parametrize("text", ["1/0 gal", "(((((", "'''", "\x1b[31m5 gal"])
def test_a_broken_expression_is_refused_like_any_other_text(text: str):
    """Text that upsets pint's own reader is a ValueError too, never something else."""
    with pytest.raises(ValueError, match="cannot be read"):
        parse_to(text, "gal")


@pytest.mark.parametrize("text", ["2**3 gal", "(4+4) gal", "16/2 gal"])
def test_an_expression_is_not_a_quantity(text: str):
    """A quantity is one number and one unit; sums and powers are refused before anything is worked out."""
    with pytest.raises(ValueError, match="cannot be read"):
        parse_to(text, "gal")


@pytest.mark.parametrize("text", ["9**9**9 gal", "5 gal**9**9**9"])
def test_no_text_keeps_the_reader_busy(text: str):
    """A tower of powers in a profile is refused at once, before or behind the unit."""
    code = f"from cabassist.units import parse_to\ntry: parse_to({text!r}, 'gal')\nexcept ValueError: print('refused')"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=4)

    assert done.stdout == "refused\n"


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0), (-25.0, -31.6667)])
def test_temperatures_convert_with_their_offset(fahrenheit: float, celsius: float):
    """The scales meet at -40; freezing is 32 and boiling 212 (definition of the Fahrenheit scale)."""
    assert convert(fahrenheit, "degF", "degC") == pytest.approx(celsius, abs=1e-3)


def test_units_of_different_kinds_do_not_convert():
    """Gallons into pounds is a fault of the caller and raises."""
    with pytest.raises(pint.DimensionalityError):
        convert(1.0, "gal", "lb")


@given(st.floats(0.001, 1e6), st.sampled_from(sorted(METRIC_TWIN)))
def test_converting_there_and_back_gives_the_same(value: float, unit: str):
    """Nothing is lost between a US unit and its metric twin."""
    twin = METRIC_TWIN[unit]

    assert convert(convert(value, unit, twin), twin, unit) == pytest.approx(value)


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (120.0, "gal", "120 gallons"),
        (1.0, "gal", "1 gallon"),
        (1, "in", "1 inch"),
        (0.25, "gal", "0.25 gallons"),
        (0.0, "W", "0 watts"),
        (1500.0, "W", "1,500 watts"),
        (1.0, "ft", "1 foot"),
        (20.0, "ft", "20 feet"),
        (475.0, "ft_lb", "475 foot-pounds"),
        (-25.0, "degF", "-25 degrees Fahrenheit"),
        (1.0, "persons", "1 person"),
        (24, "persons", "24 people"),
    ],
)
def test_a_quantity_is_said_in_whole_words(value: float, unit: str, words: str):
    """One is singular, all else plural, thousands have a comma."""
    assert spoken(value, unit) == words


# By hand from the definitions above: 120 gal x 3.785 = 454.2 L; 20 ft x 0.3048 = 6.1 m; 110 psi x 6.895 = 758 kPa;
# 475 ft lb x 1.3558 = 644 N m; 66 °F is 18.9 °C.
@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (120.0, "gal", "454 litres"),
        (20.0, "ft", "6.1 metres"),
        (12.0, "in", "30 centimetres"),
        (110.0, "psi", "758 kilopascals"),
        (475.0, "ft_lb", "644 newton metres"),
        (66.0, "degF", "19 degrees Celsius"),
        (-25.0, "degF", "-32 degrees Celsius"),
        (160.0, "W", "160 watts"),
        (10.0, "min", "10 minutes"),
    ],
)
def test_a_metric_reader_hears_metric_units(value: float, unit: str, words: str):
    """What has a metric twin is converted and rounded to what can be read off; the rest stays."""
    assert spoken(value, unit, "metric") == words


def test_every_unit_that_is_said_can_be_converted_too():
    """Each metric twin is a unit that can be said, and pint knows both."""
    for unit, twin in METRIC_TWIN.items():
        assert twin in SPOKEN_UNITS
        assert isinstance(convert(1.0, unit, twin), float)
