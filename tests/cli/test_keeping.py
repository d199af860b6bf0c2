from pathlib import Path

from tests.cli.run import run

DEMO = Path(__file__).parents[2] / "demo"


def test_a_kitchen_goes_in_and_comes_out_character_for_character(
    tmp_path: Path,
) -> None:
    store = ("--data", str(tmp_path / "store"))
    came = run("import", str(DEMO), *store)
    assert (came.code, came.err) == (0, "")
    assert "6 new" in came.out

    assert run("export", str(tmp_path / "out"), *store).code == 0

    for file in DEMO.rglob("*"):
        if file.is_file():
            again = tmp_path / "out" / file.relative_to(DEMO)
            assert again.read_bytes() == file.read_bytes(), file
    assert (tmp_path / "out/history/two-tides/0001.card").is_file()
    second = run("import", str(DEMO), *store)
    assert "0 new" in second.out


def test_a_back_up_is_put_back_into_a_new_store(tmp_path: Path) -> None:
    first = ("--data", str(tmp_path / "first"))
    run("import", str(DEMO), *first)
    file = tmp_path / "store.backup"
    assert run("backup", str(file), *first).code == 0

    second = ("--data", str(tmp_path / "second"))
    assert run("restore", str(file), *second).code == 0

    run("export", str(tmp_path / "out"), *second)
    for card in (DEMO / "slabs").iterdir():
        again = tmp_path / "out/slabs" / card.name
        assert again.read_bytes() == card.read_bytes()


def test_a_damaged_back_up_changes_nothing(tmp_path: Path) -> None:
    first = ("--data", str(tmp_path / "first"))
    run("import", str(DEMO), *first)
    file = tmp_path / "store.backup"
    run("backup", str(file), *first)
    file.write_bytes(file.read_bytes()[:-200])

    ran = run("restore", str(file), "--data", str(tmp_path / "second"))

    assert ran.code == 2
    assert ran.err.startswith("Error: ")
    assert not (tmp_path / "second").exists(), "no empty store is left behind"


def test_a_folder_without_a_kitchen_is_not_taken_in(tmp_path: Path) -> None:
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters/dear.txt").write_text("Dear Morwen", encoding="utf-8")
    store = ("--data", str(tmp_path / "store"))

    ran = run("import", str(tmp_path / "letters"), *store)

    assert ran.code == 2
    assert "There is no kitchen in it" in ran.err
    run("export", str(tmp_path / "out"), *store)
    assert not list((tmp_path / "out").rglob("*.txt"))


def test_a_kitchen_with_a_mistake_in_it_comes_in_as_it_is(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    paper = "name: Harbour steps\naltitude_m: high\n"
    (home / "kitchen.yaml").write_text(paper, encoding="utf-8")
    store = ("--data", str(tmp_path / "store"))

    assert run("import", str(home), *store).code == 0

    run("export", str(tmp_path / "out"), *store)
    assert (tmp_path / "out/kitchen.yaml").read_text("utf-8") == paper


def test_what_is_there_is_not_written_over(tmp_path: Path) -> None:
    store = ("--data", str(tmp_path / "store"))
    run("import", str(DEMO), *store)
    (tmp_path / "out").mkdir()
    (tmp_path / "out/mine.txt").write_text("mine", encoding="utf-8")

    ran = run("export", str(tmp_path / "out"), *store)

    assert ran.code == 2
    assert [one.name for one in (tmp_path / "out").iterdir()] == ["mine.txt"]


def test_a_store_that_is_not_there_is_not_made_on_the_spot(tmp_path: Path) -> None:
    for command in ("backup", "export"):
        ran = run(command, str(tmp_path / "to"), "--data", str(tmp_path / "typo"))

        assert ran.code == 2
        assert "There is no store in" in ran.err
        assert not (tmp_path / "typo").exists()
