"""What several kinds of tests need: the built site, a server for it, a browser. Each is made once."""

import functools
import os
import shutil
import threading

import bootstrap
import make
import pytest
import serve_site
from hypothesis import settings

# The same cases on every run and every machine; HYPOTHESIS_PROFILE=search looks for new ones.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("search", max_examples=2000, deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


def pytest_addoption(parser):
    parser.addoption(
        "--write-engines", action="store_true", help="write what the journeys found in each engine into DEVELOPERS.md"
    )
    parser.addoption(
        "--write-answers", action="store_true", help="write tests/calc/answers anew; the difference is to be read"
    )


def pytest_configure(config):
    # Once for all processes of a run: whether an earlier build had left anything for the first one of this run.
    os.environ.setdefault("HANDBOOK_KEPT", "yes" if any((bootstrap.ROOT / ".cache").glob("library-*")) else "")
    config.addinivalue_line("markers", "slow: takes more than a few seconds")


APART = {"test_access.py", "test_fields.py"}
"""Files whose tests share nothing costly, so that each may run wherever there is room."""
FIRST = [
    "test_image.py",
    "test_fields.py",  # asks for no site: one process has something to do while another builds
    "test_offline.py",
    "test_never_lost.py",
    "test_engines.py",
    "test_farm.py",  # two builds, for which others would wait
    "test_plan.py",
    "test_faults.py",
    "test_access.py",
    "test_runtime.py",
    "test_soak.py",
    "test_alive.py",
    "test_farm_season.py",
    "test_handles.py",
    "test_cases.py",
]
"""What takes longest goes first, or one processor would wait for the other at the end."""


def group_of(nodeid):
    """Tests of one group run one after the other in one process, and share what they have made."""
    path, _, test = nodeid.partition("::")
    name, (function, _, parameters) = os.path.basename(path), test.partition("[")
    if name == "test_engines.py":  # an engine with a way in, and what is said of both at the end
        return f"{path}::{parameters}"
    return f"{path}::{function}" if name in APART else path


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """By groups of ours: pytest-xdist 3.8 writes the group of a mark into the id of a test, and pytest 9.2 lets nothing
    be written there, so that a mark would be passed over without a word.
    """
    from xdist.scheduler import LoadScopeScheduling

    class ByGroup(LoadScopeScheduling):
        def _split_scope(self, nodeid):
            return group_of(nodeid)

    return ByGroup(config, log)


BROWSERS = {"browser", "playwright", "started"}
NOW_AND_THEN = {"test_alive.py", "test_soak.py"}
"""What comes once in many loads or steps is what these look for: nothing of them is tried again."""


def pytest_collection_modifyitems(items):
    for item in items:
        if BROWSERS & set(item.fixturenames) and item.path.name not in NOW_AND_THEN:
            # A browser is a second program with a clock of its own: what fails is tried once more, and told at the end.
            item.add_marker(pytest.mark.flaky(reruns=1))
    items.sort(key=lambda item: FIRST.index(item.path.name) if item.path.name in FIRST else len(FIRST))


SAID = []
"""What processes that ran tests side by side had to say at their end."""


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node):
    SAID.extend(getattr(node, "workeroutput", {}).get("said", []))


def pytest_terminal_summary(terminalreporter):
    for line in SAID:
        terminalreporter.write_line(line)
    for report in terminalreporter.stats.get("rerun", []):
        terminalreporter.section(f"failed at the first attempt: {report.nodeid}")
        terminalreporter.write_line(report.longreprtext)


@pytest.fixture(scope="session")
def node():
    """Path of Node, with the packages of scripts/browser installed."""
    return os.environ.get("HANDBOOK_NODE") or str(bootstrap.node_packages())


@pytest.fixture(scope="session")
def site(tmp_path_factory):
    """The built handbook, built again only when something changed; a copy, so that a build meanwhile takes nothing
    away.
    """
    return shutil.copytree(make.build(), tmp_path_factory.mktemp("handbook") / "site")


@pytest.fixture(scope="session")
def edition():
    """A function from a farm's file to its built edition: one build for all processes that test side by side, and
    another only when something changed. Nobody writes into it.
    """
    return lambda file: make.build(bootstrap.ROOT / ".cache" / "editions" / file.stem, farm=file)


@pytest.fixture(scope="session")
def address(site):
    """Where the handbook is served during the tests, with a slash at the end."""
    server = serve_site.server(site)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}/"
    server.shutdown()


EXPECTED_WITHIN = 60_000  # ms; a busy machine takes its time


@pytest.fixture(scope="session")
def playwright():
    """Playwright, started once: it stands only one of itself."""
    from playwright import sync_api

    sync_api.expect.set_options(timeout=EXPECTED_WITHIN)
    for kind in (sync_api.BrowserContext, sync_api.Page):
        kind.close = letting_go(kind.close)
    with sync_api.sync_playwright() as started:
        yield started


def letting_go(close):
    """Closes a page, or a context with its pages, when nothing is answered in the place of a server any more: what is
    at work on a request while its page closes would raise in whatever test comes next.
    """

    @functools.wraps(close)
    def closing(self, **options):
        if not self.is_closed():
            for one in (*getattr(self, "pages", ()), self):
                one.unroute_all(behavior="ignoreErrors")
        close(self, **options)

    return closing


PANELS = "WebUIOmniboxPopup,WebUIOmniboxAimPopup,SpareRendererForSitePerProcess"
"""What Chromium keeps ready in each window for whoever uses its address bar, and for a site that may come next: a third
of the time of a window, and no part of any page.
"""
LEFT_OUT = (
    "AvoidUnnecessaryBeforeUnloadCheckSync,DestroyProfileOnBrowserClose,HttpsUpgrades,HttpsFirstBalancedModeAutoEnable,"
    "LensOverlay,MediaRouter,PaintHolding,ThirdPartyStoragePartitioning,AvoidCorsURLLoaderRestartOnRedirect,"
    "TcpPortRandomizationWin,OptimizationHints,NetworkTimeServiceQuerying,AimEnabled,PreconnectToSearch,"
    "msForceBrowserSignIn,msEdgeUpdateLaunchServicesPreferredVersion"
)
"""What Playwright leaves out: Chromium goes by the last list alone. tests/site/test_look.py tells what is missing."""


@pytest.fixture(scope="session")
def browser(playwright):
    """A real Chromium, without a window."""
    path = os.environ.get("HANDBOOK_CHROMIUM") or shutil.which("chromium") or None
    flags = ["--no-sandbox", f"--disable-features={LEFT_OUT},{PANELS}"]
    browser = playwright.chromium.launch(executable_path=path, args=flags)
    yield browser
    browser.close()
