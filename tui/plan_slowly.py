"""Planning for the bench: at once where it is quick, else with a screen that says so and can stop it."""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass, field

from planner.cloth.cloth import work_out_cloth
from planner.cloth.why_not_fixed import why_not_fixed
from planner.fault import Fault
from planner.plan import Plan, plan_project
from planner.project import Project
from planner.tally import Made

QUICK = 0.4  # seconds after which the maker is told that it takes longer


@dataclass
class Planning:
    """A plan in the making, in a thread of its own."""

    project: Project
    made: Made
    plan: Plan | None = None
    faults: tuple[Fault, ...] = ()
    looks: int = 0
    bug: BaseException | None = None
    status: int = 0  # of a signal that ended the screen
    _stopped: threading.Event = field(default_factory=threading.Event)
    _done: threading.Event = field(default_factory=threading.Event)

    def start(self) -> None:
        threading.Thread(target=self._run, daemon=True).start()

    def _run(self) -> None:
        try:
            plan, self.faults = plan_project(self.project, self.made, self._keep_going)
            if plan is not None:
                self.faults = why_not_fixed(plan)
            if plan is not None and not self.faults:
                work_out_cloth(plan)  # the sheet asks for the same layout again, and has it at once then
            self.plan = None if self.faults else plan
        except InterruptedError:
            pass
        except BaseException as bug:
            self.bug = bug
        finally:
            self._done.set()

    def _keep_going(self) -> bool:
        self.looks += 1
        return not self._stopped.is_set()

    def stop(self) -> None:
        self._stopped.set()

    @property
    def is_done(self) -> bool:
        return self._done.is_set()

    @property
    def was_stopped(self) -> bool:
        return self._stopped.is_set() and self.plan is None and not self.faults

    def wait(self, seconds: float) -> bool:
        """Whether it is done within so many seconds."""
        return self._done.wait(seconds)


def plan_for_bench(project: Project, made: Made) -> Planning:
    """The plan of a project, its faults, or word that the maker stopped it. A bug in planning is raised here."""
    planning = Planning(project, made)
    planning.start()
    if not planning.wait(QUICK):
        from tui.screens.planning import PlanningApp

        screen = PlanningApp(planning, time.monotonic)
        screen.run()
        planning.status = screen.return_code or 0
        planning.stop()
        planning.wait(60)
    if planning.bug is not None:
        raise planning.bug
    return planning
