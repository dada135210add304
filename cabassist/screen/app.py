"""The application: gathers what is said from keys, touch and microphone, hands it to the session, shows what comes back.

One task takes what was said in turn and asks the session in a thread, so that typing never waits; the lock keeps the
timers out meanwhile. What was typed while the knowledge was still loading is answered as soon as it is there.
"""

from __future__ import annotations

import asyncio
import gc
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import App, ComposeResult, SystemCommand
from textual.binding import Binding, BindingType
from textual.command import Provider
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Static
from textual.worker import Worker, get_current_worker

from cabassist.errors import CabassistError
from cabassist.screen import glance
from cabassist.screen.board import Clocks, Supplies
from cabassist.screen.ear import Ear, NoEar
from cabassist.screen.look import DAY, NIGHT, Look
from cabassist.screen.palette import Commands
from cabassist.screen.rolling import RollingScreen
from cabassist.screen.room import Middle
from cabassist.screen.talk import Say, StepPanel, Talk, Touch, beside_step, step_lines

if TYPE_CHECKING:  # the line to type into must stand before the knowledge is loaded
    from cabassist.dialogue.board import Board
    from cabassist.dialogue.session import Session
    from cabassist.dialogue.types import Reply, Walk
    from cabassist.estimate.tripfile import TripFile

LONGEST = 10_000
"""Characters of one line that are taken; the dialogue says what it uses of them."""
EAR_TICK_S = 0.2
BOARD_EVERY_S = 60.0


@dataclass(frozen=True)
class Exchanged:
    """Something that was said and answered before, to be shown."""

    said: str
    lines: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True)
class Opened:
    """A session that is ready, what was said before, and what must be told first."""

    session: Session
    notes: tuple[str, ...] = ()
    shown: tuple[Exchanged, ...] = ()


class Key(Touch):
    """A button at the foot, with its key below its name."""

    def __init__(self, label: str, key: str, action: str) -> None:
        super().__init__(Content.assemble((label, "bold"), "\n", key), "", id=f"key-{key.lower()}")
        self._action = action

    def press(self) -> None:
        """Do what its key does."""
        self.app.call_later(self.app.run_action, self._action)


