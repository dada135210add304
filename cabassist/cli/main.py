"""The `cabassist` command."""

from __future__ import annotations

# Before anything heavy is imported: one thread is quickest for matrices this small, and looking for pydantic
# plugins costs a tenth of the start.
import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

import contextlib
import sys
from pathlib import Path
from typing import Any

import click

from cabassist import __version__
from cabassist.cli.shared import Commands, Given, terminal_can
from cabassist.language.lazy import write_patterns

EPILOG = """\b
Files (each can be moved by the option or the variable):
  journal        --journal    CABASSIST_JOURNAL    what was said and answered
  coach profile  --coach      CABASSIST_COACH      tanks, cylinders, cords, kit
  knowledge      --knowledge  CABASSIST_KNOWLEDGE  procedures and wordings
  own data       CABASSIST_DATA, cache CABASSIST_CACHE

\b
Exit codes: 0 answered, 1 not answered, 2 misuse or an unusable file.
Shell completion: eval "$(_CABASSIST_COMPLETE=bash_source cabassist)", or zsh_source, fish_source.
NO_COLOR is respected; CABASSIST_ASCII=1 draws the screen with plain characters only.

Not a substitute for local codes, the makers' manuals and licensed technicians.
"""


@click.group(
    cls=Commands,
    invoke_without_command=True,
    epilog=EPILOG,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="cabassist")
@click.option("--coach", type=click.Path(path_type=Path), help="Coach profile to use.")
@click.option("--journal", type=click.Path(path_type=Path), help="Journal to write to.")
@click.option("--knowledge", type=click.Path(path_type=Path), help="Folder of knowledge to use.")
@click.option("--actor", default="driver", show_default=True, help="Name of who is speaking.")
@click.option("--demo/--no-demo", default=None, help="Play the guided demo first, or leave it out.")
@click.option("--plain", is_flag=True, help="A plain prompt instead of the screen; also for screen readers.")
@click.pass_context
def cabassist(
    ctx: click.Context,
    coach: Path | None,
    journal: Path | None,
    knowledge: Path | None,
    actor: str,
    demo: bool | None,
    plain: bool,
) -> None:
    """Offline assistant for the drivers of a converted winter coach.

    Ask in your own words and be led step by step, cautions first. Without a command it opens the
    conversation: on the very first start a short guided demo on the bundled coach, then the screen,
    or a plain prompt where the terminal cannot show one.
    Everything said and answered is kept in the journal.
    """
    ctx.obj = Given(coach, journal, knowledge, actor)
    if ctx.invoked_subcommand is None:
        if not plain and terminal_can():
            from cabassist.cli.screen import converse_on_screen

            converse_on_screen(ctx.obj, demo)
        else:
            from cabassist.cli.prompt import converse_at_prompt

            converse_at_prompt(ctx.obj, demo)


def _lazy(name: str, module: str) -> None:
    """Add a command whose module is only imported when it is called: a quick start matters most."""
    cabassist.add_command(_LazyCommand(name, module), name)


class _LazyCommand(click.Command):
    def __init__(self, name: str, module: str) -> None:
        super().__init__(name)
        self._module = module

    def _real(self) -> click.Command:
        import importlib

        module, attribute = self._module.split(":")
        found = getattr(importlib.import_module(module), attribute)
        assert isinstance(found, click.Command)
        return found

    def make_context(self, *args: Any, **kwargs: Any) -> click.Context:
        """Hand over to the real command."""
        return self._real().make_context(*args, **kwargs)

    def get_short_help_str(self, limit: int = 45) -> str:
        """The real command's help."""
        return self._real().get_short_help_str(limit)

    def shell_complete(self, ctx: click.Context, incomplete: str):  # type: ignore[no-untyped-def]
        """The real command's completion."""
        return self._real().shell_complete(ctx, incomplete)


for _name, _module in (
    ("ask", "cabassist.cli.asking:ask"),
    ("show", "cabassist.cli.asking:show"),
    ("topics", "cabassist.cli.asking:topics"),
    ("knowledge", "cabassist.cli.knowledge:knowledge"),
    ("coach", "cabassist.cli.coach:coach"),
    ("reading", "cabassist.cli.supplies:reading"),
    ("readings", "cabassist.cli.supplies:readings"),
    ("outlook", "cabassist.cli.supplies:outlook"),
    ("trip", "cabassist.cli.trip:trip"),
    ("converse", "cabassist.cli.converse:converse"),
    ("replay", "cabassist.cli.replay:replay"),
    ("defects", "cabassist.cli.record:defects"),
    ("upkeep", "cabassist.cli.record:upkeep"),
    ("rounds", "cabassist.cli.record:rounds"),
    ("duty", "cabassist.cli.record:duty"),
    ("handover", "cabassist.cli.record:handover"),
    ("journal", "cabassist.cli.journal:journal"),
    ("review", "cabassist.cli.review:review"),
    ("voice", "cabassist.cli.voice:voice"),
):
    _lazy(_name, _module)


def main() -> None:
    """Run the command line; a closed pipe ends it quietly."""
    for stream in (sys.stdout, sys.stderr, sys.stdin):
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(encoding="utf-8", errors="replace")  # type: ignore[union-attr]
    try:
        cabassist(prog_name="cabassist")
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except OSError as error:
        sys.stderr.write(f"cabassist: cannot go on ({error.strerror}). Free some space, or write elsewhere.\n")
        os._exit(2)
    finally:
        write_patterns()
