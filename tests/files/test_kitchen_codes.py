"""Address, nation and codes of kitchen.yaml: read, or refused where they can't be."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.errors import FileError
from slabwright.files.kitchen_file import read_kitchen, sound_kitchen
from slabwright.files.raw import Text
from slabwright.kitchen import Codes, Kitchen
from slabwright.label.codes import in_store_number, own_number


def kitchen(text: str) -> Kitchen:
    return read_kitchen(Text(text, "kitchen.yaml"))


def test_address_telephone_and_nation() -> None:
    one = kitchen(
        "name: A\naddress: |\n  1 Long Stair\n  Tarrowmouth\nphone: 01632 960001\n"
        "country: GB\nnation: Northern Ireland\n"
    )

    assert one.address == "1 Long Stair Tarrowmouth"
    assert one.phone == "01632 960001"
    assert one.nation == "Northern Ireland"


def test_what_is_not_said_is_empty() -> None:
    one = kitchen("name: A\n")

    assert (one.address, one.nation, one.codes) == ("", "", Codes())


@pytest.mark.parametrize(
    ("said", "codes"),
    [
        ("company_prefix: 5012345", Codes("5012345")),
        ("company_prefix: '50 12345'", Codes("5012345")),
        # zeros that stand before a number are digits of it
        ("company_prefix: 0123456", Codes("0123456")),
        ("company_prefix: '0123456'", Codes("0123456")),
        ("in_store: 02", Codes("", ("02",))),
        ("in_store: '02'", Codes("", ("02",))),
        ("in_store: 20-22", Codes("", ("20", "21", "22"))),
        ("in_store: 21, 23", Codes("", ("21", "23"))),
        ("in_store: 27", Codes("", ("27",))),
        ("form: 20IIIIIVPPPPC", Codes("", (), "20IIIIIVPPPPC")),
        ("form: 02 IIIII WWWWW C", Codes("", (), "02IIIIIWWWWWC")),
    ],
)
def test_codes_are_read(said: str, codes: Codes) -> None:
    assert kitchen(f"codes:\n  {said}\n").codes == codes


@given(st.from_regex(r"[0-9]{7}", fullmatch=True))
def test_a_prefix_keeps_every_digit_with_and_without_quotes(prefix: str) -> None:
    for said in (prefix, f"'{prefix}'"):
        found, wrong = sound_kitchen(Text(f"codes:\n  company_prefix: {said}\n"))
        if wrong:  # a range of the shop's own is no company's
            assert "in-store range" in wrong[0].what
        else:
            assert found.codes.company_prefix == prefix
            assert own_number(found.codes, "1").digits.startswith(prefix)


def test_numbers_elsewhere_may_have_zeros_before_them() -> None:
    one = kitchen("altitude_m: 0120\nscales: [{to_g: 05000, step_g: 01}]\n")

    assert one.altitude_m == 120
    assert (one.scales[0].to_g, one.scales[0].step_g) == (5000, 1)


def test_the_range_of_the_shop_begins_its_numbers() -> None:
    assert (
        in_store_number(kitchen("codes: {in_store: 02}").codes, "7").digits[:2] == "02"
    )


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("codes:\n  company_prefix: 123", "codes.company_prefix"),
        ("codes:\n  company_prefix: 2012345", "codes.company_prefix"),
        ("codes:\n  company_prefix: .nan", "codes.company_prefix"),
        ("codes:\n  company_prefix: true", "codes.company_prefix"),
        ("codes:\n  company_prefix: [5, 0]", "codes.company_prefix"),
        ("codes:\n  in_store: 2", "codes.in_store"),
        ("codes:\n  in_store: 29-20", "codes.in_store"),
        ("codes:\n  in_store: 19-21", "codes.in_store"),
        ("codes:\n  form: 20IIIII", "codes.form"),
        ("codes:\n  form: " + "I" * 500, "codes.form"),
        ("codes:\n  colour: red", "codes.colour"),
        ("codes: 5", "codes"),
        ("nation: Mercia", "nation"),
        ("country: IE\nnation: Wales", "nation"),
        ("address: " + "x" * 301, "address"),
        ("phone: [1]", "phone"),
    ],
)
def test_what_cannot_be_is_named_by_its_field(text: str, field: str) -> None:
    with pytest.raises(FileError) as caught:
        kitchen(text)

    assert {one.where.field for one in caught.value.mistakes} == {field}
    assert all(one.do for one in caught.value.mistakes)


def test_what_is_sound_beside_a_mistake_is_kept() -> None:
    text = "codes:\n  company_prefix: 5012345\n  in_store: 99\n"
    found, wrong = sound_kitchen(Text(text, "kitchen.yaml"))

    assert found.codes == Codes("5012345")
    assert [one.where.field for one in wrong] == ["codes.in_store"]