class CabApp(App[CabassistError]):
    """The screen. Gives an error back when it could not begin."""

    CSS_PATH = "cab.tcss"
    TITLE = "cabassist"
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {Commands}
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]  # noqa: RUF012  as the base class has it
    VERTICAL_BREAKPOINTS = [(0, "-short"), (34, "-tall")]  # noqa: RUF012  as the base class has it
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "help", "Help"),
        Binding("f2", "say('next')", "Next"),
        Binding("f3", "say('back')", "Back"),
        Binding("f4", "say('repeat')", "Repeat"),
        Binding("f5", "say('why')", "Why"),
        Binding("f6", "say('pause')", "Pause"),
        Binding("f7", "say('stop')", "Stop"),
        Binding("f8", "say('we are rolling')", "Rolling"),
        Binding("f9", "look('supplies')", "Look"),
        Binding("f10", "listen", "Microphone"),
        Binding("ctrl+t", "colors", "Day or night"),
        Binding("pageup", "scroll_talk(-1)", "Earlier", priority=True),
        Binding("pagedown", "scroll_talk(1)", "Later", priority=True),
        Binding("escape", "type", "Type"),
        Binding("ctrl+q", "leave", "Leave", priority=True),
    ]

    def __init__(
        self,
        open_session: Callable[[], Opened],
        *,
        clock: Callable[[], datetime],
        look: Look | None = None,
        ear: Ear | None = None,
        night: bool = False,
        folder: Path = Path(),
        profile_path: Path | None = None,
    ) -> None:
        self.look = look or Look()
        super().__init__()
        self.clock = clock
        self.ear: Ear = ear or NoEar()
        self.session: Session | None = None
        self.board: Board | None = None
        self._open_session = open_session
        self._said: asyncio.Queue[str] = asyncio.Queue()
        self._unanswered = 0
        self._turn = asyncio.Lock()
        self._night = night
        self._rolling: RollingScreen | None = None
        self._job: Worker[None] | None = None
        self._folder, self._profile = folder, profile_path or folder / "coach.yaml"
        self.trip: TripFile | None = None
        self.trip_ahead: tuple[str, ...] = ()

    # -- what stands on the screen --------------------------------------------------------------

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Colors that the style sheet names, before a theme of ours is set."""
        return dict(DAY.variables)

    def compose(self) -> ComposeResult:
        """From top to bottom in the order in which a driver needs it: where we stand, what to do, what runs out."""
        look = self.look
        yield Static(look.content("cabassist: getting ready. You can type already."), id="top")
        with Middle(id="middle"):
            with Vertical(id="left"):
                yield Talk(look)
                yield StepPanel(look)
            with Vertical(id="right"):
                yield Supplies(look)
                yield Clocks(look)
        yield Static(id="work")
        yield Static(look.content(self.ear.hint), id="heard")
        with Horizontal(id="ask"):
            yield Static(look.content("you> "), id="you")
            yield Input(placeholder="Ask, tell a reading, or say next. F1: help", id="say")
        with Horizontal(id="keys"):
            for label, key, action in (
                ("Next", "F2", "say('next')"), ("Back", "F3", "say('back')"), ("Repeat", "F4", "say('repeat')"),
                ("Why", "F5", "say('why')"), ("Pause", "F6", "say('pause')"), ("Stop", "F7", "say('stop')"),
                ("Rolling", "F8", "say('we are rolling')"), ("Look", "F9", "look('supplies')"), ("Help", "F1", "help"),
            ):  # fmt: skip
                yield Key(label, key, action)

    def on_mount(self) -> None:
        """Open the session in the background, and begin to listen to the keyboard at once."""
        for theme in (DAY, NIGHT):
            self.register_theme(theme)
        self.theme = NIGHT.name if self._night else DAY.name
        self.set_class(self.look.ascii, "ascii")
        self.query_one("#say", Input).focus()
        self.call_after_refresh(self.run_worker, self._begin, thread=True, group="begin")
        self.run_worker(self._serve(), group="serve")
        self.set_interval(1.0, self._tick)
        self.set_interval(EAR_TICK_S, self._listen_line)
        self.set_interval(BOARD_EVERY_S, self._renew_board)

    def _begin(self) -> None:
        try:
            opened = self._open_session()
        except CabassistError as error:
            self.call_from_thread(self.exit, error)
            return
        self.call_from_thread(self.call_later, self._opened, opened)
        from cabassist.dialogue.turn import take_turn
        from cabassist.dialogue.types import State
        from cabassist.language.lazy import write_patterns

        for text in (
            "fresh at half",
            "how do I plug in",
            "there is a smell of gas",
        ):  # loads what the first answers would have to wait for
            take_turn(State(), text, mind=opened.session.mind, now=self.clock())
        gc.freeze()  # what is loaded stays: the collector need not look through it in the middle of an answer
        write_patterns()  # now, as a terminal may be closed rather than left

    async def _opened(self, opened: Opened) -> None:
        self.session = opened.session
        notes = opened.notes or (f"This is {opened.session.mind.coach.name}. What do you want to do?",)
        for before in opened.shown:
            await self._talk.add(before.said, before.lines, "shown", before.note)
        await self._talk.add("", notes, "notice")
        walk, mind = self._walk(), opened.session.mind
        await self._panel.show(walk, step_lines(walk, mind), mind)
        await self._show_state()
        self._said.put_nowait("")  # wakes the task that waits for a session

    # -- turns ----------------------------------------------------------------------------------

    def say(self, text: str) -> None:
        """Something was said, in whichever way."""
        if text.strip():
            self._unanswered += 1
            self._said.put_nowait(text[:LONGEST])

    @property
    def idle(self) -> bool:
        """Whether a session is open and everything said is answered and shown."""
        return self.session is not None and not self._unanswered

    async def _serve(self) -> None:
        """Answer what was said, one after the other. Leaving words leave."""
        waiting: list[str] = []
        while True:
            waiting.append(await self._said.get())
            while self.session is not None and waiting:
                from cabassist.dialogue.resuming import LEAVE

                text = waiting.pop(0)
                if text.strip().lower() in LEAVE:
                    self.exit()
                elif text:
                    await self._answer(self.session, text)
                    self._unanswered -= 1

    async def _answer(self, session: Session, text: str) -> Reply:
        async with self._turn:
            reply = await asyncio.to_thread(session.hear, text, self.clock())
        await self._show(text, reply)
        return reply

    def take_turn_for(self, text: str, now: datetime) -> Reply:
        """A turn for the microphone, in order with all others; called from its thread."""
        session = self.session
        assert session is not None
        reply: Reply = self.call_from_thread(self._answer, session, text)  # type: ignore[arg-type]
        return reply

    def show_lines(self, lines: Iterable[str]) -> None:
        """Lines that are no turn; called from the microphone's thread."""
        self.call_from_thread(self.call_later, self._add_lines, tuple(lines))

    async def _add_lines(self, lines: tuple[str, ...]) -> None:
        await self._talk.add("", lines)

    async def _show(self, text: str, reply: Reply) -> None:
        assert self.session is not None
        rolled = self._rolling
        walk, mind = self._walk(), self.session.mind
        step, panel = step_lines(walk, mind), self._panel
        beside = beside_step(reply, () if panel.cut else step, unmoved=panel.stands_at(walk))
        talked = self._talk.add(text, beside, reply.kind)
        with self.batch_update():  # laid out once, not once for each part
            await asyncio.gather(panel.show(walk, step, mind), talked)
            await self._show_state()
        shown = self._rolling
        if shown is not None and (shown is rolled or reply.say.startswith(glance.STOP)):
            shown.say(glance.line_for(reply))

    async def _show_state(self) -> None:
        """Everything but the step that follows from the state, drawn again."""
        if self.session is None:
            return
        self._tick_clock()
        self._middle.share()
        self.call_after_refresh(self._renew_board)  # beside the drawing it would only slow it down
        await self._roll(self.session.state.rolling)

    async def _roll(self, rolling: bool) -> None:
        """Show one line while the coach rolls, everything again when it is parked."""
        if rolling and self._rolling is None:
            while len(self.screen_stack) > 1:
                await self.pop_screen()
            self._rolling = RollingScreen(self.look, lambda: self.ear.state in ("listening", "hearing"))
            await self.push_screen(self._rolling)
        elif not rolling and self._rolling is not None:
            self._rolling = None
            await self.pop_screen()
            self.query_one("#say", Input).focus()

    @property
    def _talk(self) -> Talk:
        return self.screen_stack[0].query_one(Talk)

    @property
    def _panel(self) -> StepPanel:
        return self.screen_stack[0].query_one(StepPanel)

    @property
    def _middle(self) -> Middle:
        return self.screen_stack[0].query_one(Middle)

    def _walk(self) -> Walk | None:
        return self.session.state.walk if self.session else None

    # -- time -----------------------------------------------------------------------------------

    async def _tick(self) -> None:
        """Once a second: timers that ran out are said, the others count down."""
        if self.session is None or not self._stands:
            return
        if not self._turn.locked():
            async with self._turn:
                over = self.session.announcements(self.clock())
                elsewhere = self.session.look_around(self.clock())
            if elsewhere:  # said on another terminal
                await self._show_state()
            for announce in over:
                self.bell()
                await self._talk.add("", [f"Timer: {announce}"], "timer")
                self.ear.announce(announce)
                if self._rolling is not None:
                    self._rolling.say(glance.announced(announce))
        self._tick_clock()

    def _write(self, where: str, text: Content) -> None:
        """Draw a line when it has changed: over a slow line every drawing counts."""
        line = self.screen_stack[0].query_one(where, Static)
        if line.content != text:
            line.update(text)

    @property
    def _stands(self) -> bool:
        """Whether the screen is there: a clock may still tick while it is put up or taken down."""
        return bool(self.screen_stack) and bool(self.screen_stack[0].query("#heard")) and self.is_running

    def _tick_clock(self) -> None:
        if self.session is None or not self._stands:
            return
        now, state, main = self.clock(), self.session.state, self.screen_stack[0]
        stands = "ROLLING" if state.rolling else "PARKED"
        left = f"{self.session.mind.coach.name}  {self.look.signs.dot}  {stands}  {self.look.signs.dot}  {now:%a %H:%M}"
        more = len(state.walks) - 1
        waits = f"  {self.look.signs.dot}  {more} more waiting" if more > 0 else ""
        self._write("#top", self.look.content(f"{left}{waits}", "bold"))
        main.query_one(Clocks).show(self.board, state.timers, now, self.size.width >= 110)

    def _renew_board(self) -> None:
        if self.session is not None:
            self.run_worker(self._work_board, thread=True, group="board", exclusive=True, exit_on_error=False)

    def _work_board(self) -> None:
        from cabassist.dialogue.board import board_of

        session, worker = self.session, get_current_worker()
        if session is None:
            return
        board = board_of(session.state, session.mind, self.clock())
        if not worker.is_cancelled:
            self.call_from_thread(self._show_board, board)

    def _show_board(self, board: Board) -> None:
        self.board = board
        if not self._stands:
            return
        self.screen_stack[0].query_one(Supplies).show(board)
        self._tick_clock()
        self._middle.share()

    # -- microphone -----------------------------------------------------------------------------

    def _listen_line(self) -> None:
        if not self._stands:
            return
        shown = {
            "missing": self.ear.hint, "off": f"Microphone off. {self.ear.hint}", "loading": "Microphone: getting ready. Esc stops it.",
            "listening": f"Microphone on: listening. {self.ear.hint}", "hearing": f"Hearing: {self.ear.partial}",
        }[self.ear.state]  # fmt: skip
        self._write("#heard", self.look.content(shown))

    def action_listen(self) -> None:
        """Switch the microphone on or off."""
        if self.ear.state == "missing":
            self.notify(self.look.text(self.ear.hint), markup=False)
        elif self.ear.state == "off" and self.session is not None:
            self.run_worker(self._start_ear, thread=True, group="ear", exclusive=True, exit_on_error=False)
        else:
            self.ear.stop()

    def _start_ear(self) -> None:
        try:
            self.ear.start(self)
        except CabassistError as error:
            self.show_lines([str(error)])

    # -- keys, touch, palette -------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While the coach rolls only leaving and being parked are left."""
        return self._rolling is None or action in ("leave", "parked", "quit")

    def on_say(self, message: Say) -> None:
        """A button, an option or the microphone."""
        self.say(message.text)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter was pressed."""
        if event.input.id == "say":
            event.input.clear()
            self.say(event.value)

    def action_say(self, words: str) -> None:
        """A key stands for these words."""
        self.say(words)

    def action_type(self) -> None:
        """Long work is stopped; else back to the line that is typed into."""
        if self._job is not None and self._job.is_running:
            self._job.cancel()
        if self.ear.state == "loading":
            self.ear.stop()
        self.query_one("#say", Input).focus()

    @property
    def line(self) -> Input:
        """The line that is typed into, whatever sheet lies over it."""
        return self.screen_stack[0].query_one("#say", Input)

    def action_colors(self) -> None:
        """The other theme."""
        self.theme = DAY.name if self.theme == NIGHT.name else NIGHT.name

    def action_scroll_talk(self, way: int) -> None:
        """A page up or down in the conversation."""
        self._talk.turn_page(way)

    def action_leave(self) -> None:
        """End; everything said is kept."""
        self.ear.stop()
        self.exit()

    def action_help(self) -> None:
        """How to ask, keys, signal words, the road."""
        from cabassist.screen.sheets import HelpSheet

        self.push_screen(HelpSheet(self.look))

    def action_look(self, page: str) -> None:
        """Look at, and enter, what the journal holds."""
        if self.session is not None:
            from cabassist.screen.sheets import LookSheet

            self.push_screen(LookSheet(self.look, page))

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """Ours come from `Commands`."""
        return ()

    def action_export(self) -> None:
        """Write the journal to a file, in a worker."""
        if self.session is None:
            return
        from cabassist.screen import work

        journal, path = self.session.journal, self._folder / f"journal-{self.clock():%Y%m%d-%H%M%S}.jsonl"
        self._job = work.begin(self, "Saving the journal", lambda told: work.export(journal, path, told))

    # -- files: the profile and the trip ----------------------------------------------------------

    def keep_profile(self, text: str) -> None:
        """Change one value of the coach's profile in its file. Raises CabassistError or ValueError."""
        from cabassist.screen.fields import changed, save

        if self.session is not None:
            save(changed(self.session.mind.coach, text), self._profile)
            self.notify(self.look.text(f"Saved in {self._profile}. Used from the next start on."), markup=False)

    def keep_trip(self, text: str) -> None:
        """Change one value of the trip in its file. Raises CabassistError or ValueError."""
        from cabassist.screen.fields import changed, save

        if self.trip is not None:
            save(changed(self.trip, text), self._folder / "trip.yaml")
            self.trip_ahead = ()

    def begin_trip(self, drawn: Callable[[], None]) -> None:
        """Begin a trip from a sample."""
        from cabassist.screen import trip

        try:
            trip.begin(self._folder / "trip.yaml", self.clock())
        except CabassistError as error:
            self.notify(self.look.text(str(error)), markup=False, severity="warning")
        self.look_ahead(drawn)

    def look_ahead(self, drawn: Callable[[], None]) -> None:
        """Work out in a worker how the supplies fare on the trip, and draw again."""
        from cabassist.screen import trip, work

        path, session = self._folder / "trip.yaml", self.session
        if session is None or not path.exists():
            return
        try:
            self.trip = trip.load(path)
        except CabassistError as error:
            self.trip, self.trip_ahead = None, tuple(str(error).splitlines())
            return

        def worked(told: Callable[[float], bool]) -> str:
            try:
                self.trip_ahead = trip.ahead(path, session.mind, session.state.stored, self.clock(), told) or (
                    "Stopped.",
                )
            except CabassistError as error:
                self.trip_ahead = tuple(str(error).splitlines())
            self.call_from_thread(drawn)
            return ""

        self._job = work.begin(self, "Looking ahead", worked)
