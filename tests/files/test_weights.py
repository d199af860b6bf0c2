"""Weights of pieces, as people write them down."""

import pytest

from slabwright.errors import FileError
from slabwright.files.raw import Text
from slabwright.files.weights import read_weights


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("74 73.5 75", [74, 73.5, 75]),
        ("74,\n73,5;75 g # third tray\n", [74, 73.5, 75]),
        ("74g 73.5g", [74, 73.5]),
        ("  # nothing yet\n", []),
    ],
)
def test_weights_are_read_as_they_are_written(text: str, grams: list[float]) -> None:
    assert read_weights(Text(text)) == grams


def test_every_word_that_is_none_is_told_with_its_place() -> None:
    with pytest.raises(FileError) as refused:
        read_weights(Text("74 heavy\n-3 75\n1e9", "tray.txt"))
    told = [str(one) for one in refused.value.mistakes]
    assert [one.split(" ")[0] for one in told] == [
        "tray.txt:1:4:", "tray.txt:2:1:", "tray.txt:3:1:",
    ]  # fmt: skip
    assert "'heavy' is no weight" in told[0]
