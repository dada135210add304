"""What all commands share: help, exit codes, places, errors that read like sentences."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cabassist import __version__

from .conftest import ALL_COMMANDS, ROOT, Launch, Run, json_of, loose_controls

# -- help -------------------------------------------------------------------------------------------


def test_the_commands_are_those_that_are_promised():
    """None is missing; `new` ones are added here."""
    assert {" ".join(words) for words in ALL_COMMANDS} == {
        "voice",
        "voice check",
        "voice transcribe",
        "voice say",
        "voice model",
        "voice model add",
        "ask",
        "show",
        "topics",
        "knowledge",
        "knowledge check",
        "knowledge stats",
        "coach",
        "coach show",
        "coach check",
        "coach new",
        "reading",
        "readings",
        "outlook",
        "trip",
        "trip new",
        "trip check",
        "trip show",
        "journal",
        "journal verify",
        "journal export",
        "journal import",
        "journal rescue",
        "journal erase",
        "review",
        "review list",
        "review show",
        "review play",
        "review needs",
        "review mark",
        "review assign",
        "review misheard",
        "review draft",
        "review check",
        "review diff",
        "review replay",
        "review accept",
        "review discard",
        "review sheet",
        "review quiz",
        "review sign-off",
        "review report",
        "converse",
        "replay",
        "defects",
        "defects list",
        "defects show",
        "defects add",
        "defects photo",
        "defects acknowledge",
        "defects repaired",
        "defects sign-off",
        "upkeep",
        "upkeep done",
        "rounds",
        "rounds show",
        "duty",
        "handover",
    }


@pytest.mark.parametrize("words", [(), *ALL_COMMANDS], ids=" ".join)
@pytest.mark.parametrize("option", ["--help", "-h"])
def test_every_command_explains_itself(run: Run, words: tuple[str, ...], option: str):
    """Usage, a sentence that begins with a capital, and exit code 0."""
    result = run(*words, option)
    lines = [line.strip() for line in result.output.splitlines() if line.strip()]

    assert result.exit_code == 0
    assert lines[0].startswith("Usage: cabassist" + "".join(f" {word}" for word in words))
    assert lines[1][0].isupper()
    assert "--help" in result.output


def test_the_help_tells_a_stranger_everything(run: Run):
    """What it is for, every command, where files live, exit codes, completion, and its limits."""
    text = run("--help").output

    for words in (
        "drivers of a converted winter coach",
        *(name for (name, *rest) in ALL_COMMANDS if not rest),
        "CABASSIST_JOURNAL",
        "CABASSIST_COACH",
        "CABASSIST_KNOWLEDGE",
        "CABASSIST_DATA",
        "CABASSIST_CACHE",
        "0 answered, 1 not answered, 2 misuse",
        "_CABASSIST_COMPLETE=bash_source",
        "NO_COLOR",
        "Not a substitute for local codes",
    ):
        assert words in text


@pytest.mark.parametrize(
    "words",
    ["ask", "show", "topics", "knowledge check", "knowledge stats", "coach show", "coach check", "replay"],
)
def test_every_command_that_prints_results_takes_json(run: Run, words: str):
    """What each prints with it is read by the tests of that command."""
    assert "--json" in run(*words.split(), "--help").output


def test_the_version_is_told(run: Run):
    """With the program's name."""
    result = run("--version")

    assert (result.exit_code, result.output) == (0, f"cabassist, version {__version__}\n")


# -- misuse -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("args", "hint"),
    [
        (["topcs"], "topics"),
        (["aks", "how do I fill"], "ask"),
        (["coach", "chekc"], "check"),
        (["knowledge", "stat"], "stats"),
        (["convers"], "converse"),
    ],
)
def test_a_misspelt_command_offers_the_nearest(run: Run, args: list[str], hint: str):
    """Exit code 2, the hint, and where the help is."""
    result = run(*args)

    assert result.exit_code == 2
    assert f"No such command '{args[0] if len(args) == 1 or args[0] == 'aks' else args[1]}'" in result.output
    assert "Did you mean" in result.output
    assert hint in result.output.split("Did you mean", 1)[1]
    assert "--help" in result.output


def test_a_misspelt_command_is_hinted_at_once(run: Run):
    """One hint is enough."""
    assert run("topcs").output.count("Did you mean") == 1


def test_a_question_without_ask_is_shown_how_to_ask(run: Run):
    """The next action can be copied."""
    result = run("how do I dump the waste tank")

    assert result.exit_code == 2
    assert 'cabassist ask "how do I dump the waste tank"' in result.output


@pytest.mark.parametrize(
    "args",
    [
        ["show"],
        ["ask"],
        ["replay"],
        ["converse"],
        ["topics", "--nosuch"],
        ["show", "dump-waste-tank", "too", "many"],
        ["--coach"],
        ["knowledge"],
        ["coach"],
        ["show", "no-such-topic"],
        ["topics", "--system", "watr"],
        ["--knowledge", "/no/such/folder", "topics"],
        ["--coach", "/no/such/file.yaml", "coach", "show"],
        ["coach", "check", "/no/such/file.yaml"],
        ["replay", "/no/such/file.jsonl"],
    ],
)
def test_misuse_and_unusable_files_end_with_2(run: Run, args: list[str]):
    """The message is not empty and goes to standard error; nothing goes to standard output."""
    result = run(*args)

    assert result.exit_code == 2
    assert len(result.stderr.strip()) > 10
    assert result.stdout == ""


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (["show", "dump-wast-tank"], "Did you mean dump-waste-tank"),
        (["topics", "--system", "watr"], "Did you mean water"),
        (["--knowledge", "/no/such", "topics"], "/no/such: is not a folder of knowledge. Check CABASSIST_KNOWLEDGE"),
        (["--coach", "/no/such.yaml", "coach", "show"], "/no/such.yaml: does not exist. Check the name"),
    ],
)
def test_an_error_names_the_thing_and_the_next_action(run: Run, args: list[str], said: str):
    """One clear line."""
    assert said in run(*args).stderr


# -- what may stand in an error ---------------------------------------------------------------------

HOSTILE = "\x1b]0;pwned\x07\x1b[31m\u202ex"


@pytest.mark.parametrize(
    "args",
    [
        [HOSTILE],
        ["show", HOSTILE],
        ["topics", "--system", HOSTILE],
        ["coach", "check", HOSTILE],
        ["--knowledge", HOSTILE, "topics"],
        ["replay", HOSTILE],
    ],
    ids=["command", "id", "system", "profile", "folder", "recording"],
)
def test_an_error_never_sends_control_characters_to_the_terminal(run: Run, args: list[str]):
    """A name that is wrong is repeated in a form that cannot move the cursor or set a title."""
    assert loose_controls(run(*args, color=True).output) == set()


# -- places -----------------------------------------------------------------------------------------


def test_variables_and_options_choose_the_files(
    run: Run, coach_text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    """A variable moves the coach, and an option wins over the variable."""
    for name in ("Heron", "Otter"):
        text = coach_text.replace("name: the Loon", f"name: the {name}")
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    monkeypatch.setenv("CABASSIST_COACH", str(tmp_path / "Heron.yaml"))
    by_variable = run("coach", "show")
    by_option = run("--coach", str(tmp_path / "Otter.yaml"), "coach", "show")

    assert by_variable.output.startswith("the Heron (")
    assert by_option.output.startswith("the Otter (")


def test_the_knowledge_can_be_another_folder(
    run: Run, knowledge_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    """By variable and by option."""
    other = tmp_path / "mine"
    (other / "kit").mkdir(parents=True)
    text = (knowledge_folder / "kit" / "find-tools-and-spares.yaml").read_text(encoding="utf-8")
    (other / "kit" / "find-tools-and-spares.yaml").write_text(text, encoding="utf-8")
    monkeypatch.setenv("CABASSIST_CACHE", str(tmp_path / "cache"))
    by_option = json_of(run("--knowledge", str(other), "topics", "--json").stdout)
    monkeypatch.setenv("CABASSIST_KNOWLEDGE", str(other))
    by_variable = json_of(run("topics", "--json").stdout)

    assert [row["id"] for row in by_option] == ["find-tools-and-spares"]
    assert by_variable == by_option


def test_the_users_own_coach_is_used(run: Run, coach_text: str):
    """`coach.yaml` in the data folder is the coach in use without any option."""
    own = Path(os.environ["CABASSIST_DATA"]) / "coach.yaml"
    own.parent.mkdir(parents=True)
    own.write_text(coach_text.replace("name: the Loon", "name: the Teal"), encoding="utf-8")

    assert run("coach", "show").output.startswith("the Teal (")


def test_looking_things_up_writes_no_data(run: Run):
    """Only a conversation makes the data folder."""
    run("topics")
    run("show", "dump-waste-tank")
    run("coach", "show")
    run("knowledge", "stats")

    assert not Path(os.environ["CABASSIST_DATA"]).exists()


@pytest.mark.parametrize("args", [("coach", "show"), ("show", "propane-smell")])
def test_a_data_folder_that_may_not_be_entered_is_named(
    run: Run, open_folder: Path, as_nobody: Callable[[], Any], monkeypatch: pytest.MonkeyPatch, args: tuple[str, ...]
):
    """One that another user made: the bundled coach is used, or the folder is named; never a traceback."""
    closed = open_folder / "data"
    closed.mkdir(mode=0o700)
    monkeypatch.setenv("CABASSIST_DATA", str(closed))
    closed.chmod(0)
    with as_nobody():
        result = run(*args)

    assert result.exit_code == 0 or str(closed) in result.stderr


# -- as a process -----------------------------------------------------------------------------------


def test_the_package_runs_as_a_module(launch: Launch):
    """`python -m cabassist` is the command too."""
    done = launch("--version")

    assert (done.returncode, done.stdout, done.stderr) == (0, f"cabassist, version {__version__}\n", "")


def test_a_reader_that_goes_away_ends_it_quietly():
    """`cabassist topics | head -1` shows no error."""
    script = f'"{sys.executable}" -m cabassist topics | head -1'
    done = subprocess.run(
        ["sh", "-c", script], capture_output=True, text=True, check=True, env={**os.environ, "PYTHONPATH": ROOT}
    )

    assert done.stdout.count("\n") == 1
    assert done.stderr == ""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no /dev/full here")
def test_output_to_a_full_disk_is_a_clear_error(launch: Launch):
    """`cabassist topics > list.txt` on a full disk says so, with exit code 2."""
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = launch("topics", stdout=full, stderr=subprocess.PIPE, capture_output=False)

    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert "No space left" in done.stderr


def test_arguments_that_are_not_utf8_do_no_harm():
    """Bytes from another encoding are an unknown id like any other."""
    done = subprocess.run(
        [sys.executable, "-m", "cabassist", "show", b"\xff\xfe\x80"],
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONPATH": ROOT},
    )

    assert done.returncode == 2
    assert b"Traceback" not in done.stderr
    assert b"There is no procedure" in done.stderr


def test_a_terminal_of_another_encoding_does_no_harm(launch: Launch):
    """Where the platform speaks ASCII, signs are shown all the same."""
    done = launch("show", "dump-waste-tank", env={"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii"})

    assert done.returncode == 0
    assert done.stderr == ""


@pytest.mark.parametrize(
    ("words", "expected"),
    [("cabassist sh", "show"), ("cabassist show dump", "dump-waste-tank"), ("cabassist coach ch", "check")],
)
def test_the_shell_completes_commands_and_ids(launch: Launch, words: str, expected: str):
    """As click's bash completion asks for it."""
    env = {
        "_CABASSIST_COMPLETE": "bash_complete",
        "COMP_WORDS": words,
        "COMP_CWORD": str(len(words.split()) - 1),
    }
    done = launch(env=env)

    assert f"plain,{expected}" in done.stdout.splitlines()
    assert done.stderr == ""


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_completion_script_is_printed(launch: Launch, shell: str):
    """For each shell that the help names."""
    done = launch(env={"_CABASSIST_COMPLETE": f"{shell}_source"})

    assert done.returncode == 0
    assert "_CABASSIST_COMPLETE" in done.stdout


# -- color ------------------------------------------------------------------------------------------


def on_a_terminal(*args: str, env: dict[str, str]) -> str:
    """What a command writes to a terminal."""
    import pty

    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "cabassist", *args],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, "PYTHONPATH": ROOT, "TERM": "xterm", **env},
    )
    os.close(theirs)
    seen = b""
    while True:
        try:
            part = os.read(ours, 65536)
        except OSError:  # the terminal's other end is closed
            break
        if not part:
            break
        seen += part
    process.wait()
    os.close(ours)
    return seen.decode()


needs_terminals = pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals here")


@needs_terminals
def test_signal_words_stand_out_on_a_terminal():
    """By weight; the word itself is there too."""
    seen = on_a_terminal("show", "propane-smell", env={})

    assert "\x1b[" in seen
    assert "DANGER" in seen


@needs_terminals
def test_no_color_is_respected():
    """With NO_COLOR set there is no escape sequence at all, and the signal word is still there."""
    seen = on_a_terminal("show", "propane-smell", env={"NO_COLOR": "1"})

    assert "\x1b" not in seen
    assert "DANGER:" in seen


@needs_terminals
def test_an_empty_no_color_changes_nothing():
    """The convention: “when present and not an empty string” (no-color.org)."""
    assert "\x1b[" in on_a_terminal("show", "propane-smell", env={"NO_COLOR": ""})


def test_output_into_a_file_has_no_color(launch: Launch):
    """Only a terminal gets weight."""
    assert "\x1b" not in launch("show", "propane-smell").stdout


def test_a_command_is_quick_to_explain_itself():
    """The help loads neither the matcher's arrays nor pint nor the models."""
    code = (
        "import sys; from cabassist.cli.main import cabassist;"
        "print(sorted({'numpy', 'pint', 'pydantic', 'yaml', 'prompt_toolkit'} & sys.modules.keys()))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env={**os.environ, "PYTHONPATH": ROOT}
    )

    assert done.stdout.strip() == "[]"
